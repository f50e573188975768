import { type DocumentNode, GraphQLError, visit } from 'graphql';

/**
 * Texts of the document that Postgres can't keep, or that are no Unicode: an error each. Variables come as JSON, of which
 * the parser of bodies has refused them already; in GraphQL an escape can still spell them.
 */
export function unkeepableTexts(document: DocumentNode): GraphQLError[] {
  const errors: GraphQLError[] = [];
  visit(document, {
    StringValue: (node) => {
      if (node.value.includes('\0') || !node.value.isWellFormed())
        errors.push(new GraphQLError('The text holds a character that no name here can have.', { nodes: node }));
    },
  });
  return errors;
}
