import { Matrix, SVD } from "ml-matrix";
import {
  chiSquaredQuantile,
  cos,
  degrees,
  mm,
  sin,
  type Degrees,
  type Millimetres,
} from "../../measure/index.js";
import { endOf, signOf, type Bar } from "./place.js";
import type { TargetResult } from "../result.js";
import type { Point, Wheel } from "../scene.js";
import type { Tapes } from "../shape.js";
import { varianceOf, type BarVariance, type Fitted, type WheelAxes } from "./tape-variance.js";
import { distanceOf, nameTape, PAIRS, wheelsOf } from "./tapes.js";

/** One tape as it was read: from a wheel centre to an end of the bar. */
export interface TapeReading {
  readonly name: string;
  readonly wheel: Wheel;
  readonly end: "left" | "right";
  readonly value: Millimetres;
  /** Of the tape alone, the wheel having its own; null where it is not stated. */
  readonly u: Millimetres | null;
}

type FitQuality = NonNullable<NonNullable<TargetResult["measured"]>["fit"]>;

/** Where the bar stands by its tapes, or why they do not say. */
export type TapeFit =
  | {
      readonly kind: "found";
      readonly bar: Bar;
      /** Null where a reading has no uncertainty. */
      readonly variance: BarVariance | null;
      readonly quality: FitQuality;
    }
  /** Fewer readings than unknowns. */
  | { readonly kind: "too-few" }
  /** Readings that some movement of the bar would hardly change. */
  | { readonly kind: "undetermined" }
  /** Readings that no place of the bar comes near to. */
  | { readonly kind: "impossible" };

const UNKNOWNS = 3;
const STEPS = 200;
const HALVINGS = 40;
/** The adjustment has settled when a step moves the bar by less than this: smaller ones no sum of squares can tell; mm. */
const SETTLED = 1e-6;
/** Below this singular value 1 mm in the readings can move the bar by more than 100 mm. */
const DETERMINED = 0.01;
/** Three readings that a bar can have are met to this; mm. */
const MET = 1e-3;
const CONFIDENCE = 0.95;

/** Lists what was read; sets without the wheels that they start from are left out. */
export function listReadings(
  sets: readonly Tapes[],
  wheels: readonly Wheel[] | null,
): readonly TapeReading[] {
  return sets.flatMap((set, index) => {
    const axle = wheelsOf(wheels, set.from);
    if (axle === null) return [];
    const earlier = sets.slice(0, index).filter(({ from }) => from === set.from).length;
    const again = earlier === 0 ? "" : ` (${earlier + 1})`;
    return PAIRS.flatMap(([side, end]): readonly TapeReading[] => {
      const value = readingOf(set, side, end);
      if (value === undefined) return [];
      const wheel = axle[side];
      const u = set.u === undefined ? null : mm(set.u);
      return [{ name: nameTape(wheel.axle, side, end) + again, wheel, end, value: mm(value), u }];
    });
  });
}

/** What a set of tapes reads from a wheel to an end. */
export function readingOf(set: Tapes, wheel: "left" | "right", end: "left" | "right"): number | undefined {
  if (wheel === end) return set[wheel];
  return wheel === "left" ? set.diagonals?.fromLeft : set.diagonals?.fromRight;
}

const NO_ERROR: WheelAxes = { wheels: [], origin: "front" };

/**
 * Finds where a bar stands from tapes to its ends: least squares, weighted by the readings' uncertainties with those of
 * the wheels, over the bar's middle and yaw, from where it should stand (Gauss–Newton with halved steps). The errors of
 * the wheels that the axes are laid through count with those of the tapes.
 * Unweighted, and without uncertainties or a test of the readings against one another, where a reading has none.
 */
export function fitTapes(readings: readonly TapeReading[], start: Bar, axes: WheelAxes = NO_ERROR): TapeFit {
  if (readings.length < UNKNOWNS) return { kind: "too-few" };
  const isWeighted = readings.every(({ u }) => u !== null);
  const sigma = readings.map(({ u, wheel }) => (isWeighted && u !== null ? Math.hypot(u, wheel.u ?? 0) : 1));
  const bar = adjust(readings, sigma, start);
  if (bar === null || Math.abs(bar.yaw - start.yaw) > 90) return { kind: "impossible" };
  const degreesOfFreedom = readings.length - UNKNOWNS;
  const residuals = misfitsOf(readings, bar);
  if (degreesOfFreedom === 0 && residuals.some((each) => Math.abs(each) > MET)) return { kind: "impossible" };
  if (!isDetermined(readings, bar)) return { kind: "undetermined" };
  return {
    kind: "found",
    bar,
    variance: isWeighted ? varianceOf(fittedOf(readings, sigma, bar), axes) : null,
    quality: {
      readings: readings.length,
      degreesOfFreedom,
      ...testAgreement(isWeighted ? costOf(residuals, sigma) : null, degreesOfFreedom),
      residuals: readings.map(({ name }, index) => ({ reading: name, residual: residuals[index] ?? 0 })),
    },
  };
}

