/** What a document asks for below a field, before that is resolved. */
import { type GraphQLResolveInfo, Kind, type SelectionSetNode } from 'graphql';

/**
 * Whether a field of this name is selected of what the field gives, itself or in a fragment. A directive may yet leave it
 * out: then more was read than is answered.
 */
export function asksFor(info: GraphQLResolveInfo, field: string): boolean {
  return fieldsAsked(info, 'directly').has(field);
}

/** The names of all fields that are selected there, or also below, of whatever has them. Each fragment is looked into once. */
export function fieldsAsked(
  { fieldNodes, fragments }: GraphQLResolveInfo,
  depth: 'directly' | 'at any depth',
): ReadonlySet<string> {
  const fields = new Set<string>();
  const inside = new Set<string>();
  const look = (selected: SelectionSetNode | undefined): void => {
    for (const one of selected?.selections ?? []) {
      if (one.kind === Kind.FIELD) {
        fields.add(one.name.value);
        if (depth === 'at any depth') look(one.selectionSet);
      } else if (one.kind === Kind.INLINE_FRAGMENT) look(one.selectionSet);
      else if (!inside.has(one.name.value)) {
        inside.add(one.name.value);
        look(fragments[one.name.value]?.selectionSet);
      }
    }
  };
  for (const node of fieldNodes) look(node.selectionSet);
  return fields;
}
