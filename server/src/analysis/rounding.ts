/**
 * Decimal rounding, half to even, on the shortest decimal form of a number: 2.675 is treated as the digits a
 * person sees, not as the binary neighbour that stores it.
 */
export function roundHalfEven(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return String(value);
  const { negative, digits, exponent } = decimalForm(value);
  // `digits` is an integer times 10^exponent; keep those down to 10^-decimals.
  const drop = -exponent - decimals;
  let kept = digits;
  if (drop > 0) {
    const unit = 10n ** BigInt(drop);
    const rest = digits % unit;
    kept = digits / unit;
    const twice = rest * 2n;
    if (twice > unit || (twice === unit && kept % 2n === 1n)) kept += 1n;
  } else {
    kept = digits * 10n ** BigInt(-drop);
  }
  const text = withPoint(kept, decimals);
  return negative && kept !== 0n ? `-${text}` : text;
}

function decimalForm(value: number): { negative: boolean; digits: bigint; exponent: number } {
  // Fifteen digits are what a double holds for certain; the sixteenth is conversion residue.
  const [mantissa = "0", power = "0"] = Math.abs(value).toExponential(14).split("e");
  const digits = mantissa.replace(".", "");
  return { negative: value < 0, digits: BigInt(digits), exponent: Number(power) - 14 };
}

function withPoint(kept: bigint, decimals: number): string {
  if (decimals <= 0) return (kept * 10n ** BigInt(-decimals)).toString();
  const padded = kept.toString().padStart(decimals + 1, "0");
  return `${padded.slice(0, -decimals)}.${padded.slice(-decimals)}`;
}

/** Power of ten of the first digit: 0 for 1 to 9.99, −2 for 0.012. */
export const magnitude = (value: number): number =>
  value === 0 || !Number.isFinite(value) ? 0 : Number(Math.abs(value).toExponential(14).split("e")[1] ?? 0);

/** Decimals at which a value is cut so that `figures` significant digits stay. */
export const decimalsFor = (value: number, figures: number): number => figures - 1 - magnitude(value);
