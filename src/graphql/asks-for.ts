/** What a document asks for below a field, before that is resolved. */
import { type GraphQLResolveInfo, Kind, type SelectionSetNode } from 'graphql';

/**
 * Whether a field of this name is selected of what the field gives, itself or in a fragment. A directive may yet leave it
 * out: then more was read than is answered.
 */
export function asksFor(info: GraphQLResolveInfo, field: string): boolean {
  return isSelected(info, field, false);
}

/** The same at any depth, by whatever has a field of this name. */
export function asksBelow(info: GraphQLResolveInfo, field: string): boolean {
  return isSelected(info, field, true);
}

function isSelected({ fieldNodes, fragments }: GraphQLResolveInfo, field: string, atAnyDepth: boolean): boolean {
  const isIn = (selected: SelectionSetNode | undefined, inside: ReadonlySet<string>): boolean =>
    (selected?.selections ?? []).some((one) => {
      if (one.kind === Kind.FIELD) return one.name.value === field || (atAnyDepth && isIn(one.selectionSet, inside));
      if (one.kind === Kind.INLINE_FRAGMENT) return isIn(one.selectionSet, inside);
      const name = one.name.value;
      return !inside.has(name) && isIn(fragments[name]?.selectionSet, new Set([...inside, name]));
    });
  return fieldNodes.some((node) => isIn(node.selectionSet, new Set()));
}
