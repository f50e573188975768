/** Jobs on the demo edition: a control that is one of its functions to the letter, seen and set. */
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import type { Fit } from '../../../src/core/fit/fit.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import type { PumpAtHand } from '../../../src/core/fit/target-function.ts';
import { changed, checkedEdition, editionInput } from '../editions/editions.ts';
import { demandsOf, layoutOf } from './layout.ts';
import { contentsFor } from './published.ts';

export const pump83: PumpAtHand = { series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' };

export function demoWith(changes: Readonly<Record<string, unknown>>): Edition {
  return checkedEdition(changed(editionInput('demo'), changes));
}

/** `instead` puts something else at single stations. */
export function demoJob(
  from: string,
  to: string,
  { instead = {}, ...rest }: Partial<ConversionJob> & { instead?: Readonly<Record<string, string>> } = {},
): ConversionJob {
  const { edition = demoWith({}), body = 'curlew-block', pump = pump83, builtFor = {} } = rest;
  const fit = fitOf(edition, body, from, pump, { ...builtFor, ...pump }, instead);
  return { edition, body, pump, builtFor, fit, from, settings: {}, to, choices: {}, ...rest };
}

function fitOf(
  edition: Edition,
  body: string,
  functionId: string,
  pump: PumpAtHand | null,
  situation: Parameters<typeof demandsOf>[1],
  instead: Readonly<Record<string, string>>,
): Fit {
  const fun = edition.functions.find((each) => each.id === functionId && each.body === body);
  if (fun === undefined) throw new Error(`the edition has no function ${functionId}`);
  const contents = contentsFor(layoutOf(edition, body, pump), demandsOf(fun, situation) ?? {}, 'first');
  const others = Object.entries(instead).map(([station, element]) => [station, [{ element, quantity: 1 }]] as const);
  return Object.fromEntries(
    Object.entries({ ...contents, ...Object.fromEntries(others) }).map(([station, elements]) => [
      station,
      { elements, basis: 'seen' as const },
    ]),
  );
}
