/** What a document asks for below a field, before that is resolved. */
import { type GraphQLResolveInfo, Kind, type SelectionSetNode } from 'graphql';

/**
 * Whether a field of this name is selected of what the field gives, itself or in a fragment. A directive may yet leave it
 * out: then more was read than is answered.
 */
export function asksFor({ fieldNodes, fragments }: GraphQLResolveInfo, field: string): boolean {
  const isIn = (selected: SelectionSetNode | undefined, inside: ReadonlySet<string>): boolean =>
    (selected?.selections ?? []).some((one) => {
      if (one.kind === Kind.FIELD) return one.name.value === field;
      if (one.kind === Kind.INLINE_FRAGMENT) return isIn(one.selectionSet, inside);
      const name = one.name.value;
      return !inside.has(name) && isIn(fragments[name]?.selectionSet, new Set([...inside, name]));
    });
  return fieldNodes.some((node) => isIn(node.selectionSet, new Set()));
}
