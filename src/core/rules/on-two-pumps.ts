import type { UnitEvent } from '../history/event.ts';
import type { Case } from '../judge/case.ts';
import type { Rule, Violation } from './rule.ts';

export const onTwoPumps: Rule = {
  id: 'on-two-pumps',
  severity: 'refuse',
  kinds: ['mounting'],
  sentence: 'A control is on one pump, and a pump has one control, at a time.',
  basis: 'One of the two comes off first; which one is for the bench to say.',
  clears: null,
  check: (judged) => [
    ...(judged.record.mounting?.on === true ? puttingOn(judged) : takingOff(judged)),
    ...placedLate(judged),
  ],
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

/** A record that comes late must leave room for the mountings recorded after it: on and off take turns. */
function placedLate({ control, pump, record }: Case): Violation[] {
  const puts = record.mounting?.on === true;
  const units = [
    { pointer: '/control', name: control.name, next: nextMounting(control.later), other: pump?.unit },
    ...(pump === null
      ? []
      : [{ pointer: '/pump', name: pump.name, next: nextMounting(pump.later), other: control.unit }]),
  ];
  return units.flatMap(({ pointer, name, next, other }) => {
    if (next === undefined || (puts ? !next.on && next.with === other : next.on)) return [];
    const because = `Later work is recorded that ${next.on ? 'puts' : 'takes'} ${name} ${next.on ? 'on' : 'off'}, which can't follow this. Record what lies between first.`;
    return [{ pointer, because }];
  });
}

function nextMounting(later: readonly UnitEvent[]) {
  return later.find((event) => event.effect.mounted !== undefined)?.effect.mounted;
}
