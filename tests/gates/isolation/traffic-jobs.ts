/** What the callers of mixed traffic do, and how often; one job is one or a few requests. */
import { claim, decideClaims, readClaims, supportClaims } from './claim-jobs.ts';
import { contain, liftOne, seeToUnits } from './containment-jobs.ts';
import { approve, publishAgain, stateTerms } from './maker-jobs.ts';
import type { Job } from './planted-requests.ts';
import {
  anyOperation,
  askGraphql,
  exportAll,
  readLists,
  readPages,
  readReach,
  readRecords,
  readUnits,
} from './read-jobs.ts';
import {
  adjust,
  convert,
  correct,
  decide,
  identify,
  inspect,
  mountOrDismount,
  move,
  nameTheOthers,
  register,
  repair,
  test,
} from './record-jobs.ts';
import { authorise, examine, forget, keepFile, repeat, sendLines, stateStock, takeIn } from './stock-jobs.ts';

/** By how often they are done, of a hundred or so. */
export const jobs: readonly (readonly [number, Job])[] = [
  [6, register],
  [9, inspect],
  [4, convert],
  [4, adjust],
  [3, repair],
  [4, test],
  [3, move],
  [2, mountOrDismount],
  [4, nameTheOthers],
  [3, correct],
  [3, decide],
  [2, identify],
  [4, stateStock],
  [3, takeIn],
  [2, authorise],
  [3, examine],
  [2, keepFile],
  [3, repeat],
  [2, sendLines],
  [1, forget],
  [3, claim],
  [2, supportClaims],
  [3, readClaims],
  [2, contain],
  [3, seeToUnits],
  [2, liftOne],
  [1, exportAll],
  [8, readUnits],
  [5, readRecords],
  [5, readLists],
  [3, readReach],
  [3, readPages],
  [6, askGraphql],
  [6, anyOperation],
];

/** What the maker's people do: mostly reading. */
export const analystJobs: readonly (readonly [number, Job])[] = [
  [6, readUnits],
  [6, readRecords],
  [2, readLists],
  [3, readReach],
  [2, readPages],
  [1, exportAll],
  [4, askGraphql],
  [2, anyOperation],
  [4, readClaims],
  [4, decideClaims],
  [2, stateTerms],
  [2, approve],
  [1, publishAgain],
  [2, contain],
  [2, seeToUnits],
  [2, liftOne],
];
