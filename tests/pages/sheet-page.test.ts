/** Job sheets as pages: everything that the JSON says is there, the cautions first, and nothing typed is markup. */
import { describe, expect, it } from 'vitest';
import type { Edition } from '../../src/core/catalogue/edition.ts';
import type { Plan } from '../../src/core/fit/plan.ts';
import { planMounting } from '../../src/core/fit/plan-mounting.ts';
import { type Sheet, sheetOf } from '../../src/core/fit/sheet.ts';
import type { UnitSystem } from '../../src/core/quantity/display.ts';
import { sheetPage } from '../../src/pages/sheet-page.ts';
import { demoJob, demoWith, pump83 } from '../support/bench/demo-job.ts';
import { planned, planOf } from '../support/bench/expected.ts';
import { hostile, hostilely } from '../support/hostile.ts';
import { inPageUnits, pageText, reachesOut, tagsOf } from '../support/page-text.ts';

const edition = demoWith({});
const names = { unit: '01a21323-ddd0-7766-918c-b7eeb3862aa3', maker: 'ardenholm' };

function sheetFor(
  plan: Plan,
  { to = 'remote-pressure' as string | null, languages = ['en'], onPump = true } = {},
): Sheet {
  return sheetOf(plan, edition, languages, {
    control: { ...names, name: 'K-1', body: 'curlew-block', builtFor: { size: '83', rotation: 'clockwise' } },
    pump: onPump ? { ...names, name: 'P-1', ...pump83 } : null,
    from: { function: 'load-sense-bled', fit: 'sha256:0' },
    to: { function: to },
  });
}

function markupOf(sheet: Sheet, more: { units?: UnitSystem; mounting?: boolean; edition?: Edition } = {}): string {
  return sheetPage(sheet, { edition, units: null, mounting: false, ...more }).markup;
}

const conversion = planOf(demoJob('load-sense-bled', 'remote-pressure'));
const shelf = planOf(demoJob('load-sense', 'torque-limit'));
const { body, fit, builtFor } = demoJob('load-sense', 'load-sense');
const mounting = planned(planMounting({ edition, body, fit, builtFor, pump: pump83, function: 'load-sense' }));
const kinds: readonly (readonly [string, Sheet, boolean])[] = [
  ['a conversion', sheetFor(conversion), false],
  ['a conversion that reaches into the pump', sheetFor(shelf, { to: 'torque-limit' }), false],
  ['a mounting', sheetFor(mounting, { to: 'load-sense' }), true],
];

