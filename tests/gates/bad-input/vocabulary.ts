/** What the service of this gate knows, by the member that names it: so that bodies get as far as the rules. */
import { edition } from '../../support/scene.ts';
import type { Random } from '../random.ts';

export type Vocabulary = ReadonlyMap<string, readonly unknown[]>;

/** What one day's work of the scene is reached by, so that containments don't grow with the cases. */
const day = { from: '2026-05-05T00:00:00Z', to: '2026-05-06T00:00:00Z' };
export const suspected = [
  { lot: 'ardenholm/L-1', ...day },
  { technician: 't-17', ...day },
  { shop: 'north', maker: 'ardenholm', ...day },
] as const;

export type Known = {
  readonly records: readonly string[];
  readonly digests: readonly string[];
  readonly claims: readonly string[];
  /** Under a containment. */
  readonly units: readonly string[];
};

export function vocabularyOf({ records, digests, claims, units }: Known): Vocabulary {
  const all = idsIn(edition, new Map());
  const ids = (list: string) => all.get(list) ?? [];
  const places = [...ids('stations'), 'pump/linkage', 'pump/torque-spring'];
  return new Map<string, readonly unknown[]>([
    ['maker', ['ardenholm']],
    ['edition', ['2026-1']],
    ['serial', ['K-1', 'K-2', 'P-1', 'P-2', 'K-3']],
    ['shop', ['north']],
    ['technician', ['t-17', { unknown: 'not said' }]],
    ['by', ['t-17']],
    ['instrument', ['tw-3', 'pg-1', { unknown: 'not said' }]],
    ['lot', ['L-1', { maker: 'ardenholm', number: 'L-1' }, { unknown: 'not said' }]],
    ['number', ['L-1']],
    ['part', ['bought-loose', 'kit-remote', 'plug-m5']],
    ['series', ['curlew']],
    ['size', ['83', '52']],
    ['body', ['curlew-block']],
    ['fluid', ['mineral']],
    ['function', ids('functions')],
    ['station', places],
    ['stations', places],
    ['choices', places],
    ['opened', ids('stations')],
    ['joint', ids('joints')],
    ['seal', ids('elements').filter((id) => String(id).startsWith('seal'))],
    ['element', ids('elements')],
    ['setting', ids('settings')],
    ['settings', ids('settings')],
    ['check', ids('checks')],
    ['conditions', ['speed', 'oil']],
    ['circuit', ['signal-pressure']],
    ['after', records],
    ['record', records],
    ['attachments', digests],
    [
      'performedAt',
      ['2026-03-14T10:25:00+01:00', '2026-04-01T08:00:00Z', { at: '2026-04-01T00:00:00Z', precision: 'day' }],
    ],
    ['hours', [{ value: '12.5', unit: 'h' }]],
    ['adapter', [{ arm: { value: '300', unit: 'mm' }, extension: { value: '50', unit: 'mm' } }]],
    [
      'torques',
      ids('joints').map((joint) => ({ joint, how: 'set', reading: { value: '34', unit: 'N.m' }, instrument: 'tw-3' })),
    ],
    ['unit', ['bar', 'N.m', 'mm', 'r/min', 'V', 'h', ...units]],
    ['criteria', suspected],
    ['replaces', claims],
    ['symptom', ['pressure-unstable', 'noise']],
    ['failureMode', ['worn', 'blocked']],
    ['cleanliness', ['22/20/17']],
    ['distributor', ['brackwater']],
    ['value', ['61.0', '14', '210', '0.6', '1500']],
  ]);
}

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** A word for the member, mostly; undefined: none is known, or chance wants another. `isId`: of those that are ids of ours. */
export function wordFor(vocabulary: Vocabulary, member: string, random: Random, isId = false): unknown {
  const words = (vocabulary.get(member) ?? []).filter((word) => uuid.test(String(word)) === isId);
  return words.length === 0 || random.oneIn(8) ? undefined : random.of(words);
}

/** Every `id`, by the list that it stands in. */
function idsIn(value: unknown, found: Map<string, unknown[]>, list = ''): Map<string, unknown[]> {
  if (Array.isArray(value)) for (const one of value) idsIn(one, found, list);
  else if (typeof value === 'object' && value !== null) {
    for (const [member, inside] of Object.entries(value)) {
      if (member === 'id') found.set(list, [...(found.get(list) ?? []), inside]);
      idsIn(inside, found, member);
    }
  }
  return found;
}
