import type { Case } from '../judge/case.ts';
import { staysOnPump } from '../judge/evidence.ts';
import { settingsOfPair } from '../judge/settings-after.ts';
import { shaftTorque } from '../physics/hydraulics.ts';
import { numberIn } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const shaftTorqueOver: Rule = {
  id: 'shaft-torque-over',
  severity: 'hold',
  kinds: benchWork,
  sentence:
    'The shaft is not asked for more torque than the size may take, at full displacement and the highest setting.',
  basis:
    'T = p·V/(20π·η_hm), or what the torque limit is set to where that is less (ISO 4391, ISO 4409); nothing is said where the size states no efficiency or limit.',
  clears: 'a later record with a lower setting, or a concession',
  check: (judged) => {
    const asked = torqueAsked(judged);
    const limit = judged.layout.size?.shaftTorqueLimit;
    if (asked === null || limit === undefined || asked.torque <= numberIn(limit, 'N.m')) return [];
    const { torque, setting, pressure } = asked;
    const size = judged.layout.size?.id;
    return [
      {
        pointer: '/settings',
        expected: `at most ${limit.value} ${limit.unit}`,
        found: `${torque.toFixed(1)} N.m`,
        because: `With ${setting} at ${pressure.value} ${pressure.unit} size ${size} asks its shaft for ${torque.toFixed(1)} N.m; it may take ${limit.value} ${limit.unit}.`,
        clearedBy: [{ kind: 'setting', place: setting }, concession(judged)],
      },
    ];
  },
};

type Asked = { readonly torque: number; readonly setting: string; readonly pressure: Quantity };

/** A pump whose torque is limited never sees full displacement at its highest pressure. */
function torqueAsked(judged: Case): Asked | null {
  const { size } = judged.layout;
  if (judged.record.settings.length === 0 || !staysOnPump(judged) || size?.efficiency === undefined) return null;
  const known = Object.entries(settingsOfPair(judged)).flatMap(([setting, value]) =>
    value === null ? [] : [{ setting, value }],
  );
  const of = (dimension: string) => known.filter(({ value }) => dimensionOf(value.unit) === dimension);
  const [highest] = of('pressure').sort((a, b) => numberIn(b.value, 'bar') - numberIn(a.value, 'bar'));
  if (highest === undefined) return null;
  const displacement = numberIn(size.displacement, 'cm3');
  const full = shaftTorque(numberIn(highest.value, 'bar'), displacement, Number(size.efficiency.hydromechanical));
  const limits = of('torque').map(({ value }) => numberIn(value, 'N.m'));
  return { torque: Math.min(full, ...limits), setting: highest.setting, pressure: highest.value };
}
