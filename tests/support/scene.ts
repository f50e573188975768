/** An invented scene for tests over HTTP: an edition published, a distributor stocked up, pumps registered. */
import { readFileSync } from 'node:fs';
import type { Caller } from './over-http.ts';

export const edition: unknown = JSON.parse(
  readFileSync(new URL('../../src/cli/demo/ardenholm-2026-1.json', import.meta.url), 'utf8'),
);

export const shopScopes = ['record:write', 'record:read', 'stock:write', 'organisation:write', 'disposition:write'];

export async function mustGoWell(answer: ReturnType<Caller>): ReturnType<Caller> {
  const got = await answer;
  if (got.status >= 300) throw new Error(`${got.status} ${got.text}`);
  return got;
}

export async function publish(maker: Caller): Promise<void> {
  await mustGoWell(maker('PUT', '/v1/catalogue/ardenholm/editions/2026-1', edition));
}

export async function stockUp(shop: Caller): Promise<void> {
  await mustGoWell(shop('PUT', '/v1/shops/north', { name: 'north yard' }));
  await mustGoWell(shop('PUT', '/v1/technicians/t-17', { name: 'A. Example', subject: 'fitter-17' }));
  await mustGoWell(shop('PUT', '/v1/instruments/tw-3', { kind: 'torque-wrench', how: 'set' }));
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge' }));
  // No part of the edition: whatever a test fits is of this lot.
  await mustGoWell(shop('PUT', '/v1/lots/ardenholm/L-1', { part: 'bought-loose' }));
}

/** A size 83 pump with a curlew-block on it, everything seen. */
export function pumpWith(control: { serial?: string; function: string } | null) {
  return {
    edition: '2026-1',
    performedAt: '2026-03-02T08:00:00+01:00',
    series: 'curlew',
    size: '83',
    rotation: 'clockwise',
    fluid: 'mineral',
    basis: 'seen',
    stations: Object.fromEntries(
      ['pump/linkage', 'pump/torque-spring', 'pump/torque-adjuster'].map((station) => [station, { content: [] }]),
    ),
    control: control && { ...control, ...block(control.function) },
  };
}

export function block(fun: string) {
  return {
    body: 'curlew-block',
    function: fun,
    basis: 'seen',
    choices: {
      'pressure-adjuster': 'adjuster-320',
      'sense-spring': 'spring-sense-16',
      ...(fun === 'load-sense-bled' && { 'bleed-seat': 'orifice-0.6' }),
    },
    stations: { 'test-port': { content: [{ element: 'test-coupling' }] } },
  };
}

/** The record that a job sheet asks for, as if everything went by the book. */
// biome-ignore lint/suspicious/noExplicitAny: a job sheet as JSON
export function byTheBook(sheet: any) {
  const settings: Record<string, string> = { 'pressure-limit': '210', differential: '14' };
  // biome-ignore lint/suspicious/noExplicitAny: a joint as JSON
  const reading = ({ torque, count }: any) => {
    const one = torque.target ?? torque.min;
    return count === 1 ? one : Array(count).fill(one);
  };
  return {
    edition: '2026-1',
    shop: 'north',
    technician: 't-17',
    sheet: sheet.sheet,
    // biome-ignore lint/suspicious/noExplicitAny: changes as JSON
    removed: sheet.changes.flatMap((one: any) => one.out.map((out: object) => ({ station: one.station, ...out }))),
    // biome-ignore lint/suspicious/noExplicitAny: changes as JSON
    fitted: sheet.changes.flatMap((one: any) =>
      one.in.map((put: object) => ({ station: one.station, ...put, lot: 'L-1' })),
    ),
    // biome-ignore lint/suspicious/noExplicitAny: joints as JSON
    seals: sheet.joints.flatMap((one: any) =>
      one.seals.map(({ seal, quantity }: { seal: string; quantity: number }) => ({
        joint: one.joint,
        seal: `${seal}-nbr`,
        quantity,
        lot: 'L-1',
      })),
    ),
    torques: sheet.joints
      // biome-ignore lint/suspicious/noExplicitAny: joints as JSON
      .filter((one: any) => sheet.evidence.torques.includes(one.joint))
      // biome-ignore lint/suspicious/noExplicitAny: joints as JSON
      .map((one: any) => ({ joint: one.joint, how: 'set', reading: reading(one), instrument: 'tw-3' })),
    settings: sheet.evidence.settings.map((setting: string) => ({
      setting,
      reading: { value: settings[setting], unit: 'bar' },
      instrument: 'pg-1',
    })),
    checks: sheet.evidence.checks.map((check: string) => ({ check, result: 'passed' })),
  };
}
