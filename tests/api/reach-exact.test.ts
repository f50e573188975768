/** What a reach answers, against a recount of every statement that is kept, by other code. */
import { setTimeout as pause } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, organisations, testService } from '../support/service.ts';
import { maker } from '../support/shop.ts';
import { recordVariedHistory } from '../support/varied-history.ts';

const db = await testDatabase();
const service = await testService(db);
await recordVariedHistory(service);
const brackwater = await service.as({ distributor: 'brackwater' });
const tollan = await service.as({ distributor: 'tollan' });
const analyst = await service.as({ maker, scopes: ['warranty:read'] });

// biome-ignore lint/suspicious/noExplicitAny: JSON as it is kept, read by other code than the service's.
type Json = Record<string, any>;
type Line = { readonly place: string; readonly item: string; readonly lot: string | null };
type Told = {
  readonly id: string;
  readonly owner: string;
  readonly units: readonly string[];
  readonly words: Readonly<Record<string, readonly string[]>>;
  readonly from: string;
  readonly to: string;
  readonly lines: readonly (Line & { unit: string })[];
};
type Criteria = Readonly<Record<string, string>>;

let told: readonly Told[] = [];
let holds: readonly { unit: string; record: string; element: string }[] = [];
let partOf: ReadonlyMap<string, string> = new Map();
let inKits: readonly { owner: string; kit: string; element: string; lot: string }[] = [];
const ownIds = new Map<string, string>();

/** Every member of these names, however deep. */
const valuesOf = (value: unknown, names: readonly string[]): string[] => {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) =>
    names.includes(name) && typeof member === 'string' ? [member] : valuesOf(member, names),
  );
};
const lotIn = (lot: Json | string | undefined): string | null => {
  if (typeof lot === 'string') return `${maker}/${lot}`;
  return lot?.['number'] === undefined ? null : `${lot['maker']}/${lot['number']}`;
};

beforeAll(async () => {
  const facts = await rowsOf<Json>(
    db,
    `select owner::text, id::text, kind, edition, concerns::text, statement, judgement,
       to_char(performed_from at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as start,
       to_char(performed_to at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as stop from facts order by id`,
  );
  const events = await rowsOf<Json>(db, 'select fact::text, unit_id::text as unit from unit_events');
  const states = await rowsOf<Json>(db, 'select unit_id::text as unit, state from unit_states');
  for (const one of await rowsOf<Json>(db, 'select id::text, own_id from people')) ownIds.set(one['id'], one['own_id']);
  const gone = new Set(facts.filter((one) => one['kind'] === 'correction').map((one) => one['concerns']));
  told = facts.flatMap((fact): Told[] => {
    const statement = JSON.parse(fact['statement']);
    const units = [...new Set(events.filter((one) => one['fact'] === fact['id']).map((one) => one['unit']))];
    const isWork = !['judgement', 'disposition'].includes(fact['kind']) && statement.kind !== 'void';
    if (units.length === 0 || gone.has(fact['id']) || !isWork) return [];
    const { function: left, units: pair } = JSON.parse(fact['judgement']);
    const body = typeof statement.body === 'object' ? statement.body : statement;
    const unitAt = (place: string) => (place.startsWith('pump/') && pair?.pump ? pair.pump : pair?.control);
    const lines = [
      ...(body.fitted ?? []).map((one: Json) => ({
        place: one['station'],
        item: one['element'],
        lot: lotIn(one['lot']),
      })),
      ...(body.seals ?? []).map((one: Json) => ({ place: one['joint'], item: one['seal'], lot: lotIn(one['lot']) })),
    ].filter((one) => typeof one.item === 'string');
    const words = {
      instrument: valuesOf(statement, ['instrument', 'second']),
      technician: valuesOf(statement, ['technician', 'by']),
      shop: valuesOf(body, ['shop']).filter((shop) => shop === body.shop),
      edition: [fact['edition']].filter((one) => one !== null),
      function: [left].filter((one) => typeof one === 'string'),
      distributor: [fact['owner'] === organisations.brackwater.id ? 'brackwater' : 'tollan'],
    };
    const frame = { id: fact['id'], owner: fact['owner'], from: fact['start'], to: fact['stop'] };
    return [{ ...frame, units, words, lines: lines.map((one) => ({ ...one, unit: unitAt(one.place) })) }];
  });
  holds = states.flatMap(({ unit, state }) =>
    Object.values<Json>(JSON.parse(state).stations).flatMap(({ record, elements }) =>
      (elements ?? []).map((one: Json) => ({ unit, record, element: one['element'] })),
    ),
  );
  const lots = facts.filter((one) => one['kind'] === 'lot');
  const stated = lots.map((one) => ({ owner: one['owner'], ...JSON.parse(one['statement']) }));
  const keyOf = (one: Json) => `${one['owner']} ${one['lot'].maker}/${one['lot'].number}`;
  const latest = [...new Map(stated.map((one) => [keyOf(one), one])).entries()];
  partOf = new Map(latest.map(([key, one]) => [key, one.part]));
  inKits = latest.flatMap(([key, { owner, components = [] }]) =>
    components.map((one: Json) => ({ owner, kit: key.split(' ')[1], element: one['element'], lot: lotIn(one['lot']) })),
  );
});

