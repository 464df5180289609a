import {
  atan,
  type Degrees,
  degrees,
  formula,
  type Millimetres,
  mm,
  type Working,
} from "../../measure/index.js";
import { type Answer, answer, type Missing, type SetupWarning } from "../answer.js";
import type { AxleTyres } from "./axle-tyres.js";
import type { Setup } from "../shape.js";

type RideHeight = NonNullable<Setup["rideHeight"]>;
export type Corner = RideHeight["corners"][number];
type Axle = Corner["axle"];

/** By how much a corner stands higher than specified. */
export const rideHeightDeviation = formula({
  id: "ride-height-deviation",
  gives: "ride height above the one specified",
  text: "measured - specified",
  inputs: { measured: "mm", specified: "mm" },
  result: "mm",
  compute: ({ measured, specified }) => measured - specified,
});

/** The mean of an axle's two sides. */
export const axleDeviation = formula({
  id: "axle-deviation",
  gives: "ride height of the axle above the one specified",
  text: "(left + right) / 2",
  inputs: { left: "mm", right: "mm" },
  result: "mm",
  compute: ({ left, right }) => (left + right) / 2,
});

/** Where the ride height leaves the tyres out: what they add. */
export const axleWithTyres = formula({
  id: "axle-with-tyres",
  gives: "height of the axle above the one specified, tyres counted",
  text: "suspension + tyres",
  inputs: { suspension: "mm", tyres: "mm" },
  result: "mm",
  compute: ({ suspension, tyres }) => suspension + tyres,
});

/** Roll of the body at an axle, left side up positive (ISO 8855). */
export const bodyRoll = formula({
  id: "body-roll",
  gives: "roll of the body, left side up positive",
  text: "atan((left - right) / track)",
  inputs: { left: "mm", right: "mm", track: "mm" },
  result: "deg",
  compute: ({ left, right, track }) => atan((left - right) / track),
});

export const FORMULAS = [rideHeightDeviation, axleDeviation, axleWithTyres, bodyRoll] as const;

/** How an axle stands against the height specified; roll null where it is not known. */
export interface AxleHeight {
  readonly height: Millimetres;
  readonly roll: Degrees | null;
}

/** Works out how an axle stands; `tyres` null where they are not to be added. */
export function answerAxle(
  { corners }: RideHeight,
  axle: Axle,
  track: Millimetres | null,
  tyres: AxleTyres | null,
): Answer<AxleHeight> {
  const deviations = corners
    .filter((corner) => corner.axle === axle)
    .map(({ side, measured, specified }) => ({
      side,
      working: rideHeightDeviation.work(
        { measured: mm(measured), specified: mm(specified) },
        `ride height ${axle} ${side} above the one specified`,
      ),
    }));
  const at = (side: Corner["side"]): Millimetres | null => {
    const found = deviations.find((each) => each.side === side);
    return found === undefined ? null : mm(found.working.value);
  };
  const [left, right] = [at("left"), at("right")];
  const only = left ?? right;
  if (only === null) return answer({ missing: [heightMissing("/rideHeight/corners", axle)] });
  const height = heightOf(axle, left, right, only, tyres);
  const readings = deviations.map(({ working }) => working);
  if (left === null || right === null) {
    return answer({
      value: { height: height.value, roll: null },
      workings: [...readings, ...height.workings],
      warnings: [warnOfOneSide(axle, left === null ? "right" : "left")],
    });
  }
  if (track === null) {
    return answer({
      value: { height: height.value, roll: null },
      workings: [...readings, ...height.workings],
      missing: [trackMissing(axle)],
    });
  }
  const roll = bodyRoll.work(
    { left, right, track },
    `roll of the body at the ${axle} axle, left side up positive`,
  );
  return answer({
    value: { height: height.value, roll: degrees(roll.value) },
    workings: [...readings, ...height.workings, roll],
  });
}

/** The height of an axle with its arithmetic: one side counts for both where the other was not measured. */
function heightOf(
  axle: Axle,
  left: Millimetres | null,
  right: Millimetres | null,
  only: Millimetres,
  tyres: AxleTyres | null,
): { readonly value: Millimetres; readonly workings: readonly Working[] } {
  const workings: Working[] = [];
  let value = only;
  if (left !== null && right !== null) {
    const mean = axleDeviation.work(
      { left, right },
      `ride height of the ${axle} axle above the one specified`,
    );
    workings.push(mean);
    value = mm(mean.value);
  }
  if (tyres !== null) {
    const whole = axleWithTyres.work(
      { suspension: value, tyres: mm(tyres[axle].raises) },
      `height of the ${axle} axle above the one specified, tyres counted`,
    );
    workings.push(whole);
    value = mm(whole.value);
  }
  return { value, workings };
}

function trackMissing(axle: Axle): Missing {
  return {
    for: `roll of the body at the ${axle} axle`,
    needs: "its track, or the four wheel centres",
    pointer: `/vehicle/dimensions/${axle === "front" ? "trackFront" : "trackRear"}`,
  };
}

function warnOfOneSide(axle: Axle, side: Corner["side"]): SetupWarning {
  return {
    about: "/rideHeight",
    says: `At the ${axle} axle the ${side} side alone was measured: a body that leans would pass for one that pitches.`,
  };
}

/** Says that the ride height of an axle, or of both, was not stated. */
export function heightMissing(pointer: string, axle?: Axle): Missing {
  return {
    for: "pitch of the body",
    needs: `the ride height at ${axle === undefined ? "both axles" : `the ${axle} axle`}, specified and measured`,
    pointer,
  };
}
