/** Requests as the callers of mixed traffic make them: with words of their own in every text. */
import { edition, maker } from '../../support/shop.ts';
import { description, operationsOf } from '../described-operations.ts';
import { otherParty, type Side, type State, someIds } from './traffic-state.ts';
import type { Got, Send } from './wire-caller.ts';
import { plantIn, stems, type Voice } from './words.ts';

export type Job = (state: State, side: Side, send: Send) => Promise<void>;

export const operations = operationsOf(description);

const schemas = new Map(operations.map((one) => [`${one.method} ${one.path}`, one.body?.schema ?? {}]));

/** What the maker says in its terms it says to everybody. */
export function planted(voice: Voice, operation: string, body: unknown): unknown {
  const heard = operation.includes(' /v1/terms') ? 'anybody' : voice;
  return plantIn(body, schemas.get(operation) ?? {}, heard, operation.includes(' /v1/claims'));
}

/** `voice`: in whose words, where it is not the side's own. */
export async function post(
  state: State,
  side: Side,
  send: Send,
  path: string,
  body: unknown,
  voice: Voice = side.party,
): Promise<Got | null> {
  const operation = `POST ${path
    .replace(/records\/[^/]+/, 'records/{id}')
    .replace(/lots\/[^/]+\/[^/]+/, 'lots/{maker}/{number}')
    .replace(/(technicians|authorisations|instruments|claims|containments|approvals)\/[^/]+/, '$1/{id}')}`;
  const sent = planted(voice, operation, body);
  // Half of the keys are those of the other, too.
  const key = `${state.random.oneIn(2) ? 'key' : stems[side.party].kept}-${state.next}`;
  state.next += 1;
  const got = await send({ method: 'POST', path, body: sent, key });
  if (got?.status !== 201) return got;
  side.keyed.push({ path, key, body: sent });
  if (
    typeof got.json?.id === 'string' &&
    !/\/(lots|technicians|authorisations|instruments|claims|containments|approvals|restockings)\b/.test(path)
  )
    side.records.push({ id: got.json.id, entry: got.json.receipt?.entry, path, body: sent, status: got.json.status });
  return got;
}

export function frame(state: State, side: Side) {
  const { shop, technician } = someIds(state.random, side.party);
  state.next += 1;
  return { reference: `r-${state.next}`, edition, performedAt: timeOf(state.next), shop, technician };
}

export const lifeFrame = (state: State, side: Side) => {
  const { edition: _, ...life } = frame(state, side);
  return life;
};

/** Of all units there are mostly one's own; some are the other's, which anybody may name. */
export function someUnit(state: State, side: Side): string {
  const { random, sides } = state;
  const whose = random.oneIn(4) ? sides[otherParty(side.party)] : side;
  return whose.units.length === 0 ? 'nothing' : random.of(whose.units);
}

export const control = (number: string) => ({ control: { maker, serial: `K-${number}` } });

/** Later and later, so that records mostly come in order. */
export const timeOf = (n: number) =>
  `2026-04-${String(1 + (Math.floor(n / 24) % 28)).padStart(2, '0')}T${hour(n)}:00:00Z`;

const hour = (n: number) => String(n % 24).padStart(2, '0');
