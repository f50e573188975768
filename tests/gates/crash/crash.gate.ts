/**
 * What was acknowledged is kept, once and whole, whoever is killed meanwhile: the service, its Postgres, or both, at any
 * moment and at named points, under writers that send the same key again until they are answered. These are crashes of
 * processes; nothing is said of a loss of power.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { join, resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, expect, it } from 'vitest';
import { scopes } from '../../../src/app/asker.ts';
import { issueToken } from '../../../src/app/issue-token.ts';
import { audit } from '../../../src/app/log/audit.ts';
import { addOrganisation } from '../../../src/store/add-organisation.ts';
import { loadSigner } from '../../../src/store/local-keys.ts';
import { logFiles } from '../../../src/store/log-files.ts';
import { withOwnerPool } from '../../../src/store/owner-pool.ts';
import { callerOf, freePort } from '../../support/over-http.ts';
import { madeFolder } from '../../support/running-service.ts';
import { publish, stockUp } from '../../support/scene.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { gate, tell } from '../gate-options.ts';
import { ofOneLog } from '../log/of-one-log.ts';
import { randomFrom } from '../random.ts';
import { CheckpointWatch } from './checkpoint-watch.ts';
import { KilledService } from './killed-service.ts';
import { brokenPromises, type Point, points, targets } from './points.ts';
import { judge, nothingWrong, type Verdict } from './verdict.ts';
import { Writers } from './writers.ts';

const writers = 8;
/** guarantees.md. */
const readyWithinMs = 10_000;
const quietRecords = Math.min(gate.records, 2_000);
const dataDir = madeFolder();
const service = new KilledService(dataDir, await portToKeep());
const random = randomFrom(gate.seed);
const logDir = join(dataDir, 'log');
afterAll(() => service.stop());

/**
 * Below those that systems give to connections that go out: one of those could be given to a caller who asks while the
 * service is down, and the service would not get it back.
 */
async function portToKeep(): Promise<number> {
  for (let port = 20_000 + (process.pid % 10_000); ; port++) {
    const free = await freePort(port).catch(() => null);
    if (free !== null) return free;
  }
}

async function tokenOf(who: { distributor?: string; maker?: string }, client: string): Promise<string> {
  const { distributor = null, maker = null } = who;
  return await issueToken(dataDir, { distributor, maker, scopes, subject: client, client, minutes: 1_440 }, new Date());
}

const caller = async (who: { distributor?: string; maker?: string }) =>
  callerOf(service.base, await tokenOf(who, 'setting-up'));

async function writersOf(name: string): Promise<Writers> {
  const tokens = Array.from({ length: writers }, (_, nth) => tokenOf({ distributor: 'brackwater' }, `bench-${nth}`));
  return new Writers({ base: service.base, tokens: await Promise.all(tokens), name });
}

/** The entries of the log in their order, once nothing waits for a place and all is published. */
async function wholeLog(): Promise<string[]> {
  return await withSuperuser(service.urls.superuserUrl, async (client) => {
    for (;;) {
      const { rows } = await client.query<{ waits: boolean }>('select exists (select from staged_leaves) as waits');
      if (rows[0]?.waits === false) break;
      await pause(100);
    }
    // What is signed is published by the next run.
    await pause(2_000);
    const { rows } = await client.query<{ entry: string }>('select entry from log_leaves order by index');
    return rows.map(({ entry }) => entry);
  });
}

const percent = (sorted: readonly number[], share: number) =>
  Math.round(sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0);
const counts = ({ lost, duplicated, halfWritten, otherAnswers }: Verdict) =>
  `lost ${lost}, duplicated ${duplicated}, half written ${halfWritten}, other answers ${otherAnswers}`;

it('set up', async () => {
  await service.start();
  const { ownerUrl } = service.urls;
  await addOrganisation(ownerUrl, { id: v7(), slug: 'ardenholm', kind: 'maker', name: 'Ardenholm' });
  await addOrganisation(ownerUrl, { id: v7(), slug: 'brackwater', kind: 'distributor', name: 'Brackwater' });
  await publish(await caller({ maker: 'ardenholm' }));
  await stockUp(await caller({ distributor: 'brackwater' }));
});

