import {
  atan,
  cos,
  degrees,
  formatLength,
  formatTrimmed,
  formula,
  millimetresPerMetre,
  mm,
  sin,
  type Working,
} from "../../measure/index.js";
import { answer, type Answer, type Missing, type SetupWarning } from "../answer.js";
import { warnOutsideSurvey, workHeightCorrection } from "../floor/floor.js";
import {
  findFloorSpread,
  missHeightSpread,
  workHeightSpread,
  type FloorSpread,
  type Part,
} from "../floor/spread.js";
import type { Placed } from "./place.js";
import type { FloorResult, TargetResult } from "../result.js";
import type { AskedTarget, Scene } from "../scene.js";
import type { Setup } from "../shape.js";

export const heightAboveFloor = formula({
  id: "height-above-floor",
  gives: "height of the target's middle above the floor where it stands",
  text: "height + correction",
  inputs: { height: "mm", correction: "mm" },
  result: "mm",
  compute: ({ height, correction }) => height + correction,
});

export const levelPitch = formula({
  id: "level-pitch",
  gives: "pitch that a spirit level shows on a target square to the plane of the wheels",
  text: "pitch - atan((along * cos(yaw) + across * sin(yaw)) / 1000)",
  inputs: { pitch: "deg", along: "mm/m", yaw: "deg", across: "mm/m" },
  result: "deg",
  compute: ({ pitch, along, yaw, across }) => pitch - atan((along * cos(yaw) + across * sin(yaw)) / 1000),
});

export const levelRoll = formula({
  id: "level-roll",
  gives: "roll that a spirit level shows on a target square to the plane of the wheels",
  text: "roll + atan((across * cos(yaw) - along * sin(yaw)) / 1000)",
  inputs: { roll: "deg", across: "mm/m", yaw: "deg", along: "mm/m" },
  result: "deg",
  compute: ({ roll, across, yaw, along }) => roll + atan((across * cos(yaw) - along * sin(yaw)) / 1000),
});

export const levelUncertainty = formula({
  id: "level-uncertainty",
  gives: "standard uncertainty of the tilt of the plane of the wheels, along a direction",
  text: "atan(sqrt(max(0, (uAlong * cos(direction))^2 + (uAcross * sin(direction))^2 + 2 * correlation * uAlong * uAcross * sin(direction) * cos(direction))) / 1000)",
  inputs: { uAlong: "mm/m", uAcross: "mm/m", correlation: "1", direction: "deg" },
  result: "deg",
  compute: ({ uAlong, uAcross, correlation, direction }) => {
    const [ahead, left] = [uAlong * cos(direction), uAcross * sin(direction)];
    return atan(Math.sqrt(Math.max(0, ahead ** 2 + left ** 2 + 2 * correlation * ahead * left)) / 1000);
  },
});

export const leanAtHeight = formula({
  id: "lean-at-height",
  gives: "how far the target's middle lies from the point plumbed below it, in the vehicle's axes",
  text: "height * slope / 1000",
  inputs: { height: "mm", slope: "mm/m" },
  result: "mm",
  compute: ({ height, slope }) => (height * slope) / 1000,
});

export const FORMULAS = [heightAboveFloor, levelPitch, levelRoll, levelUncertainty, leanAtHeight] as const;

/** Below this a tilt of the wheels' plane is not worth a warning: half of what a spirit level of 0.1° tells apart. */
const TILT = 0.05;

/** A number of the floor's, how well it is known (null: not), and of what that is made. */
export interface Known {
  readonly value: number;
  readonly u: number | null;
  readonly parts: readonly Part[];
}

/** Where a target stands, and what a tape from the floor and a spirit level have to show there. */
export interface Stand {
  readonly stands: NonNullable<TargetResult["stands"]>;
  /** From the floor at that place; null where floor and wheels were not surveyed. */
  readonly height: Known | null;
  /** By a spirit level; null where the plane of the wheels is not known. */
  readonly level: { readonly pitch: Known; readonly roll: Known; readonly isTilted: boolean } | null;
  /** How far its middle lies forwards and to the left of the point plumbed below it; null where that is not known; mm. */
  readonly lean: { readonly forwards: number; readonly left: number } | null;
}

/** The floor under a target, as far as it was surveyed. */
export interface Ground {
  readonly floor: FloorResult | null;
  readonly spread: FloorSpread | null;
}

/** Gathers what is known of the floor. */
export function groundOf(floor: FloorResult | null, setup: Setup, scene: Scene): Ground {
  return { floor, spread: floor === null ? null : findFloorSpread(setup, scene) };
}

