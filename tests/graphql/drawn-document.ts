/** Documents drawn from a schema: fields, aliases, fragments, fields told twice, and what is left out by a directive. */
import {
  type GraphQLCompositeType,
  type GraphQLField,
  type GraphQLSchema,
  getNamedType,
  isAbstractType,
  isCompositeType,
  isObjectType,
  isRequiredArgument,
  isUnionType,
} from 'graphql';
import type { Random } from '../gates/random.ts';

const roots = [
  'control(maker: "ardenholm", serial: "K-1")',
  'pump(maker: "ardenholm", serial: "P-1")',
  'records(first: 2)',
  'records(first: 2, order: $order)',
  'held(first: 2)',
  'due(first: 2)',
  'lots(first: 2)',
  'lot(maker: "ardenholm", number: "L-1")',
  'control(maker: "ardenholm", serial: "none")',
];

export function drawnDocument(schema: GraphQLSchema, random: Random): string {
  let aliases = 0;
  const within = (type: GraphQLCompositeType, depth: number): string => {
    const fields = isUnionType(type) ? [] : Object.values(type.getFields()).filter((field) => canBeAsked(field, depth));
    const chosen = Array.from({ length: 1 + random.below(4) }, () =>
      fields.length === 0 ? '__typename' : fieldText(random.of(fields), depth),
    );
    const possible = isAbstractType(type) ? schema.getPossibleTypes(type) : [];
    const fragments = possible
      .filter(() => random.oneIn(2))
      .map((one) => `... on ${one.name}${directive()} { ${within(one, depth)} }`);
    const around = isObjectType(type) && random.oneIn(6) ? [`...${directive()} { ${within(type, depth - 1)} }`] : [];
    return [...chosen, ...fragments, ...around, ...(random.oneIn(4) ? ['__typename'] : [])].join(' ');
  };
  const fieldText = (field: GraphQLField<unknown, unknown>, depth: number): string => {
    const type = getNamedType(field.type);
    // The clock of an answer goes by its own name, so that it can be passed over.
    const hasAlias = aliases < 12 && field.name !== 'horizon' && random.oneIn(6);
    if (hasAlias) aliases += 1;
    const args = field.args.some(({ name }) => name === 'first') ? '(first: 2)' : '';
    const inside = isCompositeType(type) ? ` { ${within(type, depth - 1)} }` : '';
    return `${hasAlias ? `a${aliases}: ` : ''}${field.name}${args}${directive()}${inside}`;
  };
  const leavesOut = random.oneIn(2);
  const directive = () =>
    leavesOut ? random.of(['', '', '', '', ' @include(if: $yes)', ' @skip(if: $no)', ' @skip(if: $yes)']) : '';
  const query = schema.getQueryType()?.getFields() ?? {};
  const asked = Array.from({ length: 1 + random.below(3) }, (_, nth) => {
    const root = random.of(roots);
    const type = getNamedType(query[root.slice(0, root.indexOf('('))]?.type);
    return isCompositeType(type) ? `r${nth}: ${root} { ${within(type, 5)} }` : '__typename';
  });
  const flags = leavesOut ? '$yes: Boolean! = true, $no: Boolean = false, ' : '';
  return `query (${flags}$order: Order! = newest) {
    order: records(first: 1, order: $order) { edges { cursor } }
    flags: __typename${leavesOut ? ' @include(if: $yes) @skip(if: $no)' : ''}
    ${asked.join('\n    ')} }`;
}

/** Without an argument, and with something to be chosen of what it gives. */
function canBeAsked({ type, args }: GraphQLField<unknown, unknown>, depth: number): boolean {
  return !args.some(isRequiredArgument) && (depth > 0 || !isCompositeType(getNamedType(type)));
}
