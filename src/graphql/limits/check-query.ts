/** Whether a document is taken, decided before anything is looked up: no refusal costs a statement. */
import {
  type DocumentNode,
  GraphQLError,
  type GraphQLSchema,
  getOperationAST,
  getVariableValues,
  NoSchemaIntrospectionCustomRule,
  type OperationDefinitionNode,
  parse,
  specifiedRules,
  validate,
} from 'graphql';
import { costOfQuery } from './cost-of-query.ts';
import { limits } from './limits.ts';
import { measureDocument } from './measure-document.ts';
import { unkeepableTexts } from './unkeepable-texts.ts';

export type Asked = {
  readonly source: string;
  readonly variables: Readonly<Record<string, unknown>>;
  readonly operationName: string | null;
};

/** Gives the document, or what is wrong with it. */
export type CheckQuery = (asked: Asked) => DocumentNode | readonly GraphQLError[];

/** Good documents that are remembered; the oldest look-up goes first. */
const mostKept = 200;
/** What is told of one document at most. */
const maxErrors = 20;

export function queryCheck(schema: GraphQLSchema, options: CheckOptions): CheckQuery {
  const documentOf = documentReader(schema, options);
  return ({ source, variables, operationName }) => {
    const document = documentOf(source);
    if (!('kind' in document)) return document;
    const errors = costErrors(schema, document, variables, operationName);
    return errors.length > 0 ? errors : document;
  };
}

/** The same of a report of ours, whose pages may all be as long as any: what it can't give whole it doesn't offer. */
export function reportCheck(schema: GraphQLSchema): (source: string) => readonly GraphQLError[] {
  const documentOf = documentReader(schema, { introspection: false });
  return (source) => {
    const document = documentOf(source);
    if (!('kind' in document)) return document;
    const operation = getOperationAST(document, null);
    const pages = operation?.variableDefinitions?.map(({ variable }) => [variable.name.value, limits.first]) ?? [];
    return operation === null || operation === undefined
      ? [new GraphQLError('A report is one query.')]
      : overCost(schema, document, operation, Object.fromEntries(pages));
  };
}

export type CheckOptions = { readonly introspection: boolean };

function documentReader(schema: GraphQLSchema, { introspection }: CheckOptions) {
  const rules = [...specifiedRules, ...(introspection ? [] : [NoSchemaIntrospectionCustomRule])];
  const kept = new Map<string, DocumentNode>();
  return (source: string): DocumentNode | readonly GraphQLError[] => {
    const before = kept.get(source);
    if (before !== undefined) return before;
    const document = parsed(source);
    if (document instanceof GraphQLError) return [document];
    const over = [...measureDocument(document), ...unkeepableTexts(document)];
    if (over.length > 0) return over;
    // Suggestions would tell what the schema has where it is not to be told.
    const errors = validate(schema, document, rules, { maxErrors, hideSuggestions: !introspection });
    if (errors.length > 0) return errors;
    const oldest = kept.keys().next();
    if (kept.size >= mostKept && oldest.done !== true) kept.delete(oldest.value);
    kept.set(source, document);
    return document;
  };
}

function parsed(source: string): DocumentNode | GraphQLError {
  try {
    return parse(source, { maxTokens: limits.tokens, noLocation: false });
  } catch (error) {
    if (error instanceof GraphQLError) return error;
    throw error;
  }
}

function costErrors(
  schema: GraphQLSchema,
  document: DocumentNode,
  variables: Asked['variables'],
  operationName: string | null,
): readonly GraphQLError[] {
  const operation = getOperationAST(document, operationName);
  if (operation === undefined || operation === null)
    return [new GraphQLError('The document has no one query of that name: say operationName as it is written.')];
  const coerced = getVariableValues(schema, operation.variableDefinitions ?? [], variables, {
    maxErrors,
    hideSuggestions: true,
  });
  if (coerced.errors !== undefined) return coerced.errors;
  return overCost(schema, document, operation, coerced.coerced);
}

function overCost(
  schema: GraphQLSchema,
  document: DocumentNode,
  operation: OperationDefinitionNode,
  variables: Asked['variables'],
): readonly GraphQLError[] {
  try {
    const cost = costOfQuery(schema, document, operation, variables);
    if (cost <= limits.cost) return [];
    return [
      new GraphQLError(
        `The answer may have ${cost} fields; at most ${limits.cost} are taken: ask for smaller pages, or for less of each.`,
      ),
    ];
  } catch (error) {
    if (error instanceof GraphQLError) return [error];
    throw error;
  }
}