/** `unit record` and, of parts, the places; as this owner would see it, null: everybody. */
const recount = (owner: string | null, criteria: Criteria): string[] => {
  const { lot, element, part, from, to, ...rest } = criteria;
  const seeksParts = lot ?? element ?? part;
  const matches = told.filter(
    (one) =>
      (owner === null || one.owner === owner) &&
      (from === undefined || one.to >= from) &&
      (to === undefined || one.from < to) &&
      Object.entries(rest).every(([name, value]) => one.words[name]?.some((word) => word === value)),
  );
  const isOf = (one: Told, line: Line) =>
    (element === undefined || line.item === element) &&
    (part === undefined || partOf.get(`${one.owner} ${line.lot}`) === part) &&
    (lot === undefined ||
      line.lot === lot ||
      inKits.some(
        (kit) => kit.owner === one.owner && kit.kit === line.lot && kit.element === line.item && kit.lot === lot,
      ));
  const pairs = matches.flatMap((one) => {
    if (seeksParts === undefined) return one.units.map((unit) => `${unit} ${one.id}`);
    const used = one.lines.filter((line) => isOf(one, line)).map((line) => `${line.unit} ${one.id}`);
    if (lot !== undefined || part !== undefined) return used;
    return [
      ...used,
      ...holds
        .filter((held) => held.record === one.id && held.element === element)
        .map((held) => `${held.unit} ${one.id}`),
    ];
  });
  return [...new Set(pairs)].sort();
};

const reach = async (caller: Caller, criteria: Criteria): Promise<string[]> => {
  const query = new URLSearchParams({ ...criteria, first: '200' });
  const { status, body } = await caller('GET', `/v1/reach?${query}`);
  if (status === 404) return [];
  expect(status).toBe(200);
  return body.items.flatMap(({ unit, records }: Json) => records.map((one: Json) => `${unit} ${one['id']}`)).sort();
};

/** Every value of every criterion that is anywhere in the history. */
const singles = (): Criteria[] => {
  const of = (name: string, values: readonly (string | null | undefined)[]) =>
    [...new Set(values)].flatMap((value) => (typeof value === 'string' ? [{ [name]: value }] : []));
  const lines = told.flatMap((one) => one.lines);
  return [
    ...of('lot', [...lines.map((one) => one.lot), ...inKits.map((one) => one.lot)]),
    ...of('element', [...lines.map((one) => one.item), ...holds.map((one) => one.element)]),
    ...of('part', [...partOf.values()]),
    ...['instrument', 'technician', 'shop', 'edition', 'function'].flatMap((name) =>
      of(
        name,
        told.flatMap((one) => one.words[name]),
      ),
    ),
  ];
};
const period = { from: '2026-04-03T12:00:00Z', to: '2026-06-15T00:00:00Z' };
const exactly = { from: '2026-04-03T12:00:00.000000Z', to: '2026-06-15T00:00:00.000000Z' };
/** As a distributor asks: by its own id of the person. */
const asked = (caller: Caller, criteria: Criteria): Criteria =>
  caller === analyst || criteria['technician'] === undefined
    ? criteria
    : { ...criteria, technician: ownIds.get(criteria['technician']) ?? criteria['technician'] };

const callers = [
  ['brackwater', brackwater, organisations.brackwater.id],
  ['tollan', tollan, organisations.tollan.id],
  ["the maker's people", analyst, null],
] as const;

