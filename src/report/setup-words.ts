import type { SetupResult } from "../setup/index.js";
import { formatAngle, formatLength, formatTrimmed, degrees, mm } from "../measure/index.js";
import type { TargetResult } from "./set-ups.js";

export type LengthUnits = "mm" | "in";

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

/** The quantities of a target's pose, with the side to which each counts positive. */
export const QUANTITIES: Readonly<
  Record<QuantityName, { readonly label: string; readonly positive: string; readonly unit: "mm" | "deg" }>
> = {
  lateral: { label: "Off the line", positive: "left positive", unit: "mm" },
  distance: { label: "Distance", positive: "away from the vehicle positive", unit: "mm" },
  yaw: { label: "Yaw", positive: "counter-clockwise from above positive", unit: "deg" },
  pitch: { label: "Pitch", positive: "leaning to the front positive", unit: "deg" },
  roll: { label: "Roll", positive: "left side up positive", unit: "deg" },
  height: { label: "Height of the middle", positive: "above the floor", unit: "mm" },
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

/** "18.7 mm left of the centre line", "on the centre line". */
export function writeLateral(y: number, units: LengthUnits, line = "the centre line"): string {
  const text = formatLength(mm(Math.abs(y)), units, "computed");
  if (text === formatLength(mm(0), units, "computed")) return `on ${line}`;
  return `${text} ${y > 0 ? "left" : "right"} of ${line}`;
}

/** Where a mark lies along the vehicle: "2650.0 mm ahead of the front axle", "2350.0 mm behind the rear axle". */
export function writeAlong(x: number, wheelbase: number | null, units: LengthUnits): string {
  if (wheelbase !== null && x < -wheelbase / 2) {
    const behind = -wheelbase - x;
    return `${formatLength(mm(Math.abs(behind)), units, "computed")} ${behind < 0 ? "ahead of" : "behind"} the rear axle`;
  }
  return `${formatLength(mm(Math.abs(x)), units, "computed")} ${x < 0 ? "behind" : "ahead of"} the front axle`;
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
