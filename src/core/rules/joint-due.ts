import { benchWork, type Rule } from './rule.ts';

export const jointDue: Rule = {
  id: 'joint-due',
  severity: 'due',
  kinds: benchWork,
  sentence: 'A joint that is closed after setting is closed once its setting has been set.',
  basis: 'A locknut on a control off its pump stays open until the pressure is set on the pump.',
  clears: 'a later record with the torque of the joint',
  check: ({ demanded }) =>
    demanded.afterMounting.joints.map((joint) => ({
      pointer: '/torques',
      because: `${joint} is to be closed once its setting has been set on a pump.`,
      clearedBy: [{ kind: 'torque', place: joint }],
    })),
};
