/** What both gates of bad input ask: a service that knows a few units, records, files, claims and a containment. */
import type { TestDatabase } from '../../support/database.ts';
import { makeClaims } from '../../support/make-claims.ts';
import { mustGoWell } from '../../support/scene.ts';
import type { TestService } from '../../support/service.ts';
import {
  conversionOf,
  inspectionOf,
  maker,
  onControl,
  openShops,
  registerControl,
  registerPair,
  type Shops,
} from '../../support/shop.ts';
import { type Description, description } from '../described-operations.ts';
import type { Random } from '../random.ts';
import type { Target } from './run-cases.ts';
import { suspected, vocabularyOf } from './vocabulary.ts';

export async function openTarget(
  service: TestService,
  db: TestDatabase,
  described: Description = description,
): Promise<Target> {
  const shops = await openShops(service);
  const { brackwater } = shops;
  for (const number of ['1', '2']) await registerPair(brackwater, number);
  await registerControl(brackwater, '3', 'load-sense');
  const frame = { reference: 'held', performedAt: '2026-04-01T08:00:00Z' };
  const records: string[] = [];
  const keep = async (path: string, body: unknown) =>
    records.push((await mustGoWell(brackwater('POST', path, body))).body.id);
  await keep('/v1/conversions', await conversionOf(brackwater, '1', 'load-sense', frame));
  await keep('/v1/inspections', { ...inspectionOf('2', frame), checks: [{ check: 'leak-free', result: 'failed' }] });
  const digest = await keepFile(service);
  const warranty = await openWarranty(service, shops);
  const { claims, containments, units } = warranty;
  const known: Record<string, readonly string[]> = {
    ...{ maker: ['ardenholm'], edition: ['2026-1'], number: ['L-1'], digest: [digest], code: ['forbidden'] },
    ...{ serial: ['K-1', 'K-2', 'K-3', 'P-1', 'P-2', 'new'], id: [...records, 'north', 't-17', 'tw-3', 'new'] },
    ...{ lot: ['ardenholm/L-1'], pump: ['ardenholm/P-1'], function: ['load-sense', 'remote-pressure'] },
    ...{ choice: ['bleed-seat:plug-m5'], shop: ['north'], rule: ['check-failed'], cause: records },
  };
  /** What the ids of a path are of, where that is not a record or something of the shop's. */
  const ids: Record<string, readonly string[]> = {
    ...{ claims: [...claims, 'new'], containments: [...containments, 'new'] },
    ...{ approvals: [...warranty.approvals, 'new'], terms: ['standard', 'new'] },
  };
  return {
    ...{ server: service.server, db, described },
    vocabulary: vocabularyOf({ records, digests: [digest], claims, units }),
    makersToken: await service.tokenOf({ maker }),
    token: await service.tokenOf({ distributor: 'brackwater', maker: 'ardenholm' }),
    logOf: ({ status, headers }) => {
      const lines = service.tape.text.split('\n').filter((line) => line.includes(`"${headers['x-request-id']}"`));
      return status < 500 ? '' : lines.join(' ');
    },
    values: (name: string, random: Random, path = '') => {
      const of = name === 'id' ? ids[path.split('/')[2] ?? ''] : undefined;
      return random.of(of ?? known[name] ?? ['none']);
    },
  };
}

/** A claim with evidence and a decision, terms, an approval, and a containment that reaches a unit. */
async function openWarranty(service: TestService, { brackwater, tollan }: Shops) {
  await registerPair(tollan, 't');
  await makeClaims(service, (of) => onControl(of === 'brackwater' ? '1' : 't'));
  const listed = (await mustGoWell(brackwater('GET', '/v1/claims'))).body.items;
  const people = await service.as({ maker });
  const approval = { reference: 'ap', distributor: 'brackwater', shop: 'north', from: '2026-01-01T00:00:00Z' };
  const approved = await mustGoWell(people('POST', '/v1/approvals', { ...approval, reason: 'audited' }));
  const frame = { reference: 'suspected', performedAt: '2026-05-05T08:00:00Z' };
  const sealed = { seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: 'L-1' }] };
  await mustGoWell(brackwater('POST', '/v1/inspections', { ...inspectionOf('2', frame), ...sealed }));
  const [criteria] = suspected;
  const words = { severity: 'inspect', reason: 'why', instruction: 'what' };
  const containment = { reference: 'contained', criteria, ...words };
  const { id } = (await mustGoWell(brackwater('POST', '/v1/containments', containment))).body;
  const reach = (await mustGoWell(brackwater('GET', `/v1/containments/${id}/reach`))).body.items;
  return {
    claims: listed.map((one: { claim: string }) => one.claim) as string[],
    containments: [id as string],
    approvals: [approved.body.id as string],
    units: reach.map((one: { unit: string }) => one.unit) as string[],
  };
}

async function keepFile(service: TestService): Promise<string> {
  const authorization = `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`;
  const file = await service.server.inject({
    ...{ method: 'POST', url: '/v1/attachments', payload: '%PDF-1.4\nx\n%%EOF\n' },
    headers: { authorization, 'content-type': 'application/pdf' },
  });
  return file.json().attachment as string;
}