describe('a reach', () => {
  it('has something to tell of every criterion', () => {
    const names = singles().flatMap((one) => Object.keys(one));
    for (const name of ['lot', 'element', 'part', 'instrument', 'technician', 'shop', 'edition', 'function'])
      expect([name, names.filter((one) => one === name).length > 0]).toEqual([name, true]);
    expect(told.length).toBeGreaterThan(20);
    expect(inKits.length).toBeGreaterThan(0);
  });

  it.each(callers)(
    'of each thing is what a recount finds for %s, whenever and in a period',
    async (_, caller, owner) => {
      let found = 0;
      for (const criteria of singles()) {
        // A person is somebody's: the same own id may be another's too.
        const isOthers =
          owner !== null &&
          !told.some((one) => one.owner === owner && one.words['technician']?.includes(criteria['technician'] ?? ''));
        if (criteria['technician'] !== undefined && isOthers) continue;
        const expected = recount(owner, criteria);
        found += expected.length;
        expect([criteria, await reach(caller, asked(caller, criteria))]).toEqual([criteria, expected]);
        const within = recount(owner, { ...criteria, ...exactly });
        expect([criteria, await reach(caller, asked(caller, { ...criteria, ...period }))]).toEqual([criteria, within]);
      }
      expect(found).toBeGreaterThan(5);
    },
  );

  it('of several things is what all of them have', async () => {
    const all = singles();
    let narrower = 0;
    for (const one of all.filter((each) => !('lot' in each || 'element' in each || 'part' in each))) {
      for (const other of all.filter((each) => Object.keys(each)[0] !== Object.keys(one)[0])) {
        const [first, second] = [recount(null, one), recount(null, other)];
        const both = await reach(analyst, { ...one, ...other });
        expect([one, other, both]).toEqual([one, other, first.filter((pair) => second.includes(pair))]);
        if (both.length > 0 && both.length < Math.min(first.length, second.length)) narrower += 1;
      }
    }
    expect(narrower).toBeGreaterThan(0);
    for (const caller of [brackwater, analyst])
      for (const criteria of [
        { lot: `${maker}/L-7`, element: 'orifice-0.6', part: 'kit-bleed', shop: 'north' },
        { lot: `${maker}/L-1`, element: 'plug-m5' },
      ])
        expect(await reach(caller, criteria)).toEqual(
          recount(caller === analyst ? null : organisations.brackwater.id, criteria),
        );
  });

  it("is of one distributor's things where the maker's people name it, though others call theirs the same", async () => {
    const all = await reach(analyst, { shop: 'north' });
    const [own, other] = [
      await reach(analyst, { shop: 'north', distributor: 'brackwater' }),
      await reach(analyst, { shop: 'north', distributor: 'tollan' }),
    ];
    expect([own.length > 0, other.length > 0, [...own, ...other].sort()]).toEqual([true, true, all]);
    expect(await reach(brackwater, { shop: 'north' })).toEqual(own);
    expect(await reach(tollan, { shop: 'north' })).toEqual(other);
    expect((await brackwater('GET', '/v1/reach?shop=north&distributor=tollan')).status).toBe(404);
    expect((await analyst('GET', '/v1/reach?shop=north&distributor=nobody')).status).toBe(404);
  });

  it('is of one make', async () => {
    expect(await reach(brackwater, { shop: 'north', maker })).toEqual(await reach(brackwater, { shop: 'north' }));
    expect(await reach(brackwater, { shop: 'north', maker: 'other-maker' })).toEqual([]);
    const answer = await analyst('GET', '/v1/reach?shop=north&maker=other-maker');
    expect([answer.status, answer.body.code]).toEqual([404, 'not-found']);
  });

  it('of what nobody has stated is no answer', async () => {
    for (const query of ['shop=nowhere', 'instrument=none', 'technician=nobody', 'lot=ardenholm/NONE']) {
      const { status, body } = await brackwater('GET', `/v1/reach?${query}`);
      expect([query, status, body.code]).toEqual([query, 404, 'not-found']);
    }
    const then = 'known=2026-04-01T00:00:00Z';
    const period = 'from=2026-02-01T00:00:00Z&to=2026-01-01T00:00:00Z';
    for (const query of ['', then, 'maker=ardenholm', `shop=north&${period}`]) {
      const { status, body } = await brackwater('GET', `/v1/reach?${query}`);
      expect([query, status, body.code]).toEqual([query, 400, 'invalid-input']);
    }
  });

  it.each([
    'element=orifice-0.6',
    'element=orifice-0.6&known=HORIZON',
    'edition=2026-1',
    'function=load-sense',
    'lot=ardenholm/L-1',
  ])('of %s is the same in pages of two units, for both', async (text) => {
    const query = text.replace('HORIZON', await horizonWithUnits('element=orifice-0.6'));
    for (const caller of [analyst, brackwater]) {
      const whole = (await mustGoWell(caller('GET', `/v1/reach?${query}&first=200`))).body.items;
      const paged: unknown[] = [];
      for (let after = ''; ; ) {
        const { items, pageInfo } = (await mustGoWell(caller('GET', `/v1/reach?${query}&first=2${after}`))).body;
        paged.push(...items);
        if (!pageInfo.hasNextPage) break;
        after = `&after=${pageInfo.endCursor}`;
      }
      expect(paged.length).toBeGreaterThan(2);
      expect(paged).toEqual(whole);
    }
  });

  /** Up to when what is known can't change any more, once that takes in what was recorded here. */
  async function horizonWithUnits(query: string): Promise<string> {
    for (;;) {
      const { body } = await mustGoWell(brackwater('GET', `/v1/reach?${query}&known=2999-01-01T00:00:00Z&first=200`));
      if (body.items.length > 2) return body.known;
      await pause(200);
    }
  }

  it('streams as lines what its pages say', async () => {
    const { body } = await mustGoWell(analyst('GET', `/v1/reach?edition=2026-1&first=200`));
    const stream = await service.server.inject({
      method: 'GET',
      url: '/v1/reach?edition=2026-1',
      headers: { authorization: `Bearer ${await service.tokenOf({ maker })}`, accept: 'application/x-ndjson' },
    });
    expect([stream.statusCode, stream.headers['content-type']]).toEqual([200, 'application/x-ndjson']);
    const lines = stream.payload.split('\n');
    expect(lines.pop()).toBe('');
    expect(lines.map((line) => JSON.parse(line))).toEqual(body.items);
    expect(body.items.length).toBeGreaterThan(5);
  });
});
