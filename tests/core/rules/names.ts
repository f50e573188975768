/** Tests of `unknown-id`: every name that a record may say, unknown and known. */
import {
  adjustment,
  attachment,
  change,
  conversionOnPump,
  inspection,
  q,
  type Setup,
  testRun,
} from '../../support/cases.ts';
import type { RuleTest, RuleTests } from './rule-test.ts';

const held = (element: string) => [{ element }];

export const names: RuleTests = {
  'unknown-id': [
    name('shop', '/shop', 'brackwater-east', 'brackwater-north'),
    name('technician', '/technician', 't-99', 't-18'),
    name('technician of one reading', '/torques/0/by', 't-99', 't-18'),
    name('technician of one check', '/checks/0/by', 't-99', { unknown: 'no initials' }),
    name('technician of one part', '/fitted/0/by', 't-99', undefined),
    name('instrument of a torque', '/torques/1/instrument', 'wrench-9', 'wrench-1'),
    name('instrument of a setting', '/settings/0/instrument', 'gauge-9', { unknown: 'not written down' }),
    {
      says: 'refuses a flow through a station that the pump and its control have not',
      on: () =>
        change(testRun(), {
          '/body/measurements/0/through': { station: 'bleed-seat', pressure: { value: '20', unit: 'bar' } },
        }),
      at: '/body/measurements/0/through/station',
      wrong: 'no-seat',
      right: 'bleed-seat',
      gives: [{ pointer: '/measurements/0/through/station', found: 'no-seat' }],
    },
    name('lot of an element', '/fitted/0/lot', 'L-0', 'L-2402-7', 'ardenholm/L-0'),
    name(
      "lot of another supplier's",
      '/fitted/0/lot',
      { maker: 'tollan', number: 'L-2402-7' },
      { maker: 'tollan', number: 'L-9' },
      'tollan/L-2402-7',
    ),
    name('lot of a seal', '/seals/0/lot', 'L-0', { unknown: 'from the drawer' }, 'ardenholm/L-0'),
    name('station of what was taken out', '/removed/0/station', 'bleed', 'bleed-seat'),
    name('element taken out', '/removed/0/element', 'orifice-6', 'orifice-0.6'),
    name('station of what was put in', '/fitted/0/station', 'left-seat', 'bleed-seat'),
    name('element put in', '/fitted/0/element', 'plug', { unknown: 'no marking' }),
    name('joint of a seal', '/seals/0/joint', 'sense-adjuster', 'sense-adjuster-body'),
    name('seal', '/seals/0/seal', 'seal-22', 'seal-22-nbr'),
    name('joint of a torque', '/torques/0/joint', 'bleed-seat', 'mounting'),
    name(
      'attachment',
      '/attachments',
      [attachment, `sha256:${'0'.repeat(64)}`],
      [attachment],
      `sha256:${'0'.repeat(64)}`,
      '/attachments/1',
    ),
    name('setting', '/settings/0/setting', 'torque-limit', 'pump/torque-limit'),
    name('check', '/checks/0/check', 'leak', 'second-look'),
    name('opened station', '/opened', ['sense-adjuster', 'front'], ['sense-adjuster'], 'front', '/opened/1'),
    name(
      'station on the pump found',
      '/found',
      { stations: { 'pump/link': [] } },
      { stations: { 'pump/linkage': [] } },
      'pump/link',
      '/found/stations/pump~1link',
    ),
    name(
      'element found',
      '/found',
      { stations: { 'bleed-seat': held('orifice') } },
      { stations: { 'bleed-seat': { unknown: 'could not look' } } },
      'orifice',
      '/found/stations/bleed-seat/0/element',
    ),
    name(
      'setting found',
      '/found',
      { settings: { 'pump/torque': q('1', 'N.m') } },
      { settings: { differential: q('20', 'bar') } },
      'pump/torque',
      '/found/settings/pump~1torque',
    ),
    { ...name('function found', '/found/function', 'load-sensing', 'load-sense-bled'), on: inspection },
    {
      says: 'refuses an "after" that names no record of the unit',
      on: adjustment,
      at: '/afterIsKnown',
      wrong: false,
      right: true,
      gives: [{ pointer: '/after' }],
    },
    {
      says: 'refuses a station on the pump while the control is on the shelf',
      on: () => change(conversionOnPump(), { '/body/opened': ['sense-adjuster', 'pump/flank-cover'] }),
      at: '/pump',
      wrong: null,
      right: conversionOnPump().pump,
      gives: [{ pointer: '/opened/1', found: 'pump/flank-cover' }],
    },
  ],
};

function name(
  what: string,
  pointer: string,
  wrong: unknown,
  right: unknown,
  found = String(wrong),
  at = pointer,
): RuleTest {
  return {
    says: `refuses the ${what} that nobody knows, and takes one that is known or said to be unknown`,
    on: (): Setup => conversionOnPump(),
    at: `/body${pointer}`,
    wrong,
    right,
    gives: [{ pointer: at, found }],
  };
}
