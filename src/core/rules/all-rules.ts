/** Every rule, in the order in which findings are given: refusals, holds, dues, notes. A rule counts by its line here. */
import { beforeUnitExisted } from './before-unit-existed.ts';
import { boreOfAnother } from './bore-of-another.ts';
import { boreOutside } from './bore-outside.ts';
import { boreUnknown } from './bore-unknown.ts';
import { boreWorn } from './bore-worn.ts';
import { calibrationAwaited } from './calibration-awaited.ts';
import { calibrationMissing } from './calibration-missing.ts';
import { cannotDecide } from './cannot-decide.ts';
import { checkDue } from './check-due.ts';
import { checkFailed } from './check-failed.ts';
import { checkNotApplicable } from './check-not-applicable.ts';
import { contained } from './contained.ts';
import { contentAssumed } from './content-assumed.ts';
import { contentUnknown } from './content-unknown.ts';
import { editionNotInEffect } from './edition-not-in-effect.ts';
import { elementNotAccepted } from './element-not-accepted.ts';
import { flowOutside } from './flow-outside.ts';
import { flowUnknown } from './flow-unknown.ts';
import { foundNeeded } from './found-needed.ts';
import { functionNotOffered } from './function-not-offered.ts';
import { hoursWentBack } from './hours-went-back.ts';
import { inspectedByFitter } from './inspected-by-fitter.ts';
import { instrumentCoarse } from './instrument-coarse.ts';
import { instrumentOutOfRange } from './instrument-out-of-range.ts';
import { instrumentOverdue } from './instrument-overdue.ts';
import { instrumentSuspect } from './instrument-suspect.ts';
import { instrumentUnknown } from './instrument-unknown.ts';
import { instrumentWrongKind } from './instrument-wrong-kind.ts';
import { intakeMissing } from './intake-missing.ts';
import { intakeUnknown } from './intake-unknown.ts';
import { jointDue } from './joint-due.ts';
import { jointNotClosed } from './joint-not-closed.ts';
import { kitWithdrawn } from './kit-withdrawn.ts';
import { laterWorkDisagrees } from './later-work-disagrees.ts';
import { lotOverdrawn } from './lot-overdrawn.ts';
import { lotUnknown } from './lot-unknown.ts';
import { lotWithdrawn } from './lot-withdrawn.ts';
import { nameTaken } from './name-taken.ts';
import { noFunction } from './no-function.ts';
import { notAsDeclared } from './not-as-declared.ts';
import { notForPump } from './not-for-pump.ts';
import { notInCustody } from './not-in-custody.ts';
import { notOfLot } from './not-of-lot.ts';
import { nothingKnown } from './nothing-known.ts';
import { olderEdition } from './older-edition.ts';
import { onTwoPumps } from './on-two-pumps.ts';
import { orderUnknown } from './order-unknown.ts';
import { performedAhead } from './performed-ahead.ts';
import { performedInFuture } from './performed-in-future.ts';
import { readElsewhere } from './read-elsewhere.ts';
import { referenceUsed } from './reference-used.ts';
import { relationBroken } from './relation-broken.ts';
import { relationUnknown } from './relation-unknown.ts';
import { removedNotThere } from './removed-not-there.ts';
import type { Rule } from './rule.ts';
import { sealNotRenewed } from './seal-not-renewed.ts';
import { sealPastLife } from './seal-past-life.ts';
import { sealUnknown } from './seal-unknown.ts';
import { sealWrongCompound } from './seal-wrong-compound.ts';
import { serialTwice } from './serial-twice.ts';
import { settingDue } from './setting-due.ts';
import { settingOutside } from './setting-outside.ts';
import { shaftTorqueOver } from './shaft-torque-over.ts';
import { sheetDiffers } from './sheet-differs.ts';
import { shopNotApproved } from './shop-not-approved.ts';
import { supersededKit } from './superseded-kit.ts';
import { tagNeeded } from './tag-needed.ts';
import { technicianNotAuthorised } from './technician-not-authorised.ts';
import { technicianUnknown } from './technician-unknown.ts';
import { torqueOutside } from './torque-outside.ts';
import { twoInOneSeat } from './two-in-one-seat.ts';
import { unitRetired } from './unit-retired.ts';
import { unitWrong } from './unit-wrong.ts';
import { unknownId } from './unknown-id.ts';
import { unrecordedWork } from './unrecorded-work.ts';
import { wayNotOpen } from './way-not-open.ts';

/** The name of this list as facts keep it: raised whenever a rule is added, dropped or judges otherwise. */
export const ruleset = 'rules-11';

export const allRules: readonly Rule[] = Object.freeze([
  unknownId,
  unitWrong,
  editionNotInEffect,
  referenceUsed,
  performedInFuture,
  beforeUnitExisted,
  unitRetired,
  foundNeeded,
  removedNotThere,
  elementNotAccepted,
  twoInOneSeat,
  functionNotOffered,
  notAsDeclared,
  wayNotOpen,
  onTwoPumps,
  tagNeeded,
  nameTaken,
  notInCustody,
  contained,
  unrecordedWork,
  noFunction,
  notForPump,
  contentUnknown,
  laterWorkDisagrees,
  orderUnknown,
  jointNotClosed,
  torqueOutside,
  sealNotRenewed,
  sealWrongCompound,
  settingOutside,
  readElsewhere,
  relationBroken,
  shaftTorqueOver,
  boreOutside,
  instrumentWrongKind,
  instrumentOutOfRange,
  instrumentUnknown,
  cannotDecide,
  instrumentOverdue,
  calibrationMissing,
  instrumentSuspect,
  technicianUnknown,
  technicianNotAuthorised,
  shopNotApproved,
  lotUnknown,
  notOfLot,
  lotOverdrawn,
  lotWithdrawn,
  sealPastLife,
  serialTwice,
  intakeMissing,
  checkFailed,
  inspectedByFitter,
  nothingKnown,
  settingDue,
  jointDue,
  checkDue,
  calibrationAwaited,
  performedAhead,
  contentAssumed,
  sealUnknown,
  checkNotApplicable,
  olderEdition,
  sheetDiffers,
  supersededKit,
  kitWithdrawn,
  intakeUnknown,
  hoursWentBack,
  instrumentCoarse,
  relationUnknown,
  boreWorn,
  boreOfAnother,
  boreUnknown,
  flowOutside,
  flowUnknown,
]);
