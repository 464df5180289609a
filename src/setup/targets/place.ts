import {
  cos,
  degrees,
  formula,
  mm,
  sin,
  type Degrees,
  type Millimetres,
  type Working,
} from "../../measure/index.js";
import { lateralOnThrustLine } from "../vehicle/alignment.js";
import type { AskedTarget, Heading, Point } from "../scene.js";

/** A datum of the vehicle on its reference line, and which way "away from the vehicle" is there: 1 forwards, −1 backwards. */
export interface DatumPoint {
  readonly x: Millimetres;
  readonly away: 1 | -1;
}

/** The line along which a target's distance is measured, through the middle of the rear axle. */
export interface ReferenceLine {
  readonly heading: Heading;
  readonly wheelbase: Millimetres;
}

/** A target's middle and heading in the vehicle's axes. */
export interface Placed extends Point {
  readonly yaw: Degrees;
  /** Lateral place of the reference line at the datum. */
  readonly foot: Millimetres;
}

/** A bar on the floor: its middle, its direction, its length from end to end. */
export interface Bar extends Point {
  readonly yaw: Degrees;
  readonly width: Millimetres;
  /** 1 where the end towards (−sin yaw, cos yaw) is called left, −1 where the other one is. */
  readonly leftward: 1 | -1;
}

export const targetX = formula({
  id: "target-x",
  gives: "the target's middle, x",
  text: "x + away * distance * cos(heading) - lateral * sin(heading)",
  inputs: { x: "mm", away: "1", distance: "mm", lateral: "mm", heading: "deg" },
  result: "mm",
  compute: ({ x, away, distance, lateral, heading }) =>
    x + away * distance * cos(heading) - lateral * sin(heading),
});

export const targetY = formula({
  id: "target-y",
  gives: "the target's middle, y",
  text: "foot + away * distance * sin(heading) + lateral * cos(heading)",
  inputs: { foot: "mm", away: "1", distance: "mm", lateral: "mm", heading: "deg" },
  result: "mm",
  compute: ({ foot, away, distance, lateral, heading }) =>
    foot + away * distance * sin(heading) + lateral * cos(heading),
});

export const targetYaw = formula({
  id: "target-yaw",
  gives: "the target's yaw in the vehicle's axes",
  text: "heading + nominal",
  inputs: { heading: "deg", nominal: "deg" },
  result: "deg",
  compute: ({ heading, nominal }) => heading + nominal,
});

export const barEndX = formula({
  id: "bar-end-x",
  gives: "an end of the bar, x",
  text: "x - side * width / 2 * sin(yaw)",
  inputs: { x: "mm", side: "1", width: "mm", yaw: "deg" },
  result: "mm",
  compute: ({ x, side, width, yaw }) => x - ((side * width) / 2) * sin(yaw),
});

export const barEndY = formula({
  id: "bar-end-y",
  gives: "an end of the bar, y",
  text: "y + side * width / 2 * cos(yaw)",
  inputs: { y: "mm", side: "1", width: "mm", yaw: "deg" },
  result: "mm",
  compute: ({ y, side, width, yaw }) => y + ((side * width) / 2) * cos(yaw),
});

export const FORMULAS = [targetX, targetY, targetYaw, barEndX, barEndY] as const;

/**
 * Places a target in the vehicle's axes: from the foot of the datum on the reference line, the distance along the line
 * away from the vehicle, then the lateral to the line's left; mm, degrees.
 */
export function placeTarget(
  placing: AskedTarget["placing"],
  { datumPoint, ...line }: { readonly datumPoint: DatumPoint } & ReferenceLine,
): Placed {
  const inputs = placingInputs(placing, datumPoint, line);
  return {
    x: targetX(inputs),
    y: targetY(inputs),
    yaw: targetYaw(inputs),
    foot: inputs.foot,
  };
}

/** The arithmetic of `placeTarget`. */
export function workPlace(
  placing: AskedTarget["placing"],
  datumPoint: DatumPoint,
  line: ReferenceLine,
  label: string,
): readonly Working[] {
  const inputs = placingInputs(placing, datumPoint, line);
  const { x, foot, away, distance, lateral, heading, nominal } = inputs;
  const footWorking = lateralOnThrustLine.work(
    { x, ...line },
    `${label}: the reference line at the datum, y`,
  );
  return [
    ...(placing.referenceLine === "thrust-line" ? [footWorking] : []),
    targetX.work({ x, away, distance, lateral, heading }, `${label}: its middle, x`),
    targetY.work({ foot, away, distance, lateral, heading }, `${label}: its middle, y`),
    targetYaw.work({ heading, nominal }, `${label}: its yaw in the vehicle's axes`),
  ];
}

function placingInputs(placing: AskedTarget["placing"], { x, away }: DatumPoint, line: ReferenceLine) {
  return {
    x,
    away,
    foot: lateralOnThrustLine({ x, ...line }),
    distance: mm(placing.distance.nominal),
    lateral: mm(placing.lateral.nominal),
    heading: line.heading,
    nominal: degrees(placing.yaw.nominal),
  };
}

/**
 * Makes the bar of a placed target. Of a bar that lies across the vehicle (within 45°) the left end is the one on the
 * vehicle's left; of one that lies along it, the end on the left of somebody who looks at it from the vehicle.
 */
export function makeBar(placed: Point & { readonly yaw: Degrees }, width: Millimetres): Bar {
  const { x, y, yaw } = placed;
  return { x, y, yaw, width, leftward: findLeftward(placed) };
}

/** Which end of a bar is called left: see `Bar`. */
export function findLeftward({ y, yaw }: Point & { readonly yaw: Degrees }): 1 | -1 {
  const isAcross = Math.abs(cos(yaw)) >= Math.abs(sin(yaw));
  if (isAcross) return cos(yaw) > 0 ? 1 : -1;
  return sin(yaw) > 0 === y >= 0 ? 1 : -1;
}

/** An end of a bar on the floor. */
export function endOf(bar: Bar, end: "left" | "right"): Point {
  const inputs = { ...bar, side: signOf(bar, end) };
  return { x: barEndX(inputs), y: barEndY(inputs) };
}

/** The arithmetic of both ends of a bar. */
export function workEnds(bar: Bar, label: string): readonly Working[] {
  return (["left", "right"] as const).flatMap((end) => {
    const inputs = { ...bar, side: signOf(bar, end) };
    return [barEndX.work(inputs, `${label}: ${end} end, x`), barEndY.work(inputs, `${label}: ${end} end, y`)];
  });
}

/** 1 for the end towards (−sin yaw, cos yaw), −1 for the other. */
export function signOf({ leftward }: Bar, end: "left" | "right"): 1 | -1 {
  return (end === "left") === (leftward === 1) ? 1 : -1;
}
