/** When what is due by a containment is overdue: as the containment says, and the same wherever it is told. Invented throughout. */
import { beforeAll, describe, expect, it } from 'vitest';
import { ask } from '../graphql/ask.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, maker, openShops, registerPair } from '../support/shop.ts';

// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
type Json = Record<string, any>;

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const analyst = await service.as({ maker, scopes: ['warranty:read', 'containment:write', 'report:read'] });
const periods: Readonly<Record<string, string | undefined>> = { P0D: 'P0D', P60D: 'P60D', P1M: 'P1M', none: undefined };
const containments = new Map<string, string>();

const convert = async (number: string, lot: string) => {
  await registerPair(brackwater, number);
  const frame = { reference: `c-${number}`, performedAt: '2026-04-02T08:00:00Z' };
  const body: Json = await conversionOf(brackwater, number, 'load-sense', frame);
  const fitted = body['fitted'].map((one: Json) => ({ ...one, lot }));
  await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, fitted }));
};
const read = async (path: string) => (await mustGoWell(brackwater('GET', path))).body;
const dues = async (query = '') =>
  (await read(`/v1/due?rule=contained&first=200${query}`)).items.map((one: Json) => told(one['unit'].unit, one));
const told = (unit: string, { dueBy, overdue }: Json) => ({ unit, dueBy, overdue });
const byUnit = (all: readonly Json[]) => all.toSorted((a, b) => (a['unit'] < b['unit'] ? -1 : 1));
const reached = async () => {
  const all: Json[] = [];
  for (const id of containments.values()) all.push(...(await read(`/v1/containments/${id}/reach?first=200`)).items);
  return all;
};

beforeAll(async () => {
  for (const [name, dueWithin] of Object.entries(periods)) {
    await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/${name}`, { part: 'kit-sense' }));
    await convert(`${name}-1`, name);
    const body = { severity: 'inspect', reason: 'threads', instruction: 'look', criteria: { lot: `${maker}/${name}` } };
    const sent = { ...body, reference: name, ...(dueWithin !== undefined && { dueWithin }) };
    containments.set(name, (await mustGoWell(analyst('POST', '/v1/containments', sent))).body.id);
    await convert(`${name}-2`, name);
  }
  const [first] = (await read(`/v1/containments/${containments.get('P60D')}/reach`)).items;
  for (const step of ['cleared', 'secured'])
    await mustGoWell(
      analyst('POST', `/v1/containments/${containments.get('P60D')}/progress`, {
        ...{ reference: step, unit: first.unit, step, by: 'A. Example' },
      }),
    );
});

describe('what is due by a containment', () => {
  it('is due as its reach tells it, in REST and in GraphQL', async () => {
    const all = await reached();
    expect(all.length).toBe(8);
    expect(byUnit(await dues())).toEqual(byUnit(all.map((one) => told(one['unit'], one))));
    const graph = await ask(
      brackwater,
      '{ due(rule: "contained", first: 100) { edges { node { unit { id } dueBy overdue } } } }',
    );
    const nodes = graph.due.edges.map(({ node }: Json) => told(node.unit.id, node));
    expect(byUnit(nodes)).toEqual(byUnit(await dues()));
    const contained = await ask(analyst, '{ contained(first: 100) { edges { node { unit { id } dueBy overdue } } } }');
    const seen = contained.contained.edges.map(({ node }: Json) => told(node.unit.id, node));
    expect(byUnit(seen)).toEqual(byUnit(await dues()));
  });

  it('is due so long after the issue, or after the unit was added; where nobody said, it is never overdue', async () => {
    for (const one of await reached()) {
      const [, name = ''] = /^K-(.+)-\d$/.exec(one['name']) ?? [];
      const { issuedAt } = await read(`/v1/containments/${containments.get(name)}`);
      const since = new Date(one['added']?.recordedAt ?? issuedAt);
      expect(one['atIssue']).toBe(one['name'].endsWith('-1'));
      if (name === 'P0D') expect([Date.parse(one['dueBy']), one['overdue']]).toEqual([since.getTime(), true]);
      if (name === 'P60D')
        expect([Date.parse(one['dueBy']) - since.getTime(), one['overdue']]).toEqual([60 * 86_400_000, false]);
      if (name === 'P1M') expect(new Date(one['dueBy']).getUTCMonth()).toBe((since.getUTCMonth() + 1) % 12);
      if (name === 'none') expect([one['dueBy'], one['overdue']]).toEqual([null, false]);
    }
  });

  it('is listed and counted as overdue or not, whatever period is asked for of what else is due', async () => {
    const late = (await dues()).filter((one: Json) => one['overdue']);
    expect(late.length).toBe(2);
    for (const more of ['', '&overdueAfter=P0D', '&overdueAfter=P1Y']) {
      expect(await dues(`&overdue=true${more}`)).toEqual(late);
      expect((await dues(`&overdue=false${more}`)).length).toBe(6);
      expect((await read(`/v1/due/counts?rule=contained${more}`)).overdue).toBe(2);
    }
  });
});
