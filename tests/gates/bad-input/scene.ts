/** What both gates of bad input ask: a service that knows a few units, records and files. */
import type { TestDatabase } from '../../support/database.ts';
import { mustGoWell } from '../../support/scene.ts';
import type { TestService } from '../../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerControl, registerPair } from '../../support/shop.ts';
import { type Description, description } from '../described-operations.ts';
import type { Random } from '../random.ts';
import type { Target } from './run-cases.ts';
import { vocabularyOf } from './vocabulary.ts';

export async function openTarget(
  service: TestService,
  db: TestDatabase,
  described: Description = description,
): Promise<Target> {
  const { brackwater } = await openShops(service);
  for (const number of ['1', '2']) await registerPair(brackwater, number);
  await registerControl(brackwater, '3', 'load-sense');
  const frame = { reference: 'held', performedAt: '2026-04-01T08:00:00Z' };
  const records: string[] = [];
  const keep = async (path: string, body: unknown) =>
    records.push((await mustGoWell(brackwater('POST', path, body))).body.id);
  await keep('/v1/conversions', await conversionOf(brackwater, '1', 'load-sense', frame));
  await keep('/v1/inspections', { ...inspectionOf('2', frame), checks: [{ check: 'leak-free', result: 'failed' }] });
  const digest = await keepFile(service);
  const known: Record<string, readonly string[]> = {
    ...{ maker: ['ardenholm'], edition: ['2026-1'], number: ['L-1'], digest: [digest], code: ['forbidden'] },
    ...{ serial: ['K-1', 'K-2', 'K-3', 'P-1', 'P-2', 'new'], id: [...records, 'north', 't-17', 'tw-3', 'new'] },
    ...{ lot: ['ardenholm/L-1'], pump: ['ardenholm/P-1'], function: ['load-sense', 'remote-pressure'] },
    ...{ choice: ['bleed-seat:plug-m5'], shop: ['north'], rule: ['check-failed'] },
  };
  return {
    ...{ server: service.server, db, described, vocabulary: vocabularyOf(records, [digest]) },
    token: await service.tokenOf({ distributor: 'brackwater', maker: 'ardenholm' }),
    logOf: ({ status, headers }) => {
      const lines = service.tape.text.split('\n').filter((line) => line.includes(`"${headers['x-request-id']}"`));
      return status < 500 ? '' : lines.join(' ');
    },
    values: (name: string, random: Random) => random.of(known[name] ?? ['none']),
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
