/**
 * The endpoint for conversions as somebody would write it with Prisma: token, shape, key and organisation looked at, then
 * one transaction with a nested create and a statement a table. No rules, no plan, no receipt: the rows are those of one
 * recorded conversion. A process of its own, on PORT.
 */
import { createHash, randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { PrismaPg } from '@prisma/adapter-pg';
import { fastify } from 'fastify';
import { importJWK, jwtVerify } from 'jose';
import { localAudience, localIssuer, localPublicKey } from '../../../src/app/issue-token.ts';
import { conversionBody } from '../../../src/core/records/bodies.ts';
import { PrismaClient } from '../../../src/store/generated/client.ts';
import type { TemplateRow } from '../history/read-template.ts';

const { PORT = '', PEER_DATABASE_URL: connectionString = '', PEER_DATA_DIR = '', PEER_ROWS = '' } = process.env;
const rows = JSON.parse(readFileSync(PEER_ROWS, 'utf8')) as TemplateRow[];
const tables = Map.groupBy(rows, ({ table }) => table);
const key = await importJWK(await localPublicKey(PEER_DATA_DIR), 'EdDSA');
const prisma = new PrismaClient({
  adapter: new PrismaPg({ connectionString, options: '-c TimeZone=UTC -c role=asfitted_recorder' }),
});
const app = fastify({ logger: { level: 'info' } });

/** By default it gives up on most of 64 at once after two seconds. */
const patience = { maxWait: 60_000, timeout: 60_000 };

/** Prisma's own member for each column, its value as Prisma takes it; what `own` names stands in place of the template's. */
function dataOf(row: TemplateRow, own: Readonly<Record<string, unknown>>) {
  return Object.fromEntries(
    row.columns.map(({ name, type, value }) => {
      const member = name.replaceAll(/_(.)/g, (_all, letter: string) => letter.toUpperCase());
      return [member, own[name] !== undefined ? own[name] : typed(type, value)];
    }),
  ) as never;
}

function typed(type: string, value: string | null): unknown {
  if (value === null) return null;
  if (type === 'bytea') return Buffer.from(value, 'hex');
  if (type.startsWith('timestamp')) return new Date(value);
  if (type === 'bigint') return BigInt(value);
  return type === 'integer' || type === 'smallint' ? Number(value) : value;
}

/** Units of its own: what it writes is not to be folded by the service. */
function unitOf(name: string): string {
  const hex = createHash('md5').update(name).digest('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20)}`;
}

app.get('/readyz', () => ({ ready: true }));
app.post('/v1/conversions', async (request, reply) => {
  const token = request.headers.authorization?.slice('Bearer '.length) ?? '';
  const { payload } = await jwtVerify(token, key, { issuer: localIssuer, audience: localAudience, typ: 'at+jwt' });
  const body = conversionBody.parse(request.body);
  const organisation = await prisma.organisation.findUniqueOrThrow({ where: { slug: String(payload['distributor']) } });
  const [owner, client] = [organisation.id, String(payload['client_id'])];
  const sent = String(request.headers['idempotency-key']);
  const answer = await prisma.$transaction(async (tx) => {
    await tx.$executeRaw`select set_config('app.orgs', ${owner}, true)`;
    const known = await tx.idempotencyKey.findUnique({ where: { owner_client_key: { owner, client, key: sent } } });
    if (known !== null) return known.answer;
    const serial = body.control !== undefined && 'serial' in body.control ? body.control.serial : '';
    await tx.unitName.findUnique({
      where: { maker_unitKind_nameKey: { maker: 'ardenholm', unitKind: 'control', nameKey: serial } },
    });
    const fact = randomUUID();
    const own = { owner, fact, id: fact, client, key: sent, reference: body.reference };
    const one = (table: string) => tables.get(table) ?? [];
    const [row] = one('facts');
    const [hidden] = one('fact_privates');
    if (row === undefined || hidden === undefined) throw new Error('the template has no fact');
    const { owner: _owner, fact: _fact, ...section } = dataOf(hidden, own) as Record<string, unknown>;
    await tx.fact.create({ data: { ...(dataOf(row, own) as object), private: { create: section } } as never });
    for (const [nth, event] of one('unit_events').entries()) {
      const unitId = unitOf(`${serial} ${nth}`);
      const head = await tx.unitHead.findUnique({ where: { unitId } });
      const seq = (head?.seq ?? 0n) + 1n;
      const mine = { ...own, unit_id: unitId, seq };
      await tx.unitEvent.create({ data: dataOf(event, mine) });
      const [newHead, newState] = [one('unit_heads')[nth], one('unit_states')[nth]];
      if (newHead === undefined || newState === undefined) throw new Error('the template has no head');
      const [headData, stateData] = [dataOf(newHead, mine), dataOf(newState, mine)];
      await tx.unitHead.upsert({ where: { unitId }, create: headData, update: headData });
      await tx.unitState.upsert({ where: { unitId }, create: stateData, update: stateData });
    }
    const unitId = unitOf(`${serial} 0`);
    await tx.partUse.createMany({ data: one('part_uses').map((use) => dataOf(use, { ...own, unit_id: unitId })) });
    const { key: _key, ...mentioned } = own;
    await tx.mention.createMany({ data: one('mentions').map((mention) => dataOf(mention, mentioned)) });
    for (const reference of one('record_references')) await tx.recordReference.create({ data: dataOf(reference, own) });
    // May be written and not read again, which a create does.
    await tx.stagedLeaf.createMany({ data: one('staged_leaves').map((leaf) => dataOf(leaf, own)) });
    await tx.outboxEntry.createMany({ data: one('outbox').map((entry) => dataOf(entry, { owner, fact })) });
    const [kept] = one('idempotency_keys');
    if (kept === undefined) throw new Error('the template has no key');
    const { answer } = await tx.idempotencyKey.create({ data: dataOf(kept, own) });
    return answer;
  }, patience);
  return await reply.code(201).type('application/json').send(answer);
});
await app.listen({ port: Number(PORT), host: '127.0.0.1' });
process.on('SIGTERM', () => process.exit(0));
