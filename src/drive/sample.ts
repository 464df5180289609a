import { InputError, type Issue } from "../errors.js";
import type { RoadClass } from "../procedures/index.js";
import {
  GRADIENT_LIMIT,
  SPEED_LIMIT,
  STEERING_LIMIT,
  TIME_LIMIT,
  type LANES_SEEN,
  type SpeedUnit,
} from "./shape.js";

/** What a vehicle did at one moment. What is left out was not recorded. */
export interface DriveSample {
  /** Seconds from any origin. */
  readonly time: number;
  /** km/h. */
  readonly speed: number;
  readonly road?: RoadClass | "unknown" | undefined;
  /** On how many sides of the vehicle lane markings were seen. */
  readonly lanes?: (typeof LANES_SEEN)[number] | undefined;
  /** Angle of the steering wheel from straight ahead; degrees. */
  readonly steering?: number | undefined;
  /** Rise of the road; per cent. */
  readonly gradient?: number | undefined;
}

/** A statute mile, exactly (international mile of 1959: 5280 feet of 0.3048 m). */
export const KILOMETRES_IN_A_MILE = 1.609344;

export function kilometresPerHour(value: number, unit: SpeedUnit): number {
  return unit === "mph" ? value * KILOMETRES_IN_A_MILE : value;
}

/** Throws `InputError` where a value cannot be true: not a number, negative, or beyond what a road vehicle does. */
export function checkSample(sample: DriveSample): void {
  const { time, speed, steering = 0, gradient = 0 } = sample;
  if (
    Math.abs(time) <= TIME_LIMIT &&
    speed >= 0 &&
    speed <= SPEED_LIMIT &&
    Math.abs(steering) <= STEERING_LIMIT &&
    Math.abs(gradient) <= GRADIENT_LIMIT
  ) {
    return;
  }
  throw new InputError("input", issuesOfSample({ time, speed, steering, gradient }));
}

function issuesOfSample(values: Readonly<Record<keyof typeof BOUNDS, number>>): readonly Issue[] {
  return (["time", "speed", "steering", "gradient"] as const).flatMap((key) => {
    const { least, most, unit } = BOUNDS[key];
    const value = values[key];
    if (value >= least && value <= most) return [];
    return [
      {
        code: Number.isFinite(value) ? ("out-of-range" as const) : ("invalid-value" as const),
        pointer: `/${key}`,
        message: `the ${key} ${value} ${unit} cannot be true`,
        expected: `${least} to ${most} ${unit}`,
      },
    ];
  });
}

const BOUNDS = {
  time: { least: -TIME_LIMIT, most: TIME_LIMIT, unit: "s" },
  speed: { least: 0, most: SPEED_LIMIT, unit: "km/h" },
  steering: { least: -STEERING_LIMIT, most: STEERING_LIMIT, unit: "deg" },
  gradient: { least: -GRADIENT_LIMIT, most: GRADIENT_LIMIT, unit: "%" },
} as const;
