/** The rules for movements, start-ups and retirements, in the order in which findings are given. */
import { recordKinds } from '../catalogue/edition.ts';
import { duesMeant, type LifeCase, unitsOf } from '../judge/life-case.ts';
import { relationsAtStart } from '../judge/relations-at-hand.ts';
import { isUnknown } from '../records/parts.ts';
import { beforeUnitExisted } from './before-unit-existed.ts';
import { hoursWentBack, wentBack } from './hours-went-back.ts';
import { performedInFuture } from './performed-in-future.ts';
import { referenceUsed } from './reference-used.ts';
import { brokenRelations, relationBroken } from './relation-broken.ts';
import { relationUnknown, unknownRelations } from './relation-unknown.ts';
import type { RuleOn } from './rule.ts';
import { retiredBefore, unitRetired } from './unit-retired.ts';
import { missing } from './unknown-id.ts';

type LifeRule = RuleOn<LifeCase>;

const unknownId: LifeRule = {
  id: 'unknown-id',
  severity: 'refuse',
  sentence: 'Every shop, technician, attachment and record that is named is known.',
  basis: 'A name that nobody can look up proves nothing years later.',
  clears: null,
  check: ({ record, known, afterIsKnown }) => {
    const { shop, technician, attachments } = record.body;
    const { from, to } = record.kind === 'movement' ? record.body : {};
    const shops: [string, unknown][] = [
      ['/shop', shop],
      ['/from/shop', shopIn(from)],
      ['/to/shop', shopIn(to)],
    ];
    return [
      ...shops.flatMap(([at, named]) =>
        typeof named !== 'string' || known.shops.has(named) ? [] : [missing(at, 'shop', named)],
      ),
      ...(isUnknown(technician) || known.technicians.has(technician)
        ? []
        : [missing('/technician', 'technician', technician)]),
      ...attachments.flatMap((digest, index) =>
        known.attachments.has(digest) ? [] : [missing(`/attachments/${index}`, 'attachment', digest)],
      ),
      ...(afterIsKnown
        ? []
        : [{ pointer: '/after', because: 'No record of this unit has the id that "after" names.' }]),
    ];
  },
};

function shopIn(where: unknown): unknown {
  return typeof where === 'object' && where !== null && 'shop' in where ? where.shop : undefined;
}

const beforeBuilt: LifeRule = {
  ...beforeUnitExisted,
  check: (judged) =>
    unitsOf(judged).flatMap(({ name, state: { builtAt } }) =>
      builtAt === null || judged.performed.to >= builtAt
        ? []
        : [{ pointer: '/performedAt', found: judged.performed.to, because: `${name} was built on ${builtAt}.` }],
    ),
};

/** It may still be moved: to where it is scrapped. */
const retired: LifeRule = {
  ...unitRetired,
  check: (judged) =>
    judged.record.kind === 'movement' ? [] : unitsOf(judged).flatMap((unit) => retiredBefore(unit.kind, unit)),
};

const workAfterRetirement: LifeRule = {
  id: 'work-after-retirement',
  severity: 'refuse',
  sentence: 'A unit is retired after all work on it.',
  basis: 'What is worked on is not out of use: one of the two times is wrong, or one of the two units.',
  clears: null,
  check: ({ record, unit }) => {
    const work: readonly string[] = [...recordKinds, 'start-up', 'retirement', 'correction'];
    // What only makes another record void says nothing of its own.
    const last = unit.later.findLast(
      ({ kind, effect: { replaces: _, ...effect } }) =>
        work.includes(kind) &&
        effect.mounted?.on !== false &&
        (kind !== 'correction' || Object.keys(effect).length > 0),
    );
    if (record.kind !== 'retirement' || last === undefined) return [];
    const because = `Work on ${unit.name} is recorded that was done later, on ${last.performedTo}.`;
    return [{ pointer: '/performedAt', expected: `after ${last.performedTo}`, because }];
  },
};

const namedAlready: LifeRule = {
  id: 'named-already',
  severity: 'refuse',
  sentence: 'A movement gives a tag to a control that has no serial and no tag yet.',
  basis: 'What has a name gets another one under /v1/identities, where the old one goes on leading to it.',
  clears: null,
  check: (judged) => {
    const { record } = judged;
    if (record.kind !== 'movement' || record.body.tag === undefined) return [];
    const control = unitsOf(judged).find((one) => one.kind === 'control');
    if (control === undefined) return [{ pointer: '/tag', because: 'By the records there is no control here.' }];
    // What comes late may tell a name again, or one that it had before the one that is known.
    if (!control.hasName || judged.tagIsIts || control.later.length > 0) return [];
    const because = `This control is known as ${control.name}. Give it another tag under /v1/identities.`;
    return [{ pointer: '/tag', found: control.name, because }];
  },
};

const nameTaken: LifeRule = {
  id: 'name-taken',
  severity: 'refuse',
  sentence: 'A serial or tag leads to one unit.',
  basis: 'Where one plate is on two units, one of them is wrong: say which first.',
  clears: null,
  check: ({ tagTakenBy: taken }) =>
    taken === null ? [] : [{ pointer: '/tag', found: taken, because: `${taken} has this tag already. Use another.` }],
};

const notDue: LifeRule = {
  id: 'not-due',
  severity: 'refuse',
  sentence: 'What is handed over is due.',
  basis: 'Nobody takes over what is done, and what holds a unit is made good or decided, not handed on.',
  clears: null,
  check: (judged) => {
    const dues = judged.record.kind === 'retirement' ? [] : (judged.record.body.handedOver?.dues ?? []);
    return dues.flatMap((ref, index) =>
      unitsOf(judged).some((unit) => duesMeant(ref, unit).length > 0)
        ? []
        : [{ pointer: `/handedOver/dues/${index}`, because: 'Nothing like this is due of this unit.' }],
    );
  },
};

const hours: LifeRule = { ...hoursWentBack, check: (judged) => unitsOf(judged).flatMap(wentBack) };

const broken: LifeRule = {
  ...relationBroken,
  check: (judged) => brokenRelations(relationsAtStart(judged), '/circuit', judged),
};

const unknownRelation: LifeRule = { ...relationUnknown, check: (judged) => unknownRelations(relationsAtStart(judged)) };

export const lifeRules: readonly LifeRule[] = Object.freeze([
  unknownId,
  referenceUsed,
  performedInFuture,
  beforeBuilt,
  retired,
  workAfterRetirement,
  namedAlready,
  nameTaken,
  notDue,
  broken,
  hours,
  unknownRelation,
]);
