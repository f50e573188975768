/** The standard normal distribution, as far as decisions under uncertainty need it. */

/**
 * Φ(z), the probability that a standard normal variable is at most z; within 1e-15 of the true value, and far below
 * the mean within 1e-13 of its own size. Near the mean by the series Φ(z) = 1/2 + φ(z)·(z + z³/3 + z⁵/(3·5) + …)
 * (Marsaglia, Evaluating the Normal Distribution, Journal of Statistical Software 11(4), 2004), in the tails by the
 * continued fraction Q(z) = φ(z)/(z + 1/(z + 2/(z + 3/(z + …)))) (Abramowitz & Stegun 26.2.14).
 */
export function normalCdf(z: number): number {
  if (z > seriesUpTo) return 1 - upperTail(z);
  if (z < -seriesUpTo) return upperTail(-z);
  return 0.5 + density(z) * series(z);
}

/** Further out the series loses digits below the mean; from here the fraction needs less than 100 terms. */
const seriesUpTo = 2.5;
const terms = 100;

function series(z: number): number {
  let [sum, term] = [z, z];
  for (let odd = 3; Math.abs(term) > Math.abs(sum) * (Number.EPSILON / 4); odd += 2) {
    term *= (z * z) / odd;
    sum += term;
  }
  return sum;
}

function upperTail(z: number): number {
  let below = z;
  for (let term = terms; term >= 1; term -= 1) below = z + term / below;
  return density(z) / below;
}

function density(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}
