/** The pages' own words, in English and German. What has a name in the edition is called as the edition calls it. */

import { certificateEnglish, certificateGerman } from './furniture-certificate.ts';
import { recordEnglish, recordGerman } from './furniture-record.ts';
import { sheetEnglish, sheetGerman } from './furniture-sheet.ts';
import { traceEnglish, traceGerman } from './furniture-trace.ts';
import type { Part } from './html.ts';

export type Furniture = { readonly lang: string } & typeof english;

/** In the language asked for, where there are words in it; else in English. */
export function furnitureIn(language: string): Furniture {
  return language === 'de' ? { lang: 'de', ...german } : { lang: 'en', ...english };
}

/** `{name}` is filled in. */
export function filled(frame: string, pieces: Readonly<Record<string, string | number>>): string {
  return frame.replaceAll(/\{(\w+)\}/g, (_, name: string) => String(pieces[name] ?? ''));
}

/** The same with markup in the gaps. */
export function filledWith(frame: string, pieces: Readonly<Record<string, Part>>): Part {
  return frame.split(/\{(\w+)\}/).map((part, at) => (at % 2 === 1 ? pieces[part] : part));
}

const english = {
  ...sheetEnglish,
  ...recordEnglish,
  ...traceEnglish,
  certificate: certificateEnglish,
  care: "A recorded setting proves no safe state. The maker's manual, ISO 4413, local codes and trained, licensed people come before this page.",
  control: 'Control',
  pump: 'Pump',
  edition: 'Edition',
  body: 'Body',
  size: 'Size',
  rotation: 'Rotation',
  clockwise: 'clockwise',
  counterclockwise: 'counterclockwise',
  fluid: 'Fluid',
  voltage: 'Voltage',
  station: 'Station',
  joint: 'Joint',
  torque: 'Torque',
  tool: 'Tool',
  seals: 'Seals',
  setting: 'Setting',
  check: 'Check',
  lot: 'Lot',
  reading: 'Reading',
  instrument: 'Instrument',
  quantity: 'Quantity',
  part: 'Part',
  unnamed: 'without a serial of its own',
  noFunction: 'no function of the catalogue',
  nothing: 'nothing',
  notKnown: 'not known',
  none: 'none',
  units: { metric: 'metric', imperial: 'imperial' },
  unitsSaid: 'Values as read; in brackets, rounded, in {system} units.',
};

const german: typeof english = {
  ...sheetGerman,
  ...recordGerman,
  ...traceGerman,
  certificate: certificateGerman,
  care: 'Eine aufgezeichnete Einstellung beweist keinen sicheren Zustand. Das Handbuch des Herstellers, ISO 4413, örtliche Vorschriften und ausgebildete, befugte Personen gehen dieser Seite vor.',
  control: 'Regler',
  pump: 'Pumpe',
  edition: 'Ausgabe',
  body: 'Gehäuse',
  size: 'Größe',
  rotation: 'Drehrichtung',
  clockwise: 'rechts (im Uhrzeigersinn)',
  counterclockwise: 'links (gegen den Uhrzeigersinn)',
  fluid: 'Flüssigkeit',
  voltage: 'Spannung',
  station: 'Stelle',
  joint: 'Verbindung',
  torque: 'Anziehmoment',
  tool: 'Werkzeug',
  seals: 'Dichtungen',
  setting: 'Einstellung',
  check: 'Prüfung',
  lot: 'Los',
  reading: 'Ablesung',
  instrument: 'Messmittel',
  quantity: 'Anzahl',
  part: 'Teil',
  unnamed: 'ohne eigene Nummer',
  noFunction: 'keine Funktion des Katalogs',
  nothing: 'nichts',
  notKnown: 'nicht bekannt',
  none: 'keine',
  units: { metric: 'metrischen', imperial: 'imperialen' },
  unitsSaid: 'Werte wie abgelesen; in Klammern, gerundet, in {system} Einheiten.',
};
