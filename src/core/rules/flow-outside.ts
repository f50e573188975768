import { flowsThrough } from '../judge/flows.ts';
import { dischargeBand } from '../physics/hydraulics.ts';
import { benchWork, type Rule } from './rule.ts';

export const flowOutside: Rule = {
  id: 'flow-outside',
  severity: 'note',
  kinds: benchWork,
  sentence: 'A flow measured through an orifice is what its bore lets through at the pressure across it.',
  basis:
    'Q = C_d·A·√(2Δp/ρ), as a band over the discharge of short tubes (common practice, no published source); too wide to hold by: the sure check is a pin gauge.',
  clears: null,
  check: (judged) =>
    flowsThrough(judged).flatMap(({ pointer, station, reading, pressure, orifice }) => {
      if (orifice === null || orifice.isWithin) return [];
      const { element, bore, least, most, density } = orifice;
      const band = `${least.toFixed(2)} to ${most.toFixed(2)} L/min`;
      return [
        {
          pointer,
          expected: band,
          found: `${reading.value} ${reading.unit}`,
          because: `Through ${station} flow ${reading.value} ${reading.unit} at ${pressure.value} ${pressure.unit}; ${element} (${bore.value} ${bore.unit}) lets ${band} through, with C_d ${dischargeBand.least} to ${dischargeBand.most} and a density taken as ${density} kg/m³.`,
        },
      ];
    }),
};
