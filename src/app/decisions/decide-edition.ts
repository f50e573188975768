/** Publishing an edition: once, and only what stays true to the editions before it. */
import { createHash } from 'node:crypto';
import { checkSuccession } from '../../core/catalogue/check-succession.ts';
import { canonical } from '../../core/log/canonical.ts';
import type { Effects } from '../effects.ts';
import { answerAgain } from '../recording/answer-again.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { editionOf, type Loaded } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';

export function decideEdition(request: Request<'edition'>, loaded: Loaded, effects: Effects): Decision {
  const { maker, edition, checked } = request;
  const content = canonical(request.sent);
  const digest = `sha256:${createHash('sha256').update(content).digest('hex')}`;
  const published = loaded.editions.find((one) => one.maker === maker && one.edition === edition);
  if (published?.digest === digest) {
    return answerAgain(published.fact, { maker, edition, digest }, loaded, effects);
  }
  if (published !== undefined) {
    return {
      decided: 'reject',
      refusal: {
        code: 'edition-differs',
        detail: `Edition ${edition} is published with another content. Give the new content a new edition.`,
      },
    };
  }
  const earlier = loaded.editions
    .filter((one) => one.maker === maker)
    .flatMap((one) => editionOf(loaded, maker, one.edition) ?? []);
  const problems = checkSuccession(checked, earlier);
  if (problems.length > 0) {
    return {
      decided: 'reject',
      refusal: {
        code: 'edition-problems',
        detail: 'The edition does not stay true to earlier ones.',
        extra: { errors: problems },
      },
    };
  }
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'edition',
      maker,
      edition,
      statement: { maker, edition, effectiveFrom: checked.effectiveFrom, digest },
      judgement: { findings: [] },
      edition_row: { maker, edition, effective_from: `${checked.effectiveFrom}T00:00:00.000000Z`, digest, content },
      status: 201,
      answer: { maker, edition, digest },
    },
  };
}
