import {
  type DocumentNode,
  type FieldNode,
  type FragmentDefinitionNode,
  GraphQLError,
  type GraphQLField,
  type GraphQLObjectType,
  type GraphQLSchema,
  getNamedType,
  getNullableType,
  isInterfaceType,
  isListType,
  isObjectType,
  Kind,
  type OperationDefinitionNode,
  type SelectionNode,
  type SelectionSetNode,
  type ValueNode,
} from 'graphql';
import { limits } from './limits.ts';
import { isIntrospection } from './measure-document.ts';

type Variables = Readonly<Record<string, unknown>>;

/**
 * How many fields the answer may have: a page counts as many times as its `first` says, a list without pages as often
 * as `limits.listLength`. The document is valid.
 * @throws GraphQLError of a `first` that is out of bounds
 */
export function costOfQuery(
  schema: GraphQLSchema,
  document: DocumentNode,
  operation: OperationDefinitionNode,
  variables: Variables,
): number {
  const query = schema.getQueryType();
  if (query === undefined || query === null) return 0;
  const fragments = new Map(
    document.definitions.flatMap((one): [string, FragmentDefinitionNode][] =>
      one.kind === Kind.FRAGMENT_DEFINITION ? [[one.name.value, one]] : [],
    ),
  );
  const known = new Map<string, number>();
  const ofFragment = (name: string): number => {
    const before = known.get(name);
    if (before !== undefined) return before;
    const fragment = fragments.get(name);
    const on = fragment && schema.getType(fragment.typeCondition.name.value);
    const cost = fragment === undefined ? 0 : ofSet(fragment.selectionSet, on);
    known.set(name, cost);
    return cost;
  };
  const ofSelection = (selection: SelectionNode, parent: unknown): number => {
    if (selection.kind === Kind.FRAGMENT_SPREAD) return ofFragment(selection.name.value);
    if (selection.kind === Kind.FIELD) return ofField(selection, parent);
    const on = selection.typeCondition && schema.getType(selection.typeCondition.name.value);
    return ofSet(selection.selectionSet, on ?? parent);
  };
  const ofSet = (set: SelectionSetNode, parent: unknown): number =>
    set.selections.reduce((sum, selection) => sum + ofSelection(selection, parent), 0);
  const ofField = (node: FieldNode, parent: unknown): number => {
    if (node.selectionSet === undefined || isIntrospection(node.name.value)) return 1;
    const field = fieldOf(parent, node.name.value);
    if (field === undefined) return 1;
    return 1 + timesOf(field, node, parent, variables) * ofSet(node.selectionSet, getNamedType(field.type));
  };
  return ofSet(operation.selectionSet, query);
}

function fieldOf(parent: unknown, name: string): GraphQLField<unknown, unknown> | undefined {
  return isObjectType(parent) || isInterfaceType(parent) ? parent.getFields()[name] : undefined;
}

function timesOf(
  field: GraphQLField<unknown, unknown>,
  node: FieldNode,
  parent: unknown,
  variables: Variables,
): number {
  const first = field.args.find(({ name }) => name === 'first');
  if (first !== undefined) {
    const given = node.arguments?.find(({ name }) => name.value === 'first')?.value;
    return pageLength(given === undefined ? first.defaultValue : numberIn(given, variables, first.defaultValue), node);
  }
  const isPage = isObjectType(parent) && isConnection(parent);
  return isListType(getNullableType(field.type)) && !isPage ? limits.listLength : 1;
}

/** The edges of a page were counted where the page was asked for. */
function isConnection(type: GraphQLObjectType): boolean {
  return type.name.endsWith('Connection');
}

function numberIn(node: ValueNode, variables: Variables, otherwise: unknown): unknown {
  if (node.kind === Kind.INT) return Number(node.value);
  return node.kind === Kind.VARIABLE ? (variables[node.name.value] ?? otherwise) : null;
}

function pageLength(first: unknown, node: FieldNode): number {
  if (typeof first === 'number' && Number.isInteger(first) && first >= 1 && first <= limits.first) return first;
  throw new GraphQLError(`first of ${node.name.value} is a whole number from 1 to ${limits.first}.`, { nodes: node });
}
