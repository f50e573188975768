/** Certificates as pages: all that is proven is on it and nothing else, how far it goes, and the code that leads to it. */
import { describe, expect, it } from 'vitest';
import { type Certificate, withhold } from '../../src/core/log/certificate.ts';
import { type Section, sections } from '../../src/core/log/leaf.ts';
import { certificatePage } from '../../src/pages/certificate-page.ts';
import { qrPicture } from '../../src/pages/qr-picture.ts';
import { demoWith } from '../support/bench/demo-job.ts';
import { hostile, hostilely } from '../support/hostile.ts';
import { inPageUnits, pageText, reachesOut, tagsOf } from '../support/page-text.ts';
import { codeIn } from '../support/read-code.ts';

const edition = demoWith({});
const id = '01a21323-ddf3-77d8-87ec-e82580b948c5';
const [control, pump] = ['01a21323-0001-7000-8000-000000000001', '01a21323-0002-7000-8000-000000000002'];
const person = '01a21323-dd2c-763d-9c95-5fadc79b7ef3';
const entry = 'c0ffee00'.repeat(8);
const before = 'ab12cd34'.repeat(8);
const address = `https://records.example/v1/records/${id}/certificate`;
const torque = (value: string) => ({ value, unit: 'N.m' });
const bar = (value: string) => ({ value, unit: 'bar' });

const statement = {
  ...{
    control: { maker: 'ardenholm', serial: 'K-20931' },
    reference: 'BR-4711',
    workOrder: 'WO-88',
    edition: '2026-1',
  },
  ...{ performedAt: '2026-03-14T10:25:00+01:00', shop: 'north', technician: person, grade: 'first-hand' },
  ...{ found: { function: 'load-sense' }, to: { function: 'load-sense-bled' }, sheet: 'sha256:77' },
  removed: [
    { station: 'bleed-seat', element: 'plug-m5' },
    { station: 'pilot-seat', element: { unknown: 'no mark' } },
  ],
  fitted: [
    { station: 'bleed-seat', element: 'orifice-0.6', lot: 'L-7', measured: { bore: { value: '0.60', unit: 'mm' } } },
    { station: 'signal-port', element: 'port-plug', quantity: 2, lot: { maker: 'other', number: 'X-1' } },
  ],
  seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: { unknown: 'from a drawer' } }],
  torques: [
    { joint: 'sense-adjuster-body', how: 'set', reading: torque('61.0'), instrument: 'tw-3' },
    {
      joint: 'mounting',
      how: 'indicated',
      reading: [torque('25'), torque('25.5')],
      instrument: { unknown: 'borrowed' },
    },
  ],
  settings: [
    {
      ...{ setting: 'differential', reading: bar('14.0'), instrument: 'pg-1' },
      conditions: { speed: { value: '1500', unit: 'r/min' } },
    },
  ],
  checks: [
    { check: 'make-safe', result: 'passed' },
    { check: 'bleed-gauged', result: 'not-applicable', reason: 'gauge lent out' },
  ],
  measurements: [{ measured: 'case-drain-flow', reading: { value: '1.8', unit: 'L/min' }, instrument: 'glass-1' }],
};
const judgement = {
  ...{ status: 'incomplete', function: 'load-sense-bled', units: { control, pump } },
  findings: [{ rule: 'check-due', severity: 'due', pointer: '/checks', because: 'leak-free is to be done.' }],
  verdicts: [
    {
      ...{ pointer: '/torques/0/reading', of: 'torque', place: 'sense-adjuster-body', instrument: 'instrument-by-id' },
      ...{ reading: torque('61.0'), min: torque('58'), max: torque('64'), verdict: 'conforms' },
      ...{ rule: 'guard-band', probability: 0.9876 },
    },
    {
      ...{ pointer: '/torques/1/reading/1', of: 'torque', place: 'mounting', instrument: null },
      ...{ reading: torque('25.5'), min: torque('22'), max: torque('28'), verdict: 'undecided' },
      ...{ rule: 'simple', probability: null },
    },
    {
      ...{ pointer: '/settings/0/reading', of: 'setting', place: 'differential', instrument: 'gauge-by-id' },
      ...{ reading: bar('14.0'), min: bar('10'), max: bar('20'), verdict: 'conforms', rule: 'simple', probability: 1 },
    },
  ],
};
const salt = '00'.repeat(16);
const certificate: Certificate = {
  v: 1,
  leaf: {
    ...{ id, kind: 'conversion', recordedAt: '2026-03-14T09:30:00.123456Z', edition: '2026-1', ruleset: 'rules-11' },
    subjects: [
      { unit: control, seq: 7, prev: before },
      { unit: pump, seq: 1, prev: null },
    ],
    digests: { origin: before, statement: before, judgement: before, private: before },
  },
  sections: {
    origin: { salt, content: { owner: 'the-owner', recordedBy: { client: 'shop-system', subject: 'user-17' } } },
    statement: { salt, content: statement },
    judgement: { salt, content: judgement },
    private: { salt, content: { note: 'Customer collects on Friday.' } },
  },
  proof: {
    entry,
    index: 4711,
    hashes: [],
    checkpoint: `log.example\n90210\n${'A'.repeat(43)}=\n\n— log.example ${'A'.repeat(92)}\n`,
  },
};

