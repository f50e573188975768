/** Many facts in one upload. Format: newline-delimited JSON (one JSON text, RFC 8259, a line); problems by RFC 9457. */
import { once } from 'node:events';
import { type ClientRequest, request as httpRequest, type IncomingMessage } from 'node:http';
import type { Socket } from 'node:net';
import { beforeAll, describe, expect, it } from 'vitest';
import { lineKindNames } from '../../src/http/bulk/line-kinds.ts';
import { uploadLimits } from '../../src/http/bulk/record-upload.ts';
import { bodyOf, outcomesIn, uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { operations, undescribedLine } from '../support/described.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { controlBody, inspectionOf, intakeOf, openShops, registerControl } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const upload = await uploader(service, { distributor: 'brackwater' });
const performedAt = '2026-04-01T08:00:00Z';
const maker = 'ardenholm';
const registration = (serial: string) => ({
  ...{ key: `r-${serial}`, kind: 'control-registration' },
  ...{ control: { maker, serial: `K-${serial}` }, body: controlBody('load-sense-bled') },
});
const inspection = (serial: string, reference: string, more: object = {}) => ({
  ...{ key: `i-${reference}`, kind: 'inspection' },
  body: { ...inspectionOf(serial, { reference, performedAt }), ...more },
});
/** An upload over a connection of its own. */
const begin = async (): Promise<{ sent: ClientRequest; answer: Promise<IncomingMessage> }> => {
  if (!service.server.server.listening) await service.server.listen({ host: '127.0.0.1', port: 0 });
  const address = service.server.server.address();
  const port = typeof address === 'object' ? address?.port : undefined;
  const authorization = `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`;
  const headers = { authorization, 'content-type': 'application/x-ndjson' };
  const sent = httpRequest({ port, method: 'POST', path: '/v1/bulk', headers, agent: false });
  sent.on('error', () => {});
  const answer = once(sent, 'response').then(([response]) => response as IncomingMessage);
  return { sent, answer };
};
const countOf = async (table: string) => (await rowsOf(db, `select from ${table}`)).length;

beforeAll(async () => {
  await registerControl(brackwater, 'known');
});

describe('an upload', () => {
  it('records whatever a shop needs before it goes live, each line able to build on those before it', async () => {
    const lines = [
      { key: 's', kind: 'shop', id: 'south', body: { name: 'south yard' } },
      { key: 't', kind: 'technician', id: 't-99', body: { name: 'B. Example' } },
      { key: 'n', kind: 'instrument', id: 'tw-99', body: { kind: 'torque-wrench', shop: 'south' } },
      { key: 'l', kind: 'lot', lot: { maker, number: 'L-99' }, body: { part: 'kit-sense' } },
      { key: 'in', kind: 'intake', lot: { maker, number: 'L-99' }, body: { ...intakeOf('IN-99'), shop: 'south' } },
      registration('100'),
      inspection('100', 'first', { shop: 'south', technician: 't-99', grade: 'from-paper' }),
      inspection('100', 'second', { shop: 'south', technician: 't-99' }),
    ];
    const { status, outcomes } = await upload(lines);
    expect(status).toBe(200);
    expect(outcomes.map((one) => [one.line, one.key, one.status])).toEqual(
      lines.map(({ key }, index) => [index + 1, key, 201]),
    );
    for (const { id, receipt } of outcomes)
      expect([id, receipt.signature]).toEqual([expect.any(String), expect.any(String)]);
    const { body } = await mustGoWell(brackwater('GET', `/v1/records/${outcomes[6].id}`));
    expect(body).toMatchObject({ kind: 'inspection', statement: { grade: 'from-paper' } });
    const { items } = (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-100/history`))).body;
    expect(items.map((one: { id: string }) => one.id)).toEqual([5, 6, 7].map((nth) => outcomes[nth].id));
  });

  it('sent again answers as then and records nothing again', async () => {
    const lines = [registration('200'), inspection('200', 'again-1'), inspection('200', 'again-2')];
    const first = await upload(lines.slice(0, 2));
    const facts = await countOf('facts');
    const again = await upload(lines);
    expect(again.outcomes.slice(0, 2)).toEqual(first.outcomes.map((one) => ({ ...one, replayed: true })));
    expect(again.outcomes[2]).toMatchObject({ status: 201 });
    expect(await countOf('facts')).toBe(facts + 1);
  });

  it('takes a key as the route of its kind does: what was posted there is answered here', async () => {
    await registerControl(brackwater, '201');
    const line = inspection('201', 'by-route');
    const posted = await mustGoWell(brackwater('POST', '/v1/inspections', line.body, line.key));
    const { outcomes } = await upload([line, { ...line, body: { ...line.body, note: 'other' } }]);
    expect(outcomes[0]).toMatchObject({
      status: 201,
      replayed: true,
      id: posted.body.id,
      receipt: posted.body.receipt,
    });
    expect(outcomes[1]).toMatchObject({ status: 422, problem: { code: 'key-reused' } });
  });

  it('loses a bad line alone, and says where in the line it is bad', async () => {
    const long = JSON.stringify(inspection('known', 'long', { note: 'x'.repeat(uploadLimits.line) }));
    const { outcomes } = await upload([
      inspection('known', 'good-1'),
      '{"key": "broken", "kind": ',
      '',
      '[1]',
      { key: 'k', kind: 'conversation', body: {} },
      inspection('known', 'shape', { performedAt: '31.12.2025', technician: 7 }),
      inspection('nowhere', 'unknown', { shop: 'x' }),
      { kind: 'inspection', body: inspection('known', 'keyless').body },
      { ...inspection('known', 'more'), extra: 1 },
      long,
      '{"key": "a", "key": "b"}',
      inspection('known', 'good-2'),
    ]);
    const places = outcomes.map(({ line, status, problem }) => [
      ...[line, status, problem?.code],
      ...(problem?.errors ?? problem?.findings ?? []).map((one: { pointer: string }) => one.pointer),
    ]);
    expect(places).toEqual([
      [1, 201, undefined],
      [2, 400, 'malformed-json', '/kind'],
      [4, 400, 'invalid-input', ''],
      [5, 400, 'invalid-input', '/kind'],
      [6, 400, 'invalid-input', '/body/performedAt', '/body/technician'],
      [7, 409, 'refused-by-rules', '/body/control'],
      [8, 400, 'missing-idempotency-key', '/key'],
      [9, 400, 'invalid-input', '/extra'],
      [10, 413, 'body-too-large'],
      [11, 400, 'malformed-json', '/key'],
      [12, 201, undefined],
    ]);
    expect(outcomes[3].problem.errors[0].detail).toContain('conversion');
  });

  it('keeps the body of a line that the rules refuse, as the route would', async () => {
    const { outcomes } = await upload([inspection('known', 'attempted', { shop: 'nobody' })]);
    expect(outcomes[0]).toMatchObject({
      status: 409,
      problem: { findings: [{ rule: 'unknown-id', pointer: '/body/shop' }] },
    });
    const { items } = (await mustGoWell(brackwater('GET', '/v1/attempts?first=200'))).body;
    expect(items.map((one: { body: { reference?: string } }) => one.body.reference)).toContain('attempted');
  });

  it('that is only checked writes nothing and needs no keys', async () => {
    const tables = ['facts', 'attempts', 'idempotency_keys', 'record_references', 'unit_names'];
    const before = await Promise.all(tables.map(countOf));
    const { key: _, ...keyless } = inspection('known', 'checked');
    const { outcomes } = await upload(
      [keyless, inspection('known', 'refused', { shop: 'nobody' }), registration('300')],
      '?check=only',
    );
    expect(outcomes.map((one) => one.status)).toEqual([200, 409, 200]);
    expect(outcomes[0]).toMatchObject({ judged: 'released', findings: [] });
    expect(outcomes[0]).not.toHaveProperty('id');
    expect(await Promise.all(tables.map(countOf))).toEqual(before);
  });

  it('of more lines than a batch is answered in order', async () => {
    const lines = Array.from({ length: 3 * uploadLimits.batch + 1 }, (_, nth) => inspection('known', `many-${nth}`));
    const { outcomes } = await upload(lines);
    expect(outcomes.map((one) => [one.line, one.key, one.status])).toEqual(
      lines.map(({ key }, index) => [index + 1, key, 201]),
    );
  });

  it('needs the scope of each line that it has, and a distributor', async () => {
    const stock = await uploader(service, { distributor: 'brackwater', scopes: ['stock:write'] });
    const { outcomes } = await stock([
      inspection('known', 'scope'),
      { key: 'scope', kind: 'technician', id: 't-98', body: {} },
    ]);
    expect(outcomes.map((one) => [one.status, one.problem?.scopes])).toEqual([
      [403, ['record:write']],
      [201, undefined],
    ]);
    const reader = await uploader(service, { distributor: 'brackwater', scopes: ['record:read'] });
    expect((await reader([])).status).toBe(403);
    const analyst = await uploader(service, { maker: 'ardenholm' });
    expect((await analyst([])).status).toBe(403);
  });

  it('comes as NDJSON without coding, and as nothing else', async () => {
    const authorization = `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`;
    const send = async (headers: Record<string, string>) => {
      const payload = bodyOf([inspection('known', 'type')]);
      return (
        await service.server.inject({
          method: 'POST',
          url: '/v1/bulk',
          headers: { authorization, ...headers },
          payload,
        })
      ).statusCode;
    };
    expect(await send({ 'content-type': 'application/json' })).toBe(415);
    expect(await send({ 'content-type': 'application/x-ndjson', 'content-encoding': 'gzip' })).toBe(415);
    expect(await send({ 'content-type': 'application/x-ndjson; charset=utf-8' })).toBe(200);
  });

  it('without a body is told so, and takes no turn from those that follow', async () => {
    const authorization = `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`;
    for (let nth = 0; nth <= uploadLimits.atOnceOfOne; nth++) {
      const answer = await service.server.inject({ method: 'POST', url: '/v1/bulk', headers: { authorization } });
      expect(answer.json()).toMatchObject({ status: 400, code: 'invalid-input', errors: [{ pointer: '' }] });
    }
    expect((await upload([inspection('known', 'after none')])).status).toBe(200);
  });
});

describe('over a connection', () => {
  const textOf = async (response: IncomingMessage, until: (text: string) => boolean) => {
    let text = '';
    for await (const chunk of response) {
      text += String(chunk);
      if (until(text)) return text;
    }
    return text;
  };

  it('lines are answered before the upload ends', async () => {
    const { sent, answer } = await begin();
    sent.write(bodyOf([inspection('known', 'early')]));
    const response = await answer;
    response.setEncoding('utf8');
    expect(outcomesIn(String((await once(response, 'data'))[0]))).toMatchObject([{ line: 1, status: 201 }]);
    sent.end(bodyOf([inspection('known', 'later')]));
    expect(outcomesIn(await textOf(response, () => false))).toMatchObject([{ line: 2, status: 201 }]);
  });

  it('an upload that breaks off is resumed by sending the same file again', async () => {
    const lines = Array.from({ length: 200 }, (_, nth) => inspection('known', `cut-${nth}`));
    const { sent, answer } = await begin();
    sent.write(bodyOf(lines.slice(0, 150)));
    await textOf(await answer, (text) => outcomesIn(text.slice(0, text.lastIndexOf('\n') + 1)).length >= 64);
    sent.destroy();
    const { outcomes } = await upload(lines);
    expect(outcomes.map((one) => one.status)).toEqual(Array(200).fill(201));
    expect(outcomes.filter((one) => one.replayed).length).toBeGreaterThanOrEqual(64);
    const references = await rowsOf(db, "select from record_references where reference like 'cut-%'");
    expect(references).toHaveLength(200);
  });

  it('a distributor has so many uploads under way and no more; one that ends makes room', async () => {
    const open = [];
    for (let nth = 0; nth < uploadLimits.atOnceOfOne; nth++) {
      const one = await begin();
      one.sent.write(bodyOf([inspection('known', `open-${nth}`)]));
      open.push({ ...one, response: await one.answer });
    }
    expect((await upload([inspection('known', 'too-many')])).status).toBe(503);
    for (const { sent, response } of open) {
      sent.end();
      await textOf(response, () => false);
    }
    await expect.poll(async () => (await upload([inspection('known', 'room')])).status).toBe(200);
  });
});

describe('the description', () => {
  it('says what a line has, sent and answered', async () => {
    const lines = [registration('400'), inspection('400', 'described'), inspection('nowhere', 'undescribed')];
    const answers = [...(await upload(lines)).outcomes, ...(await upload(lines, '?check=only')).outcomes];
    expect(lines.flatMap((line) => undescribedLine('BulkLine', line))).toEqual([]);
    expect(answers.map((line) => [line.status, undescribedLine('LineOutcome', line)])).toEqual(
      [201, 201, 409, 201, 201, 409].map((status) => [status, []]),
    );
    const { requestBody, responses } = operations.get('post /v1/bulk') ?? { responses: {} };
    const media = [requestBody?.content ?? {}, responses['200']?.content ?? {}].map(Object.keys);
    expect(media).toEqual([['application/x-ndjson'], ['application/x-ndjson']]);
  });
});

describe('the list of kinds', () => {
  it('has every route that keeps a fact of a distributor', () => {
    const routes = [...operations.keys()].filter((name) => /^(put|post) /.test(name));
    // Files come as bytes, editions, approvals, decisions and terms from the maker, containments are few, and GraphQL
    // keeps nothing.
    const edition = 'put /v1/catalogue/{maker}/editions/{edition}';
    const approvals = ['post /v1/approvals', 'post /v1/approvals/{id}/withdrawals'];
    const warranty = ['post /v1/claims/{id}/decisions', 'put /v1/terms/{maker}/{id}'];
    const containing = ['', '/{id}/progress', '/{id}/lift'].map((place) => `post /v1/containments${place}`);
    const makers = [edition, ...approvals, ...warranty, ...containing];
    const others = ['post /v1/bulk', 'post /v1/attachments', 'post /graphql', ...makers];
    expect(lineKindNames).toHaveLength(routes.filter((route) => !others.includes(route)).length);
  });
});

describe('the limits of other requests', () => {
  it('do not end an upload that goes on; a stop of the service does, and says so', async () => {
    const sockets: Socket[] = [];
    service.server.server.on('connection', (socket) => sockets.push(socket));
    const { sent, answer } = await begin();
    sent.write(bodyOf([inspection('known', 'long-1')]));
    const response = await answer;
    response.setEncoding('utf8');
    const next = async () => outcomesIn(String((await once(response, 'data'))[0]));
    expect(await next()).toMatchObject([{ line: 1, status: 201 }]);
    // As Node does when the time is over (http.Server, event clientError).
    const late = Object.assign(new Error('late'), { code: 'ERR_HTTP_REQUEST_TIMEOUT' });
    for (const socket of sockets) service.server.server.emit('clientError', late, socket);
    sent.write(bodyOf([inspection('known', 'long-2')]));
    expect(await next()).toMatchObject([{ line: 2, status: 201 }]);
    const ended = once(response, 'end');
    const closed = service.server.close();
    expect(await next()).toMatchObject([{ line: 3, status: 503, problem: { code: 'busy' } }]);
    await ended;
    await closed;
  });
});
