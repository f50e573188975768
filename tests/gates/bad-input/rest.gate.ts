/** Every operation of the description under inputs that it allows and forbids. Controls: routes with a fault each. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../../support/database.ts';
import { testService } from '../../support/service.ts';
import { type Description, description, operationsOf } from '../described-operations.ts';
import { gate, tell } from '../gate-options.ts';
import { runCases, type Tally, type Target } from './run-cases.ts';
import { openTarget } from './scene.ts';

const operations = operationsOf(description);

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
const newTally = (): Tally => ({ cases: 0, forbidden: 0, refused: 0, statuses: {}, faults: [] });

let target: Target;
beforeAll(async () => {
  target = await openTarget(service, db, withEdition(description));
});

/** The shape of an edition has a description of its own. */
function withEdition(described: Description): Description {
  const text = readFileSync(new URL('../../../schema/edition.schema.json', import.meta.url), 'utf8');
  const { $defs, $schema: _, ...edition } = JSON.parse(text.replaceAll('#/$defs/', '#/components/schemas/Edition.'));
  const named = Object.entries($defs as object).map(([name, schema]) => [`Edition.${name}`, schema]);
  const components = { schemas: { ...described.components.schemas, ...Object.fromEntries(named), Edition: edition } };
  const path = '/v1/catalogue/{maker}/editions/{edition}';
  const paths = structuredClone(described.paths) as Record<
    string,
    Record<string, { requestBody?: { content: Record<string, { schema: object }> } }>
  >;
  const media = paths[path]?.['put']?.requestBody?.content['application/json'];
  if (media === undefined) throw new Error(`${path} takes no body`);
  media.schema = { $ref: '#/components/schemas/Edition' };
  return { paths: paths as unknown as Description['paths'], components };
}

describe('bad input', () => {
  const total = newTally();
  it.each(operations.map((one) => [`${one.method} ${one.path}`, one] as const))('%s', async (_, operation) => {
    const described = operationsOf(target.described).find((one) => one.id === operation.id) ?? operation;
    const tally = newTally();
    await runCases(target, described, gate.cases, gate.seed, tally);
    for (const [status, count] of Object.entries(tally.statuses))
      total.statuses[status] = (total.statuses[status] ?? 0) + count;
    total.cases += tally.cases;
    total.forbidden += tally.forbidden;
    total.faults.push(...tally.faults);
    expect(tally.cases).toBe(gate.cases);
    expect(tally.forbidden).toBeGreaterThan(gate.cases / 5);
    expect(tally.faults.slice(0, 5)).toEqual([]);
  });

  it('was refused as described, and nothing failed', () => {
    tell(
      `${total.cases} cases, ${total.forbidden} of them forbidden by the description: ${JSON.stringify(total.statuses)}`,
    );
    tell(`faults: ${total.faults.length} (seed ${gate.seed})`);
    expect(total.faults).toEqual([]);
  });
});
