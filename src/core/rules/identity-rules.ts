/** The rules for what is said of which unit is which, in the order in which findings are given. */
import type { IdentityCase } from '../judge/identity-case.ts';
import { isUnknown } from '../records/parts.ts';
import { performedInFuture } from './performed-in-future.ts';
import { referenceUsed } from './reference-used.ts';
import { concession, type RuleOn } from './rule.ts';
import { missing } from './unknown-id.ts';

type IdentityRule = RuleOn<IdentityCase>;

const unknownId: IdentityRule = {
  id: 'unknown-id',
  severity: 'refuse',
  sentence: 'The shop and the technician that are named are known.',
  basis: 'A name that nobody can look up proves nothing years later.',
  clears: null,
  check: ({ body: { shop, technician }, shopIsKnown, technicianIsKnown }) => [
    ...(shopIsKnown ? [] : [missing('/shop', 'shop', shop)]),
    ...(technicianIsKnown || isUnknown(technician) ? [] : [missing('/technician', 'technician', technician)]),
  ],
};

const nameTaken: IdentityRule = {
  id: 'name-taken',
  severity: 'refuse',
  sentence: 'A serial or tag leads to one unit.',
  basis: 'Where one plate is on two units, one of them is wrong: say which first.',
  clears: null,
  check: ({ body, nameTakenBy: taken }) =>
    taken === null
      ? []
      : [
          {
            pointer: 'tag' in body && body.tag !== undefined ? '/tag' : '/serial',
            found: taken,
            because: `${taken} has this name already. If they are one unit, merge them; if the plate is wrong there, say so first.`,
          },
        ],
};

const namelessUnit: IdentityRule = {
  id: 'tag-needed',
  severity: 'refuse',
  sentence: 'A unit whose plate belongs elsewhere gets a serial or a tag of its own.',
  basis: 'Without a name nobody finds it again. Only controls have tags.',
  clears: null,
  check: ({ body, unit }) => {
    if (body.what !== 'wrong-plate' || body.serial !== undefined) return [];
    if (body.tag !== undefined && unit.state.born?.kind === 'control') return [];
    return [{ pointer: '/serial', because: 'Give its right serial, or for a control a tag.' }];
  },
};

const notExchanged: IdentityRule = {
  id: 'not-exchanged',
  severity: 'refuse',
  sentence: 'An exchange puts another control on the pump than the records have there.',
  basis: 'What the records have is not news.',
  clears: null,
  check: ({ body, unit, other }) =>
    body.what === 'exchanged' && unit.state.mounted?.with === other?.state.unit
      ? [{ pointer: '/control', because: 'By the records this control is on that pump.' }]
      : [],
};

const notOneUnit: IdentityRule = {
  id: 'not-one-unit',
  severity: 'refuse',
  sentence: 'Units that are merged can be one: of one kind, body or size, not on two pumps, and not merged yet.',
  basis: 'What is cast differently was never one piece.',
  clears: null,
  check: ({ body, unit, other }) => {
    if (body.what !== 'merged' || other === null) return [];
    const because = whyNotOne(unit.state, other.state);
    return because === null ? [] : [{ pointer: '/with', because }];
  },
};

function whyNotOne(one: IdentityCase['unit']['state'], other: IdentityCase['unit']['state']): string | null {
  if (one.unit === other.unit) return 'This is one unit already.';
  if (JSON.stringify(kindOf(one)) !== JSON.stringify(kindOf(other)))
    return 'They are not of one body, series and size.';
  if (one.mounted !== null && other.mounted !== null && one.mounted.with !== other.mounted.with) {
    return 'By the records each is with another counterpart now. Take one off, or say that it was exchanged, first.';
  }
  return null;
}

function kindOf({ born }: IdentityCase['unit']['state']): unknown {
  if (born?.kind !== 'pump') return born?.body;
  return [born.series, born.size, born.rotation];
}

const exchangedUnrecorded: IdentityRule = {
  id: 'exchanged-unrecorded',
  severity: 'hold',
  sentence: 'A control is exchanged by work that somebody records.',
  basis: 'Whoever exchanged it has not said what else was done.',
  clears: 'a later record that leaves a function, or a concession',
  check: (judged) =>
    judged.body.what !== 'exchanged' || judged.other === null
      ? []
      : [
          {
            pointer: '/control',
            found: judged.other.name,
            because: 'The control was exchanged and nobody recorded the work.',
            clearedBy: [{ kind: 'function', place: 'control' }, concession(judged)],
          },
        ],
};

export const identityRules: readonly IdentityRule[] = Object.freeze([
  unknownId,
  referenceUsed,
  performedInFuture,
  nameTaken,
  namelessUnit,
  notExchanged,
  notOneUnit,
  exchangedUnrecorded,
]);
