import { inverse, Matrix, SingularValueDecomposition, solve } from "ml-matrix";
import { type Millimetres, type MillimetresPerMetre, millimetresPerMetre } from "../../measure/index.js";
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

/** The plane of least squares through some spots. */
export interface PlaneFit {
  readonly plane: Plane;
  /** In the order of the spots; mm. */
  readonly residuals: readonly number[];
  readonly uAlong: number | null;
  readonly uAcross: number | null;
}

/**
 * Lays the plane of least squares through spots that do not lie on a line; they weigh 1/u² where all have an uncertainty.
 * Fits about the middle of the spots, where heights and slopes do not disturb one another's precision.
 */
export function fitPlane(spots: readonly Spot[]): PlaneFit {
  const middle = middleOf(spots);
  const weights = weightsOf(spots);
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
  const scatter = weights === null ? scatterOf(residuals) : 1;
  const cofactors = inverse(design.transpose().mmul(design));
  const uncertainty = (entry: number): number | null =>
    scatter === null ? null : scatter * Math.sqrt(cofactors.get(entry, entry));
  return { plane: { along, across, atOrigin }, residuals, uAlong: uncertainty(0), uAcross: uncertainty(1) };
}

function middleOf(spots: readonly Spot[]): { readonly x: number; readonly y: number; readonly z: number } {
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
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

/** The standard deviation of one reading, from what the plane leaves over; null where it leaves nothing. */
function scatterOf(residuals: readonly number[]): number | null {
  const degreesOfFreedom = residuals.length - 3;
  const scatter = Math.sqrt(residuals.reduce((sum, each) => sum + each * each, 0) / degreesOfFreedom);
  return scatter < NO_SCATTER ? null : scatter;
}

/** Root mean square distance of the spots from the line that fits them best; mm. */
export function breadthOf(spots: readonly Spot[]): number {
  const middle = middleOf(spots);
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
