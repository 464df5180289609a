import {
  MILLIMETRES_IN_AN_INCH,
  type Degrees,
  type Millimetres,
  type MillimetresPerMetre,
} from "./quantity.js";

/** The sign before a negative number in text: the hyphen-minus, which every terminal and every parser knows. */
const MINUS = "-";
const SIXTEENTHS = 16n;

/**
 * Writes a number with a fixed count of decimals, a half rounded away from zero.
 * What is rounded is the shortest decimal text of the number, so that 1.005 gives 1.01 although its binary value lies
 * just below. Never "-0". Throws a RangeError for what is not a finite number.
 */
export function formatNumber(value: number, digits: number): string {
  return write(value < 0, scale(value, digits, "nearest"), digits);
}

/** The same, cut off instead of rounded: what is written never lies further from zero than the number. */
export function formatNumberDown(value: number, digits: number): string {
  return write(value < 0, scale(value, digits, "down"), digits);
}

/** A number as somebody would state it: at most so many decimals, without trailing zeros. */
export function formatTrimmed(value: number, digits: number): string {
  const text = formatNumber(value, digits);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/**
 * Writes a length with its unit. Computed: mm to a tenth, inches to two decimals. Tape: whole mm, inches to the nearest
 * sixteenth as "3 3/8 in"; where the decimal is wanted beside the fraction, it is the computed reading.
 */
export function formatLength(value: Millimetres, units: "mm" | "in", reading: "computed" | "tape"): string {
  if (units === "mm") return `${formatNumber(value, reading === "tape" ? 0 : 1)} mm`;
  const inches = value / MILLIMETRES_IN_AN_INCH;
  return reading === "tape" ? `${formatSixteenths(inches)} in` : `${formatNumber(inches, 2)} in`;
}

/** Writes an angle in decimal degrees: "0.21°". */
export function formatAngle(value: Degrees, digits = 2): string {
  return `${formatNumber(value, digits)}°`;
}

/** Writes an angle in degrees and whole minutes of arc: "0°13′". */
export function formatAngleMinutes(value: Degrees): string {
  const minutes = BigInt(scale(value * 60, 0, "nearest"));
  const sign = value < 0 && minutes > 0n ? MINUS : "";
  return `${sign}${minutes / 60n}°${(minutes % 60n).toString().padStart(2, "0")}′`;
}

/** Writes a slope: "2.5 mm/m", or "0.25 %". */
export function formatSlope(value: MillimetresPerMetre, unit: "mm/m" | "%" = "mm/m"): string {
  return unit === "mm/m" ? `${formatNumber(value, 1)} mm/m` : `${formatNumber(value / 10, 2)} %`;
}

function formatSixteenths(inches: number): string {
  const count = BigInt(scale(inches * Number(SIXTEENTHS), 0, "nearest"));
  if (count === 0n) return "0";
  const sign = inches < 0 ? MINUS : "";
  const whole = count / SIXTEENTHS;
  let [over, under] = [count % SIXTEENTHS, SIXTEENTHS];
  while (over > 0n && over % 2n === 0n) [over, under] = [over / 2n, under / 2n];
  const parts = [...(whole > 0n ? [`${whole}`] : []), ...(over > 0n ? [`${over}/${under}`] : [])];
  return sign + parts.join(" ");
}

/** The size of a number in units of its last decimal to be written, as digits. */
function scale(value: number, digits: number, rounding: "nearest" | "down"): string {
  if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be written as a decimal number`);
  const [mantissa = "0", exponent = "0"] = Math.abs(value).toExponential().split("e");
  const figures = mantissa.replace(".", "");
  const shift = Number(exponent) - (figures.length - 1) + digits;
  if (shift >= 0) return figures + "0".repeat(shift);
  const whole = figures.slice(0, shift) || "0";
  const isUp = rounding === "nearest" && (figures.at(shift) ?? "0") >= "5";
  return isUp ? (BigInt(whole) + 1n).toString() : whole;
}

function write(negative: boolean, scaled: string, digits: number): string {
  const figures = scaled.padStart(digits + 1, "0");
  const point = figures.length - digits;
  const text = digits === 0 ? figures : `${figures.slice(0, point)}.${figures.slice(point)}`;
  return negative && scaled !== "0" ? MINUS + text : text;
}
