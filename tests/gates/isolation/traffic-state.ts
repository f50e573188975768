/** What the callers of mixed traffic know: their own things, and each other's ids, which they try. */
import type { Random } from '../random.ts';
import { type Party, stems } from './words.ts';

/** `entry`: what the log shows of it. */
export type Kept = {
  readonly id: string;
  readonly entry?: string;
  readonly path: string;
  readonly body: unknown;
  readonly status: string;
};
export type Side = {
  readonly party: Party;
  /** Numbers of pumps P-… with controls K-… on them. */
  readonly units: string[];
  readonly records: Kept[];
  readonly attempts: string[];
  readonly attachments: string[];
  /** Files that claims name. */
  readonly toldFiles: string[];
  readonly claims: string[];
  /** Issued by the asker and not lifted yet, the oldest first. */
  readonly containments: string[];
  /** Requests that went well under a key. */
  readonly keyed: { readonly path: string; readonly key: string; readonly body: unknown }[];
};

export type State = {
  readonly random: Random;
  readonly sides: Readonly<Record<Party, Side>>;
  /** Containments of the maker's people, as `containments` of a side. */
  readonly makers: string[];
  /** One count for both: so their keys and references are often the same. */
  next: number;
  /** Of the operations that are described: how many were asked for. */
  turn: number;
};

export function newState(random: Random): State {
  const side = (party: Party): Side => ({
    ...{ party, units: [], records: [], attempts: [], attachments: [] },
    ...{ toldFiles: [], claims: [], containments: [], keyed: [] },
  });
  return { random, sides: { brackwater: side('brackwater'), tollan: side('tollan') }, makers: [], next: 0, turn: 0 };
}

export const otherParty = (party: Party): Party => (party === 'brackwater' ? 'tollan' : 'brackwater');

/** Ids that are a distributor's own alone, beside those that both have; the other tries them. */
export function ownIds(party: Party, mark = '') {
  const { open, kept } = stems[party];
  return {
    shop: `${open}${mark}-shop`,
    technician: `${kept}${mark}-t`,
    wrench: `${open}${mark}-tw`,
    gauge: `${open}${mark}-pg`,
    lot: `${open}${mark}-L-1`,
    supplier: `${open}${mark}-supplier`,
  };
}
/** Of the same kinds, but never tried by the other: where one comes out, it is told and not given back. */
export const hiddenIds = (party: Party) => ownIds(party, '-hidden');
export const equalIds = { shop: 'north', technician: 't-17', wrench: 'tw-3', gauge: 'pg-1', lot: 'L-1' };

/** Of all three kinds, by chance. */
export function someIds(random: Random, party: Party) {
  const own = ownIds(party);
  const hidden = hiddenIds(party);
  const pick = (name: keyof typeof equalIds) => random.of([own[name], hidden[name], equalIds[name]]);
  return {
    shop: pick('shop'),
    technician: pick('technician'),
    wrench: pick('wrench'),
    gauge: pick('gauge'),
    lot: pick('lot'),
  };
}
