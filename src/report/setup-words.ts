import type { SetupResult } from "../setup/index.js";
import {
  MILLIMETRES_IN_AN_INCH,
  degrees,
  formatAngle,
  formatLength,
  formatNumber,
  formatSlope,
  formatTrimmed,
  millimetresPerMetre,
  mm,
} from "../measure/index.js";
import type { SetupDecision, TargetResult } from "./set-ups.js";
import type { LengthUnits } from "./units.js";

/** From where a distance counts, in words. */
export const DATUMS: Readonly<Record<TargetResult["datum"], string>> = {
  "front-axle": "the front axle",
  "rear-axle": "the rear axle",
  "front-bumper": "the front bumper",
  "rear-bumper": "the rear bumper",
  sensor: "the sensor",
  emblem: "the emblem",
};

export const REFERENCE_LINES: Readonly<Record<TargetResult["referenceLine"], string>> = {
  "centre-line": "the centre line",
  "thrust-line": "the thrust line",
};

export type QuantityName = keyof TargetResult["asked"];
export const QUANTITY_NAMES = ["lateral", "distance", "yaw", "pitch", "roll", "height"] as const;

/** The quantities of a target's pose, with the direction in which each counts positive. */
export const QUANTITIES: Readonly<
  Record<QuantityName, { readonly label: string; readonly positive: string; readonly unit: "mm" | "deg" }>
> = {
  lateral: { label: "Lateral", positive: "to the left of the line", unit: "mm" },
  distance: { label: "Distance", positive: "away from the vehicle", unit: "mm" },
  yaw: { label: "Yaw", positive: "counter-clockwise from above", unit: "deg" },
  pitch: { label: "Pitch", positive: "leaning towards the vehicle's front", unit: "deg" },
  roll: { label: "Roll", positive: "left side up", unit: "deg" },
  height: { label: "Height", positive: "of the middle above the floor", unit: "mm" },
};

/** A value of a quantity with its unit. */
export function writeValue(value: number, unit: "mm" | "deg", units: LengthUnits): string {
  return unit === "mm" ? formatLength(mm(value), units, "computed") : formatAngle(degrees(value));
}

/** A length as somebody stated it: "2650 mm", "104.33 in". */
export function writeStated(value: number, units: LengthUnits): string {
  return units === "mm" ? `${formatTrimmed(value, 2)} mm` : formatLength(mm(value), units, "computed");
}

/** Lengths as they are stated, in mm; where inches are read, the inches with the mm beside them. */
export function writeBoth(
  units: LengthUnits,
  tell: (write: (value: number) => string, unit: string) => string,
): string {
  const stated = tell((value) => formatTrimmed(value, 2), "mm");
  if (units === "mm") return stated;
  return `${tell((value) => formatTrimmed(value / MILLIMETRES_IN_AN_INCH, 3), "in")} (${stated})`;
}

/** "2650 ±5 mm", "0 ±0.3°", "104.331 ±0.197 in (2650 ±5 mm)". */
export function writeAsked(
  { nominal, tolerance }: { readonly nominal: number; readonly tolerance: number },
  unit: "mm" | "deg",
  units: LengthUnits,
): string {
  if (unit === "deg") return `${formatTrimmed(nominal, 2)} ±${formatTrimmed(tolerance, 2)}°`;
  return writeBoth(units, (write, name) => `${write(nominal)} ±${write(tolerance)} ${name}`);
}

type DecisionUnit = SetupDecision["unit"];

const UNITS: Readonly<Record<DecisionUnit, string>> = { mm: " mm", deg: "°", "%": " %", "mm/m": " mm/m" };

/** Limits in words: "within ±10 mm", "0.5 to 2.5 %", "at most 3 mm/m". */
export function writeLimits({ low, high, unit }: SetupDecision, units: LengthUnits): string {
  const tell = (write: (value: number) => string, name: string): string => {
    if (low !== null && high !== null)
      return low === -high ? `within ±${write(high)}${name}` : `${write(low)} to ${write(high)}${name}`;
    if (high !== null) return `at most ${write(high)}${name}`;
    return low === null ? "none" : `at least ${write(low)}${name}`;
  };
  if (unit === "mm") return writeBoth(units, (write, name) => tell(write, ` ${name}`));
  return tell((value) => formatTrimmed(value, 2), UNITS[unit]);
}

