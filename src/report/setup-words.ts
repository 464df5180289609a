import type { SetupResult } from "../setup/index.js";
import {
  degrees,
  formatAngle,
  formatLength,
  formatSlope,
  formatTrimmed,
  millimetresPerMetre,
  mm,
} from "../measure/index.js";
import type { TargetResult } from "./set-ups.js";
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

/** "2650 ±5 mm", "0 ±0.3°". */
export function writeAsked(
  asked: { readonly nominal: number; readonly tolerance: number },
  unit: "mm" | "deg",
  units: LengthUnits,
): string {
  if (unit === "deg") return `${formatTrimmed(asked.nominal, 2)} ±${formatTrimmed(asked.tolerance, 2)}°`;
  const nominal = writeStated(asked.nominal, units).replace(/ (mm|in)$/, "");
  return `${nominal} ±${writeStated(asked.tolerance, units)}`;
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

/** A measured value with its expanded uncertainty, as far as it is known: "2652.1 ±1.2 mm (k = 2)". */
export function writeMeasured(
  measured: { readonly value: number; readonly u: number | null },
  unit: "mm" | "deg",
  units: LengthUnits,
): string {
  const value = writeValue(measured.value, unit, units);
  if (measured.u === null) return `${value}, uncertainty not known`;
  return `${value} ±${writeValue(2 * measured.u, unit, units)} (k = 2)`;
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
