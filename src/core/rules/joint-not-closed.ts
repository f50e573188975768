import { lastTorque, readingsOf } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const jointNotClosed: Rule = {
  id: 'joint-not-closed',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Every joint that the work breaks is closed to a torque, screw by screw.',
  basis: 'A joint opened on the way and never torqued again is what leaks or comes loose later.',
  clears: 'a later record with the torque of the joint, or a concession',
  check: (judged) =>
    judged.demanded.joints.flatMap(({ joint: id, count }) => {
      if (!judged.demanded.evidence.torques.includes(id)) return [];
      const torque = lastTorque(judged, id);
      const readings = torque === undefined ? 0 : readingsOf(torque.reading).length;
      if (readings >= count) return [];
      return [
        {
          pointer: torque === undefined ? '/torques' : `/torques/${judged.record.torques.indexOf(torque)}/reading`,
          expected: `${count} ${count === 1 ? 'reading' : 'readings'} for ${id}`,
          found: `${readings}`,
          because: `${id} is broken by this work, and ${readings === 0 ? 'no closing torque is recorded' : `only ${readings} of ${count} screws have a torque`}.`,
          clearedBy: [{ kind: 'torque', place: id }, concession(judged)],
        },
      ];
    }),
};
