/** Pages over HTTP: who gets one instead of JSON, with which headers, and that nobody sees more on a page. */
import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { canary, plantCanaries } from '../support/canaries.ts';
import { testDatabase } from '../support/database.ts';
import { hostile } from '../support/hostile.ts';
import { pageText, reachesOut } from '../support/page-text.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService, type Who } from '../support/service.ts';
import { controlBody, conversionOf, inspectionOf, maker, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const shop: Who = { distributor: 'brackwater' };
const browser = 'text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8';

async function ask(url: string, headers: Record<string, string> = { accept: 'text/html' }, who: Who = shop) {
  const authorization = `Bearer ${await service.tokenOf(who)}`;
  return await service.server.inject({ url, headers: { authorization, ...headers } });
}

/** Made as ids are made, and nobody's. */
const nobody = service.app.effects.newId();
let record = '';
let planted: Awaited<ReturnType<typeof plantCanaries>>;
const sheet = `/v1/controls/${maker}/K-1/job-sheet?function=remote-pressure`;
const mounting = `/v1/controls/${maker}/K-shelf/mounting-sheet?pump=${maker}/P-bare`;
const pages = () => [sheet, mounting, `/v1/records/${record}`];

beforeAll(async () => {
  planted = await plantCanaries(service, db);
  await registerPair(brackwater, '1');
  const body = await conversionOf(brackwater, '1', 'load-sense', {
    reference: 'R-1',
    performedAt: '2026-04-02T08:00:00Z',
  });
  record = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body.id;
  const bare = {
    edition: '2026-1',
    performedAt: '2026-03-02T08:00:00Z',
    series: 'curlew',
    size: '83',
    rotation: 'clockwise',
    basis: 'seen',
    control: null,
  };
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-bare`, bare));
});

describe('JSON or a page', () => {
  it.each([
    [undefined, 'application/json'],
    ['*/*', 'application/json'],
    ['application/json', 'application/json'],
    ['text/html, application/json', 'application/json'],
    ['text/html;q=0.5, application/json', 'application/json'],
    ['text/html;q=0', 'application/json'],
    ['application/pdf', 'application/json'],
    ['text/html', 'text/html'],
    ['text/*', 'text/html'],
    ['TEXT/HTML; charset=utf-8', 'text/html'],
    ['application/json;q=0.5, text/html', 'text/html'],
    [browser, 'text/html'],
    ['text/html;q=x', 'application/json'],
  ])('whoever accepts %s gets %s', async (accept, type) => {
    for (const path of pages()) {
      const answer = await ask(path, accept === undefined ? {} : { accept });
      expect([answer.statusCode, String(answer.headers['content-type']).split(';')[0]]).toEqual([200, type]);
      expect(answer.headers['vary']).toBe('Accept, Accept-Language');
    }
  });
});

describe('a page', () => {
  it('forbids everything but its own style', async () => {
    for (const path of [...pages(), '/docs']) {
      const { payload, headers } = await ask(path);
      const style = payload.match(/<style>([\s\S]*)<\/style>/)?.[1] ?? '';
      const hash = createHash('sha256').update(style).digest('base64');
      expect(headers['content-security-policy']).toBe(
        `default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`,
      );
      expect(headers).toMatchObject({
        'content-type': 'text/html; charset=utf-8',
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cache-control': 'no-store',
      });
    }
  });

  it('names no address outside and nothing that could load or run', async () => {
    for (const path of [...pages(), '/docs']) {
      const { payload } = await ask(path);
      expect(reachesOut(payload)).toEqual([]);
      expect(path === '/docs' ? [] : payload.match(/https?:|\/\/[a-z]/g)).toEqual(path === '/docs' ? [] : null);
    }
  });

  it('is in the language asked for, by parameter before header, and so are the texts of JSON', async () => {
    const german = await ask(`${sheet}&lang=de`);
    expect(german.headers['content-language']).toBe('de');
    expect(german.payload).toContain('<html lang="de">');
    expect(
      (await ask(sheet, { accept: 'text/html', 'accept-language': 'fr;q=0.3, de-CH;q=0.9, en;q=0.8' })).payload,
    ).toContain('<html lang="de">');
    expect((await ask(`${sheet}&lang=en`, { accept: 'text/html', 'accept-language': 'de' })).payload).toContain(
      '<html lang="en">',
    );
    expect((await ask(`/v1/records/${record}?lang=de`)).payload).toContain('<html lang="de">');
    const json = (await ask(`${sheet}&lang=de`, {})).json();
    const english = (await ask(sheet, {})).json();
    expect([json.language, english.language]).toEqual(['de', 'en']);
    expect(json.sheet).toBe(english.sheet);
    expect(json.steps[0].text).toMatch(/^Sicher machen: /);
    expect(english.steps[0].text).toMatch(/^Make safe: /);
  });

  it('shows the same as JSON: every step of the sheet', async () => {
    const { steps } = (await ask(sheet, {})).json();
    const text = pageText((await ask(sheet)).payload).replaceAll('N·m', 'N.m');
    expect(steps.filter((step: { step: number; text: string }) => !text.includes(`${step.step} ${step.text}`))).toEqual(
      [],
    );
  });
});

describe('units', () => {
  it('add a rounded value beside every reading of an answer and leave the reading', async () => {
    // 34 N·m = 25.08 lbf·ft, recomputed from the definitions of NIST SP 811 app. B.8.
    const plain = (await ask(sheet, {})).json();
    const both = (await ask(`${sheet}&units=imperial`, {})).json();
    const cap = both.joints.find((one: { joint: string }) => one.joint === 'side-cap-body');
    expect(cap.torque.target).toEqual({ value: '34', unit: 'N.m', display: { value: '25.08', unit: 'lbf.ft' } });
    const without = JSON.parse(JSON.stringify(both), (name, value) => (name === 'display' ? undefined : value));
    expect(without).toEqual(plain);
  });

  it.each([
    ['a unit', `/v1/pumps/${maker}/P-1`],
    ['a history', `/v1/controls/${maker}/K-1/history`],
  ])('are taken by %s', async (_, path) => {
    const [plain, both] = [await ask(path, {}), await ask(`${path}?units=imperial`, {})];
    expect(both.statusCode).toBe(200);
    expect(both.payload).toContain('"display"');
    expect(plain.payload).not.toContain('"display"');
  });

  it('of a record are beside what was stated', async () => {
    const { statement } = (await ask(`/v1/records/${record}?units=imperial`, {})).json();
    expect(statement.torques[0].reading).toMatchObject({ unit: 'N.m', display: { unit: 'lbf.ft' } });
  });

  it('and languages that there are not are refused', async () => {
    for (const query of ['units=troy', 'lang=1', 'lang=de_DE%22']) {
      const answer = await ask(`${sheet}&${query}`);
      expect([answer.statusCode, answer.json().code]).toEqual([400, 'invalid-input']);
    }
  });
});

describe('whoever may not see it', () => {
  const withoutId = (payload: string) => JSON.stringify({ ...JSON.parse(payload), requestId: null });

  it.each([
    ['another distributor, a record', () => `/v1/records/${planted.records['converted']}`, { distributor: 'tollan' }],
    ['another maker, a record', () => `/v1/records/${record}`, { maker: 'other-maker', scopes: ['warranty:read'] }],
    [
      'a token without the scope, a record',
      () => `/v1/records/${record}`,
      { distributor: 'brackwater', scopes: ['stock:write'] },
    ],
    ['a token without the scope, a sheet', () => sheet, { distributor: 'brackwater', scopes: ['record:read'] }],
    ['anybody, a record that is not there', () => `/v1/records/${nobody}`, shop],
    ['anybody, a function that is not offered', () => `/v1/controls/${maker}/K-1/job-sheet?function=none-such`, shop],
    ['anybody, a control that is not there', () => `/v1/controls/${maker}/K-none/job-sheet?function=load-sense`, shop],
  ] as [string, () => string, Who][])('is answered as with JSON: %s', async (_, path, who) => {
    const [page, json] = [await ask(path(), { accept: browser }, who), await ask(path(), {}, who)];
    expect(json.statusCode).toBeGreaterThanOrEqual(400);
    expect(page.statusCode).toBe(json.statusCode);
    expect(page.headers['content-type']).toBe('application/problem+json');
    expect(withoutId(page.payload)).toBe(withoutId(json.payload));
  });

  it('is shown no more of a record on a page than in JSON: the analyst no names and no note', async () => {
    const analyst: Who = { maker, scopes: ['warranty:read'] };
    const path = `/v1/records/${planted.records['converted']}`;
    const page = pageText((await ask(path, { accept: 'text/html' }, analyst)).payload);
    const own = pageText((await ask(path, { accept: 'text/html' })).payload);
    expect(own).toContain(`${canary} note`);
    expect(own).toContain(`Technician ${canary}-t`);
    expect(page).not.toContain(`${canary} note`);
    expect(page).not.toContain(`Technician ${canary}-t`);
  });
});

describe('hostile texts', () => {
  it('of a unit, a shop and a record stay texts on every page', async () => {
    const name = `<img src=x onerror=alert(1)>"'&`;
    const serial = encodeURIComponent(name);
    await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/${serial}`, controlBody('load-sense')));
    const found = { stations: { 'signal-port': { unknown: hostile.text } }, plate: hostile.text };
    const body = {
      ...inspectionOf('1', { reference: hostile.text.slice(0, 100), performedAt: '2026-04-05T08:00:00Z' }),
      control: { maker, serial: name },
      found,
      note: hostile.text,
      workOrder: name,
    };
    const made = await mustGoWell(brackwater('POST', '/v1/inspections', body));
    for (const path of [
      `/v1/records/${made.body.id}`,
      `/v1/controls/${maker}/${serial}/job-sheet?function=load-sense-bled&size=83&rotation=clockwise`,
    ]) {
      const { payload, statusCode } = await ask(path);
      expect(statusCode).toBe(200);
      expect(pageText(payload)).toContain(name);
      for (const piece of hostile.pieces) expect(payload).not.toContain(piece);
      expect(reachesOut(payload)).toEqual([]);
    }
  });
});

describe('the reference', () => {
  it('is for everybody, and has every operation of /openapi.json with its scopes and every shape', async () => {
    const { payload, statusCode } = await service.server.inject({ url: '/docs' });
    expect(statusCode).toBe(200);
    const openapi = (await service.server.inject({ url: '/openapi.json' })).json();
    const operations = Object.entries(openapi.paths).flatMap(([path, item]) =>
      Object.entries(item as Record<string, { operationId: string; summary: string }>).map(([method, one]) => ({
        path,
        method,
        ...one,
      })),
    );
    expect(operations.length).toBeGreaterThan(20);
    const text = pageText(payload);
    for (const { path, method, summary, operationId } of operations) {
      expect(payload).toContain(`id="operation-${operationId}"`);
      expect(text).toContain(`${method.toUpperCase()} ${path} ${summary}`);
    }
    for (const shape of Object.keys(openapi.components.schemas)) expect(payload).toContain(`id="shape-${shape}"`);
    const [broken] = [...payload.matchAll(/href="#([^"]+)"/g)].filter(([, id]) => !payload.includes(`id="${id}"`));
    expect(broken).toBeUndefined();
    expect(text).toContain('"reference": "BR-2026-004711"');
  });
});