function testAgreement(
  chiSquared: number | null,
  degreesOfFreedom: number,
): Pick<FitQuality, "chiSquared" | "limit" | "agree"> {
  if (chiSquared === null || degreesOfFreedom === 0) return { chiSquared, limit: null, agree: null };
  const limit = chiSquaredQuantile(CONFIDENCE, degreesOfFreedom);
  return { chiSquared, limit, agree: chiSquared <= limit };
}

function adjust(readings: readonly TapeReading[], sigma: readonly number[], start: Bar): Bar | null {
  let bar = start;
  for (let count = 0; count < STEPS; count += 1) {
    const step = new SVD(weigh(designOf(readings, bar), sigma), { autoTranspose: true })
      .solve(weigh(Matrix.columnVector(misfitsOf(readings, bar)), sigma))
      .to1DArray();
    if (Math.max(...step.map(Math.abs)) < SETTLED) return move(bar, step, 1);
    const next = descend(readings, sigma, bar, step);
    if (next === null) return bar;
    bar = next;
  }
  return null;
}

/** The bar after as much of a step as lowers the sum of squares; null where none of it does. */
function descend(
  readings: readonly TapeReading[],
  sigma: readonly number[],
  bar: Bar,
  step: readonly number[],
): Bar | null {
  const before = costOf(misfitsOf(readings, bar), sigma);
  for (let halved = 0, share = 1; halved < HALVINGS; halved += 1, share /= 2) {
    const moved = move(bar, step, share);
    if (costOf(misfitsOf(readings, moved), sigma) < before) return moved;
  }
  return null;
}

/** The unknowns are x, y and the way of the bar's ends about its middle, so that all three are in mm. */
function move(bar: Bar, [x = 0, y = 0, arc = 0]: readonly number[], share: number): Bar {
  return {
    ...bar,
    x: mm(bar.x + x * share),
    y: mm(bar.y + y * share),
    yaw: degrees(bar.yaw + arc * share * degreesPerArc(bar)),
  };
}

/** Degrees of yaw for a millimetre of arc of the bar's ends. */
function degreesPerArc({ width }: Bar): Degrees {
  return degrees(360 / (Math.PI * width));
}

function endsOf(bar: Bar): Readonly<Record<"left" | "right", Point>> {
  return { left: endOf(bar, "left"), right: endOf(bar, "right") };
}

/** What was read minus what the bar would give. */
function misfitsOf(readings: readonly TapeReading[], bar: Bar): number[] {
  const ends = endsOf(bar);
  return readings.map(({ wheel, end, value }) => value - distanceOf(wheel, ends[end]));
}

/** The change of each reading with each unknown. */
function designOf(readings: readonly TapeReading[], bar: Bar): Matrix {
  const ends = endsOf(bar);
  return new Matrix(
    readings.map(({ wheel, end }) => {
      const point = ends[end];
      // A tape of no length has no direction: it says nothing about small movements.
      const length = distanceOf(wheel, point) || Infinity;
      const [alongX, alongY] = [(point.x - wheel.x) / length, (point.y - wheel.y) / length];
      const turn = -signOf(bar, end) * (alongX * cos(bar.yaw) + alongY * sin(bar.yaw));
      return [alongX, alongY, turn];
    }),
  );
}

function weigh(rows: Matrix, sigma: readonly number[]): Matrix {
  return rows.divColumnVector([...sigma]);
}

function costOf(misfits: readonly number[], sigma: readonly number[]): number {
  return misfits.reduce((sum, each, index) => sum + (each / (sigma[index] ?? 1)) ** 2, 0);
}

function isDetermined(readings: readonly TapeReading[], bar: Bar): boolean {
  const { diagonal } = new SVD(designOf(readings, bar), { autoTranspose: true });
  return Math.min(...diagonal) >= DETERMINED;
}

function fittedOf(readings: readonly TapeReading[], sigma: readonly number[], bar: Bar): Fitted {
  return { bar, readings, design: designOf(readings, bar), sigma, degreesPerArc: degreesPerArc(bar) };
}
