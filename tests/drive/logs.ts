import type { DriveSample } from "../../src/drive/index.js";
import type { DriveWindow } from "../../src/procedures/index.js";

/** A stretch of samples, one a second from `from` to `to` inclusive, all alike but for the time. */
export function every(
  second: number,
  from: number,
  to: number,
  rest: Omit<DriveSample, "time">,
): readonly DriveSample[] {
  const steps = Math.round((to - from) / second);
  return Array.from({ length: steps + 1 }, (_, index) => ({ time: from + index * second, ...rest }));
}

/** 60 to 120 km/h for ten minutes, in pieces, with nothing else asked for. */
export const TEN_MINUTES: DriveWindow = {
  speed: { low: 60, high: 120, unit: "km/h" },
  minutes: 10,
  run: "in-pieces",
};
