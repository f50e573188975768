/** Records as pages: how they stand in words, whatever sections they have, and nothing typed is markup. */
import { describe, expect, it } from 'vitest';
import { recordPage } from '../../src/pages/record-page.ts';
import type { RecordRead } from '../../src/pages/record-read.ts';
import { demoWith } from '../support/bench/demo-job.ts';
import { hostile, hostilely } from '../support/hostile.ts';
import { inPageUnits, pageText, reachesOut, tagsOf } from '../support/page-text.ts';

const edition = demoWith({});
const id = '01a21323-ddf3-77d8-87ec-e82580b948c5';
const person = '01a21323-dd2c-763d-9c95-5fadc79b7ef3';
const torque = (value: string) => ({ value, unit: 'N.m' });
const hold = {
  ...{
    rule: 'torque-outside',
    severity: 'hold',
    pointer: '/torques/0/reading',
    expected: '58 to 64 N.m',
    found: '48.0 N.m',
  },
  because: 'sense-adjuster-body was closed with 48.0 N.m; its limits are 58 to 64 N.m.',
  clearedBy: [
    { kind: 'torque', place: 'sense-adjuster-body' },
    { kind: 'disposition', place: id },
  ],
};
const due = {
  ...{ rule: 'check-due', severity: 'due', pointer: '/checks', expected: null, found: null },
  because: 'leak-free is to be done once the control is on a pump.',
  clearedBy: [
    { kind: 'check', place: 'leak-free' },
    { kind: 'not-applicable', place: 'leak-free' },
  ],
};
const seen = {
  ...{ rule: 'content-assumed', severity: 'note', pointer: '/found' },
  because: 'A look is missing.',
  clearedBy: [],
};

const record = {
  ...{
    id,
    kind: 'conversion',
    maker: 'ardenholm',
    edition: '2026-1',
    ruleset: 'rules-3',
    entry: 'ab12',
    status: 'held',
  },
  performed: { from: '2026-03-14T09:25:00.000000Z', to: '2026-03-14T09:25:00.000000Z' },
  ...{ recordedAt: '2026-03-14T09:30:00.000000Z', concerns: null, correctedBy: null, judgedAgain: ['cd34'] },
  units: [{ kind: 'control', name: 'K-20950' }],
  open: [{ ...hold, fact: id }],
  origin: { recordedBy: { client: 'shop-system', subject: 'user-17' } },
  statement: {
    ...{
      reference: 'BR-4711',
      workOrder: 'WO-88',
      shop: 'north',
      technician: person,
      grade: 'from-paper',
      edition: '2026-1',
    },
    ...{ performedAt: '2026-03-14T10:25:00+01:00', to: { function: 'load-sense-bled' }, for: { size: '83' } },
    found: {
      function: 'load-sense',
      stations: { 'signal-port': { unknown: 'capped' }, 'bleed-seat': [{ element: 'plug-m5', quantity: 2 }] },
      settings: { differential: { value: '14.0', unit: 'bar' } },
      plate: 'LS 83',
    },
    removed: [{ station: 'bleed-seat', element: 'plug-m5' }],
    fitted: [
      {
        station: 'bleed-seat',
        element: 'orifice-0.6',
        lot: 'L-7',
        by: person,
        measured: { bore: { value: '0.60', unit: 'mm' } },
      },
      { station: 'pilot-seat', element: { unknown: 'no mark' }, lot: { maker: 'other', number: 'X-1' } },
    ],
    seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: { unknown: 'from a drawer' } }],
    torques: [
      {
        ...{ joint: 'sense-adjuster-body', how: 'set', reading: torque('48.0'), instrument: 'tw-3' },
        adapter: { arm: { value: '400', unit: 'mm' }, extension: { value: '50', unit: 'mm' } },
      },
      {
        joint: 'mounting',
        how: 'indicated',
        reading: [torque('25'), torque('25.5')],
        instrument: { unknown: 'borrowed' },
      },
    ],
    settings: [
      {
        setting: 'differential',
        reading: { value: '14.0', unit: 'bar' },
        instrument: 'pg-1',
        conditions: { speed: { value: '1500', unit: 'r/min' } },
      },
    ],
    checks: [
      { check: 'make-safe', result: 'passed' },
      {
        check: 'bleed-gauged',
        result: 'not-applicable',
        reason: 'gauge lent out',
        at: { at: '2026-03-15', precision: 'day' },
      },
    ],
    measurements: [{ measured: 'case-drain-flow', reading: { value: '1.8', unit: 'L/min' }, instrument: 'glass-1' }],
    aSectionOfTomorrow: { machine: 'Loader 7', hours: { value: '12', unit: 'h' }, list: ['one', { two: true }] },
  },
  judgement: {
    ...{ status: 'held', function: 'load-sense-bled', findings: [seen, due, hold] },
    verdicts: [
      {
        ...{ pointer: '/torques/0/reading', reading: torque('48.0'), verdict: 'outside' },
        ...{ min: torque('58'), max: torque('64') },
      },
    ],
  },
  private: { note: 'Customer collects\non Friday.' },
  people: { [person]: 't-17' },
} satisfies RecordRead;