type WriteLength = (value: number, units: LengthUnits) => string;

function writeComputed(value: number, units: LengthUnits): string {
  return formatLength(mm(value), units, "computed");
}

/** "18.7 mm left of the centre line", "on the centre line". */
export function writeLateral(
  y: number,
  units: LengthUnits,
  line = "the centre line",
  write: WriteLength = writeComputed,
): string {
  if (writeComputed(Math.abs(y), units) === writeComputed(0, units)) return `on ${line}`;
  return `${write(Math.abs(y), units)} ${y > 0 ? "left" : "right"} of ${line}`;
}

/** A length as a tape shows it: to a tenth of a mm, or in sixteenths of an inch with the decimals beside them. */
export function writeTaped(value: number, units: LengthUnits): string {
  const computed = formatLength(mm(value), units, "computed");
  if (units === "mm") return computed;
  const tape = formatLength(mm(value), "in", "tape");
  // Less than half of a sixteenth: the tape shows nothing.
  return tape === "0 in" ? computed : `${tape} (${computed})`;
}

/** A length of a room as it was stated; in inches with sixteenths, since a tape is held to it. */
export function writeRoom(value: number, units: LengthUnits): string {
  return units === "mm" ? writeStated(Math.round(value * 10) / 10, units) : writeTaped(value, units);
}

/** A measured value with its expanded uncertainty (k = 2): "2652.1 ±1.2 mm"; of one that is not known it says so. */
export function writeMeasured(
  { value, u }: { readonly value: number; readonly u: number | null },
  unit: DecisionUnit,
  units: LengthUnits,
): string {
  const tell = (write: (value: number) => string, name: string): string =>
    `${write(value)}${u === null ? "" : ` ±${write(2 * u)}`}${name}`;
  const stated = tell((each) => formatNumber(each, unit === "mm" ? 1 : 2), UNITS[unit]);
  const isInInches = unit === "mm" && units === "in";
  const both = isInInches
    ? `${tell((each) => formatNumber(each / MILLIMETRES_IN_AN_INCH, 3), " in")} (${stated})`
    : stated;
  return u === null ? `${both}, U not known` : both;
}

/** A slope along a direction: "rises 1.6 mm/m", "falls 1.6 mm/m", "is level". */
export function writeSlope(slope: number, towards: string): string {
  const text = formatSlope(millimetresPerMetre(Math.abs(slope)));
  if (text === formatSlope(millimetresPerMetre(0))) return `level towards ${towards}`;
  return `${slope > 0 ? "rises" : "falls"} ${text} towards ${towards}`;
}

/** Where a mark lies along the vehicle: "2650.0 mm ahead of the front axle", "2350.0 mm behind the rear axle". */
export function writeAlong(
  x: number,
  wheelbase: number | null,
  units: LengthUnits,
  write: WriteLength = writeComputed,
): string {
  const isRear = wheelbase !== null && x < -wheelbase / 2;
  const ahead = isRear ? x + wheelbase : x;
  const side = ahead < 0 ? "behind" : "ahead of";
  return `${write(Math.abs(ahead), units)} ${side} the ${isRear ? "rear" : "front"} axle`;
}

/** The thrust line's direction in words: "0.25° to the vehicle's right". */
export function writeThrust(thrust: { readonly heading: number }): string {
  const angle = formatAngle(degrees(Math.abs(thrust.heading)));
  if (angle === formatAngle(degrees(0))) return "straight ahead";
  return `${angle} to the vehicle's ${thrust.heading > 0 ? "left" : "right"}`;
}

export function nameOfVehicle({ make, model }: SetupResult["vehicle"]): string {
  const name = [make, model].filter((part) => part !== null && part !== "").join(" ");
  return name === "" ? "Vehicle not named" : name;
}

export const VERDICTS: Readonly<Record<"conforms" | "does-not-conform" | "cannot-be-decided", string>> = {
  conforms: "Conforms",
  "does-not-conform": "Does not conform",
  "cannot-be-decided": "Cannot be decided",
};
