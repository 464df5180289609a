import type { Setup, SetupTarget } from "../../../src/setup/shape.js";

/** A workshop in three dimensions, by vectors and rotations alone: nothing of the library's formulas is in it. */
type Vector = readonly [number, number, number];
type Axes = readonly [forward: Vector, left: Vector, up: Vector];

const RADIAN = Math.PI / 180;
const add = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const times = (a: Vector, by: number): Vector => [a[0] * by, a[1] * by, a[2] * by];
const less = (a: Vector, b: Vector): Vector => add(a, times(b, -1));
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Vector): Vector => times(a, 1 / Math.sqrt(dot(a, a)));

/** Turns a vector about an axis, counter-clockwise seen against it (Rodrigues). */
function turn(v: Vector, axis: Vector, by: number): Vector {
  const [c, s] = [Math.cos(by * RADIAN), Math.sin(by * RADIAN)];
  return add(add(times(v, c), times(cross(axis, v), s)), times(axis, dot(axis, v) * (1 - c)));
}

const UP: Vector = [0, 0, 1];

export interface World {
  /** Rise of the floor along the survey's x and y; mm/m. */
  readonly floor: readonly [number, number];
  /** What lies under the wheels: on the ground it is a plane, by so much at the front, at the left, everywhere; mm. */
  readonly plates: { readonly front: number; readonly left: number; readonly all: number };
  readonly vehicle: {
    readonly wheelbase: number;
    readonly track: number;
    readonly frontOverhang: number;
    readonly rearOverhang: number;
    /** Where the middle of the front axle stands in the survey's axes, and which way the vehicle points. */
    readonly at: readonly [number, number];
    readonly heading: number;
  };
  readonly rearToe: { readonly left: number; readonly right: number };
}

/** A target that stands somewhere: middle, and its own axes. */
export interface Standing {
  readonly middle: Vector;
  readonly axes: Axes;
}

export interface Workshop {
  readonly groundAt: (x: number, y: number) => number;
  readonly vehicle: Axes;
  readonly origin: Vector;
  readonly wheels: readonly {
    readonly axle: "front" | "rear";
    readonly side: "left" | "right";
    readonly at: Vector;
  }[];
}

export function build({ floor, plates, vehicle }: World): Workshop {
  const groundAt = (x: number, y: number) => (floor[0] * x + floor[1] * y) / 1000;
  const ahead: Vector = [Math.cos(vehicle.heading * RADIAN), Math.sin(vehicle.heading * RADIAN), 0];
  const aside: Vector = cross(UP, ahead);
  const wheels = (["front", "rear"] as const).flatMap((axle) =>
    (["left", "right"] as const).map((side) => {
      const flat = add(
        [vehicle.at[0], vehicle.at[1], 0],
        add(
          times(ahead, axle === "front" ? 0 : -vehicle.wheelbase),
          times(aside, ((side === "left" ? 1 : -1) * vehicle.track) / 2),
        ),
      );
      const lift = plates.all + (axle === "front" ? plates.front : 0) + (side === "left" ? plates.left : 0);
      const at: Vector = [flat[0], flat[1], groundAt(flat[0], flat[1]) + lift];
      return { axle, side, at };
    }),
  );
  const corner = (axle: string, side: string) =>
    wheels.find((each) => each.axle === axle && each.side === side)!.at;
  const middle = (axle: string) => times(add(corner(axle, "left"), corner(axle, "right")), 0.5);
  const forward = unit(less(middle("front"), middle("rear")));
  const up = unit(cross(forward, less(corner("front", "left"), corner("front", "right"))));
  return { groundAt, vehicle: [forward, cross(up, forward), up], origin: middle("front"), wheels };
}

/**
 * What a pose is in the vehicle's own axes: mm and degrees, yaw, pitch, roll in that order (ISO 8855); x and y of the
 * point plumbed down to the plane of the wheels, since that is what a tape on the floor finds.
 */
