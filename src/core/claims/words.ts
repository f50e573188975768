/**
 * Plain words of the trade for what a claim says is wrong: how it shows, and what was found to have failed. A maker's
 * edition may add its own to either list; none of these is ever dropped, because claims keep them.
 */
import type { Edition } from '../catalogue/edition.ts';

/** How it shows at the machine or on the stand, by id. */
export const symptoms = {
  'no-pressure': 'no pressure is built up',
  'low-pressure': 'the pressure stays below its setting',
  'high-pressure': 'the pressure goes above its setting',
  'pressure-unstable': 'the pressure swings or hunts',
  'no-flow': 'nothing is delivered',
  'low-flow': 'less is delivered than there should be',
  'slow-response': 'it strokes or destrokes slowly',
  'wont-destroke': 'it stays at full displacement, or does not fall back to standby',
  'wont-shift': 'a spool or valve does not shift',
  noise: 'it is loud',
  vibration: 'it shakes',
  heat: 'it runs hot',
  'external-leak': 'it leaks to the outside',
  'internal-leak': 'it leaks inside, such as a high case flow',
  'shaft-blocked': 'the shaft does not turn',
  unknown: 'how it showed is not known',
} as const;

/** What was found to have failed, by id. */
export const failureModes = {
  worn: 'worn',
  scored: 'scored',
  seized: 'seized',
  broken: 'broken',
  cracked: 'cracked',
  bent: 'bent',
  eroded: 'eroded, as by cavitation',
  corroded: 'corroded',
  overheated: 'overheated',
  contaminated: 'full of dirt, water or another fluid',
  blocked: 'blocked',
  'seal-damaged': 'a seal is cut, hard, swollen or out of its place',
  loose: 'loose',
  'wrong-part': 'a part that does not belong there',
  'missing-part': 'a part that belongs there is missing',
  'wrong-setting': 'set wrong',
  'nothing-found': 'nothing was found',
  unknown: 'what failed is not known',
} as const;

export type Word = { readonly id: string; readonly text: string };
export const wordLists = { symptom: symptoms, failureMode: failureModes } as const;
export type WordList = keyof typeof wordLists;

/** The words that may be used: those of the service, then those that an edition adds and hasn't retired. */
export function wordsOf(list: WordList, edition: Edition | null): readonly Word[] {
  const own = Object.entries(wordLists[list]).map(([id, text]) => ({ id, text }));
  const added = (list === 'symptom' ? edition?.symptoms : edition?.failureModes) ?? [];
  return [...own, ...added.filter((one) => one.retired !== true).map(({ id, text }) => ({ id, text }))];
}
