import type { Issue } from "../../errors.js";
import {
  asin,
  degrees,
  formatAngle,
  formula,
  inches,
  mm,
  readAngle,
  type Degrees,
  type Millimetres,
  type Working,
} from "../../measure/index.js";
import type { Setup } from "../shape.js";

type RearToe = NonNullable<Setup["rearToe"]>;
type StatedThrust = NonNullable<Setup["thrustAngle"]>;

/** No wheel of a car that can be driven stands further askew: beyond it a unit or a decimal point is wrong. */
const LARGEST_TOE = 10;
const LARGEST_THRUST_ANGLE = 5;

/** Toe of one wheel from the difference between its rim edges across the whole diameter. */
export const toeAcrossRim = formula({
  id: "toe-across-rim",
  gives: "toe of one wheel, from the difference between the edges of its rim",
  text: "asin(toe / rimDiameter)",
  inputs: { toe: "mm", rimDiameter: "mm" },
  result: "deg",
  compute: ({ toe, rimDiameter }) => asin(toe / rimDiameter),
});

/** Toe of one wheel from the way of one rim edge about the hub, which is half that difference. */
export const toeOfOneEdge = formula({
  id: "toe-of-one-edge",
  gives: "toe of one wheel, from the way of one edge of its rim about the hub",
  text: "asin(2 * toe / rimDiameter)",
  inputs: { toe: "mm", rimDiameter: "mm" },
  result: "deg",
  compute: ({ toe, rimDiameter }) => asin((2 * toe) / rimDiameter),
});

export const FORMULAS = [toeAcrossRim, toeOfOneEdge] as const;

/** An angle with the arithmetic by which it was read, or what is wrong with it. */
export type Reading =
  { readonly angle: Degrees; readonly workings: readonly Working[] } | { readonly issue: Issue };

/** Reads the toe of one rear wheel: in degrees, toe-in positive. */
export function readToe(rearToe: RearToe, side: "left" | "right"): Reading {
  const { [side]: given, unit } = rearToe;
  const pointer = `/rearToe/${side}`;
  const bounds = { most: LARGEST_TOE, what: "a toe" };
  if (typeof given === "string") return readStatedAngle(given, undefined, pointer, bounds);
  switch (unit) {
    case undefined:
      return lacking("/rearToe/unit", "the toes are bare numbers", "deg, min, mm or in");
    case "deg":
    case "min":
      return readStatedAngle(given, unit, pointer, bounds);
    case "mm":
      return readToeAtRim(rearToe, mm(given), side);
    case "in":
      return readToeAtRim(rearToe, inches(given), side);
  }
}

function readToeAtRim(rearToe: RearToe, toe: Millimetres, side: "left" | "right"): Reading {
  const { rimDiameter, convention } = rearToe;
  if (rimDiameter === undefined) {
    return lacking(
      "/rearToe/rimDiameter",
      "a toe given as a length is an angle only through a diameter",
      "the diameter across which the toe was measured, in mm",
    );
  }
  if (convention === undefined) {
    return lacking(
      "/rearToe/convention",
      "a toe given as a length counts either the whole rim or one edge, which is half of it",
      "across-rim or one-edge",
    );
  }
  const toeAtRim = convention === "across-rim" ? toeAcrossRim : toeOfOneEdge;
  const working = toeAtRim.work({ toe, rimDiameter: mm(rimDiameter) }, `toe of the ${side} rear wheel`);
  // Not a number where the toe is longer than the diameter it was measured across: no comparison holds.
  if (!(Math.abs(working.value) <= LARGEST_TOE)) {
    return {
      issue: {
        code: "out-of-range",
        pointer: `/rearToe/${side}`,
        message: `a toe of ${rearToe[side]} ${rearToe.unit ?? ""} at a rim of ${rimDiameter} mm is more than a wheel can have`,
        expected: `at most ${LARGEST_TOE}° either way`,
      },
    };
  }
  return { angle: degrees(working.value), workings: [working] };
}

/** Reads the stated thrust angle, in degrees, with the sign that it was stated with. */
export function readThrust({ value, unit }: StatedThrust): Reading {
  if (typeof value === "number" && unit === undefined) {
    return lacking("/thrustAngle/unit", "the thrust angle is a bare number", "deg or min");
  }
  return readStatedAngle(value, unit, "/thrustAngle/value", {
    most: LARGEST_THRUST_ANGLE,
    what: "a thrust angle",
  });
}

function readStatedAngle(
  given: number | string,
  unit: "deg" | "min" | undefined,
  pointer: string,
  { most, what }: { readonly most: number; readonly what: string },
): Reading {
  const angle = readAngle(given, unit);
  if (typeof angle !== "number") {
    return {
      issue: { code: "invalid-value", pointer, message: angle.problem, expected: angle.expected },
    };
  }
  if (Math.abs(angle) <= most) return { angle, workings: [] };
  return {
    issue: {
      code: "out-of-range",
      pointer,
      message: `${what} of ${formatAngle(angle)} is more than a car can have`,
      expected: `at most ${most}° either way`,
    },
  };
}

function lacking(pointer: string, message: string, expected: string): Reading {
  return { issue: { code: "missing-measurement", pointer, message, expected } };
}