const shown = { edition, languages: ['en'], units: null, address };
type How = Partial<Parameters<typeof certificatePage>[1]>;
const markupOf = (one: Certificate, how: How = {}) => certificatePage(one, { ...shown, ...how }).markup;
const textOf = (one: Certificate, how: How = {}) => pageText(markupOf(one, how));

describe('the page of a certificate', () => {
  const text = textOf(certificate);

  it('begins with the cautions, the service’s and the edition’s', () => {
    const start = text.slice(text.lastIndexOf('Certificate: conversion · Control K-20931'));
    expect(start).toMatch(
      /^Certificate: conversion · Control K-20931 Read this first Work by trained, authorised people/,
    );
    expect(start.indexOf('local codes come before')).toBeLessThan(start.indexOf('Function after the work'));
    expect(edition.cautions.length).toBeGreaterThan(0);
    for (const caution of edition.cautions) {
      expect(start.indexOf(caution)).toBeGreaterThan(0);
      expect(start.indexOf(caution)).toBeLessThan(start.indexOf('Function after the work'));
    }
  });

  it.each([
    [
      'the unit, its maker and the function by its name',
      'Control K-20931 · ardenholm Function after the work load sense, bled',
    ],
    [
      'when, where and by whom',
      `Work done 2026-03-14 10:25:00 +01:00 Recorded 2026-03-14 09:30:00.123456 Z Shop north Technician ${person} Reference BR-4711 Order WO-88 How first-hand first-hand`,
    ],
    ['edition and rule set', 'Edition 2026-1 Judged by rules-11 Kept for the-owner Sent by shop-system · user-17'],
    [
      'what came out and what went in, with its lot',
      'seat in the wall of the adjuster bore screw plug M5 screw-in orifice M5, bore 0.6 mm Measured: bore 0.60 mm L-7',
    ],
    ['what was taken out and is not known', 'seat in the pilot passage not known: no mark – –'],
    ['what only went in, with a lot of another maker', 'signal port – 2 × port plug other X-1'],
    [
      'a torque, limits, verdict, rule, probability, instrument',
      'sense-adjuster-body 61.0 N·m 58 N·m – 64 N·m within limits, with a guard band 98.8 % tw-3',
    ],
    [
      'one that is not decided',
      'mounting 25 N·m 25.5 N·m 22 N·m – 28 N·m not decided, by simple acceptance not known not known: borrowed',
    ],
    [
      'a setting with its condition',
      'differential 14.0 bar speed 1500 r/min 10 bar – 20 bar within limits, by simple acceptance 100 % pg-1',
    ],
    ['seals with lots', 'sense-adjuster-body adjuster seal 22 mm, FKM not known: from a drawer'],
    ['checks', 'the bore of the fitted orifice, by pin gauge does not apply gauge lent out'],
    ['measurements', 'case-drain-flow 1.8 L/min glass-1 –'],
    ['what was found', 'As found Function load sense'],
    ['what else is stated', 'Worked to sheet sha256:77'],
    ['the note', 'Note Customer collects on Friday.'],
    [
      'how it was judged, and that this is cleared',
      'When it was recorded it was judged: Incomplete. What stood against it then has been cleared since',
    ],
    ['the findings then', 'still due: leak-free is to be done. check-due'],
    [
      'the entry and its place in the log',
      `Entry of the log ${entry} Place in the log 4711, counted from 0 Up to checkpoint size 90210, of the log log.example`,
    ],
    ['the place in the chain of the control', `Control K-20931 ${control} 7 ${before}`],
    ['the place in the chain of the pump', `Pump ${pump} 1 none: it is the first`],
  ])('has %s', (_, said) => {
    expect(text).toContain(said);
  });

  it('says what it does not say', () => {
    expect(text).toContain('Later records may exist.');
    expect(text).toContain(
      'It is no decision about a warranty, no verdict on liability, and no proof of a safe state.',
    );
    expect(text).toContain('It does not prove that what was stated is true.');
  });

  it('says nothing of what was cleared where nothing stood against it', () => {
    const good = {
      ...certificate,
      sections: { ...certificate.sections, judgement: { salt, content: { status: 'released' } } },
    };
    expect(textOf(good)).toContain('judged: Released.');
    expect(textOf(good)).not.toContain('cleared since');
  });

  it('carries its address and its entry as a code, and prints both', () => {
    expect(codeIn(markupOf(certificate))).toBe(`${address}#${entry}`);
    expect(text).toContain(`${address}#${entry}`);
  });

  it('has the work of a correction, and why it was corrected', () => {
    const content = { record: 'the-first', reason: 'wrong joint', kind: 'conversion', body: statement };
    const corrected = {
      ...certificate,
      leaf: { ...certificate.leaf, kind: 'correction' },
      sections: { ...certificate.sections, statement: { salt, content } },
    };
    const said = textOf(corrected);
    expect(said).toContain('Certificate: correction · Control K-20931');
    expect(said).toContain('record the-first Reason wrong joint');
    expect(said).toContain('sense-adjuster-body 61.0 N·m 58 N·m – 64 N·m within limits, with a guard band 98.8 % tw-3');
  });

  it('of a fact that names no edition, unit or checkpoint that can be read has what there is', () => {
    const bare = {
      ...certificate,
      leaf: { ...certificate.leaf, kind: 'shop', edition: null, ruleset: null, subjects: [] },
      sections: { statement: { salt, content: { name: 'north yard' } } },
      proof: { ...certificate.proof, checkpoint: 'torn' },
    };
    const said = textOf(bare, { edition: null });
    expect(said).toContain('Certificate: shop');
    expect(said).toContain('name north yard');
    expect(said).toContain('Up to checkpoint not known');
    expect(said).not.toContain('judged:');
  });

  it('is in German where that is asked for', () => {
    const german = certificatePage(certificate, { ...shown, languages: ['de'] });
    expect(german.lang).toBe('de');
    const said = pageText(german.markup);
    expect(said).toContain(
      'Bescheinigung: Umbau · Regler K-20931 Zuerst lesen Arbeit nur durch ausgebildete, befugte Personen',
    );
    expect(said).toContain('Es kann spätere Aufzeichnungen geben.');
    expect(said).toContain('sense-adjuster-body 61.0 N·m 58 N·m – 64 N·m innerhalb, mit Schutzabstand 98.8 % tw-3');
    expect(said).toContain('Bis zum Prüfpunkt Größe 90210, des Verzeichnisses log.example');
  });

  it('shows readings as read first, then in the units of the reader', () => {
    // 61 N·m = 44.99 lbf·ft and 14 bar = 203.1 psi, recomputed from the definitions of NIST SP 811 app. B.8.
    const said = inPageUnits(textOf(certificate, { units: 'imperial' }));
    expect(said).toContain('61.0 N·m (44.99 lbf·ft)');
    expect(said).toContain('14.0 bar (203.1 psi)');
    expect(said).toContain('in imperial units');
  });

  it('loads nothing, runs nothing and leads nowhere', () => {
    expect(reachesOut(markupOf(certificate))).toEqual([]);
  });
});