/** Where a target stands: its middle, and its height and tilt over the floor and the plane of the wheels. */
export function standOn(
  at: Placed,
  placing: AskedTarget["placing"],
  { floor, spread }: Ground,
  label: string,
): Answer<Stand> {
  const height = placing.height.nominal;
  const correction = floor === null ? null : workHeightCorrection(floor, at.x, at.y);
  const above =
    correction === null
      ? null
      : heightAboveFloor.work(
          { height: mm(height), correction: mm(correction.value) },
          `${label}: height above the floor`,
        );
  const spreadThere = above === null || spread === null ? null : workHeightSpread(spread, at, label);
  const isOpen = above !== null && spread !== null && spreadThere === null;
  const outside = floor === null ? null : warnOutsideSurvey(floor, label, at);
  const wheels = floor?.wheels ?? null;
  const tilt = wheels === null ? null : workTilt(at, placing, wheels.plane, spread, label);
  return answer<Stand>({
    value: {
      stands: {
        x: at.x,
        y: at.y,
        height,
        heightAboveFloor: above?.value ?? null,
        yaw: at.yaw,
        pitch: placing.pitch.nominal,
        roll: placing.roll.nominal,
      },
      height:
        above === null
          ? null
          : { value: above.value, u: spreadThere?.u ?? null, parts: spreadThere?.parts ?? [] },
      level: tilt?.level ?? null,
      lean: tilt?.lean ?? null,
    },
    workings: [correction, above, ...(spreadThere?.workings ?? []), ...(tilt?.workings ?? [])].filter(
      (each) => each !== null,
    ),
    missing: [
      ...(floor !== null && floor.wheels === null ? [missWheelHeights(label)] : []),
      ...(isOpen ? [missHeightSpread(spread, label)] : []),
    ].filter((each) => each !== null),
    warnings: [outside, tilt?.warning ?? null].filter((each) => each !== null),
  });
}

function missWheelHeights(label: string): Missing {
  const needs = "the height of the floor under all four wheels (z), in the levels of the survey";
  return { for: `height of ${label} above the floor`, needs, pointer: "/wheelCentres" };
}

function workTilt(
  { yaw }: Placed,
  placing: AskedTarget["placing"],
  plane: { readonly along: number; readonly across: number },
  spread: FloorSpread | null,
  label: string,
): {
  readonly level: NonNullable<Stand["level"]>;
  readonly lean: NonNullable<Stand["lean"]>;
  readonly workings: readonly Working[];
  readonly warning: SetupWarning | null;
} {
  const slopes = { along: millimetresPerMetre(plane.along), across: millimetresPerMetre(plane.across), yaw };
  const nominal = { pitch: degrees(placing.pitch.nominal), roll: degrees(placing.roll.nominal) };
  const pitch = levelPitch.work({ ...slopes, pitch: nominal.pitch }, `${label}: pitch by a spirit level`);
  const roll = levelRoll.work({ ...slopes, roll: nominal.roll }, `${label}: roll by a spirit level`);
  const turned = Math.max(Math.abs(pitch.value - nominal.pitch), Math.abs(roll.value - nominal.roll));
  const wheels = spread?.wheels ?? null;
  const known = ({ value }: Working, direction: number): Known => {
    const u = wheels === null ? null : levelUncertainty({ ...wheels, direction: degrees(direction) });
    return { value, u, parts: u === null ? [] : [{ of: "the heights under the wheels", u }] };
  };
  const height = mm(placing.height.nominal);
  const forwards = leanAtHeight.work(
    { height, slope: slopes.along },
    `${label}: lean forwards at its middle`,
  );
  const left = leanAtHeight.work(
    { height, slope: slopes.across },
    `${label}: lean to the left at its middle`,
  );
  const isTilted = turned >= TILT;
  const lean = { forwards: forwards.value, left: left.value };
  return {
    // Roll runs along the target's own left, a quarter turn from its heading.
    level: { pitch: known(pitch, yaw), roll: known(roll, yaw + 90), isTilted },
    lean,
    workings: [pitch, roll, ...(isTilted ? [forwards, left] : [])],
    warning: isTilted ? { about: label, says: sayTilt(pitch.value, roll.value, plane) } : null,
  };
}

/** In one wording for all targets that stand the same way round, so that a sheet can say it once. */
function sayTilt(
  pitch: number,
  roll: number,
  plane: { readonly along: number; readonly across: number },
): string {
  const [ahead, aside] = [plane.along, plane.across].map((each) =>
    formatLength(mm(Math.abs(each)), "mm", "computed"),
  );
  return (
    `The wheels do not stand level: square to their plane, a spirit level on the target shows a pitch of ${formatTrimmed(pitch, 2)}° and a roll of ${formatTrimmed(roll, 2)}°. ` +
    `For each metre of height a point lies, in the vehicle's own axes, ${ahead} ${plane.along < 0 ? "behind" : "ahead of"} and ${aside} ${plane.across < 0 ? "right" : "left"} of the one plumbed below it; places and tapes count at the floor.`
  );
}
