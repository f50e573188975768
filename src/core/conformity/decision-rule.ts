/** The rules by which a reading is held to meet a requirement or not, named as records name them. */

/**
 * `simple`: the estimate decides, limits included (simple acceptance, JCGM 106:2012, 8.2). `guard-band`: it must lie
 * within the limits by w = r·U, U = 2u (JCGM 106:2012, 8.3; ILAC-G8:09/2019, 4.2.3); `factor` is r, 0 or more.
 */
export type DecisionRule = { readonly name: 'simple' } | { readonly name: 'guard-band'; readonly factor: number };

/** The coverage factor of U = k·u, for a probability of about 95 %. */
export const coverageFactor = 2;

/** w = U, the usual band: at its edge the probability of a false acceptance is 2.275 % (ILAC-G8:09/2019). */
const usualFactor = 1;

/**
 * The rule of a requirement: its own one wins, else the guard band that the edition demands of all, else simple
 * acceptance. One that names `guard-band` by itself has w = U where the edition gives no r.
 */
export function decisionRuleFor(own: DecisionRule['name'] | undefined, demanded: number | undefined): DecisionRule {
  if (own === 'simple' || (own === undefined && demanded === undefined)) return { name: 'simple' };
  return { name: 'guard-band', factor: demanded ?? usualFactor };
}
