import { flowsThrough } from '../judge/flows.ts';
import { benchWork, type Rule } from './rule.ts';

export const flowUnknown: Rule = {
  id: 'flow-unknown',
  severity: 'note',
  kinds: benchWork,
  sentence: 'Where a flow through a station is measured, it is known which bore is there.',
  basis: 'What a reading is held against is known, or said not to be.',
  clears: null,
  check: (judged) =>
    flowsThrough(judged).flatMap(({ pointer, station, reading, orifice }) =>
      orifice !== null
        ? []
        : [
            {
              pointer,
              found: `${reading.value} ${reading.unit}`,
              because: `What should flow through ${station} is not known: the bore that is there is not.`,
            },
          ],
    ),
};
