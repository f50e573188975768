/**
 * Commands drawn at random against a naive model in memory: records in and out of order, corrections, calibrations,
 * containments of a distributor or of the maker and their lifting, and questions about now, about a past of the work and about what was known. `MODEL_RUNS` says how many sequences (12;
 * `npm run -s gate:model` draws 200), `SEED` draws the same again. A new kind of command is a class below and a line in `commands`.
 */
import { setTimeout } from 'node:timers/promises';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { Model } from '../support/naive-model.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { inspectionOf, maker, openShops, registerControl, unitFor } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
const { brackwater, tollan } = await openShops(service);
const callers = { brackwater, tollan, maker: await service.as({ maker }) };
type Json = Awaited<ReturnType<Caller>>['body'];

const numRuns = Number(process.env['MODEL_RUNS'] ?? 12);
const seed = Number(process.env['SEED'] ?? Date.now() % 2 ** 31);
console.log(`model: seed ${seed}, ${numRuns} sequences`);

type Real = { readonly number: string };
type Command = fc.AsyncCommand<Model, Real, false>;
const get = async (path: string): Promise<Json> => (await mustGoWell(brackwater('GET', path))).body;
const post = async (path: string, body: object): Promise<Json> =>
  (await mustGoWell(brackwater('POST', path, body))).body;
const forever = '9';
let references = 0;
const at = (hour: number) =>
  `2026-05-${String(1 + Math.floor(hour / 24)).padStart(2, '0')}T${String(hour % 24).padStart(2, '0')}:00:00.000000Z`;
const found = (seat: string) => ({ stations: { 'bleed-seat': [{ element: seat }] } });
type Lot = 'a' | 'b';
const lotOf = (number: string, lot: Lot) => `L-${number}-${lot}`;
const sealedFrom = (number: string, lot: Lot | null) =>
  lot === null ? {} : { seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: lotOf(number, lot) }] };
const bodyOf = (number: string, hour: number, seat: string, lot: Lot | null, reference: string) => ({
  ...inspectionOf(number, { reference, performedAt: at(hour) }),
  ...{ found: found(seat), ...sealedFrom(number, lot) },
});

const torque = (value: string) => ({ value, unit: 'N.m' });
const percent = (value: string) => ({ value, unit: '%' });
/** Of our own records, by their ids. */
const referenceOf = new Map<string, string>();
const issuerOf = new Map<string, keyof typeof callers>();
const second = (number: string) => `${number}-second`;
const holdingIn = (unit: Json): string[] => {
  const contained = unit.findings.filter((one: Json) => one.rule === 'contained');
  return [...new Set<string>(contained.flatMap((one: Json) => one.clearedBy.map((clear: Json) => clear.place)))].sort();
};

class Record implements Command {
  readonly hour: number;
  readonly seat: string;
  readonly lot: Lot | null;
  constructor(hour: number, seat: string, lot: Lot | null) {
    this.hour = hour;
    this.seat = seat;
    this.lot = lot;
  }
  check = () => true;
  async run(model: Model, { number }: Real): Promise<void> {
    const reference = `M-${++references}`;
    const { id, receipt } = await post('/v1/inspections', bodyOf(number, this.hour, this.seat, this.lot, reference));
    referenceOf.set(id, reference);
    model.seen.push({
      ...{ id, at: at(this.hour), recorded: receipt.recordedAt, seat: this.seat },
      ...{ replaces: null, isVoid: false },
    });
    const used = { id, recorded: receipt.recordedAt, by: 'brackwater', unit: number };
    model.used.push({ ...used, lot: this.lot, replaces: null });
  }
  toString = () => `record ${this.seat} at ${this.hour} with lot ${this.lot}`;
}

class Correct implements Command {
  readonly nth: number;
  readonly seat: string | null;
  readonly lot: Lot | null;
  constructor(nth: number, seat: string | null, lot: Lot | null) {
    this.nth = nth;
    this.seat = seat;
    this.lot = lot;
  }
  check = (model: Readonly<Model>) => model.standing.length > 0;
  async run(model: Model, { number }: Real): Promise<void> {
    const replaced = model.standing[this.nth % model.standing.length];
    if (replaced === undefined) throw new Error('nothing stands');
    const reference = referenceOf.get(replaced.id) ?? '';
    const hour = Number(replaced.at.slice(8, 10)) * 24 - 24 + Number(replaced.at.slice(11, 13));
    const body =
      this.seat === null
        ? { kind: 'void', reason: 'model' }
        : { kind: 'inspection', reason: 'model', body: bodyOf(number, hour, this.seat, this.lot, reference) };
    const { id, receipt } = await post(`/v1/records/${replaced.id}/corrections`, body);
    referenceOf.set(id, reference);
    model.seen.push({
      ...{ id, at: replaced.at, recorded: receipt.recordedAt, seat: this.seat ?? '' },
      ...{ replaces: replaced.id, isVoid: this.seat === null },
    });
    const used = { id, recorded: receipt.recordedAt, by: 'brackwater', unit: number };
    model.used.push({ ...used, lot: this.seat === null ? null : this.lot, replaces: replaced.id });
  }
  toString = () => `correct ${this.nth} to ${this.seat ?? 'nothing'} with lot ${this.lot}`;
}

