import {
  atan,
  cos,
  degrees,
  formatTrimmed,
  formula,
  millimetresPerMetre,
  mm,
  sin,
  type Working,
} from "../../measure/index.js";
import { answer, type Answer, type Missing, type SetupWarning } from "../answer.js";
import { warnOutsideSurvey, workHeightCorrection } from "../floor/floor.js";
import type { Placed } from "./place.js";
import type { FloorResult, TargetResult } from "../result.js";
import type { AskedTarget } from "../scene.js";

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

export const FORMULAS = [heightAboveFloor, levelPitch, levelRoll] as const;

/** Below this a tilt of the wheels' plane is not worth a warning: half of what a spirit level of 0.1° tells apart. */
const TILT = 0.05;

/** Where a target stands: its middle, and its height and tilt over the floor and the plane of the wheels. */
export function standOn(
  at: Placed,
  placing: AskedTarget["placing"],
  floor: FloorResult | null,
  label: string,
): Answer<NonNullable<TargetResult["stands"]>> {
  const height = placing.height.nominal;
  const correction = floor === null ? null : workHeightCorrection(floor, at.x, at.y);
  const above =
    correction === null
      ? null
      : heightAboveFloor.work(
          { height: mm(height), correction: mm(correction.value) },
          `${label}: height above the floor`,
        );
  const outside = floor === null ? null : warnOutsideSurvey(floor, label, at);
  const wheels = floor?.wheels ?? null;
  const tilt = wheels === null ? null : workTilt(at, placing, wheels.plane, label);
  return answer<NonNullable<TargetResult["stands"]>>({
    value: {
      x: at.x,
      y: at.y,
      height,
      heightAboveFloor: above?.value ?? null,
      yaw: at.yaw,
      pitch: placing.pitch.nominal,
      roll: placing.roll.nominal,
    },
    workings: [correction, above, ...(tilt?.workings ?? [])].filter((each) => each !== null),
    missing: floor !== null && floor.wheels === null ? [missWheelHeights(label)] : [],
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
  label: string,
): { readonly workings: readonly Working[]; readonly warning: SetupWarning | null } {
  const slopes = { along: millimetresPerMetre(plane.along), across: millimetresPerMetre(plane.across), yaw };
  const nominal = { pitch: degrees(placing.pitch.nominal), roll: degrees(placing.roll.nominal) };
  const pitch = levelPitch.work({ ...slopes, pitch: nominal.pitch }, `${label}: pitch by a spirit level`);
  const roll = levelRoll.work({ ...slopes, roll: nominal.roll }, `${label}: roll by a spirit level`);
  const turned = Math.max(Math.abs(pitch.value - nominal.pitch), Math.abs(roll.value - nominal.roll));
  const says = `The wheels do not stand level: square to their plane, a spirit level on the target shows a pitch of ${formatTrimmed(pitch.value, 2)}° and a roll of ${formatTrimmed(roll.value, 2)}°.`;
  return { workings: [pitch, roll], warning: turned < TILT ? null : { about: label, says } };
}