const shown = { edition, languages: ['en'], units: null };
const textOf = (one: RecordRead, how: Partial<Parameters<typeof recordPage>[1]> = {}) =>
  pageText(recordPage(one, { ...shown, ...how }).markup);

describe('the page of a record', () => {
  const text = textOf(record);

  it('begins with how it stands, and says that a setting proves nothing', () => {
    const start = text.slice(text.lastIndexOf('Record: conversion · Control K-20950'));
    expect(start).toMatch(
      /^Record: conversion · Control K-20950 Held\. Something is wrong and undecided\. It must not ship\. A recorded setting proves no safe state\./,
    );
  });

  it('says it as it is now, and as it was judged then where that differs', () => {
    const cleared = textOf({ ...record, status: 'released', open: [] });
    expect(cleared).toContain('Released. Nothing stands against it. When it was recorded it was judged: Held.');
    expect(text).not.toContain('When it was recorded');
  });

  it('never calls a record released that was corrected', () => {
    const corrected = textOf({ ...record, status: 'released', open: [], correctedBy: 'the-other-id' });
    expect(corrected).toContain('Corrected. A correction replaces this record.');
    expect(corrected).toContain('the-other-id');
    expect(corrected).not.toContain('Released.');
  });

  it('lists holds first, with what clears them, then what is due, then notes; says what was cleared since', () => {
    expect(text).toContain(
      'hold stands sense-adjuster-body was closed with 48.0 N.m; its limits are 58 to 64 N.m. ' +
        'expected 58 to 64 N.m · found 48.0 N.m rule torque-outside the torque of sense-adjuster-body or a concession by somebody else',
    );
    expect(text).toContain('still due cleared since leak-free is to be done');
    expect(text.indexOf('hold stands')).toBeLessThan(text.indexOf('still due cleared'));
    expect(text.indexOf('still due cleared')).toBeLessThan(text.indexOf('note A look is missing.'));
  });

  it('says of a hold under a concession how long and within which limits, and that it stands after that', () => {
    const pressure = { what: 'pressure', atMost: { value: '180', unit: 'bar' } };
    const given = {
      record: 'd',
      until: '2026-06-29T22:00:00.000000Z',
      ended: false,
      limits: [pressure, { text: 'stand only' }],
    };
    const page = (concession: object, how = {}) =>
      textOf({ ...record, open: [{ ...hold, fact: id, concession }] }, how);
    expect(page(given)).toContain(
      'hold under a concession until 2026-06-29 22:00:00.000000 Z pressure ≤ 180 bar stand only sense-adjuster-body was',
    );
    expect(page({ ...given, until: null, limits: [{ text: null }] })).toContain('hold under a concession … sense-');
    expect(page({ ...given, ended: true })).toContain('hold stands sense-adjuster-body was');
    expect(page(given, { languages: ['de'] })).toContain('sonderfreigegeben bis 2026-06-29');
  });

  it('shows what still stands by what clears it where its own judgement has no word of it', () => {
    const later = {
      rule: 'later-work-disagrees',
      severity: 'hold',
      pointer: '/fitted',
      clearedBy: [{ kind: 'content', place: 'bleed-seat' }],
    };
    expect(textOf({ ...record, open: [later] })).toContain(
      'hold stands rule later-work-disagrees what sits at seat in the wall of the adjuster bore',
    );
  });

  it.each([
    [
      'found',
      'Function load sense Plate LS 83 signal port not known: capped seat in the wall of the adjuster bore 2 × screw plug M5 differential 14.0 bar',
    ],
    ['removed', 'Taken out Station Part seat in the wall of the adjuster bore screw plug M5'],
    [
      'fitted, by whom, with lot and measure',
      'seat in the wall of the adjuster bore By: t-17 screw-in orifice M5, bore 0.6 mm Measured: bore 0.60 mm L-7',
    ],
    ['fitted and not known', 'seat in the pilot passage not known: no mark other X-1'],
    ['seals', 'sense-adjuster-body adjuster seal 22 mm, FKM not known: from a drawer'],
    [
      'torques with limits',
      'sense-adjuster-body 48.0 N·m with an extension of 50 mm on an arm of 400 mm set tw-3 ? 58 N·m – 64 N·m outside',
    ],
    ['torques of several screws', 'mounting 25 N·m 25.5 N·m read off not known: borrowed –'],
    ['settings with conditions', 'differential 14.0 bar pg-1 speed 1500 r/min'],
    ['checks', 'the bore of the fitted orifice, by pin gauge At: 2026-03-15 (day) does not apply gauge lent out'],
    ['measurements', 'case-drain-flow 1.8 L/min glass-1'],
    ['sections of kinds to come', 'aSectionOfTomorrow machine Loader 7 hours 12 h list one two true'],
    [
      'who and when',
      'Work done 2026-03-14 10:25:00 +01:00 Recorded 2026-03-14 09:30:00.000000 Z Technician t-17 Shop north Reference BR-4711 Order WO-88 How first-hand from paper',
    ],
    ['what judged it again', 'Judged again by cd34'],
    ['the note', 'Customer collects on Friday.'],
    ['the receipt', `Record ${id} Entry of the log ab12`],
  ])('has %s', (_, said) => {
    expect(text).toContain(said);
  });

  it('names people only by what its reader was given', () => {
    const analyst = textOf({ ...record, people: {}, private: null });
    expect(analyst).not.toContain('t-17');
    expect(analyst).not.toContain('Note ');
    expect(analyst).toContain(`Technician ${person}`);
  });

  it('of a fact that is about no unit and names no edition has what it states', () => {
    const shop: RecordRead = {
      ...{
        ...record,
        kind: 'shop',
        maker: null,
        edition: null,
        ruleset: null,
        units: [],
        open: [],
        status: 'released',
      },
      ...{ statement: { name: 'north yard' }, judgement: {}, private: null },
    };
    const said = textOf(shop, { edition: null });
    expect(said).toContain('Record: shop');
    expect(said).toContain('name north yard');
    expect(said).not.toContain('Released');
  });

  it('has a picture of every verdict, that says in words what it shows, and a key to the signs in it', () => {
    const [verdict] = record.judgement.verdicts;
    const given = { ...verdict, of: 'torque', place: 'sense-adjuster-body', reading: torque('48.0') };
    const sure = { estimate: torque('48.4'), uncertainty: torque('0.62'), guardBand: torque('1.24') };
    const markupOf = (one: object) =>
      recordPage({ ...record, judgement: { ...record.judgement, verdicts: [{ ...given, ...one }] } }, shown).markup;
    const labelIn = (markup: string) => /<svg class="scale"[^>]*aria-label="([^"]*)"/.exec(markup)?.[1];
    const unsure = markupOf({ uncertainty: null, probability: null, max: null });
    expect(inPageUnits(labelIn(unsure)?.replaceAll('\u00a0', ' ') ?? '')).toBe(
      '48.0 N·m: outside; limits 58 N·m to …; target 61.0 N·m; how true the instrument is, is not known',
    );
    expect(pageText(unsure)).toContain('outside ? uncertainty not known target');
    const known = markupOf(sure);
    expect(labelIn(known)?.replaceAll('\u00a0', ' ')).toBe(
      '48.4 N·m: outside; limits 58 N·m to 64 N·m; target 61.0 N·m; expanded uncertainty ± 1.24 N·m (k = 2); guard band 1.24 N·m',
    );
    expect(pageText(known)).toContain(
      'outside as the instrument showed it expanded uncertainty (k = 2) guard band target',
    );
  });

  it('is in German where that is asked for, with the English sentences of its findings marked', () => {
    const { markup, lang } = recordPage(record, { ...shown, languages: ['de'] });
    expect(lang).toBe('de');
    expect(pageText(markup)).toContain('Gesperrt. Etwas ist falsch und nicht entschieden.');
    expect(markup).toContain(`<span lang="en">${hold.because}</span>`);
  });

  it('shows readings as read first, then in the units of the reader', () => {
    // 48 N·m = 35.40 lbf·ft, recomputed from the definitions of NIST SP 811 app. B.8.
    expect(textOf(record, { units: 'imperial' })).toContain('48.0 N·m (35.40 lbf·ft)');
  });

  it('loads nothing, runs nothing and leads nowhere', () => {
    expect(reachesOut(recordPage(record, shown).markup)).toEqual([]);
  });
});

describe('hostile texts', () => {
  it('in every text and name of a record stay texts', () => {
    const { markup } = recordPage(hostilely(record), {
      edition: hostilely(edition),
      languages: ['en'],
      units: 'imperial',
    });
    expect(markup.split(hostile.escaped).length).toBeGreaterThan(60);
    for (const piece of hostile.pieces) expect(markup).not.toContain(piece);
    expect(tagsOf(markup)).toEqual(tagsOf(recordPage(record, { ...shown, units: 'imperial' }).markup));
    expect(reachesOut(markup)).toEqual([]);
    expect(markup.split('</style>')).toHaveLength(2);
  });
});
