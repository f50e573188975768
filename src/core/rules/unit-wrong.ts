import { dimensionOf } from '../quantity/unit.ts';
import { benchWork, type Rule } from './rule.ts';

export const unitWrong: Rule = {
  id: 'unit-wrong',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence: 'A setting is read in a unit of its own quantity.',
  basis: 'A pressure in amperes is a slip of the pen, not a reading.',
  clears: null,
  check: ({ record, layout }) => {
    const quantities = new Map(layout.settings.map((setting) => [setting.id, setting.quantity]));
    const readings: [string, string, string][] = [
      ...record.settings.map((one, i): [string, string, string] => [
        `/settings/${i}/reading/unit`,
        one.setting,
        one.reading.unit,
      ]),
      ...Object.entries(record.found?.settings ?? {}).map(([id, one]): [string, string, string] => [
        `/found/settings/${id.replace('/', '~1')}/unit`,
        id,
        one.unit,
      ]),
    ];
    return readings.flatMap(([pointer, setting, unit]) => {
      const expected = quantities.get(setting);
      if (expected === undefined || expected === dimensionOf(unit)) return [];
      return [
        {
          pointer,
          expected,
          found: unit,
          because: `${setting} is read as ${expected}; ${unit} measures ${dimensionOf(unit)}.`,
        },
      ];
    });
  },
};
