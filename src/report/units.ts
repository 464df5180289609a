import { MILLIMETRES_IN_AN_INCH, formatNumber, formatTrimmed } from "../measure/index.js";
import type { PlanLimit } from "../plan/index.js";

/** In which units lengths are told: as the documents state them, or in inches with the stated value beside. */
export type LengthUnits = "mm" | "in";

/** Writes a length of a procedure with its tolerance, where it has one; inches to a hundredth, tolerances to a thousandth. */
export function tellLength(millimetres: number, tolerance: number | null, units: LengthUnits): string {
  const stated = tolerance === null ? `${millimetres} mm` : `${millimetres} ±${tolerance} mm`;
  if (units === "mm") return stated;
  const inches = formatNumber(millimetres / MILLIMETRES_IN_AN_INCH, 2);
  const play = tolerance === null ? "" : ` ±${formatTrimmed(tolerance / MILLIMETRES_IN_AN_INCH, 3)}`;
  return `${inches}${play} in (${stated})`;
}

const UNITS: Readonly<Record<string, string>> = { deg: "°", degC: " °C", um: " µm" };

/** A unit as it is printed on its own. */
export function nameOfUnit(unit: string): string {
  return (UNITS[unit] ?? unit).trim();
}

/** A limit in words: "at most 5 mm", "within ±0.1°". */
export function tellLimit(limit: PlanLimit, units: LengthUnits): string {
  const stated = writeLimit(limit);
  return units === "mm" || limit.unit !== "mm" ? stated : `${writeLimit(toInches(limit))} (${stated})`;
}

function toInches({ value, low, high, sense }: PlanLimit): PlanLimit {
  const convert = (length: number): number => Number(formatTrimmed(length / MILLIMETRES_IN_AN_INCH, 3));
  return {
    unit: "in",
    sense,
    value: convert(value),
    low: low === null ? null : convert(low),
    high: high === null ? null : convert(high),
  };
}

function writeLimit(limit: PlanLimit): string {
  const unit = UNITS[limit.unit] ?? ` ${limit.unit}`;
  switch (limit.sense) {
    case "at-most":
      return `at most ${limit.value}${unit}`;
    case "at-least":
      return `at least ${limit.value}${unit}`;
    case "between":
      return limit.low !== null && limit.low === -(limit.high ?? 0) && limit.low < 0
        ? `within ±${limit.high ?? 0}${unit}`
        : `${limit.low ?? "?"} to ${limit.high ?? "?"}${unit}`;
  }
}
