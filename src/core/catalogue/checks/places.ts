/** Walks over an edition that several checks share. */
import type { Body, Edition, Joint, Setting, Size, Station } from '../edition.ts';
import { onPump, sizesWith } from '../lookup.ts';
import type { Path } from '../problem.ts';

/** A body or a size: whatever has stations, joints and settings, with its path in the edition. */
export type Owner = {
  readonly path: Path;
  /** Names one body or size of the edition. */
  readonly name: string;
  readonly stations: readonly Station[];
  readonly joints: readonly Joint[];
  readonly settings: readonly Setting[];
};

export function ownersOf(edition: Edition): readonly Owner[] {
  return [
    ...edition.bodies.map((body, at) => ({ ...body, path: ['bodies', at], name: `body ${body.id}` })),
    ...sizesOf(edition).map(({ size, series, path }) => ({ ...size, path, name: `size ${size.id} of ${series}` })),
  ];
}

type PlacedSize = { readonly size: Size; readonly series: string; readonly path: Path };

export function sizesOf(edition: Edition): readonly PlacedSize[] {
  return edition.series.flatMap((series, at) =>
    series.sizes.map((size, nth) => ({ size, series: series.id, path: ['series', at, 'sizes', nth] })),
  );
}

/** Every station that a place beside a body may mean: one of the body, or one on each pump that has it. */
export function stationsAt(edition: Edition, body: Body, place: string, sizeId?: string): readonly Station[] {
  if (!place.startsWith(onPump)) return body.stations.filter((station) => station.id === place);
  return sizesWith(edition, body.id)
    .filter((size) => sizeId === undefined || size.id === sizeId)
    .flatMap((size) => size.stations.filter((station) => onPump + station.id === place));
}

/** Every setting that a place beside a body may mean: one of the body, or one on each pump that has it. */
export function settingsAt(edition: Edition, body: Body, place: string): readonly Setting[] {
  if (!place.startsWith(onPump)) return body.settings.filter((setting) => setting.id === place);
  return sizesWith(edition, body.id).flatMap((size) =>
    size.settings.filter((setting) => onPump + setting.id === place),
  );
}

type Limits = NonNullable<Setting['at']>[string];

/** What must be so while settings are read, one by one. */
export function conditionsOf(edition: Edition): readonly { readonly limits: Limits; readonly path: Path }[] {
  return ownersOf(edition).flatMap((owner) =>
    owner.settings.flatMap(({ at = {} }, nth) =>
      Object.entries(at).map(([name, limits]) => ({ limits, path: [...owner.path, 'settings', nth, 'at', name] })),
    ),
  );
}

/** The ids that appear more than once, by where they appear again. */
export function repeats(ids: readonly string[]): readonly { readonly at: number; readonly id: string }[] {
  const seen = new Set<string>();
  return ids.flatMap((id, at) => {
    if (seen.has(id)) return [{ at, id }];
    seen.add(id);
    return [];
  });
}
