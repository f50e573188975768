/** Whether a body can have a function, and what the function demands there. */
import type { Body, Edition, Fun, Pattern, Rotation, Size } from '../catalogue/edition.ts';
import { bodyOf, functionOf, functionsOfferedTo, patternFor, sizeOf } from '../catalogue/lookup.ts';
import type { NoPlan } from './plan.ts';

export type BuiltFor = { readonly size?: string; readonly rotation?: Rotation; readonly voltage?: string };
export type PumpAtHand = {
  readonly series: string;
  readonly size: string;
  readonly rotation: Rotation;
  readonly fluid: string | null;
};
export type Target = {
  readonly body: Body;
  readonly function: Fun;
  readonly pattern: Pattern;
  /** Of the pump at hand; null for a control on the shelf. */
  readonly size: Size | null;
};

/** Else the reason, and the functions that the body can have under these circumstances. */
export function targetFunction(
  edition: Edition,
  bodyId: string,
  functionId: string,
  pump: PumpAtHand | null,
  builtFor: BuiltFor,
): Target | NoPlan {
  const body = bodyOf(edition, bodyId);
  if (body === null) return { refused: `edition ${edition.edition} has no body ${bodyId}`, offered: [] };
  const size = pump === null ? null : sizeUnder(edition, bodyId, pump);
  if (size !== null && 'refused' in size) return size;
  const circumstances = pump === null ? builtFor : { ...builtFor, rotation: pump.rotation, size: pump.size };
  const offered = functionsOfferedTo(edition, body, { ...circumstances, series: pump?.series });
  const fun = functionOf(edition, bodyId, functionId);
  const pattern = fun === null ? null : patternFor(fun, circumstances);
  if (fun === null || pattern === null || !offered.includes(fun)) {
    return {
      refused: `body ${bodyId} can't have ${functionId} ${said(circumstances)}`,
      offered: offered.map((one) => one.id),
    };
  }
  return { body, function: fun, pattern, size };
}

function sizeUnder(edition: Edition, bodyId: string, { series, size: sizeId }: PumpAtHand): Size | NoPlan {
  const size = sizeOf(edition, series, sizeId);
  if (size === null)
    return { refused: `edition ${edition.edition} has no size ${sizeId} of series ${series}`, offered: [] };
  if (size.bodies.includes(bodyId)) return size;
  return { refused: `body ${bodyId} doesn't go on size ${sizeId} of series ${series}`, offered: [] };
}

function said(circumstances: BuiltFor): string {
  const known = Object.entries(circumstances).map(([what, value]) => `${what} ${value}`);
  return known.length === 0 ? 'while its size and rotation are not stated' : `with ${known.join(' and ')}`;
}
