/** The demo's story: one job sheet, four outcomes, what is proven, one failed pump, one wrench found wrong. Every line printed is read from an answer. */
import type { Caller } from './caller.ts';
import { type Bench, completeRecord } from './complete-record.ts';
import { proofLines } from './proof.ts';
import { type Callers, edition, maker, setTheScene } from './scene.ts';
import type { Outcome, Sheet } from './shapes.ts';
import { traceLines } from './trace.ts';
import { warrantyLines } from './warranty.ts';
import { wrenchLines } from './wrench.ts';

export type Tell = (line: string) => void;

const bench: Bench = {
  edition,
  shop: 'brackwater-north',
  technician: 't-17',
  wrench: 'tw-3',
  gauge: 'pg-1',
  lot: 'L-2402-7',
  sealLot: 'L-2402-9',
  settings: { 'pressure-limit': { value: '210', unit: 'bar' }, differential: { value: '14', unit: 'bar' } },
};
const tollansBench: Bench = { ...bench, shop: 'tollan-harbour', technician: 't-4', wrench: 'tw-1', gauge: 'pg-9' };

/** `torque` is what the sense adjuster of K-20940 is closed with, in N·m: outside 58…64 its record is held. */
export async function tellStory(callers: Callers, tell: Tell, torque: string): Promise<void> {
  await setTheScene(callers);
  const sheet = await sheetFor(callers.brackwater, 'K-20931');
  tellSheet(sheet, tell);

  tell('\nConversions to remote-pressure');
  const { held, released } = await tellConversions(callers.brackwater, sheet, tell, torque);

  tell('\nMade good, and mounted elsewhere');
  await callers.brackwater.post('/v1/adjustments', {
    ...frame('K-20940', 'BR-2026-0110', '2026-03-18T08:00:00+01:00', bench),
    torques: [
      { joint: 'sense-adjuster-body', how: 'set', reading: { value: '61.0', unit: 'N.m' }, instrument: 'tw-3' },
    ],
  });
  const now = await callers.brackwater.get<Outcome>(`/v1/records/${held.id}`);
  tell(`K-20940's record after a torque of 61.0 N·m is ${now.status}`);
  tell(outcomeOf('K-20950 on pump P-8100, by Tollan', await mountElsewhere(callers.tollan)));

  tell('\nProof');
  for (const line of await proofLines(callers, released)) tell(line);

  tell('\nA failed pump');
  for (const line of await traceLines(callers.analyst, 'P-7741', '2026-10-12T06:00:00Z', bench.lot)) tell(line);

  tell('\nA claim, and a recall');
  for (const line of await warrantyLines(callers, bench.lot)) tell(line);

  tell('\nA wrench found wrong');
  for (const line of await wrenchLines(callers, bench.wrench)) tell(line);
}

async function tellConversions(shop: Caller, sheet: Sheet, tell: Tell, torque: string) {
  const complete = completeRecord(sheet, bench);
  const partLeftIn = { ...complete, removed: complete.removed.slice(1) };
  tell(outcomeOf('K-20931, a part left in', await convert(shop, 'K-20931', '2026-03-14T10:25:00+01:00', partLeftIn)));
  const released = await convert(shop, 'K-20931', '2026-03-14T10:25:00+01:00', complete);
  tell(outcomeOf('K-20931, complete', released));

  const onShelf = completeRecord(await sheetFor(shop, 'K-20950'), bench);
  tell(outcomeOf('K-20950, on the shelf', await convert(shop, 'K-20950', '2026-03-16T08:10:00+01:00', onShelf)));

  const byTheBook = completeRecord(await sheetFor(shop, 'K-20940'), bench);
  const torques = byTheBook.torques.map((one) =>
    one.joint === 'sense-adjuster-body' ? { ...one, reading: { value: torque, unit: 'N.m' } } : one,
  );
  const held = await convert(shop, 'K-20940', '2026-03-17T14:40:00+01:00', { ...byTheBook, torques });
  tell(outcomeOf(`K-20940, its sense adjuster closed with ${torque} N·m`, held));
  return { held: held.body, released: released.body };
}

async function mountElsewhere(shop: Caller) {
  const sheet = await shop.get<Sheet>(`/v1/controls/${maker}/K-20950/mounting-sheet?pump=${maker}/P-8100`);
  const { sheet: _, ...record } = completeRecord(sheet, tollansBench);
  return await shop.post('/v1/mountings', {
    ...frame('K-20950', 'TO-2026-0007', '2026-04-20T13:00:00+02:00', tollansBench),
    pump: { maker, serial: 'P-8100' },
    on: true,
    ...record,
  });
}

function frame(control: string, reference: string, performedAt: string, by: Bench) {
  const { edition: named, shop, technician } = by;
  return { control: { maker, serial: control }, reference, performedAt, edition: named, shop, technician };
}

async function sheetFor(caller: Caller, control: string): Promise<Sheet> {
  return await caller.get<Sheet>(`/v1/controls/${maker}/${control}/job-sheet?function=remote-pressure`);
}

async function convert(caller: Caller, control: string, performedAt: string, record: object) {
  return await caller.post('/v1/conversions', {
    ...frame(control, `BR-2026-${control}`, performedAt, bench),
    to: { function: 'remote-pressure' },
    ...record,
  });
}

function tellSheet({ from, to, cautions, steps, kits, loose, leftOver }: Sheet, tell: Tell): void {
  tell(`Job sheet for control K-20931 on pump P-7741: ${from.function} → ${to.function}`);
  for (const caution of cautions) tell(`  ! ${caution}`);
  for (const { step, text } of steps) tell(`  ${String(step).padStart(2)}. ${text}`);
  const pieces = (list: readonly { readonly quantity: number }[], nameOf: (index: number) => string) =>
    list.map(({ quantity }, index) => `${quantity} × ${nameOf(index)}`).join(', ') || 'nothing';
  const looseNames = loose.map((need) => ('element' in need ? need.element : need.seal));
  tell(`  kits: ${pieces(kits, (index) => kits[index]?.part ?? '')}`);
  tell(`  loose: ${pieces(loose, (index) => looseNames[index] ?? '')}`);
  tell(`  left over: ${pieces(leftOver, (index) => leftOver[index]?.element ?? '')}`);
}

function outcomeOf(what: string, { status, body }: { status: number; body: Outcome }): string {
  const outcome = status === 409 ? 'refused' : body.status;
  const because = (body.findings ?? []).filter((one) => one.severity !== 'note');
  return [`${what}: ${outcome}`, ...because.map((one) => `    ${one.rule}: ${one.because}`)].join('\n');
}
