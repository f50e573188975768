/** A job sheet in the reader's language, as far as there are words in it. */
import { describe, expect, it } from 'vitest';
import { bodyOf } from '../../../src/core/catalogue/lookup.ts';
import { languageFor } from '../../../src/core/catalogue/names.ts';
import { cautionsFor } from '../../../src/core/fit/cautions.ts';
import { layoutOf } from '../../../src/core/fit/layout.ts';
import { sentencesOf, withTexts } from '../../../src/core/fit/step-texts.ts';
import { demoJob, demoWith } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';

const job = demoJob('load-sense-bled', 'remote-pressure', {
  edition: demoWith({
    '/texts/de/joint~1side-cap-body': 'Gewinde der Seitenkappe',
    '/texts/de/text~1hex socket': undefined,
  }),
});
const body = bodyOf(job.edition, job.body);
if (body === null) throw new Error('no body');
const plan = planOf(job);
const wordsIn = (language: string) => ({
  edition: job.edition,
  layout: layoutOf(body, null),
  settings: plan.settings,
  language,
});
const textsIn = (language: string) => withTexts(plan.steps, wordsIn(language)).map(({ text }) => text);

describe('the steps of a sheet', () => {
  it('are said in German where the edition has German words', () => {
    expect(textsIn('de')).toEqual(
      expect.arrayContaining([
        'Seitenkappe: Gewinde der Seitenkappe öffnen (Sechskant 24 mm).',
        'Seitenkappe: Gewinde der Seitenkappe schließen, 34 ± 2 N.m (Sechskant 24 mm; neue Dichtungen: seal-14).',
        'Sitz in der Wand der Einstellbohrung: herausnehmen, bleibt draußen: Einschraubblende M5, Bohrung 0,6 mm.',
      ]),
    );
  });

  it('in a language without words of the service are in English, with the words that the edition has', () => {
    const edition = demoWith({ '/texts/nl': { 'station/side-cap': 'zijkap' } });
    const texts = withTexts(plan.steps, { ...wordsIn('nl'), edition }).map(({ text }) => text);
    expect(texts).toContain('Zijkap: open side-cap-body (hex 24 mm).');
    expect(texts).toContain(textsIn('en')[0]);
  });

  it('say of every word which language it is in', () => {
    const say = sentencesOf(wordsIn('de'));
    const open = plan.steps.find(({ joint, action }) => action === 'open' && joint === 'pilot-seat-element');
    if (open === undefined) throw new Error('no such step');
    const runs = say(open).map((run) => ('text' in run ? [run.lang, run.text] : run));
    expect(runs).toEqual([
      ['de', 'Sitz im Steuerkanal'],
      ['de', ': '],
      ['en', 'pilot-seat-element'],
      ['de', ' öffnen ('],
      ['en', 'hex socket 2.5 mm'],
      ['de', ')'],
      ['de', '.'],
    ]);
  });
});

describe('cautions', () => {
  it("come from the service first, then from the edition, in the reader's language", () => {
    const german = cautionsFor(job.edition, 'de');
    expect(german.map(({ lang }) => lang)).toEqual(german.map(() => 'de'));
    expect(german).toHaveLength(cautionsFor(job.edition, 'en').length);
    expect(german.at(-1)?.text).toBe('Vor dem ersten Anlauf beide Einsteller zurückdrehen.');
  });

  it('that are not translated stay, in English', () => {
    const edition = demoWith({ '/texts/de/caution~11': undefined });
    const [caution] = cautionsFor(edition, 'de').slice(-2);
    expect(caution).toEqual({ text: 'Hold an adjuster while it is unscrewed: its spring pushes.', lang: 'en' });
  });
});

describe('the language of a reader', () => {
  // RFC 4647 §3.4: a range is shortened from its end until something is found.
  it.each([
    [['de-AT'], 'de'],
    [['fr', 'de'], 'de'],
    [['DE'], 'de'],
    [['fr'], 'en'],
    [[], 'en'],
    [['en-GB', 'de'], 'en'],
  ])('%j is served in %s', (wanted, served) => {
    expect(languageFor(job.edition, ['en', 'de'], wanted)).toBe(served);
  });
});
