/** The rows of the bench, in the order of its table. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { plans } from './plans.ts';

export const allRows: readonly Row<Ground>[] = [plans];
