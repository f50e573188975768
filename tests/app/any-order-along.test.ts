/**
 * A pump and two controls that are put on, taken off, moved, started up and looked at by two distributors, told in any order,
 * some of it by mistake and made void later.
 * Where each is in the end, what its circuit is and which looks are held for where it was follow from the work alone: said here in
 * memory, without anything of the service. `ANY_ORDER_RUNS` says how many histories are drawn (8), `SEED` draws the same again.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { inspectionOf, maker, onControl, onPump, openShops, registerControl, unitFor } from '../support/shop.ts';

const db = await testDatabase();
const shops = await openShops(await testService(db, { rememberTokens: true }));
const { brackwater } = shops;
type Json = Awaited<ReturnType<Caller>>['body'];

const runs = Number(process.env['ANY_ORDER_RUNS'] ?? 8);
const seed = Number(process.env['SEED'] ?? Date.now() % 2 ** 31);
console.log(`any order of movements: seed ${seed}, ${runs} runs`);

const units = ['pump', 'a', 'b'] as const;
type Unit = (typeof units)[number];
type Shop = 'brackwater' | 'tollan';
type Step = {
  readonly what: 'mount' | 'in' | 'out' | 'start' | 'look';
  readonly unit: Unit;
  readonly shop: Shop;
  readonly isMistake: boolean;
};
const steps = fc.array(
  fc.record<Step>({
    what: fc.constantFrom('mount', 'mount', 'in', 'out', 'start', 'look'),
    unit: fc.constantFrom(...units),
    shop: fc.constantFrom('brackwater', 'tollan'),
    isMistake: fc.constantFrom(false, false, false, true),
  }),
  { minLength: 3, maxLength: 9 },
);
const history = steps.chain((all) =>
  fc.record({
    all: fc.constant(all),
    order: fc.shuffledSubarray([...all.keys()], { minLength: all.length, maxLength: all.length }),
  }),
);

/** What a step says once it is known what was on the pump: only what is off is put on, only what is on is taken off. */
type Told = Step & { readonly nth: number; readonly on?: boolean; readonly along: readonly Unit[] };
function told(all: readonly Step[]): Told[] {
  let mounted: Unit | null = null;
  return all.flatMap((step, nth): Told[] => {
    const pair: readonly Unit[] = mounted === null ? [] : ['pump', mounted];
    const along = pair.includes(step.unit) ? pair : [step.unit];
    if (step.what === 'look' && step.unit === 'pump') return [];
    if (step.what !== 'mount') return [{ ...step, nth, along }];
    if (step.unit === 'pump' || (mounted !== null && mounted !== step.unit)) return [];
    const on: boolean = mounted === null;
    if (!step.isMistake) mounted = on ? step.unit : null;
    return [{ ...step, nth, on, along: ['pump', step.unit] }];
  });
}

/** Without the mistakes. Of each unit: the step that last moved it; of a control the start-up of the pair since it was last put on. */
function expected(steps: readonly Told[]) {
  const all = steps.filter((one) => !one.isMistake);
  const moves = (unit: Unit) => all.filter((one) => ['in', 'out'].includes(one.what) && one.along.includes(unit));
  const isElsewhere = (look: Told, unit: Unit) => {
    const before = moves(unit).findLast((one) => one.nth < look.nth);
    const isIn = (one: Told | undefined) => one?.what === 'in' && one.shop === look.shop;
    return before !== undefined && !isIn(before) && !moves(unit).some((one) => one.nth > look.nth && isIn(one));
  };
  return {
    custody: units.map((unit) => moves(unit).at(-1)?.nth ?? null),
    circuit: units.map((unit) => {
      if (unit === 'pump') return null;
      const since = all.findLast((one) => one.what === 'mount' && one.unit === unit);
      const started = all.findLast((one) => one.what === 'start' && one.along.length === 2 && one.along.includes(unit));
      return started === undefined || since === undefined || since.nth > started.nth ? null : started.nth;
    }),
    held: all
      .filter((one) => ['look', 'mount'].includes(one.what) && one.along.some((unit) => isElsewhere(one, unit)))
      .map(({ nth }) => nth),
  };
}

