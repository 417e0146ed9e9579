/**
 * Student's t distribution, for coverage factors of few readings (JCGM 100:2008, annex G, from memory).
 * The distribution function goes through the regularized incomplete beta function, evaluated by its
 * continued fraction (Abramowitz and Stegun 26.7.1 and 26.5.8); the quantile is found by bisection.
 */

const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406,
  12.507343278686905, -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

/** ln Γ(x) for x > 0.5 (Lanczos). */
function logGamma(x: number): number {
  const z = x - 1;
  const t = z + 7.5;
  const series = LANCZOS.reduce((sum, c, i) => (i === 0 ? c : sum + c / (z + i)), 0);
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(series);
}

/** ln Γ for every x > 0, by the recurrence below 0.5. */
const logGammaPositive = (x: number): number => (x < 0.5 ? logGamma(x + 1) - Math.log(x) : logGamma(x));

/** Continued fraction of the incomplete beta function by Lentz's method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const away = (v: number) => (Math.abs(v) < tiny ? tiny : v);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return h;
}

/** Regularized incomplete beta function I_x(a, b). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(
    logGammaPositive(a + b) -
      logGammaPositive(a) -
      logGammaPositive(b) +
      a * Math.log(x) +
      b * Math.log1p(-x),
  );
  // The fraction converges fast on one side of the peak; the symmetry relation covers the other.
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(1 - x, b, a)) / b;
}

/** Probability that |t| with these degrees of freedom exceeds `t`. */
const twoSidedTail = (t: number, freedom: number): number =>
  incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5);

/**
 * The factor t_p(ν) that covers the share `coverage` (0 to 1) of the distribution, two-sided.
 * Infinite for no degrees of freedom.
 */
export function studentT(coverage: number, freedom: number): number {
  if (freedom <= 0) return Number.POSITIVE_INFINITY;
  const tail = 1 - coverage;
  let low = 0;
  let high = 1;
  while (twoSidedTail(high, freedom) > tail && high < 1e9) high *= 2;
  for (let i = 0; i < 200 && high - low > 1e-14 * high; i++) {
    const middle = (low + high) / 2;
    if (twoSidedTail(middle, freedom) > tail) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const widening = new Map<number, number>();

/**
 * What a standard uncertainty from `freedom` degrees of freedom is multiplied by, so that twice the
 * result still covers 95 %: max(1, t₉₅/2).
 */
export function coverageWidening(freedom: number): number {
  const known = widening.get(freedom);
  if (known !== undefined) return known;
  const factor = Math.max(1, studentT(0.95, freedom) / 2);
  widening.set(freedom, factor);
  return factor;
}
