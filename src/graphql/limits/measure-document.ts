import {
  type DocumentNode,
  type FragmentDefinitionNode,
  GraphQLError,
  Kind,
  type OperationDefinitionNode,
  type SelectionNode,
  type SelectionSetNode,
} from 'graphql';
import { limits } from './limits.ts';

type Size = { readonly depth: number; readonly aliases: number; readonly roots: number };

/**
 * What is over a limit, by the shape of the document alone. Fragments are followed and each is measured once, however
 * often it is spread, so that a chain of spreads that would double at every link takes no longer than it is.
 */
export function measureDocument(document: DocumentNode): GraphQLError[] {
  const fragments = new Map<string, FragmentDefinitionNode>();
  const operations: OperationDefinitionNode[] = [];
  for (const one of document.definitions) {
    if (one.kind === Kind.FRAGMENT_DEFINITION) fragments.set(one.name.value, one);
    if (one.kind === Kind.OPERATION_DEFINITION) operations.push(one);
  }
  const measure = measurer(fragments);
  return operations.flatMap((operation) => {
    if (operation.operation !== 'query')
      return [new GraphQLError(`There is no ${operation.operation}: only queries are taken.`, { nodes: operation })];
    const { depth, aliases, roots } = measure(operation.selectionSet);
    const over = (what: string, size: number, most: number) =>
      size > most ? [new GraphQLError(`The query has ${what} ${size}; at most ${most} are taken.`)] : [];
    return [
      ...over('levels of fields:', depth, limits.depth),
      ...over('aliases:', aliases, limits.aliases),
      ...over('root fields:', roots, limits.roots),
    ];
  });
}

function measurer(fragments: ReadonlyMap<string, FragmentDefinitionNode>): (set: SelectionSetNode) => Size {
  const measured = new Map<string, Size>();
  /** A fragment that spreads itself is refused by the standard rules; here it only must come to an end. */
  const endless: Size = { depth: Number.POSITIVE_INFINITY, aliases: Number.POSITIVE_INFINITY, roots: 0 };
  const ofFragment = (name: string): Size => {
    const known = measured.get(name);
    if (known !== undefined) return known;
    const fragment = fragments.get(name);
    if (fragment === undefined) return nothing;
    measured.set(name, endless);
    const size = ofSet(fragment.selectionSet);
    measured.set(name, size);
    return size;
  };
  const ofSelection = (selection: SelectionNode): Size => {
    if (selection.kind === Kind.FRAGMENT_SPREAD) return ofFragment(selection.name.value);
    if (selection.kind === Kind.INLINE_FRAGMENT) return ofSet(selection.selectionSet);
    const below = selection.selectionSet === undefined ? nothing : ofSet(selection.selectionSet);
    // What describes the schema has a depth of its own, which the standard rules bound.
    const depth = isIntrospection(selection.name.value) ? 1 : 1 + below.depth;
    return { depth, aliases: below.aliases + (selection.alias === undefined ? 0 : 1), roots: 1 };
  };
  const ofSet = (set: SelectionSetNode): Size =>
    set.selections.reduce<Size>((sum, selection) => together(sum, ofSelection(selection)), nothing);
  return ofSet;
}

export function isIntrospection(field: string): boolean {
  return field === '__schema' || field === '__type';
}

const nothing: Size = { depth: 0, aliases: 0, roots: 0 };

function together(a: Size, b: Size): Size {
  return { depth: Math.max(a.depth, b.depth), aliases: a.aliases + b.aliases, roots: a.roots + b.roots };
}
