import type { Issue } from "../../errors.js";
import { atan, atan2, degrees, formula, type Millimetres, mm, type Working } from "../../measure/index.js";
import { type Answer, answer, type Missing, type SetupWarning } from "../answer.js";
import { placeSpots } from "./place-spots.js";
import { breadthOf, fitPlane, type PlaneFit, slopesOf, type Spot } from "./plane-fit.js";
import type { FloorResult } from "../result.js";
import type { Point, Scene } from "../scene.js";
import type { Setup } from "../shape.js";
import { answerWheels } from "./wheel-plane.js";

/** Three spots make a plane, four leave one number to check it by, which no scatter can be told from. */
const LEAST_SPOTS = 5;
/** A place on the floor is known to about this; mm. Spots that stray less from a line have no slope across it. */
const LEAST_BREADTH = 10;

/** The slope of steepest rise. */
export const steepestSlope = formula({
  id: "steepest-slope",
  gives: "steepest slope of the floor",
  text: "sqrt(along^2 + across^2)",
  inputs: { along: "mm/m", across: "mm/m" },
  result: "mm/m",
  compute: ({ along, across }) => Math.hypot(along, across),
});

/** A slope as an angle. */
export const slopeAngle = formula({
  id: "slope-angle",
  gives: "slope as an angle",
  text: "atan(slope / 1000)",
  inputs: { slope: "mm/m" },
  result: "deg",
  compute: ({ slope }) => atan(slope / 1000),
});

/** A slope in per cent. */
export const slopePercent = formula({
  id: "slope-percent",
  gives: "slope in per cent",
  text: "slope / 10",
  inputs: { slope: "mm/m" },
  result: "%",
  compute: ({ slope }) => slope / 10,
});

/** How far the highest and the lowest spot lie apart, measured from the plane. */
export const floorFlatness = formula({
  id: "floor-flatness",
  gives: "flatness of the floor: highest spot above its plane minus lowest",
  text: "highest - lowest",
  inputs: { highest: "mm", lowest: "mm" },
  result: "mm",
  compute: ({ highest, lowest }) => highest - lowest,
});

/** How far the plane of the wheels lies above the floor's plane at a place; what a tape from the floor has to show more. */
export const heightCorrection = formula({
  id: "height-correction",
  gives: "plane of the wheels above the floor",
  text: "wheelsAtOrigin - floorAtOrigin + (wheelsAlong - floorAlong) * x / 1000 + (wheelsAcross - floorAcross) * y / 1000",
  inputs: {
    x: "mm",
    y: "mm",
    wheelsAtOrigin: "mm",
    wheelsAlong: "mm/m",
    wheelsAcross: "mm/m",
    floorAtOrigin: "mm",
    floorAlong: "mm/m",
    floorAcross: "mm/m",
  },
  result: "mm",
  compute: (given) =>
    given.wheelsAtOrigin -
    given.floorAtOrigin +
    ((given.wheelsAlong - given.floorAlong) * given.x) / 1000 +
    ((given.wheelsAcross - given.floorAcross) * given.y) / 1000,
});

export const FORMULAS = [steepestSlope, slopeAngle, slopePercent, floorFlatness, heightCorrection] as const;

/** Finds what no survey of a floor can be: two heights, or one twice, at one place; all spots on one line. */
export function checkFloor(setup: Setup): readonly Issue[] {
  const issues = checkSpots(setup);
  return issues.length > 0 ? issues : checkBreadth(setup);
}

/** A plane turns freely about a line: spots on one say nothing of the slope across it. */
function checkBreadth({ floor = [] }: Setup): readonly Issue[] {
  const spots = floor.map(({ x, y, z }) => ({ x: mm(x), y: mm(y), z: mm(z), u: null }));
  if (spots.length < LEAST_SPOTS || breadthOf(spots) >= LEAST_BREADTH) return [];
  return [
    {
      code: "invalid-value",
      pointer: "/floor",
      message: `all ${spots.length} spots lie on one line, across which the floor's slope stays open`,
      expected: "spots on either side of that line as well",
    },
  ];
}

function checkSpots(setup: Setup): readonly Issue[] {
  const seen = new Map<string, number>();
  const issues: Issue[] = [];
  for (const [index, { x, y }] of (setup.floor ?? []).entries()) {
    const place = `${x} ${y}`;
    const first = seen.get(place);
    if (first === undefined) seen.set(place, index);
    else {
      issues.push({
        code: "invalid-value",
        pointer: `/floor/${index}`,
        message: `this spot is at the place of /floor/${first}`,
        expected: "one height for each place: the mean, where it was read more than once",
      });
    }
  }
  return issues;
}

/**
 * Lays the plane of least squares through the floor's spot heights and another through the wheels' contacts, in the
 * vehicle's axes; slopes mm/m. Spots weigh 1/u² where all have an uncertainty, otherwise alike. The slopes'
 * uncertainties are those of the readings, not of a floor that is no plane: for that there is the flatness.
 * The plane of the wheels is taken only from heights under all four: read off the floor's plane, it would agree with
 * it by construction.
 */
