import { workAtHand } from '../judge/work-at-hand.ts';
import { coverageOf } from '../people/leave.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const shopNotApproved: Rule = {
  id: 'shop-not-approved',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Where the edition asks for approved shops, work is done in a shop that the maker has approved for it.',
  basis: 'What counts is what was in effect when the work was done, whenever it was said.',
  clears: "the maker's approval for the time of the work, after which it is judged again, or a concession",
  check: (judged) => {
    const { record, known, edition, performed } = judged;
    const { shop } = record;
    if (edition.demands?.approvedShops !== true || shop === null) return [];
    const own = known.approvals.filter((one) => one.shop === shop);
    const coverage = coverageOf(own, workAtHand(judged), performed);
    if (coverage === 'whole') return [];
    return [
      {
        pointer: '/shop',
        found: shop,
        because:
          coverage === 'none'
            ? `${edition.maker} had not approved ${shop} for this work when it was done.`
            : `It is not known whether ${edition.maker} had approved ${shop} for this work: that is so for a part only of the time, or of the series, that the record leaves open.`,
        clearedBy: [{ kind: 'approval', place: shop }, concession(judged)],
      },
    ];
  },
};
