import type { DriveWindow } from "../procedures/index.js";
import { KILOMETRES_IN_A_MILE } from "./sample.js";

/** What was driven is rounded down and what is missing up, so that neither is ever said to be more than it is. */
type Rounding = "down" | "up";

/** Below the microsecond and the millimetre there is nothing but rounding. */
const NOISE = 1e-7;

function round(value: number, rounding: Rounding): number {
  return rounding === "down" ? Math.floor(value + NOISE) : Math.ceil(value - NOISE);
}

/** "45 s", "12 min 30 s", "1 h 2 min 0 s", in whole seconds. */
export function writeDuration(seconds: number, rounding: Rounding): string {
  const whole = round(seconds, rounding);
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60];
  return [
    ...(hours > 0 ? [`${hours} h`] : []),
    ...(whole >= 60 ? [`${minutes} min`] : []),
    `${whole % 60} s`,
  ].join(" ");
}

/** "16.2 km", "15 mi": to the hundredth. */
export function writeDistance(km: number, unit: "km" | "mi", rounding: Rounding): string {
  const value = unit === "mi" ? km / KILOMETRES_IN_A_MILE : km;
  return `${round(value * 100, rounding) / 100} ${unit}`;
}

/** The unit in which a window counts distances: that of its own distance, or else that of its speed. */
export function distanceUnitOf({ distance, speed }: DriveWindow): "km" | "mi" {
  return distance?.unit ?? (speed.unit === "mph" ? "mi" : "km");
}

export function writeSpeeds({ speed: { low, high, unit } }: DriveWindow): string {
  return `between ${low} and ${high} ${unit}`;
}
