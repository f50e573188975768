import { dimensionOf } from '../quantity/unit.ts';
import { benchWork, type Rule } from './rule.ts';

export const unitWrong: Rule = {
  id: 'unit-wrong',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence: 'A setting is read in a unit of its own quantity, a bore in one of length.',
  basis: 'A pressure in amperes is a slip of the pen, not a reading.',
  clears: null,
  check: ({ record, layout }) => {
    const quantities = new Map(layout.settings.map((setting) => [setting.id, setting.quantity]));
    const readings: [string, string, string | undefined, string][] = [
      ...record.settings.map((one, i): (typeof readings)[number] => [
        `/settings/${i}/reading/unit`,
        one.setting,
        quantities.get(one.setting),
        one.reading.unit,
      ]),
      ...Object.entries(record.found?.settings ?? {}).map(([id, one]): (typeof readings)[number] => [
        `/found/settings/${id.replace('/', '~1')}/unit`,
        id,
        quantities.get(id),
        one.unit,
      ]),
      ...(['removed', 'fitted'] as const).flatMap((list) =>
        record[list].flatMap(({ measured }, i): typeof readings => {
          const bore = measured?.['bore'];
          return bore === undefined ? [] : [[`/${list}/${i}/measured/bore/unit`, 'a bore', 'length', bore.unit]];
        }),
      ),
    ];
    return readings.flatMap(([pointer, what, expected, unit]) => {
      if (expected === undefined || expected === dimensionOf(unit)) return [];
      return [
        {
          pointer,
          expected,
          found: unit,
          because: `${what} is read as ${expected}; ${unit} measures ${dimensionOf(unit)}.`,
        },
      ];
    });
  },
};
