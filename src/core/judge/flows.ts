/** Flows that a record measured through a station, beside what the orifice there lets through. */
import { elementOf } from '../catalogue/lookup.ts';
import { contentAt } from '../fit/layout.ts';
import { dischargeBand, orificeFlow } from '../physics/hydraulics.ts';
import { numberIn } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Case } from './case.ts';

/** kg/m³ of mineral oil: nobody measures it, so findings say that it is taken. */
const density = 870;

export type FlowThrough = {
  readonly pointer: string;
  readonly station: string;
  readonly reading: Quantity;
  readonly pressure: Quantity;
  /** The one orifice that sits there after the work, with its band in L/min; null: nobody knows of one. */
  readonly orifice: {
    readonly element: string;
    readonly bore: Quantity;
    readonly least: number;
    readonly most: number;
    readonly density: number;
    readonly isWithin: boolean;
  } | null;
};

export function flowsThrough(judged: Case): FlowThrough[] {
  return judged.record.measurements.flatMap(({ through, reading }, at) => {
    if (through === undefined) return [];
    const { station, pressure } = through;
    const bounds = bandAt(judged, station, pressure);
    const flow = numberIn(reading, 'L/min');
    const orifice = bounds && { ...bounds, isWithin: flow >= bounds.least && flow <= bounds.most };
    return [{ pointer: `/measurements/${at}/reading`, station, reading, pressure, orifice }];
  });
}

/** Of several pieces nobody knows how they lie to each other. */
function bandAt({ edition, layout, after }: Case, station: string, pressure: Quantity) {
  const held = contentAt(layout, after, station).elements ?? [];
  const [one, ...others] = held.flatMap(({ element, quantity }) => Array<string>(quantity).fill(element));
  const bore = one === undefined ? undefined : elementOf(edition, one)?.bore;
  if (one === undefined || bore === undefined || others.length > 0) return null;
  const flow = (discharge: number) => orificeFlow(numberIn(bore, 'mm'), numberIn(pressure, 'bar'), discharge, density);
  return { element: one, bore, least: flow(dischargeBand.least), most: flow(dischargeBand.most), density };
}
