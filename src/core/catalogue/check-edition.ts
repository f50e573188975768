/**
 * What an edition must be before it is published. Everything wrong is said at once, each with its JSON pointer into
 * what was sent; meaning is looked at once the shape is right.
 */
import { explain, placesOf } from '../json/schema-places.ts';
import { cycleInAccess, settingOutOfReach, unreachableStation } from './checks/access.ts';
import {
  impossibleEfficiency,
  minAboveMax,
  negativeTolerance,
  notMoreThanNothing,
  settingWithoutBound,
  toleranceOfNothing,
} from './checks/bounds.ts';
import { wordOfService } from './checks/claim-words.ts';
import { duplicateFunctions, duplicateIds, listedTwice } from './checks/duplicates.ts';
import {
  jointOfNoElement,
  jointOfNoStation,
  lockThatHolds,
  lockWithoutSetting,
  mountingJointOfStation,
} from './checks/joints.ts';
import { elementNotAccepted, tooManyPieces, undecidedStation } from './checks/patterns.ts';
import {
  boundWithoutUnit,
  mixedTerms,
  relationWithoutBound,
  unknownTerm,
  wrongValueOfTerm,
} from './checks/relations.ts';
import { unknownTextKey } from './checks/texts.ts';
import {
  unknownQuantityOfSetting,
  wrongUnitOfCondition,
  wrongUnitOfElement,
  wrongUnitOfFunctionSetting,
  wrongUnitOfSize,
  wrongUnitOfTorque,
} from './checks/units.ts';
import {
  unknownBodyOfFunction,
  unknownBodyOfKit,
  unknownContent,
  unknownElementOfPattern,
  unknownSettingOfFunction,
  unknownSizeOfPattern,
  unknownStationOfPattern,
  unknownSuperseded,
} from './checks/unknown-in-functions.ts';
import {
  unknownAccepted,
  unknownAccess,
  unknownBodyOfSize,
  unknownSeal,
  unknownSettingOfRange,
  unknownStationOfJoint,
  unknownStationOfSetting,
} from './checks/unknown-on-bodies.ts';
import { bodyWithoutSize, needlessKit, needlessRotation, samePattern, unusedElement } from './checks/warnings.ts';
import { type Edition, editionSchema } from './edition.ts';
import { type Problem, problem } from './problem.ts';

export type CheckedEdition =
  | { readonly edition: Edition; readonly warnings: readonly Problem[] }
  | { readonly problems: readonly Problem[] };

export function checkEdition(input: unknown): CheckedEdition {
  const parsed = editionSchema.safeParse(input, { error: explain });
  if (!parsed.success)
    return { problems: placesOf(parsed.error.issues).map(({ path, detail }) => problem(path, detail)) };
  const edition = parsed.data;
  const problems = refusals.flatMap((check) => check(edition));
  if (problems.length > 0) return { problems };
  return { edition, warnings: warnings.flatMap((check) => check(edition)) };
}

type Check = (edition: Edition) => Problem[];

const refusals: readonly Check[] = [
  duplicateIds,
  duplicateFunctions,
  listedTwice,
  unknownBodyOfSize,
  unknownAccess,
  unknownAccepted,
  unknownStationOfJoint,
  unknownSeal,
  unknownStationOfSetting,
  unknownSettingOfRange,
  unknownBodyOfFunction,
  unknownSizeOfPattern,
  unknownStationOfPattern,
  unknownElementOfPattern,
  unknownSettingOfFunction,
  unknownTerm,
  unknownBodyOfKit,
  unknownContent,
  unknownSuperseded,
  unknownTextKey,
  wordOfService,
  cycleInAccess,
  unreachableStation,
  settingOutOfReach,
  undecidedStation,
  elementNotAccepted,
  tooManyPieces,
  jointOfNoStation,
  mountingJointOfStation,
  lockWithoutSetting,
  lockThatHolds,
  jointOfNoElement,
  settingWithoutBound,
  minAboveMax,
  negativeTolerance,
  toleranceOfNothing,
  notMoreThanNothing,
  impossibleEfficiency,
  unknownQuantityOfSetting,
  wrongUnitOfElement,
  wrongUnitOfSize,
  wrongUnitOfTorque,
  wrongUnitOfCondition,
  wrongUnitOfFunctionSetting,
  wrongValueOfTerm,
  mixedTerms,
  relationWithoutBound,
  boundWithoutUnit,
];

const warnings: readonly Check[] = [bodyWithoutSize, samePattern, needlessRotation, unusedElement, needlessKit];
