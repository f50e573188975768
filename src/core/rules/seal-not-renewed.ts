import { elementOf } from '../catalogue/lookup.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const sealNotRenewed: Rule = {
  id: 'seal-not-renewed',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Every seal of a joint that the work breaks is renewed, in the size of the joint.',
  basis:
    'A seal that was under load and is opened takes a set and does not seal again; common practice, no published source.',
  clears: 'a later record with the seals of the joint, or a concession',
  check: (judged) =>
    judged.demanded.joints.flatMap(({ joint, seals }) =>
      seals.flatMap(({ seal: size, quantity }) => {
        const renewed = judged.record.seals
          // A seal whose name is not known was renewed all the same; that is noted by another rule.
          .filter(
            (one) =>
              one.joint === joint &&
              (typeof one.seal !== 'string' || elementOf(judged.edition, one.seal)?.fits === size),
          )
          .reduce((sum, one) => sum + one.quantity, 0);
        if (renewed >= quantity) return [];
        return [
          {
            pointer: '/seals',
            expected: `${quantity} × ${size} at ${joint}`,
            found: `${renewed}`,
            because: `${joint} was broken and ${renewed === 0 ? 'its seal is not' : 'not all its seals are'} recorded as renewed (${size}).`,
            clearedBy: [{ kind: 'seal', place: joint }, concession(judged)],
          },
        ];
      }),
    ),
};