describe('sections withheld', () => {
  it.each<[Section, string, readonly string[], readonly string[]]>([
    ['origin', 'who sent it', ['K-20931', '98.8 %', 'Friday'], ['the-owner', 'user-17']],
    [
      'statement',
      'what was stated',
      ['98.8 %', 'Friday', 'user-17', 'load sense, bled'],
      ['K-20931', 'L-7', 'tw-3', 'ardenholm', 'north'],
    ],
    [
      'judgement',
      'how it was judged',
      ['K-20931', 'L-7', '61.0 N·m', 'load sense, bled'],
      ['98.8 %', 'within limits', 'check-due', 'judged:'],
    ],
    ['private', 'notes, if there are any', ['K-20931', '98.8 %'], ['Friday']],
  ])('%s: the page says so and shows the rest', (section, name, left, gone) => {
    const text = textOf(withhold(certificate, [section]));
    expect(text).toContain(`Not in this certificate: ${name}. What is shown is proven without it.`);
    for (const said of left) expect(text).toContain(said);
    for (const said of gone) expect(text).not.toContain(said);
    expect(text).toContain(`Entry of the log ${entry}`);
  });

  it('of the statement leaves the readings that were judged, by what the verdicts say', () => {
    const text = textOf(withhold(certificate, ['statement']));
    expect(text).toContain(
      'sense-adjuster-body 61.0 N·m 58 N·m – 64 N·m within limits, with a guard band 98.8 % instrument-by-id',
    );
    expect(text).toContain(
      'differential 14.0 bar 10 bar – 20 bar within limits, by simple acceptance 100 % gauge-by-id',
    );
  });

  it('all of them leave the proof alone', () => {
    const markup = markupOf(withhold(certificate, sections));
    expect(pageText(markup)).toContain('who sent it; what was stated; how it was judged; notes, if there are any.');
    expect(pageText(markup)).toContain(`${control} 7 ${before}`);
    expect(codeIn(markup)).toBe(`${address}#${entry}`);
  });

  it('none: nothing is said to be missing', () => {
    expect(textOf(certificate)).not.toContain('Not in this certificate');
  });
});

