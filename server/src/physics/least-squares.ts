/**
 * Straight-line and exponential least squares with standard errors (JCGM 100:2008, example H.3 for the line).
 */
export interface Line {
  readonly slope: number;
  /** Value at x = 0. */
  readonly intercept: number;
  readonly slopeError: number;
  readonly interceptError: number;
  /** Standard deviation of the points about the line, n − 2 degrees of freedom; zero for two points. */
  readonly residual: number;
  /** Sum of squares of x about its mean. */
  readonly spreadX: number;
}

export const average = (values: readonly number[]): number => {
  let total = 0;
  for (const v of values) total += v;
  return total / values.length;
};

/** Sum of squares about the mean, in two passes so that large offsets cost no digits. */
export function squaresAbout(values: readonly number[], mean: number): number {
  let total = 0;
  for (const v of values) total += (v - mean) * (v - mean);
  return total;
}

/** The line through these points; undefined when all x are equal or there are fewer than two points. */
export function fitLine(x: readonly number[], y: readonly number[]): Line | undefined {
  const n = Math.min(x.length, y.length);
  if (n < 2) return undefined;
  const meanX = average(x);
  const meanY = average(y);
  const spreadX = squaresAbout(x, meanX);
  if (!(spreadX > 0)) return undefined;
  let cross = 0;
  for (let i = 0; i < n; i++) cross += ((x[i] ?? 0) - meanX) * ((y[i] ?? 0) - meanY);
  const slope = cross / spreadX;
  const intercept = meanY - slope * meanX;
  let rest = 0;
  for (let i = 0; i < n; i++) {
    const off = (y[i] ?? 0) - meanY - slope * ((x[i] ?? 0) - meanX);
    rest += off * off;
  }
  const residual = n > 2 ? Math.sqrt(rest / (n - 2)) : 0;
  return {
    slope,
    intercept,
    slopeError: residual / Math.sqrt(spreadX),
    interceptError: residual * Math.sqrt(1 / n + (meanX * meanX) / spreadX),
    residual,
    spreadX,
  };
}

export interface Decay {
  /** y = start · exp(−x / timeConstant). */
  readonly start: number;
  readonly timeConstant: number;
  readonly timeConstantError: number;
  /** How strongly an error common in size but free in sign of every y moves the time constant. */
  readonly sensitivity: number;
}

/**
 * The exponential decay to zero through these points, by Gauss and Newton's method on the values
 * themselves (not on their logarithms, which would let the smallest values count most).
 * Undefined when the points do not fall.
 */
export function fitDecay(x: readonly number[], y: readonly number[]): Decay | undefined {
  const n = Math.min(x.length, y.length);
  if (n < 3) return undefined;
  const first = firstGuess(x, y);
  if (!first) return undefined;
  const origin = x[0] ?? 0;
  let { start, rate } = first;
  let normal = normalEquations(x, y, origin, start, rate);
  for (let step = 0; step < 100; step++) {
    if (!(normal.determinant > 0)) return undefined;
    const byStart = (normal.rr * normal.gs - normal.sr * normal.gr) / normal.determinant;
    const byRate = (normal.ss * normal.gr - normal.sr * normal.gs) / normal.determinant;
    // A full step may overshoot on noisy points, so it is halved until the fit gets no worse.
    let share = 1;
    let next = normalEquations(x, y, origin, start + byStart, rate + byRate);
    while (!(next.rest <= normal.rest) && share > 1e-6) {
      share /= 2;
      next = normalEquations(x, y, origin, start + share * byStart, rate + share * byRate);
    }
    if (!(next.rest <= normal.rest)) break;
    start += share * byStart;
    rate += share * byRate;
    normal = next;
    if (Math.abs(share * byRate) < 1e-13 * Math.abs(rate)) break;
  }
  if (!(rate > 0) || !(normal.determinant > 0)) return undefined;
  const rateByUnit = Math.sqrt(normal.ss / normal.determinant);
  const residual = Math.sqrt(normal.rest / (n - 2));
  return {
    start: start * Math.exp(rate * origin),
    timeConstant: 1 / rate,
    timeConstantError: (residual * rateByUnit) / (rate * rate),
    sensitivity: rateByUnit / (rate * rate),
  };
}

/** A line through the logarithms, each weighted by its value, as the place to start from. */
function firstGuess(x: readonly number[], y: readonly number[]): { start: number; rate: number } | undefined {
  const origin = x[0] ?? 0;
  let w = 0;
  let wx = 0;
  let wy = 0;
  let wxx = 0;
  let wxy = 0;
  for (let i = 0; i < Math.min(x.length, y.length); i++) {
    const value = y[i] ?? 0;
    if (value <= 0) continue;
    const weight = value * value;
    const at = (x[i] ?? 0) - origin;
    const log = Math.log(value);
    w += weight;
    wx += weight * at;
    wy += weight * log;
    wxx += weight * at * at;
    wxy += weight * at * log;
  }
  const determinant = w * wxx - wx * wx;
  if (!(determinant > 0)) return undefined;
  const slope = (w * wxy - wx * wy) / determinant;
  if (!(slope < 0)) return undefined;
  return { start: Math.exp((wy - slope * wx) / w), rate: -slope };
}

interface Normal {
  readonly ss: number;
  readonly sr: number;
  readonly rr: number;
  readonly gs: number;
  readonly gr: number;
  readonly rest: number;
  readonly determinant: number;
}

/** Normal equations of y = start · exp(−rate · (x − origin)) about the present start and rate. */
function normalEquations(
  x: readonly number[],
  y: readonly number[],
  origin: number,
  start: number,
  rate: number,
): Normal {
  let ss = 0;
  let sr = 0;
  let rr = 0;
  let gs = 0;
  let gr = 0;
  let rest = 0;
  for (let i = 0; i < Math.min(x.length, y.length); i++) {
    const at = (x[i] ?? 0) - origin;
    const byStart = Math.exp(-rate * at);
    const byRate = -start * at * byStart;
    const off = (y[i] ?? 0) - start * byStart;
    ss += byStart * byStart;
    sr += byStart * byRate;
    rr += byRate * byRate;
    gs += byStart * off;
    gr += byRate * off;
    rest += off * off;
  }
  return { ss, sr, rr, gs, gr, rest, determinant: ss * rr - sr * sr };
}