/** On the second control, by either distributor. */
class Use implements Command {
  readonly by: 'brackwater' | 'tollan';
  readonly hour: number;
  readonly lot: Lot;
  constructor(by: 'brackwater' | 'tollan', hour: number, lot: Lot) {
    this.by = by;
    this.hour = hour;
    this.lot = lot;
  }
  check = () => true;
  async run(model: Model, { number }: Real): Promise<void> {
    const frame = { reference: `M-${++references}`, performedAt: at(this.hour) };
    const body = { ...inspectionOf(second(number), frame), ...sealedFrom(number, this.lot) };
    const { id, receipt } = (await mustGoWell(callers[this.by]('POST', '/v1/inspections', body))).body;
    const used = { id, recorded: receipt.recordedAt, by: this.by, unit: second(number) };
    model.used.push({ ...used, lot: this.lot, replaces: null });
  }
  toString = () => `use lot ${this.lot} at ${this.hour} by ${this.by}`;
}

class Contain implements Command {
  readonly by: keyof typeof callers;
  readonly lot: Lot;
  constructor(by: keyof typeof callers, lot: Lot) {
    this.by = by;
    this.lot = lot;
  }
  // A lot that nobody has used is not the maker's people's to name.
  check = (model: Readonly<Model>) => this.by !== 'maker' || model.isUsed(this.lot, null, null, forever);
  async run(model: Model, { number }: Real): Promise<void> {
    const words = { severity: 'stop', reason: 'suspected', instruction: 'look at it' };
    const criteria = { lot: `${maker}/${lotOf(number, this.lot)}` };
    const body = { reference: `M-${++references}`, criteria, ...words };
    const { id, receipt } = (await mustGoWell(callers[this.by]('POST', '/v1/containments', body))).body;
    issuerOf.set(id, this.by);
    const contained = { id, recorded: receipt.recordedAt, by: this.by === 'maker' ? null : this.by };
    model.contained.push({ ...contained, lot: this.lot, lifted: null });
  }
  toString = () => `contain lot ${this.lot} by ${this.by}`;
}

class Lift implements Command {
  readonly nth: number;
  constructor(nth: number) {
    this.nth = nth;
  }
  check = (model: Readonly<Model>) => model.contained.some(({ lifted }) => lifted === null);
  async run(model: Model): Promise<void> {
    const standing = model.contained.filter(({ lifted }) => lifted === null);
    const contained = standing[this.nth % standing.length];
    if (contained === undefined) throw new Error('nothing is contained');
    const path = `/v1/containments/${contained.id}/lift`;
    const body = { reference: `M-${++references}`, reason: 'measured' };
    const lifted = await mustGoWell(callers[issuerOf.get(contained.id) ?? 'maker']('POST', path, body));
    contained.lifted = lifted.body.receipt.recordedAt;
  }
  toString = () => `lift ${this.nth}`;
}

class Calibrate implements Command {
  readonly hour: number;
  constructor(hour: number) {
    this.hour = hour;
  }
  check = (model: Readonly<Model>) => model.calibrations.every((one) => one.at !== at(this.hour));
  async run(model: Model, { number }: Real): Promise<void> {
    const { id, receipt } = await post(`/v1/instruments/tw-${number}/calibrations`, {
      ...{
        reference: `M-${++references}`,
        performedAt: at(this.hour),
        document: 'certificate',
        laboratory: 'a laboratory',
      },
      points: [{ at: torque('50'), asFound: percent('0.4'), uncertainty: percent('1.0') }],
    });
    model.calibrations.push({ id, at: at(this.hour), recorded: receipt.recordedAt });
  }
  toString = () => `calibrate at ${this.hour}`;
}

function seatOf(unit: Json) {
  const content = unit.fit['bleed-seat'];
  return {
    ...{ seat: content.elements[0].element, function: unit.function },
    since: referenceOf.has(content.record) ? content.record : 'registration',
  };
}

class AskNow implements Command {
  check = () => true;
  async run(model: Model, { number }: Real): Promise<void> {
    const unit = await unitFor(brackwater, 'control', number);
    const { unrecorded, ...seat } = model.seatAt(forever, forever);
    expect(seatOf(unit)).toEqual(seat);
    const held = unit.findings.filter((one: Json) => one.rule === 'unrecorded-work').map((one: Json) => one.fact);
    expect(held).toEqual(unrecorded === null ? [] : [unrecorded]);
    for (const one of [number, second(number)])
      expect(holdingIn(await unitFor(brackwater, 'control', one))).toEqual(model.holding(one, forever));
  }
  toString = () => 'ask now';
}

