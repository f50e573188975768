import type { Demand } from '../catalogue/edition.ts';
import { satisfies } from '../fit/choose-contents.ts';
import { contentAt } from '../fit/layout.ts';
import type { Rule } from './rule.ts';
import { said } from './said.ts';
import { isOverfull } from './two-in-one-seat.ts';

export const notAsDeclared: Rule = {
  id: 'not-as-declared',
  severity: 'refuse',
  kinds: ['registration', 'conversion'],
  sentence: 'What was found, less what was taken out, with what was put in, is the declared function.',
  basis:
    'A part left in, or one not put in, or the wrong function declared: the record says one thing and its parts another.',
  clears: null,
  check: ({ kind, pattern, after, target, layout }) => {
    if (target === null || 'refused' in target) return [];
    const declared = target.function.id;
    return Object.entries(pattern).flatMap(([station, demand]) => {
      const content = contentAt(layout, after, station);
      // What is more than a station has room for is said once, by the rule for that.
      if (content.elements === null || satisfies(content, demand) || isOverfull(layout, station, content)) return [];
      return [
        {
          pointer: kind === 'conversion' ? '/to/function' : '/found/function',
          expected: `${station}: ${saidDemand(demand)}`,
          found: `${station}: ${said(content.elements)}`,
          because: `${declared} has ${saidDemand(demand)} at ${station}; by this record it holds ${said(content.elements)}. Complete the record, or declare "${kind === 'conversion' ? 'to' : 'function'}": null if it matches no function.`,
        },
      ];
    });
  },
};

function saidDemand(demand: Demand): string {
  // Whatever is there satisfies "keep", so that is never said.
  if (typeof demand === 'string') return 'nothing';
  return demand
    .map((one) =>
      typeof one === 'string' ? one : `${'upTo' in one ? `up to ${one.upTo}` : one.quantity} × ${one.element}`,
    )
    .join(typeof demand[0] === 'string' ? ' or ' : ' and ');
}
