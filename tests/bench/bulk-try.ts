/**
 * `npm run -s bulk:try -- [--records 100000]`: one upload of so many records into a service of its own on an empty
 * database, and what the service's process held meanwhile. A record is a registration, a conversion or an inspection,
 * three to a control, as in a history that is brought in.
 */
import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp } from 'node:fs/promises';
import { type IncomingMessage, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { parseArgs, promisify } from 'node:util';
import { removeDataDir } from '../../src/store/embedded/remove-data-dir.ts';
import { megabytes, rssOf } from '../support/memory.ts';
import { freePort, untilReady } from '../support/over-http.ts';

const root = resolve(import.meta.dirname, '../..');
const run = promisify(execFile);
const maker = 'ardenholm';
const scopes = ['record:write', 'record:read', 'stock:write', 'organisation:write'];

export type Tried = {
  readonly records: number;
  /** How many lines were answered with which status. */
  readonly statuses: Readonly<Record<string, number>>;
  readonly seconds: number;
  readonly samples: readonly { readonly records: number; readonly seconds: number; readonly rss: number }[];
};

export async function bulkTry(records: number, log: (line: string) => void): Promise<Tried> {
  const port = await freePort();
  const dataDir = await mkdtemp(join(tmpdir(), 'asfitted-bulk-'));
  const env = { ...process.env, DATA_DIR: dataDir, PORT: String(port), LOG_LEVEL: 'error', DATABASE_URL: '' };
  const command = async (name: string, ...args: string[]) =>
    (await run('node', [`src/cli/${name}.ts`, ...args], { cwd: root, env })).stdout.trim();
  const service = spawn('node', ['src/main.ts'], { cwd: root, env, stdio: 'inherit' });
  try {
    await untilReady(`http://127.0.0.1:${port}`, service);
    await command('organisations', 'add', maker, '--kind', 'maker', '--name', 'Ardenholm');
    await command('organisations', 'add', 'brackwater', '--kind', 'distributor', '--name', 'Brackwater');
    await command('catalogue', 'publish', 'src/cli/demo/ardenholm-2026-1.json');
    const token = await command(
      'token',
      '--distributor',
      'brackwater',
      ...scopes.flatMap((scope) => ['--scope', scope]),
    );
    return await upload({ records, port, token, pid: service.pid ?? 0, log });
  } finally {
    if (service.exitCode === null) {
      service.kill('SIGTERM');
      await once(service, 'exit');
    }
    await removeDataDir(dataDir);
  }
}

type Upload = {
  readonly records: number;
  readonly port: number;
  readonly token: string;
  readonly pid: number;
  readonly log: (line: string) => void;
};

async function upload({ records, port, token, pid, log }: Upload): Promise<Tried> {
  const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' };
  const sent = request({ port, method: 'POST', path: '/v1/bulk', headers, agent: false });
  const answer = once(sent, 'response');
  const begun = performance.now();
  const seconds = () => (performance.now() - begun) / 1000;
  const samples = [{ records: 0, seconds: 0, rss: await rssOf(pid) }];
  const sending = pipeline(Readable.from(lines(records)), sent);
  sending.catch(() => {});
  const [response] = (await answer) as [IncomingMessage];
  const statuses: Record<string, number> = {};
  let answered = 0;
  for await (const line of createInterface({ input: response })) {
    const { status, problem } = JSON.parse(line) as { status: number; problem?: { detail: string } };
    if (problem !== undefined && statuses[status] === undefined) log(`${status}: ${problem.detail}`);
    statuses[status] = (statuses[status] ?? 0) + 1;
    answered += 1;
    if (answered % Math.ceil(records / 20) !== 0) continue;
    samples.push({ records: answered, seconds: seconds(), rss: await rssOf(pid) });
    log(sampleText(samples.at(-2), samples.at(-1)));
  }
  await sending;
  return { records, statuses, seconds: seconds(), samples };
}

/** Stock first, which is not counted among the records. */
function* lines(records: number): Generator<string> {
  const stock = [
    { kind: 'shop', id: 'north', body: { name: 'north yard' } },
    { kind: 'technician', id: 't-17', body: {} },
    { kind: 'instrument', id: 'tw-3', body: { kind: 'torque-wrench', how: 'set' } },
    { kind: 'lot', lot: { maker, number: 'L-1' }, body: { part: 'bought-loose' } },
  ];
  for (const [nth, line] of stock.entries()) yield text({ key: `s-${nth}`, ...line });
  for (let nth = 0; nth < records; nth++) {
    const serial = `K-${Math.floor(nth / 3)}`;
    yield text({ key: `r-${nth}`, ...[registration, conversion, inspection][nth % 3]?.(serial, `R-${nth}`) });
  }
}

const text = (line: object) => `${JSON.stringify(line)}\n`;
const frame = (serial: string, reference: string, day: string) => ({
  ...{ control: { maker, serial }, reference, edition: '2026-1', performedAt: `2026-${day}T08:00:00Z` },
  ...{ shop: 'north', technician: 't-17', grade: 'from-paper' },
});

function registration(serial: string): object {
  const choices = {
    'pressure-adjuster': 'adjuster-320',
    'sense-spring': 'spring-sense-16',
    'bleed-seat': 'orifice-0.6',
  };
  const stations = { 'test-port': { content: [{ element: 'test-coupling' }] } };
  return {
    kind: 'control-registration',
    control: { maker, serial },
    body: {
      ...{ edition: '2026-1', performedAt: '2026-01-05T08:00:00Z', body: 'curlew-block', function: 'load-sense-bled' },
      ...{ basis: 'seen', choices, stations, for: { size: '83', rotation: 'clockwise' } },
    },
  };
}

function conversion(serial: string, reference: string): object {
  const torque = (joint: string, value: string) => ({
    joint,
    how: 'set',
    reading: { value, unit: 'N.m' },
    instrument: 'tw-3',
  });
  return {
    kind: 'conversion',
    body: {
      ...frame(serial, reference, '02-02'),
      ...{
        for: { size: '83', rotation: 'clockwise' },
        found: { function: 'load-sense-bled' },
        to: { function: 'load-sense' },
      },
      removed: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
      fitted: [{ station: 'bleed-seat', element: 'plug-m5', lot: 'L-1' }],
      seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-nbr', lot: 'L-1' }],
      torques: [torque('sense-adjuster-body', '61.0'), torque('bleed-seat-element', '5.5')],
      checks: [{ check: 'make-safe', result: 'passed' }],
    },
  };
}

function inspection(serial: string, reference: string): object {
  const found = { stations: { 'bleed-seat': [{ element: 'plug-m5' }] } };
  return { kind: 'inspection', body: { ...frame(serial, reference, '02-03'), found } };
}

type Sample = Tried['samples'][number];

function sampleText(before: Sample | undefined, now: Sample | undefined): string {
  if (before === undefined || now === undefined) return '';
  const rate = (now.records - before.records) / (now.seconds - before.seconds);
  return `${now.records} lines, ${now.seconds.toFixed(0)} s, ${rate.toFixed(0)} lines a second, rss ${megabytes(now.rss)}`;
}

if (import.meta.main) {
  const { values } = parseArgs({
    options: { records: { type: 'string', default: '100000' } },
  });
  const tried = await bulkTry(Number(values.records), (line) => console.error(line));
  const middle = tried.samples[Math.floor(tried.samples.length / 2)];
  console.log(`${tried.records} records in one upload: ${JSON.stringify(tried.statuses)}`);
  console.log(`${tried.seconds.toFixed(0)} s, ${(tried.records / tried.seconds).toFixed(0)} lines a second`);
  console.log(
    `rss of the service: start ${megabytes(tried.samples[0]?.rss ?? 0)}, middle ${megabytes(middle?.rss ?? 0)}, end ${megabytes(tried.samples.at(-1)?.rss ?? 0)}, most ${megabytes(Math.max(...tried.samples.map((one) => one.rss)))}`,
  );
}
