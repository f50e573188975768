/** Jobs about containments of a distributor or of the maker's people, who issue, see to and lift theirs and try the others'. */
import { maker } from '../../support/shop.ts';
import { post, timeOf } from './planted-requests.ts';
import { otherParty, type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';
import type { Voice } from './words.ts';

/** So many of one issuer stand at once: every record asks each of them. */
const atMost = 2;

/** By a lot, in a day's work. What the maker says of its own is read by whoever worked on what it reaches. */
export async function contain(state: State, side: Side, send: Send): Promise<void> {
  if (side.containments.length >= atMost) await liftOne(state, side, send);
  const day = 24 * state.random.below(27);
  const { lot } = someIds(state.random, side.party);
  const got = await post(
    ...([state, side, send, '/v1/containments'] as const),
    {
      reference: `cn-${state.next++}`,
      criteria: { lot: `${maker}/${lot}`, from: timeOf(day), to: timeOf(day + 24) },
      ...{ severity: state.random.of(['stop', 'inspect', 'inform']), reason: 'r', instruction: 'i', dueWithin: 'P30D' },
    },
    voiceOf(state, side),
  );
  if (got?.status === 201) side.containments.push(got.json.id);
}

/** What it reaches as the asker sees it, and what was done about one or two of those. */
export async function seeToUnits(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const others = [...state.makers, ...state.sides[otherParty(side.party)].containments];
  const containments = random.oneIn(2) ? side.containments : others;
  if (containments.length === 0) return;
  const path = `/v1/containments/${random.of(containments)}`;
  await send({ method: 'GET', path });
  const page = { method: 'GET', path: `${path}/reach?first=5` };
  const got = await send(random.oneIn(4) ? { ...page, accept: 'application/x-ndjson' } : page);
  const units = got?.json?.items?.map((one: { unit: string }) => one.unit) ?? [];
  const step = random.of(['secured', 'inspected', 'cleared', 'converted', 'scrapped']);
  for (const unit of units.slice(0, 2))
    await post(
      ...([state, side, send, `${path}/progress`] as const),
      { reference: `p-${state.next++}`, unit, step },
      isMakers(state, side) ? 'analyst' : side.party,
    );
}

/** The oldest of one's own, and now and then one of another's, who alone may lift it. */
export async function liftOne(state: State, side: Side, send: Send): Promise<void> {
  const lift = () => ({ reference: `l-${state.next++}`, reason: 'r' });
  const voice = voiceOf(state, side);
  const others = [...state.makers, ...state.sides[otherParty(side.party)].containments].filter(
    (one) => !side.containments.includes(one),
  );
  if (state.random.oneIn(3) && others.length > 0)
    await post(state, side, send, `/v1/containments/${state.random.of(others)}/lift`, lift(), voice);
  const own = side.containments.shift();
  if (own !== undefined) await post(state, side, send, `/v1/containments/${own}/lift`, lift(), voice);
}

const isMakers = (state: State, side: Side) => side.containments === state.makers;
const voiceOf = (state: State, side: Side): Voice => (isMakers(state, side) ? 'anybody' : side.party);
