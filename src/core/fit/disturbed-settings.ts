/** Which settings are lost when a station is opened. */
import type { Edition, Station } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { onceFor } from '../once-for.ts';
import type { Layout } from './layout.ts';

/** Settings by the station that disturbs them when it is opened. */
export type Disturbing = ReadonlyMap<string, readonly string[]>;

/**
 * Opening a station disturbs the settings that are made there, and those whose spring goes there, which may be far from
 * the adjuster. A spring is an element with a range for the setting.
 */
export function disturbingStations(edition: Edition, layout: Layout): Disturbing {
  return disturbingIn(edition)(layout);
}

const disturbingIn = onceFor((edition: Edition) =>
  onceFor((layout: Layout): Disturbing => {
    const disturbs = ({ id, accepts }: Station): string[] => {
      const sprung = new Set(accepts.flatMap((element) => Object.keys(elementOf(edition, element)?.ranges ?? {})));
      return layout.settings.filter((one) => one.station === id || sprung.has(one.id)).map((one) => one.id);
    };
    return new Map(layout.stations.map((station) => [station.id, disturbs(station)]));
  }),
);

export function disturbedBy(disturbing: Disturbing, opened: readonly string[]): ReadonlySet<string> {
  return new Set(opened.flatMap((station) => disturbing.get(station) ?? []));
}