let histories = 0;
const nameOf = (unit: Unit, run: string) =>
  unit === 'pump' ? onPump(`along-${run}`) : onControl(`along-${run}-${unit}`);

function requestOf({ what, unit, nth, on }: Told, run: string) {
  const frame = { reference: `${run}-${nth}`, performedAt: `2026-05-${String(nth + 1).padStart(2, '0')}T08:00:00Z` };
  const body = { ...frame, shop: 'north', technician: 't-17' };
  const named = nameOf(unit, run);
  if (what === 'look') return { path: '/v1/inspections', body: { ...inspectionOf(`along-${run}-${unit}`, frame) } };
  if (what === 'start') {
    const circuit = { 'system-relief': { value: String(300 + nth), unit: 'bar' } };
    return { path: '/v1/start-ups', body: { ...body, ...named, machine: 'press', circuit } };
  }
  if (what === 'mount')
    return { path: '/v1/mountings', body: { ...body, ...named, ...nameOf('pump', run), on, edition: '2026-1' } };
  return { path: '/v1/movements', body: { ...body, ...named, what: what === 'in' ? 'received' : 'delivered' } };
}

/** Sends these steps in an order, what is refused again and again until it is taken. */
async function send(all: readonly Told[], order: readonly number[]) {
  histories += 1;
  const run = `${seed}-${histories}`;
  await mustGoWell(
    brackwater('PUT', `/v1/pumps/${maker}/P-along-${run}`, { ...pumpWith({ function: 'load-sense' }), control: null }),
  );
  await registerControl(brackwater, `along-${run}-a`);
  await registerControl(brackwater, `along-${run}-b`);
  const nthOf = new Map<string, number>();
  let waiting = order.flatMap((nth) => all.find((one) => one.nth === nth) ?? []);
  const mistakes = new Map<string, Caller>();
  while (waiting.length > 0) {
    const left: Told[] = [];
    for (const step of waiting) {
      const { path, body } = requestOf(step, run);
      const answer = await shops[step.shop]('POST', path, body);
      if (answer.status !== 201 && answer.status !== 409) throw new Error(`${answer.status} ${answer.text}`);
      if (step.isMistake) {
        if (answer.status === 201) mistakes.set(answer.body.id, shops[step.shop]);
      } else if (answer.status === 201) nthOf.set(answer.body.id, step.nth);
      else left.push(step);
    }
    const isFirst = mistakes.size > 0;
    for (const [id, shop] of mistakes) {
      await mustGoWell(shop('POST', `/v1/records/${id}/corrections`, { kind: 'void', reason: 'a mistake' }));
    }
    mistakes.clear();
    if (left.length === waiting.length && !isFirst) throw new Error(`nothing more is taken: ${JSON.stringify(left)}`);
    waiting = left;
  }
  const views: Json[][] = [];
  for (const shop of [shops.brackwater, shops.tollan]) {
    const ofShop: Json[] = [];
    for (const unit of units) {
      const number = unit === 'pump' ? `along-${run}` : `along-${run}-${unit}`;
      ofShop.push(await unitFor(shop, unit === 'pump' ? 'pump' : 'control', number));
    }
    views.push(ofShop);
  }
  const [ours = [], theirs = []] = views;
  const nth = (record: string | undefined) => (record === undefined ? null : (nthOf.get(record) ?? record));
  const holds = ours.flatMap(({ findings }) => findings.filter((one: Json) => one.rule === 'not-in-custody'));
  return {
    custody: ours.map(({ custody }, at) => nth(custody?.record ?? theirs[at]?.custody?.record)),
    circuit: ours.map(({ circuit }) => nth(circuit?.['system-relief']?.record)),
    held: [...new Set(holds.map((one: Json) => nth(one.fact)))].sort(),
  };
}

it('movements, start-ups and mountings end where the work left them, in whatever order they are told', async () => {
  await fc.assert(
    fc.asyncProperty(history, async ({ all, order }) => {
      const steps = told(all);
      expect(await send(steps, order)).toEqual(expected(steps));
    }),
    { seed, numRuns: runs, endOnFailure: true },
  );
}, 900_000);
