/** What a piece of work is about, whether a conversion or a mounting: enough to say what it must come to. */
import type { Demand, Edition, Fun } from '../../../src/core/catalogue/edition.ts';
import type { Fit } from '../../../src/core/fit/fit.ts';
import type { Quantity } from '../../../src/core/quantity/quantity.ts';
import type { Layout } from './layout.ts';

export type Task = {
  readonly edition: Edition;
  readonly layout: Layout;
  /** What is known of what sits where. */
  readonly fit: Fit;
  readonly fun: Fun;
  /** What the work decides, by station; whatever isn't named stays. */
  readonly demands: Readonly<Record<string, Demand>>;
  readonly choices: Readonly<Record<string, string>>;
  readonly functionChanges: boolean;
  /** Settings that the pair is known to have. */
  readonly settings: Readonly<Record<string, Quantity>>;
  readonly onPump: boolean;
};