export function poseIn({ vehicle, origin }: Workshop, { middle, axes }: Standing) {
  const z = dot(vehicle[2], less(middle, origin));
  const foot = less(less(middle, origin), [0, 0, z / vehicle[2][2]]);
  const [x, y] = vehicle.map((axis) => dot(axis, foot)) as unknown as Vector;
  const [ahead, , top] = axes;
  const [fx, fy, fz] = vehicle.map((axis) => dot(axis, ahead)) as unknown as Vector;
  const leftUp = dot(axes[1], vehicle[2]);
  return {
    ...{ x, y, z },
    yaw: Math.atan2(fy, fx) / RADIAN,
    pitch: -Math.asin(fz) / RADIAN,
    roll: Math.atan2(leftUp, dot(top, vehicle[2])) / RADIAN,
  };
}

/** Sets a target up by what a tape from the floor and a spirit level show, at a place of the vehicle's axes. */
export function setUp(
  shop: Workshop,
  at: { x: number; y: number; height: number; yaw: number; pitch: number; roll: number },
): Standing {
  const flat = add(shop.origin, add(times(shop.vehicle[0], at.x), times(shop.vehicle[1], at.y)));
  const middle: Vector = [flat[0], flat[1], shop.groundAt(flat[0], flat[1]) + at.height];
  const level = unit([shop.vehicle[0][0], shop.vehicle[0][1], 0]);
  const ahead = turn(level, UP, at.yaw);
  const left = cross(UP, ahead);
  const nosed: Axes = [turn(ahead, left, at.pitch), left, turn(UP, left, at.pitch)];
  const axes = nosed.map((axis) => turn(axis, nosed[0], at.roll)) as unknown as Axes;
  return { middle, axes };
}

/** The document that somebody writes who surveys, tapes and levels all this with instruments that do not err. */
export function survey(
  world: World,
  shop: Workshop,
  standing: Standing,
  target: SetupTarget & { readonly barWidth: number },
): Setup {
  const round = (value: number) => Math.round(value * 1e4) / 1e4;
  const grid = [-9000, -6000, -3000, 0, 3000, 6000, 9000];
  const reach = target.barWidth / 2;
  const ends = [1, -1].map((sign) => add(standing.middle, times(standing.axes[1], sign * reach)));
  const isLeft = (end: Vector, other: Vector) => dot(less(end, other), shop.vehicle[1]) > 0;
  const isAcross = Math.abs(dot(standing.axes[1], shop.vehicle[1])) > Math.SQRT1_2;
  // Of a panel along the vehicle, the end on the left of somebody who looks at it from the vehicle.
  const seen = less(standing.middle, shop.origin);
  const [one, other] = ends as unknown as readonly [Vector, Vector];
  const oneIsLeft = isAcross
    ? isLeft(one, other)
    : dot(cross(UP, [seen[0], seen[1], 0]), less(one, other)) > 0;
  const end = { left: oneIsLeft ? one : other, right: oneIsLeft ? other : one };
  const tape = (axle: string, side: string, to: "left" | "right") => {
    const from = shop.wheels.find((each) => each.axle === axle && each.side === side)!.at;
    return round(Math.hypot(end[to][0] - from[0], end[to][1] - from[1]));
  };
  const tapes = (["front-axle", "rear-axle"] as const).map((from) => {
    const axle = from === "front-axle" ? "front" : "rear";
    return {
      from,
      left: tape(axle, "left", "left"),
      right: tape(axle, "right", "right"),
      diagonals: { fromLeft: tape(axle, "left", "right"), fromRight: tape(axle, "right", "left") },
      u: 0.2,
    };
  });
  const [ahead, left] = standing.axes;
  const { wheelbase, track, frontOverhang, rearOverhang } = world.vehicle;
  return {
    schema: "repair-calibration/setup@1",
    axes: "floor",
    vehicle: {
      dimensions: { wheelbase, trackFront: track, trackRear: track, frontOverhang, rearOverhang },
    },
    wheelCentres: shop.wheels.map(({ axle, side, at }) => ({
      ...{ axle, side, x: round(at[0]), y: round(at[1]), z: round(at[2]) },
      ...{ u: 0.2, uZ: 0.1 },
    })),
    rearToe: { ...world.rearToe, unit: "deg", u: 0.003 },
    floor: grid.flatMap((dx) =>
      grid.map((dy) => {
        const [x, y] = [Math.round(shop.origin[0]) + dx, Math.round(shop.origin[1]) + dy];
        return { x, y, z: round(shop.groundAt(x, y)), u: 0.1 };
      }),
    ),
    target: {
      ...target,
      measured: {
        height: round(standing.middle[2] - shop.groundAt(standing.middle[0], standing.middle[1])),
        pitch: round(-Math.asin(ahead[2]) / RADIAN),
        roll: round(Math.asin(left[2]) / RADIAN),
        countsFrom: { tilt: "plumb-line" },
        tapes,
      },
      U: { height: 0.4, pitch: 0.02, roll: 0.02 },
      k: 2,
    },
  };
}