describe.each(kinds)('the page of %s', (_, sheet, isMounting) => {
  const markup = markupOf(sheet, { mounting: isMounting });
  const text = pageText(markup);

  it('begins with every caution, before anything is changed', () => {
    const places = sheet.cautions.map((caution) => text.indexOf(caution));
    expect(places.filter((place) => place < 0)).toEqual([]);
    expect(places).toEqual(places.toSorted((one, other) => one - other));
    const changes = text.indexOf('What changes');
    expect(Math.max(...places)).toBeLessThan(changes);
    expect(text.slice(0, Math.min(...places))).toMatch(/^.{0,400}Read this first $/);
  });

  it('has every step by its number and sentence, in order, each with a box to tick', () => {
    const places = sheet.steps.map((step) => text.indexOf(`${step.step} ${inPageUnits(step.text)}`));
    expect(places.filter((place) => place < 0)).toEqual([]);
    expect(places).toEqual(places.toSorted((one, other) => one - other));
    expect(markup.split('class="tick"><span class="box">').length - 1).toBe(sheet.steps.length);
  });

  it('has every joint with torque, tool and seals, and a field for the reading of every screw', () => {
    for (const { joint, tool, seals } of sheet.joints) {
      expect(text).toContain(joint);
      expect(text).toContain(`${tool.drive} ${tool.size}`);
      for (const { seal, fitting } of seals) expect(text).toContain(`${seal} fits: ${fitting.join(', ')}`);
    }
    const closing = sheet.steps.filter(({ action }) => action === 'close' || action === 'lock');
    const screws = closing.map(({ joint }) => sheet.joints.find((one) => one.joint === joint)?.count ?? 0);
    const rows = markup.split('<tr>').filter((row) => row.includes('class="tick"'));
    const fields = closing.map(({ step }) => {
      const row = rows.find((one) => one.includes(`<td class="nr">${step}</td>`)) ?? '';
      return row.match(/data-label="Reading">((<span class="field"><\/span>)*)/)?.[1]?.split('</span>').length ?? 0;
    });
    expect(fields).toEqual(screws.map((count) => count + 1));
  });

  it('has every setting with its bounds and why it is set', () => {
    const settings = text.slice(text.indexOf('Settings Setting'), text.indexOf('Steps, in this order'));
    for (const { min, max, condition, because } of sheet.settings) {
      for (const bound of [min, max])
        if (bound !== null)
          expect(settings).toContain(`${bound.value} ${bound.unit.replace('N.m', 'N·m')} ${bound.from}`);
      expect(settings).toContain(condition);
      expect(settings).toContain(because === 'disturbed' ? 'disturbed by this work' : 'demanded by the function');
    }
  });

  it('has what the shaft is asked for, and what that is reckoned from', () => {
    const { reckoned } = sheet.load ?? {};
    if (!reckoned) throw new Error('the sheet has no load');
    const load = text.slice(text.indexOf('Load on shaft and drive'), text.indexOf('Steps, in this order'));
    const said = ({ value, unit }: { value: string; unit: string }) =>
      `${value} ${unit.replace('N.m', 'N·m').replace('cm3', 'cm³')}`;
    const { limited, torque, limit, pressure, displacement, corner } = reckoned;
    const inputs = limited === null ? [pressure, displacement] : [limited.torque];
    for (const one of [torque, limit, ...inputs, corner.flow, corner.power, corner.pressure, corner.speed])
      expect(load).toContain(one === null ? 'not known' : said(one));
    expect(load).toContain('volumetric efficiency 0.95');
    expect(load.includes('hydromechanical efficiency 0.92')).toBe(limited === null);
    expect(load).not.toContain('More than the shaft may take');
  });

  it('has kits, what is loose, what is left over, and what the record will need', () => {
    for (const { part } of sheet.kits) expect(text).toContain(part);
    expect(text).toContain(`Cost of the kits ${sheet.cost} `);
    expect(pageText(markupOf({ ...sheet, cost: null }))).toContain('Cost of the kits not known ');
    expect(pageText(markupOf({ ...sheet, kits: [], cost: 0 }))).not.toContain('Cost of the kits');
    const { torques, checks } = sheet.evidence;
    const needed = text.slice(text.indexOf('What the record will need'));
    for (const id of torques) expect(needed).toContain(id);
    for (const id of checks) expect(needed).toContain(edition.checks.find((check) => check.id === id)?.text);
  });

  it('draws every station once, marked by what is done to it', () => {
    const drawing = [...markup.matchAll(/<svg[^>]*role="img"[\s\S]*?<\/svg>/g)].map(([svg]) => svg).join('');
    const blacks = drawing.split('fill="#000" stroke="#000"').length - 1;
    expect(blacks).toBe(sheet.changes.length);
    const opened = sheet.opened.filter((id) => !sheet.changes.some(({ station }) => station === id));
    expect(drawing.split('fill="#fff" stroke="#000" stroke-width="2.5"').length - 1).toBe(opened.length);
  });

  it('says that a setting proves no safe state, and whom it defers to', () => {
    expect(text).toContain(
      "A recorded setting proves no safe state. The maker's manual, ISO 4413, local codes and trained, licensed people come before this page.",
    );
  });

  it('loads nothing, runs nothing and leads nowhere', () => {
    expect(reachesOut(markup)).toEqual([]);
  });
});

describe('a sheet without work', () => {
  it('says so, with its cautions', () => {
    const text = pageText(
      markupOf(
        sheetFor(
          planOf(
            demoJob('load-sense', 'load-sense', {
              settings: { 'pressure-limit': { value: '200', unit: 'bar' }, differential: { value: '14', unit: 'bar' } },
            }),
          ),
        ),
      ),
    );
    expect(text).toContain('It is already so. There is nothing to do.');
    expect(text).toContain('Read this first');
  });
});

describe('a sheet whose settings may ask the shaft for too much, or for what nobody knows', () => {
  const withLoad = (load: Partial<NonNullable<Sheet['load']>['reckoned']> | null, languages = ['en']) => {
    const sheet = sheetFor(conversion, { languages });
    const reckoned = load && { ...sheet.load?.reckoned, ...load };
    return pageText(
      markupOf({ ...sheet, load: { size: '83', unknown: ['efficiency', 'size'], reckoned } as Sheet['load'] }),
    );
  };

  it('says so', () => {
    expect(withLoad({ isOver: true })).toContain('640 N·m More than the shaft may take: set it lower');
    expect(withLoad({ limit: null, isOver: null })).toContain('The shaft may take not known');
    expect(withLoad(null)).toContain('Not reckoned. Not known: efficiency of the size, size of the pump.');
    expect(withLoad(null, ['de'])).toContain(
      'Nicht berechnet. Nicht bekannt: Wirkungsgrad der Größe, Größe der Pumpe.',
    );
  });
});

