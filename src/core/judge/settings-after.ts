/** The settings of the pair of control and pump as a record leaves them. */
import { disturbedBy, disturbingStations } from '../fit/disturbed-settings.ts';
import { knownSettings } from '../history/at-hand.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Case } from './case.ts';
import { staysOnPump } from './evidence.ts';

/** Readings as they were taken; what was disturbed and not read again is no longer known, whatever was found before. */
export function settingsAfter(judged: Case): Record<string, Quantity | null> {
  const { record, edition, layout, demanded } = judged;
  if (!staysOnPump(judged)) return {};
  const opened = disturbedBy(disturbingStations(edition, layout), demanded.ways.opened);
  const loosened = demanded.settings.filter((one) => one.because === 'disturbed').map((one) => one.setting);
  return {
    ...record.found?.settings,
    ...Object.fromEntries([...opened, ...loosened].map((id) => [id, null])),
    // Of several readings of one setting the last stays.
    ...Object.fromEntries(record.settings.map((one) => [one.setting, one.reading])),
  };
}

/** All of them; null where they are disturbed and not read again. */
export function settingsOfPair(judged: Case): Readonly<Record<string, Quantity | null>> {
  return { ...knownSettings(judged.control.state), ...settingsAfter(judged) };
}
