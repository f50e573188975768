/** The page of a certificate over HTTP: all of a conversion on it, the code leads back to the JSON, and nobody sees more. */
import { beforeAll, describe, expect, it } from 'vitest';
import { sequenceAll } from '../../src/app/log/sequence.ts';
import { namesIn } from '../../src/core/catalogue/names.ts';
import { cautionsFor } from '../../src/core/fit/cautions.ts';
import { type Certificate, certificateFaults } from '../../src/core/log/certificate.ts';
import { demoWith } from '../support/bench/demo-job.ts';
import { testDatabase } from '../support/database.ts';
import { hostile } from '../support/hostile.ts';
import { inPageUnits, pageText, reachesOut } from '../support/page-text.ts';
import { codeIn } from '../support/read-code.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService, type Who } from '../support/service.ts';
import { conversionOf, inspectionOf, maker, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const shop: Who = { distributor: 'brackwater' };
const host = 'records.example:8443';
const edition = demoWith({});
const names = namesIn(edition, 'en');

async function ask(url: string, headers: Record<string, string> = { accept: 'text/html' }, who: Who = shop) {
  const authorization = `Bearer ${await service.tokenOf(who)}`;
  return await service.server.inject({ url, headers: { authorization, host, ...headers } });
}
const certificateOf = (id: string) => `/v1/records/${id}/certificate`;
const problemOf = (payload: string) => ({ ...JSON.parse(payload), requestId: null });

// biome-ignore lint/suspicious/noExplicitAny: a record as JSON
let body: any;
let [record, held, replaced, spoiled] = ['', '', '', ''];
const lotNumber = '<script>alert(1)</script>';

beforeAll(async () => {
  await registerPair(brackwater, '1');
  const frame = { reference: 'R-1', performedAt: '2026-04-02T08:00:00Z' };
  body = { ...(await conversionOf(brackwater, '1', 'remote-pressure', frame)), note: hostile.text };
  record = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body.id;

  await registerPair(brackwater, '2');
  const failed = { checks: [{ check: 'leak-free', result: 'failed' }] };
  const inspection = inspectionOf('2', { reference: 'R-2', performedAt: '2026-04-02T08:00:00Z' });
  held = (await mustGoWell(brackwater('POST', '/v1/inspections', { ...inspection, ...failed }))).body.id;

  await registerPair(brackwater, '3');
  const first = inspectionOf('3', { reference: 'R-3', performedAt: '2026-04-02T08:00:00Z' });
  replaced = (await mustGoWell(brackwater('POST', '/v1/inspections', first))).body.id;
  await mustGoWell(
    brackwater('POST', `/v1/records/${replaced}/corrections`, { kind: 'void', reason: 'of another unit' }),
  );

  await registerPair(brackwater, '4');
  const lot = await brackwater('PUT', `/v1/lots/${maker}/${encodeURIComponent(lotNumber)}`, { part: 'bought-loose' });
  expect(lot.status).toBe(201);
  const other = await conversionOf(brackwater, '4', 'load-sense', { ...frame, reference: 'R-4' });
  const fitted = other.fitted.map((one: object) => ({ ...one, lot: lotNumber }));
  spoiled = (await mustGoWell(brackwater('POST', '/v1/conversions', { ...other, fitted }))).body.id;
  await sequenceAll(service.app);
});

describe('a certificate, as a page', () => {
  it('leads back to the JSON of which it is, and to its entry', async () => {
    const page = await ask(certificateOf(record));
    const json: Certificate = (await ask(certificateOf(record), {})).json();
    expect(page.headers).toMatchObject({ 'content-type': 'text/html; charset=utf-8', vary: 'Accept, Accept-Language' });
    const [address = '', entry] = (codeIn(page.payload) ?? '').split('#');
    expect(address).toBe(`http://${host}/v1/records/${record}/certificate`);
    expect(entry).toBe(json.proof.entry);
    expect(pageText(page.payload)).toContain(`${address}#${entry}`);
    const followed: Certificate = (await ask(new URL(address).pathname, {})).json();
    expect(certificateFaults(followed, [service.signer])).toEqual([]);
  });

  it('has the cautions before everything else', async () => {
    const text = pageText((await ask(certificateOf(record))).payload);
    const cautions = cautionsFor(edition, 'en').map((one) => text.indexOf(one.text));
    expect(cautions.length).toBeGreaterThan(9);
    expect(Math.min(...cautions)).toBeGreaterThan(0);
    expect(Math.max(...cautions)).toBeLessThan(text.indexOf('What was recorded, as it is kept'));
    expect(text.indexOf('What was recorded, as it is kept')).toBeLessThan(text.indexOf('remote pressure'));
  });

  it('has every part, seal, torque, setting and check, with verdicts', async () => {
    const text = pageText((await ask(certificateOf(record))).payload);
    const json: Certificate = (await ask(certificateOf(record), {})).json();
    const { verdicts } = (json.sections.judgement?.content ?? { verdicts: [] }) as { verdicts: Verdict[] };
    type Verdict = { pointer: string; min: Quantity; max: Quantity; verdict: string };
    type Quantity = { value: string; unit: string };
    const said = ({ value, unit }: Quantity) => inPageUnits(`${value} ${unit}`);
    const read = (list: string, nameOf: (one: Record<string, string>) => string) =>
      body[list].map((one: Record<string, string> & { reading: Quantity }, at: number) => {
        const verdict = verdicts.find(({ pointer }) => pointer.startsWith(`/${list}/${at}/`));
        if (verdict?.verdict !== 'conforms') throw new Error(`${list} ${at} has no good verdict`);
        const limits = `${said(verdict.min)} – ${said(verdict.max)}`;
        return `${nameOf(one)} ${said(one.reading)} ${limits} within limits, by simple acceptance not known ${one['instrument']}`;
      });
    const expected: string[] = [
      ...body.fitted.map((one: Record<string, string>) => `${names.element(one['element'] ?? '').text} L-1`),
      ...body.removed.map(
        ({ station, element }: Record<string, string>) =>
          `${names.station(station ?? '').text} ${names.element(element ?? '').text}`,
      ),
      ...body.seals.map(
        (one: Record<string, string>) => `${one['joint']} ${names.element(one['seal'] ?? '').text} L-1`,
      ),
      ...read('torques', (one) => one['joint'] ?? ''),
      ...read('settings', (one) => names.of('setting', one['setting'] ?? '').text),
      ...body.checks.map((one: Record<string, string>) => `${names.check(one['check'] ?? '').text} passed`),
    ];
    expect(expected.length).toBeGreaterThan(20);
    expect(expected.filter((one) => !text.includes(one))).toEqual([]);
  });

  it('is in the language and units asked for, and JSON stays as it is hashed', async () => {
    const page = await ask(`${certificateOf(record)}?lang=de&units=imperial`);
    expect(page.headers['content-language']).toBe('de');
    // 34 N·m = 25.08 lbf·ft, recomputed from the definitions of NIST SP 811 app. B.8.
    expect(pageText(page.payload)).toContain('34 N·m (25.08 lbf·ft)');
    const [json, plain] = [
      await ask(`${certificateOf(record)}?units=imperial`, {}),
      await ask(certificateOf(record), {}),
    ];
    expect(json.json().sections).toEqual(plain.json().sections);
  });

  it('says which sections are withheld', async () => {
    const { payload } = await ask(`${certificateOf(record)}?withhold=statement,private`);
    expect(pageText(payload)).toContain('Not in this certificate: what was stated; notes, if there are any.');
    expect(pageText(payload)).not.toContain('R-1');
    expect(codeIn(payload)).toContain(`/v1/records/${record}/certificate#`);
  });

  it('leaves texts texts', async () => {
    const [noted, named] = [await ask(certificateOf(record)), await ask(certificateOf(spoiled))];
    expect(pageText(noted.payload)).toContain(hostile.text.replaceAll(/\s+/g, ' '));
    expect(pageText(named.payload)).toContain(lotNumber);
    for (const { payload, statusCode } of [noted, named]) {
      expect(statusCode).toBe(200);
      for (const piece of hostile.pieces) expect(payload).not.toContain(piece);
      expect(reachesOut(payload)).toEqual([]);
    }
  });
});

describe('no page', () => {
  it.each([
    ['held', () => held, shop, 409],
    ['replaced', () => replaced, shop, 409],
    ["another distributor's", () => record, { distributor: 'tollan' }, 404],
    ['read without the scope', () => record, { distributor: 'brackwater', scopes: ['stock:write'] }, 403],
  ] as [string, () => string, Who, number][])(
    'is made of a record that is %s: the problem is as with JSON',
    async (_, id, who, status) => {
      const [page, json] = [await ask(certificateOf(id()), undefined, who), await ask(certificateOf(id()), {}, who)];
      expect([page.statusCode, json.statusCode]).toEqual([status, status]);
      expect(page.headers['content-type']).toBe('application/problem+json');
      expect(problemOf(page.payload)).toEqual(problemOf(json.payload));
    },
  );

  it.each(['<script>', `${'a'.repeat(300)}.example`, 'a b', 'user@records.example'])(
    'carries an address that nobody can follow: %s',
    async (named) => {
      const page = await ask(certificateOf(record), { accept: 'text/html', host: named });
      expect(page.statusCode).toBe(400);
      expect(page.json()).toMatchObject({ code: 'invalid-input', errors: [{ header: 'host' }] });
      expect((await ask(certificateOf(record), { host: named })).statusCode).toBe(200);
    },
  );
});