it('what was acknowledged is there once and whole, and the log is one', async () => {
  const key = await loadSigner({ dataDir });
  const watch = new CheckpointWatch(join(logDir, 'checkpoint'));
  const benches = await writersOf('main');
  const began = performance.now();
  benches.begin();
  await benches.untilAcknowledged(quietRecords);
  const quiet = [...benches.acknowledged.values()].slice(0, quietRecords);
  const perSecond = Math.round((quietRecords / (performance.now() - began)) * 1_000);
  // Until the last of them is published: a kill would put that off until the service is back.
  await pause(2_000);

  const took: number[] = [];
  const done = new Map<string, number>();
  for (let nth = 0; nth < gate.kills; nth++) {
    const share = ((nth + 1) / (gate.kills + 1)) * (gate.records - quietRecords);
    await benches.untilAcknowledged(quietRecords + Math.floor(share));
    const target = targets[nth % targets.length] ?? 'both';
    const point: Point | null = [null, ...points][nth % (points.length + 1)] ?? null;
    if (point === null) await pause(random.below(300));
    took.push(await service.kill(target, point));
    for (const what of [`of ${target}`, point ?? 'at any moment']) done.set(what, (done.get(what) ?? 0) + 1);
    if ((nth + 1) % 5 === 0) tell(`kill ${nth + 1} of ${gate.kills}, ${benches.acknowledged.size} acknowledged`);
  }
  await benches.untilAcknowledged(gate.records);
  await benches.end();
  took.sort((a, b) => a - b);
  const { acknowledged, cutOff, faults } = benches;
  tell(`${gate.kills} kills under ${writers} writers: ${[...done].map(([what, n]) => `${n} ${what}`).join(', ')}`);
  tell(
    `ready again without a hand: median ${percent(took, 0.5)} ms, longest ${percent(took, 1)} ms, over 10 s ${took.filter((ms) => ms > readyWithinMs).length}; ended by itself: ${service.endedAlone.length}`,
  );

  const entries = await wholeLog();
  await watch.end();
  const verdict = await judge(service.urls.superuserUrl, 'main', acknowledged);
  tell(
    `${acknowledged.size} acknowledged, ${cutOff} tries without an answer, ${benches.replayed} answered by a replay: ${counts(verdict)}; faults ${faults.length}`,
  );
  expect(faults).toEqual([]);
  expect(service.endedAlone).toEqual([]);
  expect(verdict).toEqual(nothingWrong);

  const asked = [...acknowledged].filter(([, { wasCutOff }], nth) => wasCutOff || nth % 50 === 0);
  const differing: string[] = [];
  for (const [name, one] of asked) {
    const got = await benches.replay(name, one);
    const digest = createHash('sha256').update(got.text).digest('hex');
    if (got.status !== 201 || !got.replayed || digest !== one.answer) differing.push(`${name}: ${got.status}`);
  }
  tell(`${asked.length} keys sent once more, each that was cut off among them: ${differing.length} answered otherwise`);
  expect(differing).toEqual([]);

  const { sizes, wrong } = ofOneLog(watch.seen.keys(), entries, key);
  const proof = execFileSync(
    process.execPath,
    [resolve('src/cli/verify.ts'), 'log', logDir, '--key', key.verifierKey],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
  );
  tell(`${sizes.size} checkpoints seen, ${wrong.length} not of this log: ${proof.split('\n')[0]}`);
  expect(wrong).toEqual([]);
  expect(sizes.has(entries.length)).toBe(true);
  const audited = await withOwnerPool(service.urls.ownerUrl, (pool) =>
    audit(pool, { files: logFiles(logDir), keys: [key] }, () => {}),
  );
  tell(`audit: ${audited.facts} facts, ${audited.units} units, ${audited.leaves} leaves: ${audited.count} differences`);
  expect(audited.differences).toEqual([]);

  const places = new Map(entries.map((entry, index) => [entry, index]));
  const lags = watch.lags(quiet, places, key);
  tell(
    `before the kills ${perSecond} records a second; from a record's answer to the checkpoint that covers it: median ${percent(lags, 0.5)} ms, 99 of 100 within ${percent(lags, 0.99)} ms, longest ${percent(lags, 1)} ms of ${lags.length}`,
  );
  expect(took.filter((ms) => ms > readyWithinMs).map(Math.round)).toEqual([]);
});

/** Kills after which a control that was not caught is a failure of the gate. */
const atMost = 10;

it.each([...brokenPromises, 'synchronous_commit=off'] as const)('control: %s', async (broken) => {
  await service.stop();
  await service.start(broken === 'synchronous_commit=off' ? '' : broken);
  if (broken === 'synchronous_commit=off') {
    await withSuperuser(service.urls.superuserUrl, async (client) => {
      await client.query('alter system set synchronous_commit = off');
      await client.query('select pg_reload_conf()');
    });
  }
  const name = `control-${brokenPromises.indexOf(broken as (typeof brokenPromises)[number])}`;
  const before = (await judge(service.urls.superuserUrl, name, new Map())).halfWritten;
  const benches = await writersOf(name);
  benches.begin();
  let verdict = nothingWrong;
  let kills = 0;
  for (; kills < atMost && verdict.lost + verdict.halfWritten === 0; kills++) {
    await benches.untilAcknowledged(benches.acknowledged.size + 20);
    if (broken === 'the reply before COMMIT') await service.kill('the service', null);
    else if (broken === 'synchronous_commit=off') await service.kill('Postgres', null);
    else await service.kill('the service', 'after COMMIT before the reply');
    const now = await judge(service.urls.superuserUrl, name, new Map(benches.acknowledged));
    verdict = { ...now, halfWritten: now.halfWritten - before, duplicated: 0 };
  }
  await benches.end();
  expect(verdict.lost + verdict.halfWritten).toBeGreaterThan(0);
  tell(`control caught after ${kills} kills: ${broken}: lost ${verdict.lost}, half written ${verdict.halfWritten}`);
});
