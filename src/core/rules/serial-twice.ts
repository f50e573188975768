import { benchWork, concession, type Rule } from './rule.ts';

export const serialTwice: Rule = {
  id: 'serial-twice',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A part with a serial is in one place at a time.',
  basis: 'One of the two serials is misread, or the part came out of the other unit unrecorded.',
  clears: 'a later record that takes out what the station holds, or a concession',
  check: (judged) =>
    judged.record.fitted.flatMap(({ station, serial }, index) => {
      const other = judged.twice.get(index);
      if (serial === undefined || other === undefined) return [];
      return [
        {
          pointer: `/fitted/${index}/serial`,
          found: serial,
          because: `By your records ${serial} was at the same time at ${other}.`,
          clearedBy: [{ kind: 'part', place: station }, concession(judged)],
        },
      ];
    }),
};
