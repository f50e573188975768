/** Terms of a maker: each statement is a version, none is lost, and the same again changes nothing. */
import { fingerprint } from '../../core/log/fingerprint.ts';
import { claimRows } from '../derived/claim-rows.ts';
import type { Effects } from '../effects.ts';
import { answerAgain } from '../recording/answer-again.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import type { Loaded } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';

type Members = Readonly<Record<string, unknown>>;

export function decideTerms(request: Request<'terms'>, loaded: Loaded, effects: Effects): Decision {
  const { owner, fact, maker, terms, sent } = request;
  const current = loaded.terms.findLast((one) => one.maker === maker && one.id === terms) ?? null;
  const digest = fingerprint(sent);
  const summary = (version: number) => ({ maker, terms, version });
  if (current?.fingerprint === digest) return answerAgain(current.fact, summary(current.version), loaded, effects);
  const version = (current?.version ?? 0) + 1;
  const statement = { ...(sent as Members), maker, terms };
  const placed = { version, fingerprint: digest };
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'terms',
      maker,
      statement,
      judgement: { findings: [], ...placed },
      claim: claimRows('terms', { owner, fact, maker }, statement, placed, null),
      status: current === null ? 201 : 200,
      answer: summary(version),
    },
  };
}
