/** The rules for corrections, in the order in which findings are given. What replaces the record has its own kind's. */
import type { CorrectionCase } from '../judge/correction-case.ts';
import type { RuleOn } from './rule.ts';

type CorrectionRule = RuleOn<CorrectionCase>;

const correctedAlready: CorrectionRule = {
  id: 'corrected-already',
  severity: 'refuse',
  sentence: 'What is corrected still counts.',
  basis: 'Two corrections of one record would say two things of one piece of work.',
  clears: null,
  check: ({ correctedBy }) =>
    correctedBy === null
      ? []
      : [
          {
            pointer: '',
            found: correctedBy,
            because: `Correction ${correctedBy} has replaced this record. Correct that one.`,
          },
        ],
};

const notCorrectable: CorrectionRule = {
  id: 'not-correctable',
  severity: 'refuse',
  sentence: 'A registration is not corrected.',
  basis: 'Everything that happened to the unit hangs on it; what it got wrong is found, and recorded as an inspection.',
  clears: null,
  check: ({ record: { of } }) =>
    of === 'registration'
      ? [
          {
            pointer: '',
            found: of,
            because:
              'A registration stays. Record what is otherwise as an inspection, a wrong name under /v1/identities.',
          },
        ]
      : [],
};

const otherKind: CorrectionRule = {
  id: 'other-kind',
  severity: 'refuse',
  sentence: 'A record is replaced by one of its own kind, or falls away.',
  basis: 'What turns out to have been another kind of work is void here and recorded there.',
  clears: null,
  check: ({ record: { of }, kind }) =>
    kind === 'void' || kind === of
      ? []
      : [
          {
            pointer: '/kind',
            expected: `${of} or void`,
            found: kind,
            because: `The record is of kind ${of}. Make it void, and record the ${kind} anew.`,
          },
        ],
};

const otherReference: CorrectionRule = {
  id: 'other-reference',
  severity: 'refuse',
  sentence: 'A correction keeps the reference of the record.',
  basis: 'The reference is how a shop finds its own record again.',
  clears: null,
  check: ({ record, kind, reference }) =>
    kind !== record.of || reference === record.reference
      ? []
      : [
          {
            pointer: '/body/reference',
            expected: record.reference,
            found: reference,
            because: `The record that is corrected has the reference ${record.reference}.`,
          },
        ],
};

const otherUnit: CorrectionRule = {
  id: 'other-unit',
  severity: 'refuse',
  sentence: 'A correction is about the units of the record.',
  basis: 'Work that was done on another unit never happened to this one: void here, new there.',
  clears: null,
  check: ({ sameUnits }) =>
    sameUnits
      ? []
      : [
          {
            pointer: '/body',
            because:
              'This is another unit than the record is about. Make the record void, and record the work on that unit.',
          },
        ],
};

export const correctionRules: readonly CorrectionRule[] = Object.freeze([
  correctedAlready,
  notCorrectable,
  otherKind,
  otherReference,
  otherUnit,
]);
