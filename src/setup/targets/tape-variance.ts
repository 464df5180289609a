import { Matrix, pseudoInverse } from "ml-matrix";
import type { Bar } from "./place.js";
import type { Wheel } from "../scene.js";

/** Variances of the bar's middle (mm²), their covariance, and the variance of its yaw (deg²). */
export interface Variance {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly yaw: number;
}

/** All of it, and what of it comes from the wheel centres. */
export interface BarVariance extends Variance {
  readonly ofWheels: Variance;
}

/** The axes laid through the wheels: their errors move the axes as well as the ends of the tapes. */
export interface WheelAxes {
  readonly wheels: readonly Wheel[];
  /** The axle from which distances along the vehicle count. */
  readonly origin: Wheel["axle"];
}

/** A fit as far as its uncertainty rests on it. */
export interface Fitted {
  readonly bar: Bar;
  readonly readings: readonly { readonly wheel: Wheel; readonly u: number | null }[];
  /** The change of each reading with x, y and the arc of the bar's ends; the first two are the tape's direction. */
  readonly design: Matrix;
  /** The standard uncertainty with which each reading was weighed. */
  readonly sigma: readonly number[];
  readonly degreesPerArc: number;
}

/** By how much one error, as large as its standard uncertainty, moves the bar: mm, mm, degrees. */
type Effect = readonly [x: number, y: number, yaw: number];

/**
 * The law of propagation over every error by itself: of each tape, and of each coordinate of each wheel. A wheel that is
 * off spoils all the tapes from it alike and turns the axes, so that it does not average out among the tapes.
 * Source: JCGM 100:2008, 5.1.2; from memory.
 */
export function varianceOf(fit: Fitted, axes: WheelAxes): BarVariance {
  const respond = responseOf(fit);
  const ofWheels = effectsOfWheels(fit, axes, respond);
  return { ...sumOf([...effectsOfTapes(fit, respond), ...ofWheels]), ofWheels: sumOf(ofWheels) };
}

function sumOf(effects: readonly Effect[]): Variance {
  const sum = (one: 0 | 1 | 2, other: 0 | 1 | 2): number =>
    effects.reduce((total, effect) => total + effect[one] * effect[other], 0);
  return { xx: sum(0, 0), xy: sum(0, 1), yy: sum(1, 1), yaw: sum(2, 2) };
}

type Response = (changes: readonly number[]) => Effect;

/** What the fit makes of changes of its readings. */
function responseOf({ design, sigma, degreesPerArc }: Fitted): Response {
  const gain = pseudoInverse(design.clone().divColumnVector([...sigma])).divRowVector([...sigma]);
  return (changes) => {
    const [x = 0, y = 0, arc = 0] = gain.mmul(Matrix.columnVector([...changes])).to1DArray();
    return [x, y, arc * degreesPerArc];
  };
}

function effectsOfTapes({ readings }: Fitted, respond: Response): readonly Effect[] {
  return readings.map(({ u }, index) =>
    respond(readings.map((_, other) => (other === index ? (u ?? 0) : 0))),
  );
}

function effectsOfWheels(fit: Fitted, { wheels, origin }: WheelAxes, respond: Response): readonly Effect[] {
  const known = wheels.filter(({ u }) => u !== null);
  return known.flatMap((wheel) =>
    ([0, 1] as const).map((coordinate): Effect => {
      const u = wheel.u ?? 0;
      const spoilt = fit.readings.map((reading, index) =>
        isSame(reading.wheel, wheel) ? fit.design.get(index, coordinate) * u : 0,
      );
      const [x, y, yaw] = respond(spoilt);
      const axes = moveAxes(wheels, wheel.axle, coordinate === 0 ? [u, 0] : [0, u], origin);
      const turned = (axes.yaw * Math.PI) / 180;
      return [x - axes.x + turned * fit.bar.y, y - axes.y - turned * fit.bar.x, yaw - axes.yaw];
    }),
  );
}

/** How the axes move when one wheel of an axle is off: half of it at that axle's middle. */
function moveAxes(
  wheels: readonly Wheel[],
  axle: Wheel["axle"],
  [dx, dy]: readonly [number, number],
  origin: Wheel["axle"],
): { readonly x: number; readonly y: number; readonly yaw: number } {
  const length = middleOf(wheels, "front").x - middleOf(wheels, "rear").x;
  const turn = ((axle === "front" ? 1 : -1) * dy) / 2 / length;
  return {
    x: axle === origin ? dx / 2 : 0,
    y: axle === "front" ? dy / 2 : 0,
    yaw: (turn * 180) / Math.PI,
  };
}

function middleOf(wheels: readonly Wheel[], axle: Wheel["axle"]): { readonly x: number } {
  const xs = wheels.filter((wheel) => wheel.axle === axle).map(({ x }) => x as number);
  return { x: xs.reduce((sum, x) => sum + x, 0) / xs.length };
}

function isSame(one: Wheel, other: Wheel): boolean {
  return one.axle === other.axle && one.side === other.side;
}
