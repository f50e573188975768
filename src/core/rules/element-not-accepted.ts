import type { Rule } from './rule.ts';

export const elementNotAccepted: Rule = {
  id: 'element-not-accepted',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'A station holds only elements that it can hold.',
  basis: 'The catalogue lists what each station accepts; anything else does not go in.',
  clears: null,
  check: ({ record, layout }) => {
    const put = [
      ...record.fitted.map((one, i) => ({
        pointer: `/fitted/${i}/element`,
        station: one.station,
        element: one.element,
      })),
      ...Object.entries(record.found?.stations ?? {}).flatMap(([station, content]) =>
        Array.isArray(content)
          ? content.map(({ element }, i) => ({
              pointer: `/found/stations/${station.replace('/', '~1')}/${i}/element`,
              station,
              element,
            }))
          : [],
      ),
    ];
    return put.flatMap(({ pointer, station, element }) => {
      const accepts = layout.station.get(station)?.accepts;
      if (typeof element !== 'string' || accepts === undefined || accepts.includes(element)) return [];
      return [
        {
          pointer,
          expected: accepts.join(' or ') || 'nothing',
          found: element,
          because: `${station} can't hold ${element}.`,
        },
      ];
    });
  },
};
