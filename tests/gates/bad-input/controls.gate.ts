/** The gate itself: routes with one fault each are caught, and a seed draws the same again. */
import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { testDatabase } from '../../support/database.ts';
import { testService } from '../../support/service.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { type Description, description, operationsOf } from '../described-operations.ts';
import { gate, tell } from '../gate-options.ts';
import { randomFrom } from '../random.ts';
import { brokenRoutes, routesWithFaults } from './broken-routes.ts';
import { CaseMaker } from './make-case.ts';
import { runCases, type Tally } from './run-cases.ts';
import { openTarget } from './scene.ts';
import { vocabularyOf } from './vocabulary.ts';

const db = await testDatabase({ verified: false });
const write = async () => {
  await withSuperuser(db.superuserUrl, (client) =>
    client.query(`insert into organisations (id, slug, kind, name) values ($1, $2, 'maker', 'x')`, [
      randomUUID(),
      randomUUID(),
    ]),
  );
};
const service = await testService(db, { rememberTokens: true, routes: routesWithFaults(write) });

it('control: each route with a fault is caught, and for that fault', async () => {
  const described = (await service.server.inject('/openapi.json')).json() as Description;
  const target = await openTarget(service, db, described);
  for (const [path, fault] of brokenRoutes) {
    const operation = operationsOf(described).find((one) => one.path === path);
    if (operation === undefined) throw new Error(`${path} is not described`);
    const tally: Tally = { cases: 0, forbidden: 0, refused: 0, statuses: {}, faults: [] };
    await runCases(target, operation, 200, gate.seed, tally);
    const caught = tally.faults.filter((one) => fault.test(one));
    expect([path, caught.length > 0]).toEqual([path, true]);
    tell(
      `control caught: ${path}: ${caught.length} faults in ${tally.cases} cases, such as: ${caught[0]?.slice(0, 90)}`,
    );
  }
}, 120_000);

it('a seed draws the same cases again, and another seed others', () => {
  const [operation] = operationsOf(description).filter((one) => one.path === '/v1/inspections');
  if (operation === undefined) throw new Error('inspections are not described');
  const known = { records: ['01a21365-9446-717e-87fc-bf504e2449a3'], digests: [], claims: [], units: [] };
  const drawn = (seed: number) => {
    const drawing = { described: description, vocabulary: vocabularyOf(known) };
    const maker = new CaseMaker(operation, drawing, () => 'none', new Map());
    const random = randomFrom(seed);
    return Array.from({ length: 50 }, (_, nth) => maker.draw(random, nth)).map((one) => [
      one.url,
      one.how,
      one.payload?.toString('base64'),
    ]);
  };
  expect(drawn(gate.seed)).toEqual(drawn(gate.seed));
  expect(drawn(gate.seed)).not.toEqual(drawn(gate.seed + 1));
});
