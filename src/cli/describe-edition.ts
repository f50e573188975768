import type { Body, Edition, Size } from '../core/catalogue/edition.ts';
import { functionsOf } from '../core/catalogue/lookup.ts';
import type { Quantity } from '../core/quantity/quantity.ts';

/** An edition in a few lines, for somebody who has just written or received one. */
export function describeEdition(edition: Edition): string[] {
  return [
    `Edition ${edition.edition} of ${edition.maker}, in effect from ${edition.effectiveFrom}`,
    ...edition.series.flatMap((series) => [
      `series ${series.id}`,
      ...series.sizes.map((size) => `  size ${describeSize(size)}`),
    ]),
    ...edition.bodies.flatMap((body) => describeBody(edition, body)),
    edition.kits.length === 0 ? 'no kits' : 'kits',
    ...edition.kits.map((kit) => `  ${kit.part}: ${kit.contents.map(pieces).join(', ')}`),
    `${edition.elements.length} elements, ${edition.checks.length} checks, texts in ${languages(edition)}`,
  ];
}

function describeSize(size: Size): string {
  const own = size.stations.length === 0 ? '' : `; stations ${size.stations.map((station) => station.id).join(', ')}`;
  return `${size.id}: ${said(size.displacement)}, set up to ${said(size.highestSetting)}, peak ${said(size.peakPressure)}${own}`;
}

function describeBody(edition: Edition, body: Body): string[] {
  const rotation = body.rotationDependent ? 'for one rotation each' : 'for both rotations';
  return [
    `body ${body.id}, ${rotation}: ${body.stations.length} stations, ${body.joints.length} joints`,
    ...functionsOf(edition, body.id).map((fun) => {
      const settings = fun.settings.map((one) => one.setting).join(', ');
      return `  function ${fun.id}${settings === '' ? '' : `: sets ${settings}`}`;
    }),
  ];
}

function pieces({ element, quantity }: { element: string; quantity: number }): string {
  return quantity === 1 ? element : `${quantity} ${element}`;
}

function languages(edition: Edition): string {
  return Object.keys(edition.texts).join(', ') || 'no language';
}

function said({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}
