/** The steps of a plan with their sentences, as its sheet says them in English. */

import type { Plan } from '../../../src/core/fit/plan.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { type MountingJob, planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { sheetLayout } from '../../../src/core/fit/sheet-layout.ts';
import { type SaidStep, withTexts } from '../../../src/core/fit/step-texts.ts';
import { planned } from './expected.ts';

export function saidConversion(job: ConversionJob): SaidStep[] {
  return inEnglish(job, planned(planConversion(job)));
}

export function saidMounting(job: MountingJob): SaidStep[] {
  return inEnglish(job, planned(planMounting(job)));
}

function inEnglish({ edition, body, pump }: ConversionJob | MountingJob, { steps, settings }: Plan): SaidStep[] {
  return withTexts(steps, {
    edition,
    layout: sheetLayout(edition, { control: { body }, pump }),
    settings,
    language: 'en',
  });
}
