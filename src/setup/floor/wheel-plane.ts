import { atan, type Degrees, formatLength, formula, type Millimetres, mm } from "../../measure/index.js";
import { type Answer, answer, type Missing, type SetupWarning } from "../answer.js";
import { fitPlane, slopesOf } from "./plane-fit.js";
import type { FloorResult } from "../result.js";
import type { Wheel } from "../scene.js";

type WheelPlane = NonNullable<FloorResult["wheels"]>;

/** By how much four contacts miss a common plane; three of them always have one. */
export const wheelTwist = formula({
  id: "wheel-twist",
  gives: "twist of the four wheel contacts",
  text: "((frontLeft + rearRight) - (frontRight + rearLeft)) / 2",
  inputs: { frontLeft: "mm", frontRight: "mm", rearLeft: "mm", rearRight: "mm" },
  result: "mm",
  compute: ({ frontLeft, frontRight, rearLeft, rearRight }) =>
    (frontLeft + rearRight - (frontRight + rearLeft)) / 2,
});

/** What goes under a wheel so that it stands as high as the highest of the four. */
export const shimThickness = formula({
  id: "shim-thickness",
  gives: "shim under the wheel",
  text: "highest - height",
  inputs: { highest: "mm", height: "mm" },
  result: "mm",
  compute: ({ highest, height }) => highest - height,
});

/** Pitch of what stands square to a plane, nose down positive (ISO 8855). */
export const planePitch = formula({
  id: "plane-pitch",
  gives: "pitch of the plane of the wheels, nose down positive",
  text: "-atan(along / 1000)",
  inputs: { along: "mm/m" },
  result: "deg",
  // 0 minus, since the negative of zero prints as "-0".
  compute: ({ along }) => 0 - atan(along / 1000),
});

/** Roll of what stands square to a plane, left side up positive (ISO 8855). */
export const planeRoll = formula({
  id: "plane-roll",
  gives: "roll of the plane of the wheels, left side up positive",
  text: "atan(across / 1000)",
  inputs: { across: "mm/m" },
  result: "deg",
  compute: ({ across }) => atan(across / 1000),
});

export const FORMULAS = [wheelTwist, shimThickness, planePitch, planeRoll] as const;

/** Lays a plane through the four wheels' contacts and says what would level them; heights in the levels of the survey. */
export function answerWheels(wheels: readonly Wheel[] | null): Answer<WheelPlane> {
  const contacts = (wheels ?? []).flatMap((wheel) =>
    wheel.z === null ? [] : [{ ...wheel, z: wheel.z, u: null }],
  );
  const height = (axle: Wheel["axle"], side: Wheel["side"]): Millimetres | undefined =>
    contacts.find((wheel) => wheel.axle === axle && wheel.side === side)?.z;
  const frontLeft = height("front", "left");
  const frontRight = height("front", "right");
  const rearLeft = height("rear", "left");
  const rearRight = height("rear", "right");
  if (
    frontLeft === undefined ||
    frontRight === undefined ||
    rearLeft === undefined ||
    rearRight === undefined
  ) {
    return answer({ missing: [WHEEL_HEIGHTS_MISSING] });
  }
  const twist = wheelTwist.work({ frontLeft, frontRight, rearLeft, rearRight });
  const highest = mm(Math.max(frontLeft, frontRight, rearLeft, rearRight));
  const shims = contacts.map(({ axle, side, z }) => ({
    axle,
    side,
    working: shimThickness.work({ highest, height: z }, `shim under the ${axle} ${side} wheel`),
  }));
  return answer({
    value: {
      plane: fitPlane(contacts).plane,
      twist: twist.value,
      shims: shims.map(({ axle, side, working }) => ({ axle, side, thickness: working.value })),
    },
    workings: [twist, ...shims.map(({ working }) => working)],
    warnings: warnOfTwist(mm(twist.value)),
  });
}

/** Four contacts on one plane may miss it by so much; mm. Common practice, no source. */
const TWIST_ALLOWED = 3;

/** With one wheel on something, no plane is that of the wheels: the mean one hides it. */
function warnOfTwist(twist: Millimetres): readonly SetupWarning[] {
  if (Math.abs(twist) <= TWIST_ALLOWED) return [];
  const pair = twist > 0 ? "front left and rear right" : "front right and rear left";
  return [
    {
      about: "/wheelCentres",
      says: `The four wheels stand on no plane: ${pair} are high by ${formatLength(mm(Math.abs(twist)), "mm", "computed")} against the other two. Heights and tilts count from the mean plane: level the wheels, or look for what lies under one of them.`,
    },
  ];
}

const WHEEL_HEIGHTS_MISSING: Missing = {
  for: "plane of the wheels",
  needs: "the height z of the floor under each of the four wheels",
  pointer: "/wheelCentres",
};

/** By how much a target leans from the plumb line so that it stands square to the plane of the wheels; null without it. */
export function tiltOfWheels(floor: FloorResult): { readonly pitch: Degrees; readonly roll: Degrees } | null {
  if (floor.wheels === null) return null;
  const slopes = slopesOf(floor.wheels.plane);
  return { pitch: planePitch(slopes), roll: planeRoll(slopes) };
}
