import {
  cos,
  decide,
  degrees,
  formatTrimmed,
  formula,
  mm,
  sin,
  type DecisionRule,
  type Working,
} from "../../measure/index.js";
import { isLength, QUANTITIES, type MeasuredTarget, type TargetQuantity } from "./measured.js";
import { findLeftward, type DatumPoint, type Placed } from "./place.js";
import type { SetupDecision, TargetResult } from "../result.js";
import type { Scene } from "../scene.js";

type Correction = TargetResult["corrections"][number];

export const lengthCorrection = formula({
  id: "length-correction",
  gives: "what is to be added",
  text: "asked - measured",
  inputs: { asked: "mm", measured: "mm" },
  result: "mm",
  compute: ({ asked, measured }) => asked - measured,
});

export const angleCorrection = formula({
  id: "angle-correction",
  gives: "what is to be added",
  text: "asked - measured",
  inputs: { asked: "deg", measured: "deg" },
  result: "deg",
  compute: ({ asked, measured }) => asked - measured,
});

export const FORMULAS = [lengthCorrection, angleCorrection] as const;

/** What a target should show: each quantity with its tolerance, the height as a tape from the floor shows it. */
export type Wanted = TargetResult["asked"];

/** How a target stands towards the vehicle, for the words of a correction. */
export interface Stance {
  /** 1 where "away from the datum" is forwards, −1 where it is backwards. */
  readonly away: 1 | -1;
  /** 1 where moving it forwards takes it away from the vehicle, −1 where backwards does, 0 beside the vehicle. */
  readonly beyond: 1 | 0 | -1;
  /** Whether the bar's left end lies towards (−sin yaw, cos yaw). */
  readonly leftward: 1 | -1;
  /** Whether the target's own x axis points away from the vehicle's middle. */
  readonly facesAway: boolean;
}

/** What is nothing in print is nothing to correct: half of the last digit; mm, degrees. */
const NO_LENGTH = 0.05;
const NO_ANGLE = 0.005;

/** What to do about a target, in the order in which it is done, with its arithmetic. */
export function correctTarget(
  { pose, doubtful }: MeasuredTarget,
  wanted: Wanted,
  stance: Stance | null,
  label: string,
): { readonly corrections: readonly Correction[]; readonly workings: readonly Working[] } {
  const entries = QUANTITIES.flatMap((quantity) => {
    const found = pose[quantity];
    if (found === null || doubtful.includes(quantity)) return [];
    const working = workCorrection(quantity, wanted[quantity].nominal, found.value, label);
    const amount = working.value;
    const least = isLength(quantity) ? NO_LENGTH : NO_ANGLE;
    if (Math.abs(amount) < least) return [];
    return [{ correction: { quantity, amount, says: sayCorrection(quantity, amount, stance) }, working }];
  });
  return {
    corrections: entries.map(({ correction }) => correction),
    workings: entries.map(({ working }) => working),
  };
}

function workCorrection(quantity: TargetQuantity, asked: number, measured: number, label: string): Working {
  const gives = `${label}: correction, ${quantity}`;
  return isLength(quantity)
    ? lengthCorrection.work({ asked: mm(asked), measured: mm(measured) }, gives)
    : angleCorrection.work({ asked: degrees(asked), measured: degrees(measured) }, gives);
}

function sayCorrection(quantity: TargetQuantity, amount: number, stance: Stance | null): string {
  const length = `${formatTrimmed(Math.abs(amount), 1)} mm`;
  const angle = `${formatTrimmed(Math.abs(amount), 2)}°`;
  const signed = formatTrimmed(amount, 2);
  switch (quantity) {
    case "lateral":
      return `move it ${length} to the vehicle's ${amount > 0 ? "left" : "right"}`;
    case "distance":
      return sayDistance(length, amount, stance);
    case "yaw":
      return `turn it ${angle} ${amount > 0 ? "counter-clockwise" : "clockwise"} seen from above`;
    case "pitch":
      if (stance === null) return `tilt it by ${signed}° of pitch`;
      return `tilt its top ${angle} ${amount > 0 === stance.facesAway ? "away from" : "towards"} the vehicle`;
    case "roll":
      if (stance === null) return `tilt it by ${signed}° of roll`;
      return `tilt it ${angle}, its ${amount > 0 === (stance.leftward === 1) ? "left" : "right"} end up`;
    case "height":
      return `${amount > 0 ? "raise" : "lower"} it by ${length}`;
  }
}

/** Beside the vehicle its own forwards is said, since "away from it" would be sideways there. */
function sayDistance(length: string, amount: number, stance: Stance | null): string {
  if (stance === null) return `move it ${length} ${amount > 0 ? "further from" : "nearer to"} its datum`;
  const isForwards = amount > 0 === (stance.away === 1);
  if (stance.beyond === 0)
    return `move it ${length} ${isForwards ? "forwards" : "backwards"}, as the vehicle faces`;
  return `move it ${length} ${isForwards === (stance.beyond === 1) ? "away from" : "towards"} the vehicle`;
}

/** How a placed target stands towards the vehicle. */
export function stanceOf(at: Placed, { away }: DatumPoint, scene: Scene): Stance {
  const facing = (at.x + (scene.wheelbase ?? 0) / 2) * cos(at.yaw) + at.y * sin(at.yaw);
  return { away, beyond: findBeyond(at, scene), leftward: findLeftward(at), facesAway: facing >= 0 };
}

/** Beyond a bumper, or beyond an axle where its overhang is not known. */
function findBeyond(at: Placed, { wheelbase, frontOverhang, rearOverhang }: Scene): Stance["beyond"] {
  if (at.x > (frontOverhang ?? 0)) return 1;
  return at.x < 0 - (wheelbase ?? 0) - (rearOverhang ?? 0) ? -1 : 0;
}

const NAMES = {
  distance: "distance",
  lateral: "lateral place",
  height: "height",
  yaw: "yaw",
  pitch: "pitch",
  roll: "roll",
} as const satisfies Record<TargetQuantity, string>;

/** Decides each measured quantity of a target; what its readings leave in doubt cannot be decided. */
export function decideTarget(
  { pose, doubtful }: MeasuredTarget,
  wanted: Wanted,
  label: string,
  rule: DecisionRule,
  quantities: readonly TargetQuantity[] = QUANTITIES,
): TargetResult["decisions"] {
  return quantities.flatMap((quantity): TargetResult["decisions"] => {
    const found = pose[quantity];
    if (found === null) return [];
    const { nominal, tolerance } = wanted[quantity];
    const unit = isLength(quantity) ? "mm" : "deg";
    const of = `${NAMES[quantity]} of ${label}`;
    const measurement = { of, unit, low: nominal - tolerance, high: nominal + tolerance, ...found } as const;
    const decision = doubtful.includes(quantity) ? doubt(measurement) : decide(measurement, rule);
    return [{ quantity, ...decision }];
  });
}

function doubt(measurement: Pick<SetupDecision, "of" | "value" | "unit" | "low" | "high">): SetupDecision {
  return {
    ...measurement,
    u: null,
    verdict: "cannot-be-decided",
    probability: null,
    guardBand: null,
    largestU: null,
    says: "The readings disagree among themselves, so that it cannot be decided before they are taken again.",
  };
}