describe('a page in another language', () => {
  const sheet = sheetFor(conversion, { languages: ['de-CH', 'en'] });
  const page = sheetPage(sheet, { edition, units: null, mounting: false });
  const text = pageText(page.markup);

  it('is marked as such and has its own words, the steps and the cautions in it', () => {
    expect([sheet.language, page.lang]).toEqual(['de', 'de']);
    expect(page.markup).toContain('<html lang="de">');
    for (const caution of sheet.cautions) expect(text).toContain(caution);
    for (const step of sheet.steps) expect(text).toContain(`${step.step} ${inPageUnits(step.text)}`);
    expect(text).toContain('Zuerst lesen Arbeit nur durch ausgebildete, befugte Personen.');
  });

  it('marks what is not translated as English, and only that', () => {
    const untranslated = demoWith({ '/texts/de/element~1plug-m5': undefined });
    const { markup } = sheetPage(sheet, { edition: untranslated, units: null, mounting: false });
    expect(markup).toContain('<span lang="en">screw plug M5</span>');
    expect(markup).not.toContain('<span lang="en">Einschraubblende');
    expect(page.markup).not.toContain('<span lang="en">screw plug M5</span>');
  });

  it('of an edition alone has its names in it, and the rest in English', () => {
    const dutch = demoWith({ '/texts/nl': { 'station/side-cap': 'zijkap' } });
    const { markup, lang } = sheetPage({ ...sheet, language: 'nl' }, { edition: dutch, units: null, mounting: false });
    expect(lang).toBe('en');
    expect(markup).toContain('<span lang="nl">Zijkap</span>');
    expect(pageText(markup)).toContain('Read this first');
  });
});

describe('units', () => {
  // 34 ± 2 N·m = 25.077 ± 1.475 lbf·ft, 250 bar = 3625.94 psi: recomputed from the definitions of NIST SP 811 app. B.8.
  it('are shown as read first, and those of the reader in brackets', () => {
    const text = pageText(markupOf(sheetFor(conversion), { units: 'imperial' }));
    expect(text).toContain('34 ± 2 N·m (25.08 ± 1.475 lbf·ft)');
    expect(text).toContain('250 bar (3626 psi)');
    // 358.963 N·m = 264.757 lbf·ft of 359.0, 83 cm³ = 5.065 in³.
    expect(text).toContain('359.0 N·m (264.8 lbf·ft)');
    expect(text).toContain('83 cm³ (5.065 in³)');
    expect(text).toContain('Values as read; in brackets, rounded, in imperial units.');
  });

  it('that are the ones asked for are shown once', () => {
    const text = pageText(markupOf(sheetFor(conversion), { units: 'metric' }));
    expect(text).toContain('34 ± 2 N·m');
    expect(text).not.toMatch(/N·m \(\d/);
  });
});

describe('hostile texts', () => {
  const plain = sheetFor(conversion, { languages: ['de'] });
  const { markup } = sheetPage(hostilely(plain), { edition: hostilely(edition), units: 'imperial', mounting: false });

  it('in every name, id and text of sheet and edition stay texts', () => {
    expect(markup.split(hostile.escaped).length).toBeGreaterThan(200);
    for (const piece of hostile.pieces) expect(markup).not.toContain(piece);
    expect(tagsOf(markup)).toEqual(tagsOf(sheetPage(plain, { edition, units: 'imperial', mounting: false }).markup));
    expect(reachesOut(markup)).toEqual([]);
    expect(markup.split('</style>')).toHaveLength(2);
  });

  it('can not end the string that stands at the foot of every sheet of paper', () => {
    const style = markup.match(/<style>([\s\S]*)<\/style>/)?.[1] ?? '';
    const foot = style.slice(style.indexOf('@bottom-left'));
    expect(foot).toMatch(/^@bottom-left\{content:"[^"\n]*";font:8\.5pt system-ui,sans-serif\}\}\n$/);
    expect(foot.match(/content:"([^"]*)"/)?.[1]).toMatch(/^([\p{L}\p{N} ]|\\[0-9a-f]+ )*$/u);
  });
});