describe('the code', () => {
  it.each(['a', 'https://[::1]:8080/v1?ü=%20#0', 'x'.repeat(700)])('says what it is of: %s', (text) => {
    expect(codeIn(qrPicture(text, 'label').markup)).toBe(text);
  });

  it('is quiet for four modules around, as ISO/IEC 18004 demands', () => {
    const { markup } = qrPicture('a', 'label');
    const size = Number(/viewBox="0 0 (\d+)/.exec(markup)?.[1]);
    const runs = [...markup.matchAll(/M(\d+) (\d+)h(\d+)/g)].map(([, x, y, run]) => [
      Number(x),
      Number(y),
      Number(run),
    ]);
    // Version 1 has 21 modules.
    expect(size).toBe(21 + 8);
    expect(Math.min(...runs.flatMap(([x = 0, y = 0]) => [x, y]))).toBe(4);
    expect(Math.max(...runs.flatMap(([x = 0, y = 0, run = 0]) => [x + run, y + 1]))).toBe(size - 4);
  });
});

describe('hostile texts', () => {
  it('in every text and name stay texts', () => {
    const { sections: given, leaf, proof } = certificate;
    const spoiled = { ...certificate, sections: hostilely(given), leaf: { ...leaf, kind: leaf.kind + hostile.text } };
    const markup = markupOf(
      { ...spoiled, proof: { ...proof, checkpoint: proof.checkpoint.replace('log', `log${hostile.text}`) } },
      { edition: hostilely(edition), units: 'imperial' },
    );
    expect(markup.split(hostile.escaped).length).toBeGreaterThan(40);
    for (const piece of hostile.pieces) expect(markup).not.toContain(piece);
    expect([...tagsOf(markup)].filter((tag) => !tagsOf(markupOf(certificate, { units: 'imperial' })).has(tag))).toEqual(
      [],
    );
    expect(reachesOut(markup)).toEqual([]);
    expect(markup.split('</style>')).toHaveLength(2);
  });
});
