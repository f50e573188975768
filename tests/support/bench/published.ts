/** Every edition that the project ships or tests on, and every situation in which one of its bodies can be. */
import { readdirSync, readFileSync } from 'node:fs';
import { type Demand, type Edition, editionSchema, rotation } from '../../../src/core/catalogue/edition.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { demandsOf, type Layout, layoutOf } from './layout.ts';
import { type Piece, wanted } from './pieces.ts';

const folders = ['../editions/', '../../../src/cli/demo/'].map((folder) => new URL(folder, import.meta.url));

export function publishedEditions(): { name: string; edition: Edition }[] {
  return folders.flatMap((folder) =>
    readdirSync(folder)
      .filter((file) => file.endsWith('.json'))
      .sort()
      .map((name) => ({ name, edition: editionSchema.parse(JSON.parse(readFileSync(new URL(name, folder), 'utf8'))) })),
  );
}

export type Setting = Pick<ConversionJob, 'body' | 'pump' | 'builtFor'> & { series: string; size: string };

/** Each body on each size that takes it, in each rotation and voltage, on a pump and on the shelf. */
export function situationsIn(edition: Edition): Setting[] {
  const voltages = new Set(edition.functions.flatMap((fun) => fun.patterns.map(({ when }) => when.voltage)));
  return edition.bodies.flatMap(({ id: body }) =>
    edition.series.flatMap(({ id: series, sizes }) =>
      sizes
        .filter((size) => size.bodies.includes(body))
        .flatMap(({ id: size }) =>
          [...new Set([undefined, ...voltages])].flatMap((voltage) =>
            rotation.options.flatMap((turns): Setting[] => {
              const builtFor = { size, rotation: turns, ...(voltage !== undefined && { voltage }) };
              const pump = { series, size, rotation: turns, fluid: null };
              return [null, pump].map((at) => ({ body, series, size, builtFor, pump: at }));
            }),
          ),
        ),
    ),
  );
}

/**
 * Contents that make a function: with the first element wherever several will do and nothing of what may be left out,
 * or with the last and as much as there may be. Stations that the function leaves as they are are empty or hold the first
 * thing they take.
 */
export function contentsFor(
  layout: Layout,
  demands: Readonly<Record<string, Demand>>,
  which: 'first' | 'last',
): Record<string, readonly Piece[]> {
  return Object.fromEntries(
    [...layout.stations.values()].map(({ id, accepts: [accepted], most }): [string, readonly Piece[]] => {
      const demand = demands[id] ?? 'keep';
      if (which === 'first') return [id, demand === 'keep' ? [] : (wanted(null, demand, undefined, most) ?? [])];
      if (demand === 'keep') return [id, accepted === undefined ? [] : [{ element: accepted, quantity: 1 }]];
      const last = Array.isArray(demand) ? demand.at(-1) : undefined;
      const full = Array.isArray(demand) ? demand.flatMap((one) => (hasLimit(one) ? pieceOf(one) : [])) : [];
      return [id, wanted(full, demand, typeof last === 'string' ? last : undefined, most) ?? []];
    }),
  );
}

type Limited = { readonly element: string; readonly upTo: number };

function hasLimit(entry: unknown): entry is Limited {
  return typeof entry === 'object' && entry !== null && 'upTo' in entry;
}

function pieceOf({ element, upTo: quantity }: Limited): Piece {
  return { element, quantity };
}

/** Functions with a pattern for the situation that demands no part where this size of pump has no place for it. */
export function offeredIn(
  edition: Edition,
  { body, series, size, builtFor }: Omit<Setting, 'pump'>,
): Map<string, Record<string, Demand>> {
  const places = layoutOf(edition, body, { series, size }).stations;
  const offered = new Map<string, Record<string, Demand>>();
  for (const fun of edition.functions) {
    const demands = fun.body === body && fun.retired !== true ? demandsOf(fun, builtFor) : null;
    if (demands === null) continue;
    if (Object.entries(demands).every(([place, demand]) => !Array.isArray(demand) || places.has(place))) {
      offered.set(fun.id, demands);
    }
  }
  return offered;
}