class AskPast implements Command {
  readonly hour: number;
  constructor(hour: number) {
    this.hour = hour;
  }
  check = () => true;
  async run(model: Model, { number }: Real): Promise<void> {
    const { control } = await get(`/v1/controls/ardenholm/K-${number}?performed=${at(this.hour)}`);
    const { unrecorded: _, ...seat } = model.seatAt(at(this.hour), forever);
    expect(seatOf(control)).toEqual(seat);
    const instrument = await get(`/v1/instruments/tw-${number}?at=${at(this.hour)}`);
    expect(instrument.calibration).toBe(model.calibrationAt(at(this.hour), forever));
  }
  toString = () => `ask about ${this.hour}`;
}

/** A microsecond before. */
function justBefore(time: string): string {
  const micro = BigInt(Date.parse(`${time.slice(0, 23)}Z`)) * 1000n + BigInt(time.slice(23, 26)) - 1n;
  return `${new Date(Number(micro / 1000n)).toISOString().slice(0, 23)}${String(micro % 1000n).padStart(3, '0')}Z`;
}

// Few, so that records often have one time.
const hour = fc.integer({ min: 0, max: 8 });
const seat = fc.constantFrom('orifice-0.6', 'orifice-0.8', 'plug-m5');
const lot = fc.constantFrom<Lot[]>('a', 'b');
const commands = fc.commands<Model, Real, false>(
  [
    fc.tuple(hour, seat, fc.option(lot)).map((drawn) => new Record(...drawn)),
    fc.tuple(fc.nat(9), fc.option(seat), fc.option(lot)).map((drawn) => new Correct(...drawn)),
    fc.tuple(fc.constantFrom('brackwater', 'tollan'), hour, lot).map((drawn) => new Use(...drawn)),
    fc.tuple(fc.constantFrom('brackwater', 'tollan', 'maker'), lot).map((drawn) => new Contain(...drawn)),
    fc.nat(9).map((drawn) => new Lift(drawn)),
    hour.map((drawn) => new Calibrate(drawn)),
    fc.constant(new AskNow()),
    hour.map((drawn) => new AskPast(drawn)),
  ],
  { maxCommands: 12, size: 'max' },
);

it('says what a naive model says, now, of the past, and of what was known', async () => {
  const done: { readonly model: Model; readonly real: Real }[] = [];
  await fc.assert(
    fc.asyncProperty(commands, async (sequence) => {
      const real = { number: `model-${done.length}` };
      const model = new Model();
      done.push({ model, real });
      for (const one of [real.number, second(real.number)]) await registerControl(brackwater, one, 'load-sense-bled');
      for (const shop of [brackwater, tollan])
        for (const one of ['a', 'b'] as const)
          await mustGoWell(shop('PUT', `/v1/lots/${maker}/${lotOf(real.number, one)}`, { part: 'bought-loose' }));
      await mustGoWell(brackwater('PUT', `/v1/instruments/tw-${real.number}`, { kind: 'torque-wrench', how: 'set' }));
      await fc.asyncModelRun(() => ({ model, real }), sequence);
      await new AskNow().run(model, real);
      // Every record asks what is contained: each sequence leaves nothing to the next.
      for (const lift = new Lift(0); lift.check(model); ) await lift.run(model);
      await new AskNow().run(model, real);
    }),
    { seed, numRuns, endOnFailure: true },
  );
  await setTimeout(6_500);
  let asked = 0;
  for (const { model, real } of done) {
    const lifts = model.contained.map(({ lifted }) => ({ recorded: lifted ?? forever }));
    const stated = [...model.used, ...model.calibrations, ...model.contained, ...lifts];
    const all = stated.map((one) => one.recorded).sort();
    for (const [index, recorded] of all.entries()) {
      // What a record touches is judged again right after it, as facts of their own: known is what was by the next record.
      const next = all[index + 1];
      const known = next === undefined ? new Date().toISOString() : justBefore(next);
      const { control } = await get(`/v1/controls/ardenholm/K-${real.number}?performed=${at(4)}&known=${known}`);
      const { unrecorded: _, ...seat } = model.seatAt(at(4), recorded);
      expect(seatOf(control)).toEqual(seat);
      const { calibration } = await get(`/v1/instruments/tw-${real.number}?at=${at(4)}&known=${known}`);
      expect(calibration).toBe(model.calibrationAt(at(4), recorded));
      for (const one of [real.number, second(real.number)]) {
        const { control: then } = await get(`/v1/controls/ardenholm/K-${one}?known=${known}`);
        expect(holdingIn(then)).toEqual(model.holding(one, recorded));
      }
      asked += 1;
    }
  }
  expect(asked).toBeGreaterThan(numRuns);
}, 3_600_000);
