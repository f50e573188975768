import { satisfies } from '../fit/choose-contents.ts';
import { notKnown } from '../fit/fit.ts';
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
  check: ({ kind, pattern, after, target, layout }) =>
    Object.entries(pattern).flatMap(([station, demand]) => {
      const content = after[station] ?? notKnown;
      // What is more than a station has room for is said once, by the rule for that.
      if (content.elements === null || satisfies(content, demand) || isOverfull(layout, station, content)) return [];
      return [
        {
          pointer: kind === 'conversion' ? '/to/function' : '/found/function',
          expected: `${station}: ${saidDemand(demand)}`,
          found: `${station}: ${said(content)}`,
          because: `${target === null || 'refused' in target ? '' : target.function.id} has ${saidDemand(demand)} at ${station}; by this record it holds ${said(content)}. Complete the record, or declare "to": null if it matches no function.`,
        },
      ];
    }),
};

function saidDemand(demand: Parameters<typeof satisfies>[1]): string {
  if (typeof demand === 'string') return demand === 'none' ? 'nothing' : 'whatever is there';
  return demand
    .map((one) => (typeof one === 'string' ? one : `${one.quantity} × ${one.element}`))
    .join(typeof demand[0] === 'string' ? ' or ' : ' and ');
}
