/** Mixed traffic of two distributors and the maker's people over four connections, with callers that hang up and backends that are killed. */
import type { AddressInfo } from 'node:net';
import pg from 'pg';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { valueTypes } from '../../../src/store/value-types.ts';
import type { TestDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { publish, stockUp } from '../../support/scene.ts';
import { organisations, type TestService } from '../../support/service.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { type Random, randomFrom } from '../random.ts';
import { type Job, operations } from './planted-requests.ts';
import { stockUpWords } from './stock-jobs.ts';
import { analystJobs, jobs } from './traffic-jobs.ts';
import { newState, type Side, type State } from './traffic-state.ts';
import { type Got, openLine, type Send, type Sent } from './wire-caller.ts';
import { type Asking, type Party, stems, Watch } from './words.ts';

export type Traffic = {
  readonly leaks: readonly string[];
  readonly requests: number;
  /** How often each status was answered; `hung up` where the caller did, or the connection broke. */
  readonly statuses: Readonly<Record<string, number>>;
  readonly faults: readonly string[];
  readonly killed: number;
  readonly logLines: number;
  readonly neverAsked: readonly string[];
  readonly neverWell: readonly string[];
};

export const connections = 4;
const callers = 10;
/** Out of so many requests one caller hangs up, and one backend is killed. */
const hangUpEvery = 25;
const killEvery = 80;

/** All recording and all reading over the same connections, so that each serves everybody by turns. */
export function fourConnections(serviceUrl: string) {
  const pool = new pg.Pool({
    ...{ connectionString: serviceUrl, max: connections, connectionTimeoutMillis: 2_000 },
    ...{ options: '-c TimeZone=UTC -c DateStyle=ISO,YMD', types: valueTypes },
  });
  pool.on('error', () => {});
  return { pools: { recording: pool, reading: pool, jobs: pool }, close: () => pool.end() };
}

export async function runTraffic(
  service: TestService,
  db: TestDatabase,
  { requests, seed }: { requests: number; seed: number },
): Promise<Traffic> {
  const run = new Run(service, db, randomFrom(seed));
  await run.open();
  await run.drive(requests);
  return await run.close();
}

/** Traffic until something comes out, or so many requests were made. */
export async function runUntilCaught(
  service: TestService,
  db: TestDatabase,
  { atMost, seed }: { atMost: number; seed: number },
): Promise<Traffic> {
  const run = new Run(service, db, randomFrom(seed));
  await run.open();
  let traffic = await run.close();
  while (traffic.leaks.length === 0 && traffic.requests < atMost) {
    await run.drive(150);
    traffic = await run.close();
  }
  return traffic;
}

class Run {
  readonly #service: TestService;
  readonly #db: TestDatabase;
  readonly #random: Random;
  readonly #watch = new Watch();
  readonly #state: State;
  readonly #statuses: Record<string, number> = {};
  readonly #faults: string[] = [];
  readonly #asked = new Set<string>();
  readonly #well = new Set<string>();
  #line: ReturnType<typeof openLine> | undefined;
  #sent = 0;
  #killed = 0;
  #busy = false;

  constructor(service: TestService, db: TestDatabase, random: Random) {
    this.#service = service;
    this.#db = db;
    this.#random = random;
    this.#state = newState(random);
  }

  async open(): Promise<void> {
    const { server, tokenOf, as } = this.#service;
    await publish(await as({ maker: 'ardenholm' }));
    for (const distributor of ['brackwater', 'tollan'] as const) await stockUp(await as({ distributor }));
    await server.listen({ port: 0, host: '127.0.0.1' });
    const said = (who: keyof typeof stems) => ({
      subject: `${stems[who].open}-user`,
      client: `${stems[who].open}-system`,
    });
    const tokens = new Map<Asking['who'], string>([
      ['brackwater', await tokenOf({ distributor: 'brackwater', ...said('brackwater') })],
      ['tollan', await tokenOf({ distributor: 'tollan', ...said('tollan') })],
      ['analyst', await tokenOf({ maker: 'ardenholm', ...said('analyst') })],
      ['other-maker', await tokenOf({ maker: 'other-maker' })],
    ]);
    this.#line = openLine({
      port: (server.server.address() as AddressInfo).port,
      watch: this.#watch,
      tokens,
      patience: () => (this.#busy && this.#random.oneIn(hangUpEvery) ? this.#random.below(20) : null),
      onDone: (sent, got) => this.#count(sent, got),
    });
    for (const side of Object.values(this.#state.sides)) await stockUpWords(side, this.#line.sendAs(side.party));
  }

  async drive(requests: number): Promise<void> {
    this.#busy = true;
    const until = this.#sent + requests;
    await withSuperuser(this.#db.superuserUrl, async (superuser) => {
      // What a killed backend breaks off is taken up by the next run.
      const logging = (async () => {
        for (; this.#sent < until; await new Promise((resolve) => setTimeout(resolve, 500)))
          await sequenceAll(this.#service.app).catch(() => {});
      })();
      const callersDone = Array.from({ length: callers }, async () => {
        while (this.#sent < until) await this.#oneJob();
      });
      let done = false;
      const killing = (async () => {
        for (let next = this.#sent + killEvery; !done; ) {
          await new Promise((resolve) => setTimeout(resolve, 20));
          if (this.#sent < next) continue;
          next += killEvery;
          await this.#killOne(superuser);
        }
      })();
      await Promise.all(callersDone);
      done = true;
      await Promise.all([killing, logging]);
    });
    this.#busy = false;
  }

  async close(): Promise<Traffic> {
    this.#line?.close();
    const logLines = this.#watch.lookAtLog(this.#service.tape.text);
    const named = operations.map((one) => `${one.method} ${one.path}`);
    return {
      leaks: [...this.#watch.leaks, ...(await this.#idsTold())],
      requests: this.#sent,
      statuses: this.#statuses,
      faults: this.#faults,
      killed: this.#killed,
      logLines,
      neverAsked: named.filter((one) => !this.#asked.has(one)),
      neverWell: named.filter((one) => !this.#well.has(one)),
    };
  }

  async #oneJob(): Promise<void> {
    const { sides } = this.#state;
    const who = this.#random.of([
      'brackwater',
      'tollan',
      'brackwater',
      'tollan',
      'brackwater',
      'tollan',
      'analyst',
      'other-maker',
    ] as const);
    const isReader = who === 'analyst' || who === 'other-maker';
    // The maker's people have nothing of their own but containments: what they ask for is one distributor's.
    const side: Side = isReader ? sides[this.#random.of(['brackwater', 'tollan'] as const)] : sides[who];
    const send = this.#line?.sendAs(who) as Send;
    await drawn(this.#random, isReader ? analystJobs : jobs)(
      this.#state,
      isReader
        ? {
            ...{ ...side, records: [], keyed: [], attachments: [] },
            containments: who === 'analyst' ? this.#state.makers : [],
          }
        : side,
      send,
    );
  }

  async #killOne(superuser: pg.Client): Promise<void> {
    const { rows } = await superuser.query<{ pid: number }>(
      `select pid from pg_stat_activity where datname = current_database() and usename = 'asfitted_service' order by pid`,
    );
    if (rows.length === 0) return;
    await superuser.query('select pg_terminate_backend($1)', [this.#random.of(rows).pid]);
    this.#killed += 1;
  }

  #count({ method, path }: Sent, got: Got | null): void {
    this.#sent += 1;
    const status = got === null ? 'hung up' : String(got.status);
    this.#statuses[status] = (this.#statuses[status] ?? 0) + 1;
    const operation = operations.find(
      (one) => one.method === method && patternOf(one.path).test(path.split('?')[0] ?? ''),
    );
    if (operation !== undefined) {
      this.#asked.add(`${method} ${operation.path}`);
      if (got !== null && got.status < 300) this.#well.add(`${method} ${operation.path}`);
    }
    // What a killed backend or a full pool leads to is told as such; anything else that fails is a fault. Lines and
    // parts of an answer fail too.
    if (got !== null && /"code":"(internal|not-ready|token-keys-unavailable)"/.test(got.text)) {
      this.#faults.push(
        `${method} ${path}: ${got.text.slice(0, 300)}`,
        ...linesOf(this.#service.tape, got.json?.requestId),
      );
    }
  }

  /** Of the ids that the service makes those of people, organisations, attempts and claims are nobody else's to know. */
  async #idsTold(): Promise<string[]> {
    const rows = await rowsOf<{ id: string; owner: string; what: string }>(
      this.#db,
      `select id, owner, 'person' as what from people union all select id, owner, 'attempt' from attempts
       union all select id, id, 'organisation' from organisations
       union all select id, owner, 'claim' from facts where kind in ('claim', 'claim-evidence')`,
    );
    const mayKnow = (who: Asking['who'], { owner, what }: { owner: string; what: string }) =>
      who === 'brackwater' || who === 'tollan'
        ? owner === organisations[who as Party].id
        : who === 'analyst' && what !== 'attempt';
    return [...this.#watch.told].flatMap(([who, ids]) =>
      rows
        .filter((row) => ids.has(row.id) && !mayKnow(who, row))
        .map(({ id, what }) => `${who} was told the ${what} ${id}`),
    );
  }
}

function drawn(random: Random, some: readonly (readonly [number, Job])[]): Job {
  let left = random.below(some.reduce((sum, [weight]) => sum + weight, 0));
  for (const [weight, job] of some) {
    if (left < weight) return job;
    left -= weight;
  }
  throw new Error('no job was drawn');
}

function linesOf({ text }: TestService['tape'], requestId: unknown): string[] {
  return text.split('\n').filter((line) => line.includes(`"requestId":"${requestId}"`));
}

const patterns = new Map<string, RegExp>();
function patternOf(path: string): RegExp {
  const pattern = patterns.get(path) ?? new RegExp(`^${path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`);
  patterns.set(path, pattern);
  return pattern;
}
