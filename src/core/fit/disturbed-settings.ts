/** Which settings are lost when a station is opened. */
import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Layout } from './layout.ts';

/**
 * By station the settings that opening it disturbs: those made there, and those whose spring goes there, which may be
 * far from the adjuster. A spring is an element with a range for the setting.
 */
export function settingsDisturbedAt(edition: Edition, layout: Layout): ReadonlyMap<string, readonly string[]> {
  return new Map(
    layout.stations.map((station) => {
      const sprung = new Set(station.accepts.flatMap((id) => Object.keys(elementOf(edition, id)?.ranges ?? {})));
      const disturbed = layout.settings.filter((one) => one.station === station.id || sprung.has(one.id));
      return [station.id, disturbed.map((one) => one.id)];
    }),
  );
}
