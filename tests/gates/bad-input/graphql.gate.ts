/** GraphQL under documents that its schema allows and forbids: errors have codes, and nothing is ever written. */
import { beforeAll, expect, it } from 'vitest';
import { testDatabase } from '../../support/database.ts';
import { rowCounts } from '../../support/rows.ts';
import { testService } from '../../support/service.ts';
import { gate, tell } from '../gate-options.ts';
import { randomFrom } from '../random.ts';
import { drawQuery } from './draw-query.ts';
import { faultsOf } from './judge-answer.ts';
import type { Target } from './run-cases.ts';
import { openTarget } from './scene.ts';

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
/** For one operation that is nine. */
const times = 3;

let target: Target;
beforeAll(async () => {
  target = await openTarget(service, db);
});

it('documents, good and bad', async () => {
  const { server, token, values, logOf } = target;
  const random = randomFrom(gate.seed);
  const before = await rowCounts(db);
  const statuses: Record<string, number> = {};
  const faults: string[] = [];
  let forbidden = 0;
  let well = 0;
  for (let nth = 0; nth < gate.cases * times; nth++) {
    const { body, how, isForbidden } = drawQuery(values, random);
    const {
      statusCode: status,
      headers,
      payload: text,
    } = await server.inject({
      ...{ method: 'POST', url: '/graphql', payload: JSON.stringify(body) },
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
    });
    statuses[status] = (statuses[status] ?? 0) + 1;
    if (isForbidden) forbidden += 1;
    if (status === 200 && !text.includes('"errors":[')) well += 1;
    const one = {
      operation: 'POST /graphql',
      method: 'POST',
      url: '/graphql',
      headers: {},
      payload: undefined,
      isLines: false,
      body,
      how,
      isForbidden,
    };
    for (const fault of faultsOf(one, { status, headers, text }))
      faults.push(`${fault}: ${how} → ${text.slice(0, 300)} ${logOf({ status: 500, headers, text })}`);
  }
  tell(
    `${gate.cases * times} documents, ${forbidden} of them forbidden, ${well} answered without an error: ${JSON.stringify(statuses)}`,
  );
  tell(`faults: ${faults.length} (seed ${gate.seed})`);
  expect(faults.slice(0, 5)).toEqual([]);
  expect(await rowCounts(db)).toEqual(before);
  expect(well).toBeGreaterThan(gate.cases / 5);
  expect(forbidden).toBeGreaterThan(gate.cases / 2);
});
