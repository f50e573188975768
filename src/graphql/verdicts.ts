/** Verdicts on the readings of a record, as kept with it and with the judgements that followed. */
import type { Verdict } from '../core/judge/evidence.ts';
import type { GraphContext } from './context.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';
import { having, type RecordSeen } from './record-parts.ts';

/** A line of the body of a record, such as /torques/0. */
export type Place = { readonly record: RecordSeen; readonly at: string };

type FromTheFirst = 'pointer' | 'of' | 'place' | 'reading' | 'min' | 'max' | 'rule' | 'verdict' | 'instrument';
/** Records of an earlier release say less. */
export type VerdictKept = Pick<Verdict, FromTheFirst> & Partial<Omit<Verdict, FromTheFirst>>;

type Judged = {
  readonly verdicts?: readonly VerdictKept[];
  readonly changes?: readonly Change[];
};
type Change = {
  readonly pointer: string;
  readonly was: Verdict['verdict'] | null;
  readonly is: Verdict['verdict'] | null;
};
export type VerdictChangeParent = Change & {
  readonly cause: string;
  readonly judgement: RecordSeen;
  readonly verdict: VerdictKept | null;
};

export const verdictResolvers = {
  TorqueReading: { verdicts: ownVerdicts, verdictChanges: changesSince },
  SettingReading: { verdict: (line) => ownVerdicts(line)[0] ?? null, verdictChanges: changesSince },
} satisfies GraphResolvers;

function ownVerdicts({ record, at }: Place): readonly VerdictKept[] {
  return judgedIn(record).verdicts?.filter(isOf(at)) ?? [];
}

async function changesSince({ record, at }: Place, _: unknown, context: GraphContext): Promise<VerdictChangeParent[]> {
  const later = await Promise.all(having(record, 'standing').judgedAgain.map(context.record));
  return later.flatMap((judgement) => (judgement === null ? [] : changesIn(judgement, at)));
}

/** Judgements of an earlier release don't say what they changed. */
function changesIn(judgement: RecordSeen, at: string): VerdictChangeParent[] {
  const { changes = [], verdicts = [] } = judgedIn(judgement);
  const { cause } = judgement.statement as { readonly cause: string };
  return changes.filter(isOf(at)).map(({ pointer, was, is }) => ({
    ...{ pointer, was, is, cause, judgement },
    verdict: verdicts.find((one) => one.pointer === pointer) ?? null,
  }));
}

function judgedIn({ judgement }: RecordSeen): Judged {
  return judgement as Judged;
}

function isOf(at: string): (one: { readonly pointer: string }) => boolean {
  return ({ pointer }) => pointer.startsWith(`${at}/`);
}
