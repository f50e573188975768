/** A claim, evidence or a decision beside what it is held against. */
import type { ClaimBody } from '../claims/claim-body.ts';
import type { WordList } from '../claims/words.ts';
import type { Interval } from '../time/instant.ts';
import type { Known } from './case.ts';

type Named = {
  readonly shop: string;
  readonly technician?: ClaimBody['technician'];
  readonly attachments: readonly string[];
};

/** What every one of them is held to. */
export type SaidCase = {
  readonly referenceUsedBy: string | null;
  readonly performed: Interval;
  readonly now: string;
};

/** What evidence and decisions are about. */
export type OnClaimCase = SaidCase & {
  readonly claim: { readonly raised: Interval; readonly replacedBy: string | null };
};

export type EvidenceCase = OnClaimCase & { readonly body: Named; readonly known: Known };

export type ClaimCase = SaidCase & {
  readonly body: ClaimBody;
  readonly known: Known;
  readonly unit: { readonly name: string; readonly builtAt: string | null };
  readonly failed: Interval;
  /** As the claim states it; null: it doesn't. */
  readonly startedUp: Interval | null;
  /** The words that may be used. */
  readonly words: Readonly<Record<WordList, readonly string[]>>;
  /** Of the claim that this one corrects; null: it corrects none. */
  readonly replaces: { readonly isOwnOfUnit: boolean; readonly replacedBy: string | null } | null;
};
