import { InputError } from "../errors.js";
import type { DriveWindow, RoadClass } from "../procedures/index.js";
import { KILOMETRES_IN_A_MILE, kilometresPerHour, type DriveSample } from "./sample.js";
import { DRIVE_REASONS, type DriveReason } from "./shape.js";

/** A set of reasons, one bit for each. */
export type Reasons = number;

const BITS = Object.fromEntries(DRIVE_REASONS.map((reason, index) => [reason, 1 << index])) as Readonly<
  Record<DriveReason, Reasons>
>;

export function bitOf(reason: DriveReason): Reasons {
  return BITS[reason];
}

/** The reasons of a set, in the order of their list. */
export function listReasons(reasons: Reasons): DriveReason[] {
  return DRIVE_REASONS.filter((reason) => (reasons & BITS[reason]) !== 0);
}

/** What speaks against a moment of a drive, and what could and is not recorded. */
export interface Standing {
  readonly against: Reasons;
  readonly open: Reasons;
}

/** How much a window asks for; null where it names none. */
export interface Asked {
  readonly seconds: number | null;
  readonly km: number | null;
}

export function askedBy({ minutes, distance }: DriveWindow): Asked {
  return {
    seconds: minutes === undefined ? null : minutes * 60,
    km: distance === undefined ? null : distance.value * (distance.unit === "mi" ? KILOMETRES_IN_A_MILE : 1),
  };
}

/**
 * Makes the judge of single moments: values on the edge of the window fulfil it, and what the window asks for and the
 * sample does not say is open. Throws `InputError` where the low end of the speed lies above its high end.
 */
export function judgeMoments(window: DriveWindow): (sample: DriveSample) => Standing {
  const { speed, roadClasses, laneMarkings = "not-needed", steering, gradient } = window;
  const low = kilometresPerHour(speed.low, speed.unit);
  const high = kilometresPerHour(speed.high, speed.unit);
  if (!(low <= high)) {
    throw new InputError("input", [
      {
        code: "out-of-range",
        pointer: "/speed",
        message: `the low end ${speed.low} lies above the high end ${speed.high}`,
        expected: "low at most as large as high",
      },
    ]);
  }
  return (sample) => {
    let against = 0;
    let open = 0;
    const weigh = (fulfilled: boolean | null, bit: Reasons): void => {
      if (fulfilled === null) open |= bit;
      else if (!fulfilled) against |= bit;
    };
    if (sample.speed < low) against |= BITS["too-slow"];
    if (sample.speed > high) against |= BITS["too-fast"];
    if (roadClasses !== undefined) weigh(isOnRoad(sample.road, roadClasses), BITS.road);
    if (laneMarkings !== "not-needed") weigh(hasLanes(sample.lanes, laneMarkings), BITS.lanes);
    if (steering !== undefined) weigh(isWithin(sample.steering, steering), BITS.steering);
    if (gradient !== undefined) weigh(isWithin(sample.gradient, gradient), BITS.gradient);
    return { against, open };
  };
}

function isOnRoad(road: DriveSample["road"], asked: readonly RoadClass[]): boolean | null {
  return road === undefined || road === "unknown" ? null : asked.includes(road);
}

function hasLanes(lanes: DriveSample["lanes"], asked: "both-sides" | "one-side"): boolean | null {
  if (lanes === undefined || lanes === "unknown") return null;
  return lanes === "both" || (asked === "one-side" && lanes === "one");
}

function isWithin(value: number | undefined, limit: number): boolean | null {
  return value === undefined ? null : Math.abs(value) <= limit;
}
