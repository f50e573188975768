import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { change, conversionOnPump, findings, kept, mounting, type Setup, states } from '../../support/cases.ts';

const unknown = { unknown: 'nobody wrote it down' };

/** Every name in a record that may be said to be unknown, with whether the record is released without it. */
const places: Readonly<Record<'conversion' | 'mounting', Readonly<Record<string, 'holds' | 'is noted'>>>> = {
  conversion: {
    '/body/technician': 'holds',
    '/body/fitted/0/element': 'holds',
    '/body/fitted/0/lot': 'holds',
    '/body/seals/0/seal': 'is noted',
    '/body/seals/0/lot': 'is noted',
    '/body/torques/0/instrument': 'holds',
    '/body/torques/1/instrument': 'holds',
    '/body/torques/2/instrument': 'holds',
    '/body/settings/0/instrument': 'holds',
  },
  mounting: {
    '/body/technician': 'holds',
    '/body/seals/0/seal': 'is noted',
    '/body/seals/0/lot': 'is noted',
    '/body/torques/0/instrument': 'holds',
    '/body/torques/1/instrument': 'holds',
    '/body/torques/2/instrument': 'holds',
    '/body/settings/0/instrument': 'holds',
    '/body/settings/1/instrument': 'holds',
  },
};
const records = { conversion: conversionOnPump, mounting };

const without = (kind: keyof typeof records, list: readonly string[]): Setup =>
  change(records[kind](), Object.fromEntries(list.map((place) => [place, unknown])));

describe.each(['conversion', 'mounting'] as const)('a %s of which names are unknown', (kind) => {
  const all = Object.keys(places[kind]);
  const subset = fc.subarray(all);

  it.each(all)('without %s alone is held or noted as it should be', (place) => {
    const isHeld = places[kind][place] === 'holds';
    expect(kept(without(kind, [place])).judgement.status).toBe(isHeld ? 'held' : 'released');
    expect(findings(without(kind, [place]))).not.toEqual([]);
  });

  it('is held exactly if one of them is a name that holds', () => {
    fc.assert(
      fc.property(subset, (list) => {
        const holds = list.some((place) => places[kind][place] === 'holds');
        expect(kept(without(kind, list)).judgement.status).toBe(holds ? 'held' : 'released');
        expect(states(without(kind, list)).control.status).toBe(holds ? 'held' : 'released');
      }),
    );
  });

  it('has a finding for each of them, at its own place', () => {
    fc.assert(
      fc.property(subset, (list) => {
        const pointers = findings(without(kind, list)).map((one) => one.pointer);
        const nameless = list.includes('/body/seals/0/seal');
        for (const place of list.filter((one) => !(nameless && one === '/body/seals/0/lot'))) {
          expect(pointers).toContain(place.slice('/body'.length));
        }
      }),
    );
  });

  it('knows nothing only if it knows none of them, and is then cleared by a correction alone', () => {
    fc.assert(
      fc.property(subset, (list) => {
        const { judgement } = kept(without(kind, list));
        const nothing = judgement.findings.filter((one) => one.rule === 'nothing-known');
        expect(nothing.length).toBe(list.length === all.length ? 1 : 0);
      }),
    );
    const { judgement } = kept(without(kind, all));
    expect(judgement.status).toBe('held');
    expect(judgement.findings.find((one) => one.rule === 'nothing-known')?.clearedBy).toEqual([
      { kind: 'correction', place: 'fact' },
    ]);
  });

  it('keeps no name, instrument, lot or reason in what it does to its units', () => {
    const { effects } = kept(without(kind, all));
    expect(JSON.stringify(effects)).not.toMatch(/nobody wrote|t-17|wrench|gauge|L-2402|brackwater/);
    expect(JSON.stringify(kept(records[kind]()).effects)).not.toMatch(/t-17|wrench|gauge|L-2402|brackwater|BR-2026/);
  });
});
