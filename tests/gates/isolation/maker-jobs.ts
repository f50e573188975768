/** Jobs of the maker's people: what they state and approve, and editions. */
import { terms } from '../../support/make-claims.ts';
import { edition as demo } from '../../support/scene.ts';
import { edition, maker } from '../../support/shop.ts';
import { planted, post } from './planted-requests.ts';
import { type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';

export async function stateTerms(state: State, _: Side, send: Send): Promise<void> {
  const path = `/v1/terms/${maker}/${state.random.of(['standard', 'extended'])}`;
  await send({ method: 'PUT', path, body: planted('anybody', 'PUT /v1/terms/{maker}/{id}', terms) });
  await send({ method: 'GET', path });
}

/** The distributor reads why: so it is in its words. */
export async function approve(state: State, side: Side, send: Send): Promise<void> {
  const { shop } = someIds(state.random, side.party);
  const said = { reference: `ap-${state.next++}`, distributor: side.party, shop, from: '2026-01-01T00:00:00Z' };
  const given = await post(state, side, send, '/v1/approvals', { ...said, reason: 'r' });
  if (given?.status !== 201) return;
  const end = { reference: `aw-${state.next++}`, from: '2026-06-01T00:00:00Z', reason: 'r' };
  await post(state, side, send, `/v1/approvals/${given.json.id}/withdrawals`, end);
}

/** The same again is no other edition. */
export async function publishAgain(_: State, __: Side, send: Send): Promise<void> {
  await send({ method: 'PUT', path: `/v1/catalogue/${maker}/editions/${edition}`, body: demo });
}
