/** The answer that a fact without units was given, made again from what is kept of it. */
import { type Section, sectionDigest } from '../../core/log/leaf.ts';
import type { SealedRow } from '../../store/sql/read-sealed.ts';
import type { Effects } from '../effects.ts';
import type { Decision } from './draft.ts';
import { answerOf, perSection, signed } from './keep.ts';
import type { Loaded } from './loaded.ts';

/**
 * A signature of Ed25519 follows from key and text alone (RFC 8032 section 5.1.6), so the receipt is the first one to
 * the byte, for as long as the service signs with the same key.
 */
export function answerAgain(fact: string, answer: object, loaded: Loaded, effects: Effects): Decision {
  const sealed = loaded.sealed.find((one) => one.fact === fact);
  if (sealed === undefined) throw new Error(`fact ${fact}, which is repeated, was not loaded`);
  const salts = saltsOf(sealed);
  const digests = perSection((section) => sectionDigest(sealed[section], Buffer.from(salts[section], 'hex')));
  const { entry, recordedAt } = sealed;
  const receipt = signed({ entry, subjects: [], recordedAt, digests, salts }, effects);
  return { decided: 'repeat', status: 200, answer: answerOf(fact, answer, receipt), replayed: false };
}

function saltsOf(sealed: SealedRow): Record<Section, string> {
  return {
    origin: sealed.originSalt,
    statement: sealed.statementSalt,
    judgement: sealed.judgementSalt,
    private: sealed.privateSalt,
  };
}
