import type { Issue } from "../../errors.js";
import {
  atan,
  type Degrees,
  degrees,
  formatAngle,
  formatLength,
  formula,
  metres,
  type Millimetres,
  mm,
  tan,
} from "../../measure/index.js";
import { type Answer, answer, type Missing, type SetupWarning } from "../answer.js";
import { answerAxle, type Corner, heightMissing } from "./axle-height.js";
import { checkTyres, measureTyres } from "./axle-tyres.js";
import type { AttitudeResult } from "../result.js";
import type { Scene } from "../scene.js";
import type { Setup } from "../shape.js";

/** No vehicle on its wheels stands this far from its height; mm. */
const LARGEST_DEVIATION = 300;
/** Where no uncertainties are stated: by how much four corners may miss a common plane; mm. Common practice, no source. */
const TWIST_ALLOWED = 5;
/** Distances ahead at which the consequence is given. */
const RANGES = [metres(25), metres(50), metres(100)];

/** Pitch of the body, nose down positive (ISO 8855). */
export const bodyPitch = formula({
  id: "body-pitch",
  gives: "pitch of the body, nose down positive",
  text: "atan((rear - front) / wheelbase)",
  inputs: { front: "mm", rear: "mm", wheelbase: "mm" },
  result: "deg",
  compute: ({ front, rear, wheelbase }) => atan((rear - front) / wheelbase),
});

/** How far an axis that is off by an angle misses its point at a distance. */
export const missAtRange = formula({
  id: "miss-at-range",
  gives: "miss of a sensor's axis at a distance",
  text: "range * tan(angle)",
  inputs: { range: "mm", angle: "deg" },
  result: "mm",
  compute: ({ range, angle }) => range * tan(angle),
});

export const FORMULAS = [bodyPitch, missAtRange] as const;

/** Finds corners stated twice, heights that no vehicle has, and tyre sizes that are none. */
export function checkAttitude(setup: Setup): readonly Issue[] {
  return [...checkCorners(setup.rideHeight?.corners ?? []), ...checkTyres(setup.tyres)];
}

function checkCorners(corners: readonly Corner[]): readonly Issue[] {
  return corners.flatMap((corner, index): readonly Issue[] => {
    const pointer = `/rideHeight/corners/${index}`;
    const { axle, side, measured, specified } = corner;
    const first = corners.findIndex((each) => each.axle === axle && each.side === side);
    const issues: Issue[] = [];
    if (first !== index) {
      issues.push({
        code: "invalid-value",
        pointer,
        message: `the ${axle} ${side} corner is also /rideHeight/corners/${first}`,
        expected: "each corner once",
      });
    }
    if (Math.abs(measured - specified) > LARGEST_DEVIATION) {
      issues.push({
        code: "out-of-range",
        pointer: `${pointer}/measured`,
        message: `this is ${formatLength(mm(measured - specified), "mm", "computed")} away from the height specified`,
        expected: `at most ${LARGEST_DEVIATION} mm either way, both measured at the same place of the body`,
      });
    }
    return issues;
  });
}

/**
 * Works out how the body stands against its specified ride height: by axle, pitch, roll, and how far a sensor's axis has
 * moved with it. Lengths mm, angles degrees. What the tyres add is counted once: hub to arch leaves them out, ground to
 * body has them in.
 */
export function answerAttitude(setup: Setup, scene: Scene): Answer<AttitudeResult> {
  const { rideHeight } = setup;
  const tyres = measureTyres(setup.tyres);
  if (rideHeight === undefined) {
    if (setup.tyres === undefined) return answer({});
    return answer({ workings: tyres.workings, missing: [...tyres.missing, heightMissing("/rideHeight")] });
  }
  const counted = rideHeight.datum === "hub-to-arch";
  const front = answerAxle(rideHeight, "front", scene.trackFront, counted ? tyres.value : null);
  const rear = answerAxle(rideHeight, "rear", scene.trackRear, counted ? tyres.value : null);
  const parts = [tyres, front, rear];
  const missing = parts.flatMap((part) => part.missing);
  const workings = parts.flatMap((part) => part.workings);
  const warnings = [...parts.flatMap((part) => part.warnings), ...warnOfTyres(setup, counted)];
  if (scene.wheelbase === null) missing.push(WHEELBASE_MISSING);
  if (front.value === null || rear.value === null || scene.wheelbase === null) {
    return answer({ missing, workings, warnings });
  }

  const pitch = bodyPitch.work({
    front: front.value.height,
    rear: rear.value.height,
    wheelbase: scene.wheelbase,
  });
  // Upwards positive, against the pitch; 0 minus, since the negative of zero prints as "-0".
  const upwards = degrees(0 - pitch.value);
  const aim = RANGES.map((range) =>
    missAtRange.work({ range, angle: upwards }, "rise of a sensor's axis at a distance ahead"),
  );
  const { roll: rollFront } = front.value;
  const { roll: rollRear } = rear.value;
  return answer({
    value: {
      front: front.value.height,
      rear: rear.value.height,
      pitch: pitch.value,
      rollFront,
      rollRear,
      says: describe(upwards, rollFront, rollRear),
      tyres: tyres.value === null ? null : { ...tyres.value, counted },
      aim: aim.map(({ value }, index) => ({ range: RANGES[index] ?? 0, vertical: value })),
    },
    workings: [...workings, pitch, ...aim],
    missing,
    warnings: [...warnings, ...warnOfTwist(rideHeight.corners, rollFront, rollRear, scene.trackFront)],
  });
}

const WHEELBASE_MISSING: Missing = {
  for: "pitch of the body",
  needs: "the wheelbase, or the four wheel centres",
  pointer: "/vehicle/dimensions/wheelbase",
};

function warnOfTyres(setup: Setup, counted: boolean): readonly SetupWarning[] {
  if (!counted || setup.tyres !== undefined) return [];
  return [
    {
      about: "/rideHeight",
      says: "Hub to arch leaves the tyres out, and their sizes are not stated: tyres other than specified would add to this.",
    },
  ];
}

/** A body is stiff: it leans alike at both axles, as far as the readings go. */
function warnOfTwist(
  corners: readonly Corner[],
  rollFront: number | null,
  rollRear: number | null,
  track: Millimetres | null,
): readonly SetupWarning[] {
  if (rollFront === null || rollRear === null || track === null) return [];
  const stated = corners.flatMap(({ u }) => (u === undefined ? [] : [u]));
  const allowed = stated.length === corners.length ? 3 * Math.hypot(...stated) : TWIST_ALLOWED;
  const twist = missAtRange({ range: track, angle: degrees(Math.abs(rollFront - rollRear)) });
  if (twist <= allowed) return [];
  return [
    {
      about: "/rideHeight",
      says: `The body would be twisted by ${formatLength(twist, "mm", "computed")} between its axles, which a body cannot be: measure the four heights again, and look for a damaged body or a wrong specification.`,
    },
  ];
}

function describe(noseUp: Degrees, rollFront: number | null, rollRear: number | null): string {
  const parts = [
    inWords(noseUp, "nose up", "nose down", "nose level"),
    ...[rollFront, rollRear].flatMap((roll, index) =>
      roll === null
        ? []
        : [
            `${inWords(degrees(roll), "left side high", "right side high", "sides level")} at the ${index === 0 ? "front" : "rear"}`,
          ],
    ),
  ];
  return parts.join(", ");
}

function inWords(angle: Degrees, positive: string, negative: string, none: string): string {
  const size = formatAngle(degrees(Math.abs(angle)));
  if (size === formatAngle(degrees(0))) return none;
  return `${angle > 0 ? positive : negative} ${size}`;
}
