/**
 * Conversions to be recorded of units of a generated history: there and back again, each with the lots of its
 * distributor. Whoever asks gets lists, one a connection, that no two connections share a unit of.
 */
import { randomUUID } from 'node:crypto';
import { randomFrom } from '../../gates/random.ts';
import { callerOf } from '../../support/over-http.ts';
import { byTheBook, mustGoWell } from '../../support/scene.ts';
import { maker } from '../../support/shop.ts';
import { withSuperuser } from '../../support/test-server.ts';
import type { Scale } from '../ground/ground.ts';
import { firstDistributor, type Stage } from '../ground/stage.ts';
import { lastFact, readTemplate, type Template } from '../history/read-template.ts';
import type { HttpRequest } from '../load/http-load.ts';

export type Distributor = { readonly slug: string; readonly owner: string; readonly units: readonly Unit[] };
type Unit = { readonly serial: string; turn: number };
type Connection = { readonly distributor: Distributor; readonly token: string; readonly units: readonly Unit[] };

export type Conversions = {
  /** The rows of one conversion, with what tells it from others. */
  readonly written: Template;
  /** 64 of them with units of their own, the largest distributors first; or those of the largest alone. */
  readonly connections: (of: 'many' | 'one') => readonly Connection[];
  /** So many for each connection. */
  readonly lists: (connections: readonly Connection[], each: number) => HttpRequest[][];
  /** The like for a peer, of units that are none of the history's. */
  readonly asides: (connections: readonly Connection[], each: number) => HttpRequest[][];
};

const most = 64;
const functions = ['load-sense', 'load-sense-bled'] as const;

export async function openConversions(stage: Stage, { seed }: Scale): Promise<Conversions> {
  const distributors = await distributorsOf(stage);
  const [first] = distributors;
  if (first === undefined) throw new Error('the history has no units');
  const tokens = new Map<string, string>();
  for (const { slug } of distributors) tokens.set(slug, await stage.tokenOf({ distributor: slug }));
  const { bodies, written } = await recordOnce(stage, first);
  const random = randomFrom(seed);
  let nth = 0;
  const run = randomUUID().slice(0, 8);
  const next = ({ distributor, units }: Connection): string => {
    const unit = units.toSorted((one, other) => one.turn - other.turn)[0];
    if (unit === undefined) throw new Error(`${distributor.slug} has no unit`);
    const body = bodies[unit.turn % 2] ?? '';
    // Minutes after the history's last work; the service's day is later.
    const performedAt = new Date(Date.UTC(2026, 10, 1) + unit.turn * 60_000).toISOString();
    unit.turn += 1;
    nth += 1;
    const lot = `L-${lotsOf(distributor)}-${String(2 + random.below(39)).padStart(2, '0')}`;
    return body
      .replaceAll('SERIAL', unit.serial)
      .replaceAll('LOT', lot)
      .replace('REFERENCE', `B-${run}-${nth}`)
      .replace('PERFORMED', performedAt);
  };
  const listsOf = (connections: readonly Connection[], each: number, bodyFor: (connection: Connection) => string) =>
    connections.map((connection) =>
      Array.from({ length: each }, () => ({
        ...{ method: 'POST', path: '/v1/conversions', body: bodyFor(connection) },
        headers: {
          ...{ authorization: `Bearer ${connection.token}`, 'content-type': 'application/json' },
          'idempotency-key': randomUUID(),
        },
      })),
    );
  return {
    written,
    connections: (of) => connectionsOf(of === 'one' ? [first] : distributors, tokens),
    lists: (connections, each) => listsOf(connections, each, next),
    asides: (connections, each) => {
      const aside = connections.map(({ units, ...rest }) => ({
        ...rest,
        units: units.map(({ serial }) => ({ serial: `X-${serial}`, turn: 0 })),
      }));
      return listsOf(aside, each, next);
    },
  };
}

async function distributorsOf({ superuserUrl }: Stage): Promise<Distributor[]> {
  const { rows } = await withSuperuser(superuserUrl, (client) =>
    client.query<{ slug: string; owner: string; serials: string[] }>(
      `select slug, owner, array_agg(as_written order by as_written) as serials
       from unit_names join facts on facts.id = unit_names.fact join organisations on organisations.id = owner
       where as_written like 'K-PL1-%' and as_written <> 'K-PL1-CELL' group by slug, owner
       order by slug <> '${firstDistributor}', count(*) desc, slug limit ${most}`,
    ),
  );
  return rows.map(({ slug, owner, serials }) => ({
    ...{ slug, owner, units: serials.map((serial) => ({ serial, turn: 0 })) },
  }));
}

/** Lots are numbered by distributor. */
const lotsOf = ({ slug }: Distributor) => (slug === firstDistributor ? '001' : slug.slice('yard-'.length));

/** Each distributor has one before any has two; none has more than units. */
function connectionsOf(distributors: readonly Distributor[], tokens: ReadonlyMap<string, string>): Connection[] {
  const counts = distributors.map(() => 0);
  for (let nth = 0; nth < most; nth++) {
    const free = [...distributors.keys()].filter((at) => (distributors[at]?.units.length ?? 0) > (counts[at] ?? 0));
    const [at] = free.toSorted((one, other) => (counts[one] ?? 0) - (counts[other] ?? 0));
    if (at === undefined) break;
    counts[at] = (counts[at] ?? 0) + 1;
  }
  return distributors.flatMap((distributor, at) =>
    Array.from({ length: counts[at] ?? 0 }, (_, nth, of = counts[at] ?? 0) => ({
      ...{ distributor, token: tokens.get(distributor.slug) ?? '' },
      units: distributor.units.filter((_unit, place) => place % of === nth),
    })),
  );
}

/** There and back on the first unit: bodies with words where each record has its own, and what the first one left. */
async function recordOnce(stage: Stage, { slug, units: [unit] }: Distributor) {
  if (unit === undefined) throw new Error(`${slug} has no unit`);
  const shop = callerOf(stage.base, await stage.tokenOf({ distributor: slug }));
  const bodies: string[] = [];
  const written: Template[] = [];
  for (const to of functions) {
    const path = `/v1/controls/${maker}/${unit.serial}/job-sheet?function=${to}`;
    const { body: sheet } = await mustGoWell(shop('GET', path));
    const body = {
      control: { maker, serial: 'SERIAL' },
      ...{ reference: 'REFERENCE', performedAt: 'PERFORMED' },
      ...{ found: { function: sheet.from.function as string }, to: { function: to } },
      ...byTheBook(sheet),
    };
    const text = JSON.stringify(body).replaceAll('"L-1"', '"LOT"');
    bodies.push(text);
    const sent = text
      .replaceAll('SERIAL', unit.serial)
      .replaceAll('LOT', 'L-001-40')
      .replace('REFERENCE', `once-${to}`)
      .replace('PERFORMED', new Date(Date.UTC(2026, 9, 31) + bodies.length * 60_000).toISOString());
    written.push(
      await withSuperuser(stage.superuserUrl, async (client) => {
        const before = await lastFact(client);
        await mustGoWell(shop('POST', '/v1/conversions', JSON.parse(sent), `once-${to}`));
        return await readTemplate(client, before, new Map());
      }),
    );
  }
  const [there] = written;
  if (there === undefined) throw new Error('nothing was recorded');
  return { bodies, written: there };
}
