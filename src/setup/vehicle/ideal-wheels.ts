import { formatLength, mm } from "../../measure/index.js";
import type { Contradiction, SetupWarning } from "../answer.js";
import { listSets } from "../targets/check-targets.js";
import type { AlignmentResult } from "../result.js";
import type { AskedTarget, Scene } from "../scene.js";
import type { Setup } from "../shape.js";

type SetBack = NonNullable<AlignmentResult["setBack"]>;

/** A set-back that nobody would tape; mm. */
const NO_SET_BACK = 0.5;
/** How far a stated set-back and that of the wheel centres may differ before their uncertainties count; mm. Our judgement. */
const SAME_SET_BACK = 5;

/**
 * Says what tapes rest on where the wheel centres were not measured: on wheels at their specified places, square to the
 * centre line. A stated set-back contradicts the latter, but does not say where either wheel stands. For targets to which
 * tapes are laid.
 */
export function warnOfIdealWheels(
  setup: Setup,
  alignment: AlignmentResult | null,
  taped: readonly AskedTarget[],
): readonly SetupWarning[] {
  if (setup.wheelCentres !== undefined || taped.length === 0) return [];
  const setBack = alignment?.setBack ?? null;
  const isRead = taped.some(
    ({ stated }) => stated !== null && listSets(stated.target, stated.pointer).length > 0,
  );
  return [
    ...(isRead
      ? [
          {
            about: "/wheelCentres",
            says: "The wheel centres were not measured: the tapes are reckoned from wheels at their stated wheelbase and tracks, and how far they stand elsewhere counts in no uncertainty.",
          },
        ]
      : []),
    ...(setBack === null ? [] : warnOfSetBack(setBack)),
  ];
}

function warnOfSetBack({ axle, mm: length, deg }: SetBack): readonly SetupWarning[] {
  if (length !== null && Math.abs(length) < NO_SET_BACK) return [];
  const other = axle === "front" ? "rear" : "front";
  const size = length === null ? "" : ` of ${formatLength(mm(Math.abs(length)), "mm", "computed")}`;
  const side = (length ?? deg ?? 0) > 0 ? "right" : "left";
  return [
    {
      about: "/setBack",
      says: `The ${axle} axle has a set-back${size}, its ${side} wheel rearward, and the tapes from it are reckoned as if it had none: tape from the ${other} wheels, or state the four wheel centres.`,
    },
  ];
}

/** Holds a stated set-back against the measured wheel centres, which are used. */
export function compareSetBack(
  { wheels }: Scene,
  setup: Setup,
  alignment: AlignmentResult | null,
): readonly Contradiction[] {
  const setBack = alignment?.setBack ?? null;
  if (setup.wheelCentres === undefined || wheels === null || setBack === null || setBack.mm === null)
    return [];
  const [left, right] = (["left", "right"] as const).map((side) =>
    wheels.find((wheel) => wheel.axle === setBack.axle && wheel.side === side),
  );
  if (left === undefined || right === undefined) return [];
  const measured = mm(left.x - right.x);
  const room = SAME_SET_BACK + 3 * Math.hypot(left.u ?? 0, right.u ?? 0);
  // Turned axes leave a rounding in what was stated in whole millimetres.
  if (Math.abs(measured - setBack.mm) <= room + 1e-6) return [];
  const [stated, found] = [mm(setBack.mm), measured].map((length) => formatLength(length, "mm", "computed"));
  return [
    {
      about: ["/setBack", "/wheelCentres"],
      says: `The set-back of the ${setBack.axle} axle is stated as ${stated}, right wheel rearward positive, and its wheel centres give ${found}: the wheel centres are used.`,
    },
  ];
}
