/** Which settings are lost when a station is opened. */
import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Layout } from './layout.ts';

/** Settings by the station that disturbs them when it is opened. */
export type Disturbing = readonly { readonly station: string; readonly settings: readonly string[] }[];

/**
 * Opening a station disturbs the settings that are made there, and those whose spring goes there, which may be far from
 * the adjuster. A spring is an element with a range for the setting.
 */
export function disturbingStations(edition: Edition, layout: Layout): Disturbing {
  return layout.stations.map(({ id, accepts }) => {
    const sprung = new Set(accepts.flatMap((element) => Object.keys(elementOf(edition, element)?.ranges ?? {})));
    const settings = layout.settings.filter((one) => one.station === id || sprung.has(one.id));
    return { station: id, settings: settings.map((one) => one.id) };
  });
}

export function disturbedBy(disturbing: Disturbing, opened: ReadonlySet<string>): ReadonlySet<string> {
  return new Set(disturbing.filter((one) => opened.has(one.station)).flatMap((one) => one.settings));
}
