/** Jobs about claims: raised and supported by a distributor, decided by the maker's people, tried by everybody else. */
import { claimOf } from '../../support/make-claims.ts';
import { maker } from '../../support/shop.ts';
import { control, post, someUnit } from './planted-requests.ts';
import { otherParty, type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';

const performedAt = '2026-09-01T08:00:00Z';

/** Every text that a claim may have; now and then one that corrects another. */
export async function claim(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const number = someUnit(state, side);
  const unit = random.oneIn(2) ? control(number) : { pump: { maker, serial: `P-${number}` } };
  const { shop, technician } = someIds(random, side.party);
  const before = side.claims.at(-1);
  const said = claimOf(unit, `c-${state.next++}`, {
    ...{ shop, technician, attachments: side.toldFiles.slice(-1) },
    asFound: { plate: 'p', marks: [{ place: 'p', text: 't' }], stations: { 'signal-port': { unknown: 'w' } } },
    observations: { fluid: 'f', cleanliness: '22/20/17', filter: random.oneIn(2) ? { unknown: 'w' } : 'f' },
    ...(random.oneIn(8) && before !== undefined && { replaces: before }),
  });
  const got = await post(state, side, send, '/v1/claims', said);
  if (got?.status === 201) side.claims.push(got.json.id);
}

/** One's own, or the other's. */
export async function supportClaims(state: State, side: Side, send: Send): Promise<void> {
  const claims = someClaims(state, side);
  if (claims.length === 0) return;
  const { shop, technician } = someIds(state.random, side.party);
  await post(state, side, send, `/v1/claims/${state.random.of(claims)}/evidence`, {
    ...{ reference: `e-${state.next++}`, shop, technician, performedAt },
    ...{ attachments: side.toldFiles.slice(-1), observations: { fluid: 'f' }, asFound: { plate: 'p' } },
  });
}

export async function readClaims(state: State, side: Side, send: Send): Promise<void> {
  const claims = someClaims(state, side);
  if (claims.length === 0) return;
  const path = `/v1/claims/${state.random.of(claims)}`;
  await send({ method: 'GET', path });
  const files = Object.values(state.sides).flatMap((one) => [...one.toldFiles.slice(-3), ...one.attachments.slice(-3)]);
  if (files.length > 0) await send({ method: 'GET', path: `/v1/attachments/${state.random.of(files)}` });
  await send({ method: 'GET', path: `${path}/trace`, ...(state.random.oneIn(4) && { accept: 'text/html' }) });
}

/** The distributor of the claim reads the reasons: so they are in its words. */
export async function decideClaims(state: State, side: Side, send: Send): Promise<void> {
  if (side.claims.length === 0) return;
  const decision = state.random.of(['accepted', 'declined', 'goodwill', 'more-evidence']);
  await post(state, side, send, `/v1/claims/${state.random.of(side.claims.slice(-20))}/decisions`, {
    ...{ reference: `d-${state.next++}`, performedAt: '2026-09-05T08:00:00Z', decision, reasons: 'r' },
    ...(decision === 'more-evidence' && { asks: [`${side.party} sample`] }),
  });
}

/** Of the other's every second is never tried: where its id comes out, it is told and not given back. */
function someClaims(state: State, side: Side): readonly string[] {
  const others = state.sides[otherParty(side.party)].claims.filter((_, nth) => nth % 2 === 0);
  return state.random.oneIn(4) ? others.slice(-20) : side.claims.slice(-20);
}
