/** The scalar Instant: taken with any offset, given as UTC with six decimals. */
import { GraphQLError, Kind, type ValueNode } from 'graphql';
import { exactTimeSchema, parseTime } from '../core/time/instant.ts';

export const instant = {
  serialize: (value: unknown): string => String(value),
  parseValue: read,
  parseLiteral: (node: ValueNode): string => read(node.kind === Kind.STRING ? node.value : null),
};

function read(value: unknown): string {
  const parsed = exactTimeSchema.safeParse(value);
  if (parsed.success) return parseTime(parsed.data).to;
  throw new GraphQLError(parsed.error.issues[0]?.message ?? 'write a time with its offset');
}
