import { lastSetting } from '../judge/evidence.ts';
import { benchWork, type Rule } from './rule.ts';

export const settingDue: Rule = {
  id: 'setting-due',
  severity: 'due',
  kinds: benchWork,
  sentence: 'Every setting that the work disturbs or needs is set and read.',
  basis: 'Pressures are set on the pump: off it, and after every mounting, they are still to come.',
  clears: 'a later record with the setting within bounds',
  check: (judged) => {
    const { evidence, afterMounting } = judged.demanded;
    const due = (setting: string, because: string) => ({
      pointer: '/settings',
      because,
      clearedBy: [{ kind: 'setting' as const, place: setting }],
    });
    return [
      ...evidence.settings
        .filter((id) => lastSetting(judged, id) === undefined)
        .map((id) => due(id, `${id} must be set and is not recorded.`)),
      ...afterMounting.settings.map((id) => due(id, `${id} is to be set once the control is on a pump.`)),
    ];
  },
};
