/** Sends cases in batches, and looks at every answer and at what is written. */
import type { FastifyInstance } from 'fastify';
import type { TestDatabase } from '../../support/database.ts';
import { rowCounts } from '../../support/rows.ts';
import { type DescribedOperation, type Description, formsOf, type Schema } from '../described-operations.ts';
import { randomFrom } from '../random.ts';
import { type Answered, faultsOf } from './judge-answer.ts';
import { type Case, CaseMaker } from './make-case.ts';
import type { Vocabulary } from './vocabulary.ts';

export type Target = {
  readonly server: FastifyInstance;
  readonly db: TestDatabase;
  readonly token: string;
  /** Of the maker's people, for what a distributor may not do. */
  readonly makersToken: string;
  readonly described: Description;
  readonly vocabulary: Vocabulary;
  /** Where the service says what went wrong in it. */
  readonly logOf: (answer: Answered) => string;
  readonly values: ConstructorParameters<typeof CaseMaker>[2];
};

export type Tally = {
  cases: number;
  forbidden: number;
  refused: number;
  readonly statuses: Record<string, number>;
  readonly faults: string[];
};

const batchSize = 250;
/** Of what is forbidden, and so meets nobody at any row. */
const atOnce = 6;

/** So many cases of the operation; which, follows from the seed and the operation alone. */
export async function runCases(
  target: Target,
  operation: DescribedOperation,
  cases: number,
  seed: number,
  tally: Tally,
): Promise<void> {
  const random = randomFrom(seed + hashOf(operation.method + operation.path));
  const maker = new CaseMaker(operation, target, target.values, linesOf(target.described));
  const all = Array.from({ length: cases }, (_, nth) => maker.draw(random, nth));
  // Apart, so that what is forbidden can be held to write nothing.
  const groups = [all.filter((one) => one.isForbidden), all.filter((one) => !one.isForbidden)];
  for (const group of groups) {
    for (let from = 0; from < group.length; from += batchSize)
      await runBatch(target, group.slice(from, from + batchSize), tally);
  }
}

async function runBatch(target: Target, batch: readonly Case[], tally: Tally): Promise<void> {
  const before = await rowCounts(target.db);
  let attempts = 0;
  let taken = 0;
  let next = 0;
  const sendAll = async () => {
    for (let one = batch[next++]; one !== undefined; one = batch[next++]) {
      const answer = await send(target, one);
      tally.cases += 1;
      tally.statuses[answer.status] = (tally.statuses[answer.status] ?? 0) + 1;
      if (one.isForbidden) tally.forbidden += 1;
      if (answer.status >= 400) tally.refused += 1;
      if (answer.status < 300) taken += 1;
      attempts += answer.text.match(/"code":"refused-by-rules"/g)?.length ?? 0;
      for (const fault of faultsOf(one, answer))
        tally.faults.push(`${fault}: ${told(one)} → ${answer.text.slice(0, 300)} ${target.logOf(answer)}`);
    }
  };
  const isAlone = batch.some((one) => !one.isForbidden || one.isLines);
  await Promise.all(Array.from({ length: isAlone ? 1 : atOnce }, sendAll));
  const after = await rowCounts(target.db);
  for (const [table, count] of Object.entries(after)) {
    const more = count - (before[table] ?? 0);
    if (table === 'attempts' ? more > attempts || more < 0 : more !== 0 && taken === 0)
      tally.faults.push(
        `${more} rows of ${table} written by what was refused: ${batch.length} cases of ${batch[0]?.operation}`,
      );
  }
  const live = await target.server.inject('/livez');
  if (live.statusCode !== 200) tally.faults.push(`/livez answers ${live.statusCode}`);
}

/** What is forbidden to whoever speaks for a distributor. */
const ofMakers = [/^POST \/v1\/claims\/\{id\}\/decisions/, /^PUT \/v1\/terms/, /^POST \/v1\/approvals/];

async function send({ server, token: ours, makersToken }: Target, one: Case): Promise<Answered> {
  const { method, url, headers, payload } = one;
  const token = ofMakers.some((operation) => operation.test(one.operation)) ? makersToken : ours;
  const answer = await server.inject({
    method: method as 'GET',
    url,
    headers: { authorization: `Bearer ${token}`, ...headers },
    ...(payload !== undefined && { payload }),
  });
  return { status: answer.statusCode, headers: answer.headers, text: answer.payload };
}

function told({ method, url, headers, payload, how }: Case): string {
  return `${how}: ${method} ${url.slice(0, 200)} ${JSON.stringify(headers)} ${payload?.toString('utf8').slice(0, 2_000) ?? ''}`;
}

/** Of each kind of line the schema of the body that its own route takes. */
function linesOf(described: Description): ReadonlyMap<string, Schema> {
  const [line] = formsOf({ $ref: '#/components/schemas/BulkLine' }, described);
  const paths: Record<string, string> = {
    intake: '/v1/lots/{maker}/{number}/intakes',
    scrapping: '/v1/lots/{maker}/{number}/scrappings',
    return: '/v1/lots/{maker}/{number}/returns',
    count: '/v1/lots/{maker}/{number}/counts',
    lot: '/v1/lots/{maker}/{number}',
    'pump-registration': '/v1/pumps/{maker}/{serial}',
    'control-registration': '/v1/controls/{maker}/{serial}',
    correction: '/v1/records/{id}/corrections',
    disposition: '/v1/records/{id}/dispositions',
    identity: '/v1/identities',
  };
  const kinds = (line?.properties?.['kind']?.enum ?? []) as string[];
  return new Map(
    kinds.flatMap((kind): [string, Schema][] => {
      const path = described.paths[paths[kind] ?? `/v1/${kind}s`] ?? described.paths[`/v1/${kind}s/{id}`];
      const one = path?.['post'] ?? path?.['put'] ?? described.paths[`/v1/${kind}s/{id}`]?.['put'];
      const schema = one?.requestBody?.content['application/json']?.schema;
      return schema === undefined ? [] : [[kind, schema]];
    }),
  );
}

function hashOf(text: string): number {
  let hash = 0;
  for (const letter of text) hash = (Math.imul(hash, 31) + letter.charCodeAt(0)) | 0;
  return Math.abs(hash);
}
