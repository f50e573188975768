/**
 * What every job sheet begins with. The usual cautions of work on hydraulic systems, after ISO 4413 and common
 * practice; none replaces the maker's manual, local codes, or trained people.
 */
import type { Edition } from '../catalogue/edition.ts';
import { namesIn, type Words } from '../catalogue/names.ts';

/** The service's own, then those of the edition, in the language asked for as far as there are texts in it. */
export function cautionsFor(edition: Edition, language: string): readonly Words[] {
  const names = namesIn(edition, language);
  const own = language === 'de' ? { lang: 'de', texts: german } : { lang: 'en', texts: english };
  return [
    ...own.texts.map((text) => ({ text, lang: own.lang })),
    ...edition.cautions.map((text, at) => names.of('caution', String(at + 1), text)),
  ];
}

const english: readonly string[] = Object.freeze([
  "Work by trained, authorised people only. The maker's manual, ISO 4413 and local codes come before this sheet.",
  'Stop the drive and lock it out. Isolate the coils.',
  'Lower held loads, or block them.',
  'Relieve the pressure, discharge accumulators, and verify zero pressure with a gauge: a recorded step, not an assumption.',
  'Let it cool: oil and housings burn.',
  'Springs are preloaded: back them off before an adjuster is taken out.',
  'Never feel for a leak by hand. Fluid under the skin is a surgical emergency, even if it does not hurt.',
  'Never start with an unknown setting: back the adjusters off, with a relief valve known to be in circuit.',
  'A recorded setting does not prove a safe state.',
]);

/** Caution by caution the same as the English. */
const german: readonly string[] = Object.freeze([
  'Arbeit nur durch ausgebildete, befugte Personen. Das Handbuch des Herstellers, ISO 4413 und örtliche Vorschriften gehen diesem Blatt vor.',
  'Antrieb stillsetzen und gegen Einschalten sichern. Spulen stromlos machen.',
  'Gehaltene Lasten absenken oder abstützen.',
  'Druck ablassen, Speicher entladen und mit einem Manometer prüfen, dass kein Druck mehr da ist: ein Schritt, der aufgezeichnet wird, keine Annahme.',
  'Abkühlen lassen: Öl und Gehäuse verbrennen die Haut.',
  'Federn stehen unter Spannung: zurückdrehen, bevor ein Einsteller herausgenommen wird.',
  'Nie mit der Hand nach einem Leck tasten. Flüssigkeit unter der Haut ist ein chirurgischer Notfall, auch wenn es nicht schmerzt.',
  'Nie mit unbekannter Einstellung anlaufen lassen: Einsteller zurückdrehen, mit einem Druckbegrenzungsventil, das sicher im Kreis ist.',
  'Eine aufgezeichnete Einstellung beweist keinen sicheren Zustand.',
]);
