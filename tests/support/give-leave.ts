/** Authorisations of t-17 and approvals of the north yard, of both distributors, each given and withdrawn. */
import { mustGoWell } from './scene.ts';
import type { TestService } from './service.ts';
import { maker } from './shop.ts';

const valid = { from: '2026-01-01T00:00:00+01:00', until: '2027-01-01T00:00:00+01:00' };
const end = { reference: 'end-1', from: '2026-12-01T00:00:00Z', reason: ' as planned ' };

/** Once both are stocked up. */
export async function giveLeave(service: TestService): Promise<void> {
  const people = await service.as({ maker });
  for (const distributor of ['brackwater', 'tollan'] as const) {
    const shop = await service.as({ distributor });
    const leave = { reference: 'leave-1', tasks: ['assemble', 'inspect'], bodies: ['curlew-block'], ...valid };
    const path = '/v1/technicians/t-17/authorisations';
    const given = await mustGoWell(shop('POST', path, { ...leave, givenBy: 'training centre', note: 'two days' }));
    await mustGoWell(shop('POST', `/v1/authorisations/${given.body.id}/withdrawals`, end));
    const approval = { reference: ` ${distributor} `, distributor, shop: 'north', series: ['curlew'], ...valid };
    const approved = await mustGoWell(people('POST', '/v1/approvals', { ...approval, reason: ' visited ' }));
    const withdrawal = { ...end, reference: `end of ${distributor}` };
    await mustGoWell(people('POST', `/v1/approvals/${approved.body.id}/withdrawals`, withdrawal));
  }
}
