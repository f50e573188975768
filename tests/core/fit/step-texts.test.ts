/** What steps say to the people who do them, on the demo edition. */
import { describe, expect, it } from 'vitest';
import { type SaidStep, saidTorque } from '../../../src/core/fit/step-texts.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { saidConversion, saidMounting } from '../../support/bench/in-english.ts';

type Place = { action: SaidStep['action']; station?: string; joint?: string; check?: string };

function textOf(steps: readonly SaidStep[], place: Place): string | undefined {
  const wanted = Object.entries(place);
  return steps.find((step) => wanted.every(([key, value]) => Reflect.get(step, key) === value))?.text;
}

const remote = saidConversion(demoJob('load-sense-bled', 'remote-pressure'));
const ported = saidConversion(demoJob('load-sense', 'electric-pressure', { builtFor: { voltage: '24 V' } }));

describe('a step', () => {
  it('names the station, the parts and what is done with them in words of the edition', () => {
    expect(textOf(remote, { action: 'open', joint: 'side-cap-body' })).toBe(
      'Cap on the left side: open side-cap-body (hex 24 mm).',
    );
    expect(textOf(remote, { action: 'take-out', station: 'bleed-seat' })).toBe(
      'Seat in the wall of the adjuster bore: take out screw-in orifice M5, bore 0.6 mm; it stays out.',
    );
    expect(textOf(remote, { action: 'take-out', station: 'sense-spring' })).toBe(
      'Spring chamber behind the differential adjuster: take out differential spring, white and lay it aside; it goes back.',
    );
    expect(textOf(remote, { action: 'put-in', station: 'sense-spring' })).toBe(
      'Spring chamber behind the differential adjuster: put back differential spring, white.',
    );
  });

  it('says how a part goes in, a new one as well as one that goes back', () => {
    expect(textOf(remote, { action: 'put-in', station: 'sense-bore' })).toBe(
      'Spool bore: put in spool with two lands and a cross hole; cross hole inward; it must fall in by its own weight.',
    );
    const fit = demoJob('torque-limit', 'torque-limit').fit;
    const withoutSpring = { ...fit, 'pump/torque-spring': { elements: [], basis: 'seen' as const } };
    const steps = saidConversion({ ...demoJob('torque-limit', 'torque-limit'), fit: withoutSpring });
    expect(textOf(steps, { action: 'put-in', station: 'pump/linkage' })).toBe(
      'Torque link between cradle and control: put back torque link; forked end towards the cradle.',
    );
  });

  it('says to what a joint is closed, with how many screws, in which order, with which seals and lock', () => {
    expect(textOf(remote, { action: 'close', joint: 'side-cap-body' })).toBe(
      'Cap on the left side: close side-cap-body, 34 ± 2 N.m (hex 24 mm; new seals: seal-14).',
    );
    expect(textOf(remote, { action: 'close', joint: 'pilot-seat-element' })).toBe(
      'Seat in the pilot passage: close pilot-seat-element, 5.0 to 6.0 N.m (hex socket 2.5 mm; thread lock: medium).',
    );
    expect(textOf(ported, { action: 'close', joint: 'coil-cavity-body' })).toBe(
      'Cartridge cavity on the lower face: close coil-cavity-body, 40 N.m ± 10 % (hex 27 mm; new seals: 2 × seal-22).',
    );
    const toTorque = saidConversion(demoJob('load-sense', 'torque-limit'));
    expect(textOf(toTorque, { action: 'close', joint: 'pump/flank-cover-screws' })).toBe(
      'Cover on the flank of the pump: close pump/flank-cover-screws, 8 ± 0.5 N.m, then 60 deg further ' +
        '(6 × hex socket 5 mm; crosswise, first all to the torque, then all by the angle; new seals: seal-flank).',
    );
  });

  it('says the unit of the lower limit too where that differs from the unit of the upper one', () => {
    const min = { value: '30', unit: 'lbf.ft' as const };
    expect(saidTorque({ min, max: { value: '50', unit: 'N.m' } }, 'en')).toBe('30 lbf.ft to 50 N.m');
    expect(saidTorque({ min, max: { value: '37', unit: 'lbf.ft' } }, 'de')).toBe('30 bis 37 lbf.ft');
    const turned = { target: { value: '8', unit: 'N.m' }, angle: { value: '60', unit: 'deg' } };
    expect(saidTorque(turned, 'en')).toBe('8 N.m, then 60 deg further');
  });

  it('says between which bounds, under which condition and from which side a setting is made', () => {
    expect(textOf(remote, { action: 'back-off', station: 'pressure-adjuster' })).toBe(
      'Pressure adjuster, on the upper face: back off the adjuster of pressure limit.',
    );
    expect(textOf(remote, { action: 'set', station: 'pressure-adjuster' })).toBe(
      'Pressure adjuster, on the upper face: set pressure limit (at least 50 bar; at most 250 bar; outlet blocked, ' +
        '1500 r/min, oil at 50 °C; approached from below; before: differential adjuster backed off).',
    );
    expect(textOf(remote, { action: 'lock', station: 'pressure-adjuster' })).toBe(
      'Pressure adjuster, on the upper face: lock: close pressure-adjuster-locknut, 21 ± 2 N.m (hex 17 mm).',
    );
    expect(textOf(remote, { action: 're-read', station: 'pressure-adjuster' })).toBe(
      'Pressure adjuster, on the upper face: read pressure limit again; locking shifts it.',
    );
    expect(textOf(remote, { action: 'open', joint: 'pressure-adjuster-locknut' })).toBe(
      'Pressure adjuster, on the upper face: open pressure-adjuster-locknut (hex 17 mm), if it is not open already.',
    );
    const edition = demoWith({ '/bodies/0/settings/0/approach': 'falling', '/bodies/0/settings/0/requires': [] });
    const falling = saidConversion(demoJob('load-sense-bled', 'remote-pressure', { edition }));
    expect(textOf(falling, { action: 'set', station: 'pressure-adjuster' })).toContain('approached from above).');
  });

  it('says at what a value is read that nothing is turned for', () => {
    const edition = demoWith({
      '/bodies/0/settings/-': {
        ...{ id: 'point', station: 'side-cap', quantity: 'pressure', rank: 9, adjusted: false },
        at: {
          current: { target: { value: '400', unit: 'mA' }, tolerance: { value: '5', unit: 'mA' } },
          speed: { min: { value: '1450', unit: 'r/min' }, max: { value: '1550', unit: 'r/min' } },
        },
      },
      '/functions/3/settings/-': { setting: 'point', max: { value: '90', unit: 'bar' } },
    });
    const to = edition.functions[3]?.id ?? '';
    const steps = saidConversion(demoJob('load-sense', to, { edition })).filter((step) => step.setting === 'point');
    expect(steps.map((step) => step.action)).toEqual(['read']);
    expect(textOf(steps, { action: 'read' })).toContain(
      ': read point (at most 90 bar; with current 400 ± 5 mA; with speed 1450 to 1550 r/min).',
    );
  });

  it('says what is not known', () => {
    const job = demoJob('load-sense-bled', 'remote-pressure');
    const fit = { ...job.fit, 'sense-spring': { elements: null, basis: 'unknown' as const } };
    const steps = saidConversion({ ...job, fit });
    expect(textOf(steps, { action: 'look', station: 'sense-spring' })).toBe(
      'Spring chamber behind the differential adjuster: look what is in it and note it; it is not known for sure.',
    );
    expect(textOf(steps, { action: 'take-out', station: 'sense-spring' })).toContain('take out whatever is there');
  });

  it('says what is checked, and that the plate is marked', () => {
    expect(textOf(remote, { action: 'check', check: 'leak-free' })).toBe(
      'Check: no leak at full pressure after five minutes, looked for with a card, never by hand.',
    );
    expect(textOf(remote, { action: 're-mark', check: 'plate-marked' })).toBe(
      "Mark: the pump's plate shows the function and the settings.",
    );
  });

  it('counts parts of one kind', () => {
    const steps = saidConversion(demoJob('load-sense', 'pressure-limit'));
    expect(textOf(steps, { action: 'take-out', station: 'damping-stack' })).toBe(
      'Pocket below the pressure adjuster: take out damping washer and lay it aside; it goes back.',
    );
    expect(steps.filter((step) => step.station === 'damping-stack').map((step) => step.text)).toContain(
      'Pocket below the pressure adjuster: take out 2 × shim 0.5 mm; it stays out.',
    );
  });

  it('of a mounting names no station', () => {
    const { edition, body, fit, builtFor } = demoJob('load-sense', 'load-sense');
    const job = { edition, body, fit, builtFor, pump: pump83, function: 'load-sense' };
    const steps = saidMounting(job);
    expect(textOf(steps, { action: 'mount' })).toBe('Put the control on the pump.');
    expect(textOf(steps, { action: 'close', joint: 'mounting' })).toBe(
      'Close mounting, 25 ± 2 N.m (4 × hex socket 6 mm; crosswise, in two stages; new seals: 3 × seal-face).',
    );
  });

  it("uses the edition's English texts before its own words, and ids where it has neither", () => {
    const edition = demoWith({
      '/texts/en/station~1side-cap': 'left cap',
      '/texts/en/joint~1side-cap-body': 'the cap itself',
      '/texts/en/element~1plug-m5': 'plug',
      '/texts/en/check~1leak-free': 'dry',
      '/bodies/0/stations/3/text': undefined,
      '/elements/2/text': undefined,
    });
    const steps = saidConversion(demoJob('load-sense', 'remote-pressure', { edition }));
    expect(textOf(steps, { action: 'open', joint: 'side-cap-body' })).toBe(
      'Left cap: open the cap itself (hex 24 mm).',
    );
    expect(textOf(steps, { action: 'take-out', station: 'pilot-seat' })).toBe(
      'Pilot-seat: take out plug; it stays out.',
    );
    expect(textOf(steps, { action: 'put-in', station: 'pilot-seat' })).toBe('Pilot-seat: put in orifice-0.8.');
    expect(textOf(steps, { action: 'check', check: 'leak-free' })).toBe('Check: dry.');
  });
});
