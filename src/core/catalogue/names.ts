/**
 * What an edition calls its things, in the language of who reads: its text in that language, else its English one,
 * else the word that stands with the thing itself (English, as ids are). What it is written in comes with the words,
 * so that nothing is passed off as translated.
 */
import type { Edition } from './edition.ts';
import { elementOf, onPump } from './lookup.ts';

/** `lang` is a language tag (BCP 47): what the text is written in, which need not be what was asked for. */
export type Words = { readonly text: string; readonly lang: string };

/** The `lang` of punctuation, values and ids. */
export const noLanguage = '';

export type Named = 'series' | 'body' | 'function' | 'station' | 'joint' | 'setting' | 'kit' | 'check' | 'caution';
export type Names = ReturnType<typeof namesIn>;

const written = 'en';

export function namesIn(edition: Edition, language: string) {
  const find = (key: string): Words | null => {
    for (const lang of [language, written]) {
      const text = textIn(edition, lang, key);
      if (text !== undefined) return { text, lang };
    }
    return null;
  };
  const translated = (own: string): Words => find(`text/${own}`) ?? { text: own, lang: written };
  const named = (kind: string, id: string, own: string = id): Words =>
    find(`${kind}/${id.startsWith(onPump) ? id.slice(onPump.length) : id}`) ?? translated(own);
  return {
    /** `own` is the word that stands with the thing; without one the id has to do. */
    of: (kind: Named, id: string, own?: string): Words => named(kind, id, own),
    /** Where it isn't said on which body: what the station is called, if it is called the same on all that have it. */
    station: (id: string): Words => named('station', id, agreedText(edition, id)),
    element: (id: string): Words => named('element', id, elementOf(edition, id)?.text),
    check: (id: string): Words => named('check', id, edition.checks.find((check) => check.id === id)?.text),
    /** A text of the edition that is about nothing of its own: a condition, an order of tightening, a drive. */
    text: translated,
  };
}

/**
 * The first language wanted that the edition or the service itself has texts in, by RFC 4647 §3.4 (look-up): `de-AT`
 * is served by `de`. Else English.
 */
export function languageFor(edition: Edition, own: readonly string[], wanted: readonly string[]): string {
  const known = new Map([...own, ...Object.keys(edition.texts)].map((one) => [one.toLowerCase(), one]));
  for (const range of wanted) {
    const subtags = range.toLowerCase().split('-');
    for (let length = subtags.length; length > 0; length -= 1) {
      const found = known.get(subtags.slice(0, length).join('-'));
      if (found !== undefined) return found;
    }
  }
  return written;
}

function agreedText(edition: Edition, station: string): string | undefined {
  const sizes = edition.series.flatMap((series) => series.sizes);
  const isOnPump = station.startsWith(onPump);
  const own = isOnPump ? station.slice(onPump.length) : station;
  const stations = (isOnPump ? sizes : edition.bodies).flatMap((owner) => owner.stations);
  const [text, ...others] = new Set(stations.filter(({ id }) => id === own).map((one) => one.text));
  return others.length === 0 ? text : undefined;
}

function textIn(edition: Edition, language: string, key: string): string | undefined {
  const texts = Object.hasOwn(edition.texts, language) ? edition.texts[language] : undefined;
  return texts !== undefined && Object.hasOwn(texts, key) ? texts[key] : undefined;
}
