/** Every test of a rule, by the id of the rule. */
import { bores } from './bores.ts';
import { containments } from './containments.ts';
import { duesAndNotes } from './dues-and-notes.ts';
import { evidence } from './evidence.ts';
import { holds } from './holds.ts';
import { instruments } from './instruments.ts';
import { life } from './life.ts';
import { lots } from './lots.ts';
import { names } from './names.ts';
import { people } from './people.ts';
import { physics } from './physics.ts';
import { readings } from './readings.ts';
import { refusals } from './refusals.ts';
import type { RuleTests } from './rule-test.ts';

export const ruleTests: RuleTests = {
  ...names,
  ...refusals,
  ...holds,
  ...readings,
  ...instruments,
  ...duesAndNotes,
  ...life,
  ...lots,
  ...people,
  ...evidence,
  ...physics,
  ...bores,
  ...containments,
};

export const ruleTestRows = Object.entries(ruleTests).flatMap(([rule, list]) => list.map((one) => ({ rule, ...one })));
