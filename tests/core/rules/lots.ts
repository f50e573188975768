/**
 * What is asked of the lots that parts and seals are from. That goods are booked in before they are used, that withdrawn
 * stock is stopped and that elastomers have a shelf life is common practice; how long which keeps, each edition says.
 */
import { change, conversionOnPump } from '../../support/cases.ts';
import { concession, type RuleTests } from './rule-test.ts';

const kits = '/lots/ardenholm~1L-2402-7';
const loose = '/lots/ardenholm~1L-2311-2';
const orifice = { kind: 'part', place: 'bleed-seat' } as const;
const seal = { kind: 'seal', place: 'sense-adjuster-body' } as const;
const over = { item: 'plug-m5', used: 121, supply: 120 };
const withdrawn = (from: unknown) => ({ part: 'kit-sense', withdrawn: { from, why: 'bore out of round' } });
const day = (at: string) => ({ at: `${at}T00:00:00Z`, precision: 'day' });
const ofComponent = (element: string) =>
  change(conversionOnPump(), {
    [kits]: { part: 'kit-sense', components: [{ element, lot: { maker: 'tollan', number: 'L-9' } }] },
  });

export const lots: RuleTests = {
  'lot-overdrawn': [
    {
      says: 'holds what was used beyond what ever came in',
      on: () => change(conversionOnPump(), { '/stock/ardenholm~1L-2402-7': [over] }),
      at: '/stock/ardenholm~1L-2402-7/0/item',
      wrong: 'plug-m5',
      right: 'spool-sense',
      gives: [
        {
          pointer: '/fitted/0/lot',
          expected: '120',
          found: 'plug-m5',
          because: 'Up to this record 121 of plug-m5 from lot ardenholm/L-2402-7 were used here, and there were 120.',
          clearedBy: [{ kind: 'intake', place: 'ardenholm/L-2402-7' }, concession],
        },
      ],
    },
    {
      says: 'holds seals too',
      on: conversionOnPump,
      at: '/stock/ardenholm~1L-2311-2',
      wrong: [{ item: 'seal-22-fkm', used: 3, supply: 2 }],
      right: [],
      gives: [
        {
          pointer: '/seals/0/lot',
          clearedBy: [{ kind: 'intake', place: 'ardenholm/L-2311-2' }, concession],
        },
      ],
    },
  ],
  'lot-withdrawn': [
    {
      says: 'holds a part of a lot that was withdrawn by then',
      on: () => change(conversionOnPump(), { [kits]: withdrawn('2026-03-14T09:25:00Z') }),
      at: `${kits}/withdrawn/from`,
      wrong: '2026-03-14T09:25:00Z',
      right: '2026-03-14T09:25:01Z',
      gives: [
        {
          pointer: '/fitted/0/lot',
          found: 'ardenholm/L-2402-7',
          because: 'Lot ardenholm/L-2402-7 is withdrawn: bore out of round',
          clearedBy: [orifice, concession],
        },
      ],
    },
    {
      says: 'holds what may have been used after that, where the day alone is known',
      on: () => change(conversionOnPump(), { [loose]: { part: 'seals', withdrawn: withdrawn('').withdrawn } }),
      at: `${loose}/withdrawn/from`,
      wrong: day('2026-03-14'),
      right: day('2026-03-15'),
      gives: [{ pointer: '/seals/0/lot', clearedBy: [seal, concession] }],
    },
    {
      says: 'holds a part of a kit that holds pieces of a withdrawn lot',
      on: () =>
        change(ofComponent('plug-m5'), {
          '/lots/tollan~1L-9': { ...withdrawn('2026-03-01T00:00:00Z'), part: 'plug-m5' },
        }),
      at: `${kits}/components/0/element`,
      wrong: 'plug-m5',
      right: 'spool-sense',
      gives: [{ pointer: '/fitted/0/lot', found: 'tollan/L-9' }],
    },
    {
      says: 'asks nothing of a lot in the kit that nobody has stated',
      on: () =>
        change(ofComponent('plug-m5'), {
          '/lots/tollan~1L-9': { ...withdrawn('2026-03-01T00:00:00Z'), part: 'plug-m5' },
        }),
      at: `${kits}/components/0/lot/number`,
      wrong: 'L-9',
      right: 'L-10',
      gives: [{ pointer: '/fitted/0/lot' }],
    },
  ],
  'seal-past-life': [
    {
      says: 'holds a seal that is older than it keeps: an FKM seal of the demo edition keeps ten years',
      on: () => change(conversionOnPump(), { [loose]: { part: 'seals', madeAt: '' } }),
      at: `${loose}/madeAt`,
      wrong: '2016-03-14T09:24:59Z',
      right: '2016-03-14T09:25:00Z',
      gives: [
        {
          pointer: '/seals/0/lot',
          expected: '2026-03-14T09:24:59.000000Z',
          found: 'seal-22-fkm',
          because: 'seal-22-fkm of lot ardenholm/L-2311-2 keeps P10Y: until 2026-03-14.',
          clearedBy: [seal, concession],
        },
      ],
    },
    {
      says: 'says nothing where the month that it was made in leaves it open',
      on: () => change(conversionOnPump(), { [loose]: { part: 'seals', madeAt: '' } }),
      at: `${loose}/madeAt`,
      wrong: { at: '2016-02-10T00:00:00Z', precision: 'month' },
      right: { at: '2016-03-10T00:00:00Z', precision: 'month' },
      gives: [{ pointer: '/seals/0/lot' }],
    },
    {
      says: 'says nothing where nobody has said when it was made',
      on: () => change(conversionOnPump(), { [loose]: { part: 'seals' } }),
      at: `${loose}/madeAt`,
      wrong: '2010-01-01T00:00:00Z',
      right: undefined,
      gives: [{ pointer: '/seals/0/lot' }],
    },
    {
      says: 'goes by the lot of the seals in a kit, not by the kit',
      on: () =>
        change(conversionOnPump(), {
          '/body/seals/0/lot': 'L-2402-7',
          [kits]: {
            ...{ part: 'kit-sense', madeAt: '2026-01-01T00:00:00Z' },
            components: [{ element: 'seal-22-fkm', lot: { maker: 'tollan', number: 'L-9' } }],
          },
          '/lots/tollan~1L-9': { part: 'seal-22-fkm', madeAt: '' },
        }),
      at: '/lots/tollan~1L-9/madeAt',
      wrong: '2015-01-01T00:00:00Z',
      right: '2020-01-01T00:00:00Z',
      gives: [{ pointer: '/seals/0/lot' }],
    },
    {
      says: 'says nothing of what keeps for ever',
      on: () => change(conversionOnPump(), { [`${loose}/madeAt`]: '2010-01-01T00:00:00Z' }),
      at: '/body/seals/0/seal',
      wrong: 'seal-22-nbr',
      right: { unknown: 'from the drawer' },
      gives: [
        { pointer: '/seals/0/lot', because: 'seal-22-nbr of lot ardenholm/L-2311-2 keeps P7Y: until 2017-01-01.' },
      ],
    },
  ],
  'serial-twice': [
    {
      says: 'holds a part whose serial is in another place',
      on: () => change(conversionOnPump(), { '/body/fitted/0/serial': 'S-81', '/twice/0': 'bleed-seat of K-4' }),
      at: '/twice/0',
      wrong: 'bleed-seat of K-4',
      right: undefined,
      gives: [
        {
          pointer: '/fitted/0/serial',
          found: 'S-81',
          because: 'By your records S-81 was at the same time at bleed-seat of K-4.',
          clearedBy: [orifice, concession],
        },
      ],
    },
    {
      says: 'says nothing of a part without a serial',
      on: () => change(conversionOnPump(), { '/twice/0': 'bleed-seat of K-4' }),
      at: '/body/fitted/0/serial',
      wrong: 'S-81',
      right: undefined,
      gives: [{ pointer: '/fitted/0/serial' }],
    },
  ],
  'intake-missing': [
    {
      says: 'holds what is of a lot that was never taken in, where the edition demands that',
      on: () => change(conversionOnPump(), { '/edition/demands': { intakes: true } }),
      at: '/stock/ardenholm~1L-2402-7',
      wrong: undefined,
      right: [],
      gives: [
        {
          pointer: '/fitted/0/lot',
          found: 'ardenholm/L-2402-7',
          because: 'How much of lot ardenholm/L-2402-7 came into this shop is not known.',
          clearedBy: [{ kind: 'intake', place: 'ardenholm/L-2402-7' }, concession],
        },
      ],
    },
  ],
  'intake-unknown': [
    {
      says: 'notes what is of a lot that was never taken in, each lot once',
      on: () => change(conversionOnPump(), { '/body/seals/0/lot': 'L-2402-7' }),
      at: '/stock/ardenholm~1L-2402-7',
      wrong: undefined,
      right: [],
      gives: [{ pointer: '/fitted/0/lot', found: 'ardenholm/L-2402-7', clearedBy: [] }],
    },
    {
      says: 'leaves it to intake-missing where the edition demands intakes',
      on: () => change(conversionOnPump(), { '/stock': {}, '/edition/demands': {} }),
      at: '/edition/demands/intakes',
      wrong: false,
      right: true,
      gives: [{ pointer: '/fitted/0/lot' }, { pointer: '/seals/0/lot' }],
    },
  ],
  'kit-withdrawn': [
    {
      says: 'notes a part from a kit that was withdrawn by then',
      on: () => change(conversionOnPump(), { [`${kits}/part`]: 'kit-remote-early' }),
      at: '/edition/kits/1/withdrawnFrom',
      wrong: '2026-03-14',
      right: '2026-03-15',
      gives: [
        {
          pointer: '/fitted/0/lot',
          found: 'kit-remote-early',
          because: 'kit-remote-early is withdrawn from 2026-03-14.',
        },
      ],
    },
    {
      says: 'notes nothing of what is no kit, or is not withdrawn',
      on: conversionOnPump,
      at: `${kits}/part`,
      wrong: 'kit-remote-early',
      right: 'plug-bought-loose',
      gives: [{ pointer: '/fitted/0/lot' }],
    },
  ],
};