/** Does with a target what a sentence says, and nothing else: whoever reads it has no numbers beside it. */
export function obey(shop: Workshop, { middle, axes }: Standing, says: string): Standing {
  const amount = Number(/(\d+(?:\.\d+)?)(?: mm|°)/.exec(says)![1]);
  const [forward, aside] = shop.vehicle;
  const flat = (v: Vector): Vector => unit([v[0], v[1], 0]);
  const halfway = add(shop.origin, times(forward, -1350));
  const outward = dot(less(middle, halfway), forward) > 0 ? forward : times(forward, -1);
  // A stand that is pushed stays as high above the floor and as level as it was.
  const push = (along: Vector): Standing => {
    const to = add(middle, times(flat(along), amount));
    const above = middle[2] - shop.groundAt(middle[0], middle[1]);
    return { middle: [to[0], to[1], shop.groundAt(to[0], to[1]) + above], axes };
  };
  const rotate = (axis: Vector, by: number): Standing => ({
    middle,
    axes: axes.map((each) => turn(each, axis, by)) as unknown as Axes,
  });
  const level = flat(axes[1]);
  /** The way from the vehicle to the target, square to its bar. */
  const from = less(middle, halfway);
  const square = times(cross(level, UP), Math.sign(dot(cross(level, UP), from)));
  if (says.includes("vehicle's left")) return push(aside);
  if (says.includes("vehicle's right")) return push(times(aside, -1));
  if (says.includes("away from the vehicle") && says.includes("mm")) return push(outward);
  if (says.includes("towards the vehicle") && says.includes("mm")) return push(times(outward, -1));
  if (says.includes("forwards")) return push(forward);
  if (says.includes("backwards")) return push(times(forward, -1));
  if (says.includes("counter-clockwise")) return rotate(UP, amount);
  if (says.includes("clockwise")) return rotate(UP, -amount);
  if (says.startsWith("tilt its top")) {
    const away = says.includes("away from") ? 1 : -1;
    // The axis about which what points up turns that way.
    return rotate(cross(UP, times(square, away)), amount);
  }
  if (says.includes("end up")) {
    const isAcross = Math.abs(dot(axes[1], aside)) > Math.SQRT1_2;
    const seenLeft = cross(UP, flat(from));
    const leftward = flat(times(axes[1], Math.sign(dot(axes[1], isAcross ? aside : seenLeft))));
    const lifted = says.includes("left end up") ? leftward : times(leftward, -1);
    // The axis about which that end rises.
    return rotate(cross(lifted, UP), amount);
  }
  if (says.startsWith("raise")) return { middle: add(middle, [0, 0, amount]), axes };
  if (says.startsWith("lower")) return { middle: add(middle, [0, 0, -amount]), axes };
  throw new Error(`nobody knows what to do about: ${says}`);
}
