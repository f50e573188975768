/** The parts of bodies that the description of the interface describes once, under these names. */
import { z } from 'zod';
import { heldElement } from '../core/catalogue/edition.ts';
import { quantitySchema } from '../core/quantity/quantity.ts';
import {
  builtFor,
  checkResult,
  fitted,
  found,
  lotRef,
  removed,
  sealRenewed,
  settingReading,
  statedContent,
  torque,
  unitRef,
  unknown,
} from '../core/records/parts.ts';
import { timeSchema } from '../core/time/instant.ts';

const names: Readonly<Record<string, z.ZodType>> = {
  Time: timeSchema,
  SentQuantity: quantitySchema,
  Unknown: unknown,
  UnitName: unitRef,
  LotName: lotRef,
  SentHeld: heldElement,
  StatedContent: statedContent,
  Found: found,
  BuiltFor: builtFor,
  Removed: removed,
  Fitted: fitted,
  SealRenewed: sealRenewed,
  TorqueReading: torque,
  SettingReading: settingReading,
  CheckResult: checkResult,
};

/** Once, before anything is described. */
export function nameComponents(): void {
  for (const [id, schema] of Object.entries(names)) {
    if (z.globalRegistry.get(schema)?.id !== id) z.globalRegistry.add(schema, { ...schema.meta(), id });
  }
}
