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
      refused: `body ${bodyId} can't have ${functionId}${whyNot(fun, circumstances)}`,
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

/** What is still to be stated where that would do; else what is stated. */
function whyNot(fun: Fun | null, circumstances: BuiltFor): string {
  const fields = ['size', 'rotation', 'voltage'] as const;
  const open = (fun?.retired === true ? [] : (fun?.patterns ?? [])).filter(({ when }) =>
    fields.every((field) => [undefined, circumstances[field] ?? when[field]].includes(when[field])),
  );
  const missing = fields.flatMap((field) => {
    const values = open.flatMap(({ when }) => when[field] ?? []);
    return circumstances[field] === undefined && values.length > 0
      ? [`${field} (${[...new Set(values)].join(' or ')})`]
      : [];
  });
  if (missing.length > 0) return ` while its ${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} not stated`;
  const known = fields.flatMap((field) =>
    circumstances[field] === undefined ? [] : [`${field} ${circumstances[field]}`],
  );
  return known.length === 0 ? '' : ` with ${known.join(' and ')}`;
}
