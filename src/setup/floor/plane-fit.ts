import { inverse, Matrix, SingularValueDecomposition, solve } from "ml-matrix";
import {
  formula,
  type Millimetres,
  type MillimetresPerMetre,
  millimetresPerMetre,
  mm,
  type Working,
} from "../../measure/index.js";
import type { FloorResult } from "../result.js";
import type { Point } from "../scene.js";

export type Plane = FloorResult["plane"];

/** A height at a place, with its standard uncertainty. */
export interface Spot extends Point {
  readonly z: Millimetres;
  readonly u: Millimetres | null;
}

/** Scatter below this is rounding of the arithmetic; mm. */
const NO_SCATTER = 1e-6;

/** How well a plane is known: about the middle of its spots, where its height does not depend on its slopes. */
export interface PlaneSpread {
  readonly middleX: Millimetres;
  readonly middleY: Millimetres;
  /** Standard uncertainties of the height at the middle and of the slopes, and how far the slopes hang together. */
  readonly uMiddle: Millimetres;
  readonly uAlong: MillimetresPerMetre;
  readonly uAcross: MillimetresPerMetre;
  readonly correlation: number;
}

/** The plane of least squares through some spots. */
export interface PlaneFit {
  readonly plane: Plane;
  /** In the order of the spots; mm. */
  readonly residuals: readonly number[];
  /** Null where the spots have no uncertainty and lie on the plane exactly. */
  readonly spread: PlaneSpread | null;
}

/** Law of propagation (JCGM 100:2008, 5.2.2; from memory) over the height at the middle and both slopes. */
export const planeUncertainty = formula({
  id: "plane-uncertainty",
  gives: "standard uncertainty of a plane's height at a place",
  text: "sqrt(max(0, uMiddle^2 + (uAlong * (x - middleX) / 1000)^2 + (uAcross * (y - middleY) / 1000)^2 + 2 * correlation * uAlong * uAcross * (x - middleX) * (y - middleY) / 1000000))",
  inputs: {
    x: "mm",
    y: "mm",
    middleX: "mm",
    middleY: "mm",
    uMiddle: "mm",
    uAlong: "mm/m",
    uAcross: "mm/m",
    correlation: "1",
  },
  result: "mm",
  compute: ({ x, y, middleX, middleY, uMiddle, uAlong, uAcross, correlation }) => {
    const [ahead, left] = [(x - middleX) / 1000, (y - middleY) / 1000];
    const variance =
      uMiddle ** 2 +
      (uAlong * ahead) ** 2 +
      (uAcross * left) ** 2 +
      2 * correlation * uAlong * uAcross * ahead * left;
    return Math.sqrt(Math.max(0, variance));
  },
});

export const FORMULAS = [planeUncertainty] as const;

/**
 * Lays the plane of least squares through spots that do not lie on a line; they weigh 1/u² where all have an uncertainty.
 * Fits about the weighted middle of the spots, where heights and slopes do not disturb one another's precision.
 */
export function fitPlane(spots: readonly Spot[]): PlaneFit {
  const weights = weightsOf(spots);
  const middle = middleOf(spots, weights);
  const weigh = (row: readonly number[], index: number): number[] =>
    row.map((entry) => entry * (weights?.[index] ?? 1));
  const design = new Matrix(
    spots.map(({ x, y }, index) => weigh([(x - middle.x) / 1000, (y - middle.y) / 1000, 1], index)),
  );
  const solution = solve(design, new Matrix(spots.map(({ z }, index) => weigh([z - middle.z], index))));
  const [along, across, atMiddle] = [solution.get(0, 0), solution.get(1, 0), solution.get(2, 0)];
  const atOrigin = middle.z + atMiddle - (along * middle.x + across * middle.y) / 1000;
  const residuals = spots.map(
    ({ x, y, z }) => z - middle.z - atMiddle - (along * (x - middle.x) + across * (y - middle.y)) / 1000,
  );
  const cofactors = inverse(design.transpose().mmul(design));
  const uOfOne = weights === null ? scatterOf(residuals) : 1;
  return { plane: { along, across, atOrigin }, residuals, spread: spreadOf(cofactors, middle, uOfOne) };
}

function spreadOf(
  cofactors: Matrix,
  middle: { readonly x: number; readonly y: number },
  uOfOne: number | null,
): PlaneSpread | null {
  if (uOfOne === null) return null;
  const uOf = (entry: number): number => uOfOne * Math.sqrt(cofactors.get(entry, entry));
  return {
    middleX: mm(middle.x),
    middleY: mm(middle.y),
    uMiddle: mm(uOf(2)),
    uAlong: millimetresPerMetre(uOf(0)),
    uAcross: millimetresPerMetre(uOf(1)),
    correlation: cofactors.get(0, 1) / Math.sqrt(cofactors.get(0, 0) * cofactors.get(1, 1)),
  };
}

/** The standard uncertainty of a plane's height at a place, with its arithmetic. */
export function workPlaneUncertainty(spread: PlaneSpread, { x, y }: Point, gives: string): Working {
  return planeUncertainty.work({ ...spread, x, y }, gives);
}

function middleOf(
  spots: readonly Spot[],
  weights: readonly number[] | null,
): { readonly x: number; readonly y: number; readonly z: number } {
  const shares = spots.map((_, index) => (weights?.[index] ?? 1) ** 2);
  const whole = shares.reduce((sum, share) => sum + share, 0);
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value, index) => sum + value * (shares[index] ?? 0), 0) / whole;
  return {
    x: mean(spots.map(({ x }) => x)),
    y: mean(spots.map(({ y }) => y)),
    z: mean(spots.map(({ z }) => z)),
  };
}

/** 1/u of each spot; null unless all have one. */
function weightsOf(spots: readonly Spot[]): readonly number[] | null {
  const weights = spots.flatMap(({ u }) => (u === null ? [] : [1 / u]));
  return weights.length === spots.length ? weights : null;
}

/** The standard deviation of one spot about its plane, from what the plane leaves over; null where it leaves nothing. */
export function scatterOf(residuals: readonly number[]): number | null {
  const degreesOfFreedom = residuals.length - 3;
  const scatter = Math.sqrt(residuals.reduce((sum, each) => sum + each * each, 0) / degreesOfFreedom);
  return scatter < NO_SCATTER ? null : scatter;
}

/** Root mean square distance of the spots from the line that fits them best; mm. */
export function breadthOf(spots: readonly Spot[]): number {
  const middle = middleOf(spots, null);
  const places = new Matrix(spots.map(({ x, y }) => [x - middle.x, y - middle.y]));
  const [, least = 0] = new SingularValueDecomposition(places).diagonal;
  return least / Math.sqrt(spots.length);
}

/** The slopes of a plane with their unit. */
export function slopesOf(plane: Plane): {
  readonly along: MillimetresPerMetre;
  readonly across: MillimetresPerMetre;
} {
  return { along: millimetresPerMetre(plane.along), across: millimetresPerMetre(plane.across) };
}
