/**
 * Documents that are asked for again are compiled (graphql-jit, by mercurius). What is handed on here is what compiled
 * code answers as graphql-js does by itself; tests/graphql/compiled.test.ts asks both.
 */
import { BREAK, type DocumentNode, getOperationAST, Kind, valueFromASTUntyped, visit } from 'graphql';
import { onceFor } from '../core/once-for.ts';
import type { Asked } from './limits/check-query.ts';

/** From the second time on, and of no more documents than those; the one that wasn't asked for longest goes first. */
export const compiling = { jit: 1, cache: 100 };

/**
 * graphql-jit refuses a variable that is left out where it may not be null, although it has a default: the default is
 * filled in. Mercurius keeps compiled code by the text alone, whichever of its operations was asked for: a text with
 * several ends with a comment that tells which.
 */
export function forCompiled(document: DocumentNode, { source, variables, operationName }: Asked): Asked {
  const definitions = getOperationAST(document, operationName)?.variableDefinitions ?? [];
  const defaults = definitions.flatMap(({ variable: { name }, defaultValue }) =>
    defaultValue === undefined ? [] : [[name.value, valueFromASTUntyped(defaultValue)]],
  );
  const operations = document.definitions.filter((one) => one.kind === Kind.OPERATION_DEFINITION);
  return {
    source: operations.length > 1 ? `${source}\n# ${operationName}` : source,
    variables: { ...Object.fromEntries(defaults), ...variables },
    operationName,
  };
}

/**
 * Whether it leaves anything out or lets it in by a directive. Compiled, a field that is told twice and left out once still
 * had what a fragment on its type asks for there (graphql-jit 0.8.9): such a document is never compiled.
 */
export const hasDirectives = onceFor((document: DocumentNode): boolean => {
  let found = false;
  visit(document, {
    Directive: () => {
      found = true;
      return BREAK;
    },
  });
  return found;
});
