import type { Case } from '../judge/case.ts';
import type { Rule, Violation } from './rule.ts';

export const onTwoPumps: Rule = {
  id: 'on-two-pumps',
  severity: 'refuse',
  kinds: ['mounting'],
  sentence: 'A control is on one pump, and a pump has one control, at a time.',
  basis: 'One of the two comes off first; which one is for the bench to say.',
  clears: null,
  check: (judged) => (judged.record.mounting?.on === true ? puttingOn(judged) : takingOff(judged)),
};

function puttingOn({ control, pump, elsewhere }: Case): Violation[] {
  return [
    ...(elsewhere.underControl === null
      ? []
      : [
          {
            pointer: '/control',
            found: elsewhere.underControl,
            because: `By the records ${control.name} is on pump ${elsewhere.underControl}. Record that it was taken off.`,
          },
        ]),
    ...(elsewhere.onPump === null || pump === null
      ? []
      : [
          {
            pointer: '/pump',
            found: elsewhere.onPump,
            because: `By the records pump ${pump.name} has control ${elsewhere.onPump} on it. Record that it was taken off.`,
          },
        ]),
  ];
}

function takingOff({ control, pump }: Case): Violation[] {
  if (control.state.mounted !== null && control.state.mounted.with === pump?.unit) return [];
  return [
    {
      pointer: '/control',
      because: `By the records ${control.name} is not on ${pump === null ? 'a pump' : `pump ${pump.name}`}.`,
    },
  ];
}