export function answerFloor(setup: Setup, scene: Scene): Answer<FloorResult> {
  if (setup.floor === undefined) return answer({});
  const spots = placeSpots(setup.floor, scene);
  const missing = spots === null ? FRAME_MISSING : findMissing(spots);
  if (spots === null || missing !== null) return answer({ missing: missing === null ? [] : [missing] });

  const fit = fitPlane(spots);
  const { along, across } = slopesOf(fit.plane);
  const flatness = floorFlatness.work({
    highest: mm(Math.max(...fit.residuals)),
    lowest: mm(Math.min(...fit.residuals)),
  });
  const steepest = steepestSlope({ along, across });
  const wheels = answerWheels(scene.wheels);
  return answer({
    value: {
      spots: spots.length,
      plane: fit.plane,
      steepest,
      uAlong: fit.spread?.uAlong ?? null,
      uAcross: fit.spread?.uAcross ?? null,
      flatness: flatness.value,
      degreesOfFreedom: spots.length - 3,
      residuals: spots.map(({ x, y }, index) => ({ x, y, residual: fit.residuals[index] ?? 0 })),
      wheels: wheels.value,
    },
    workings: [
      steepestSlope.work({ along, across }),
      slopePercent.work({ slope: steepest }, "steepest slope in per cent"),
      slopeAngle.work({ slope: steepest }, "steepest slope as an angle"),
      flatness,
      ...wheels.workings,
    ],
    missing: wheels.missing,
    warnings: [...findWarnings(spots, fit), ...wheels.warnings],
  });
}

const FRAME_MISSING: Missing = {
  for: "the floor in the vehicle's axes",
  needs: "the four wheel centres in the axes of the survey",
  pointer: "/wheelCentres",
};

function findMissing(spots: readonly Spot[]): Missing | null {
  if (spots.length >= LEAST_SPOTS) return null;
  return {
    for: "slope and flatness of the floor",
    needs: `${LEAST_SPOTS} spots or more (${spots.length} stated): fewer leave no check of their plane`,
    pointer: "/floor",
  };
}

function findWarnings(spots: readonly Spot[], fit: PlaneFit): readonly SetupWarning[] {
  const warn = (says: string): SetupWarning => ({ about: "/floor", says });
  const stated = spots.filter(({ u }) => u !== null).length;
  const warnings: SetupWarning[] = [];
  if (spots.length === LEAST_SPOTS) {
    warnings.push(
      warn("Five spots leave two degrees of freedom: the flatness is hardly checked. Measure more spots."),
    );
  }
  if (stated > 0 && stated < spots.length) {
    warnings.push(
      warn(`Only ${stated} of ${spots.length} spots have an uncertainty, so that none of them was used.`),
    );
  }
  if (stated === spots.length) return warnings;
  warnings.push(
    warn(
      fit.spread === null
        ? "The spots lie on their plane exactly and have no stated uncertainty: that of the slopes is not known."
        : `The slopes' uncertainties come from the scatter of the spots about their plane (${spots.length - 3} degrees of freedom), not from stated ones.`,
    ),
  );
  return warnings;
}

/** How far the plane of the wheels lies above the floor at a place, with its arithmetic; null without that plane. */
export function workHeightCorrection(floor: FloorResult, x: Millimetres, y: Millimetres): Working | null {
  if (floor.wheels === null) return null;
  const wheels = slopesOf(floor.wheels.plane);
  const ground = slopesOf(floor.plane);
  return heightCorrection.work({
    x,
    y,
    wheelsAtOrigin: mm(floor.wheels.plane.atOrigin),
    wheelsAlong: wheels.along,
    wheelsAcross: wheels.across,
    floorAtOrigin: mm(floor.plane.atOrigin),
    floorAlong: ground.along,
    floorAcross: ground.across,
  });
}

/**
 * How far the plane of the wheels lies above the floor at a place in the vehicle's axes; null where the heights under
 * the wheels are not known. A target's height counts from the plane of the wheels, so that it goes up by this.
 */
export function heightCorrectionAt(floor: FloorResult, x: Millimetres, y: Millimetres): Millimetres | null {
  const working = workHeightCorrection(floor, x, y);
  return working === null ? null : mm(working.value);
}

/** Whether a place in the vehicle's axes lies among the surveyed spots, their outermost joined by straight lines. */
export function isSurveyed(floor: FloorResult, { x, y }: Point): boolean {
  if (floor.residuals.some((spot) => Math.hypot(spot.x - x, spot.y - y) < 1)) return true;
  const bearings = floor.residuals.map((spot) => atan2(spot.y - y, spot.x - x)).sort((a, b) => a - b);
  const [first = degrees(0)] = bearings;
  // Seen from outside, all spots lie within half a turn, and the rest of the turn is empty.
  return bearings.every((bearing, index) => (bearings[index + 1] ?? first + 360) - bearing <= 180 + 1e-9);
}

/** The warning that a target's place lies outside of what was surveyed; null where it does not. */
export function warnOutsideSurvey(floor: FloorResult, target: string, at: Point): SetupWarning | null {
  if (isSurveyed(floor, at)) return null;
  return {
    about: target,
    says: "The place lies outside of the surveyed floor: its height is carried on from the plane, not measured.",
  };
}
