import { degrees, mm } from "../../src/measure/index.js";
import { makeBar, type Bar } from "../../src/setup/targets/place.js";
import type { AskedTarget, Scene, Wheel } from "../../src/setup/scene.js";
import type { Setup, SetupTarget, Tapes } from "../../src/setup/shape.js";
import type { AlignmentResult, FloorResult } from "../../src/setup/result.js";

export interface Rectangle {
  readonly wheelbase: number;
  readonly trackFront: number;
  readonly trackRear: number;
}

export const FJELL: Rectangle = { wheelbase: 2700, trackFront: 1540, trackRear: 1550 };

export function wheelsAt({ wheelbase, trackFront, trackRear }: Rectangle): readonly Wheel[] {
  const at = (axle: "front" | "rear", side: "left" | "right", x: number, track: number): Wheel => ({
    axle,
    side,
    x: mm(x),
    y: mm(side === "left" ? track / 2 : -track / 2),
    z: null,
    u: null,
  });
  return [
    at("front", "left", 0, trackFront),
    at("front", "right", 0, trackFront),
    at("rear", "left", -wheelbase, trackRear),
    at("rear", "right", -wheelbase, trackRear),
  ];
}

export function sceneOf(parts: Partial<Scene> = {}): Scene {
  return {
    wheelbase: mm(2700),
    trackFront: mm(1540),
    trackRear: mm(1550),
    frontOverhang: mm(900),
    rearOverhang: mm(950),
    width: mm(1820),
    height: null,
    wheels: wheelsAt(FJELL),
    places: [],
    toVehicle: null,
    ...parts,
  };
}

export function placingOf(parts: Partial<AskedTarget["placing"]> = {}): AskedTarget["placing"] {
  return {
    name: "Board N1",
    datum: "front-axle",
    referenceLine: "centre-line",
    distance: { nominal: 1500, tolerance: 5 },
    lateral: { nominal: 0, tolerance: 3 },
    height: { nominal: 1350, tolerance: 5 },
    yaw: { nominal: 0, tolerance: 0.3 },
    pitch: { nominal: 0, tolerance: 0.5 },
    roll: { nominal: 0, tolerance: 0.3 },
    ...parts,
  };
}

export function askedOf(
  placing: Partial<AskedTarget["placing"]> = {},
  stated: Partial<SetupTarget> | null = null,
  barWidth: number | null = 2400,
): AskedTarget {
  return {
    key: "forward-camera/board-n1",
    requirements: ["forward-camera/calibration"],
    sensor: "forward-camera",
    position: null,
    id: "board-n1",
    placing: placingOf(placing),
    procedure: null,
    barWidth: barWidth === null ? null : mm(barWidth),
    stated:
      stated === null
        ? null
        : { target: { sensor: "forward-camera", id: "board-n1", ...stated }, pointer: "/targets/0" },
  };
}

export function thrustOf(heading: number, u: number | null = 0.02): AlignmentResult {
  return {
    totalRearToe: null,
    thrust: {
      heading,
      trade: -heading,
      pointsTo: heading > 0 ? "left" : heading < 0 ? "right" : "straight-ahead",
      u,
      from: "rear-toe",
    },
    setBack: null,
  };
}

/** A floor and a plane of the wheels; slopes mm/m, heights mm. */
export function floorOf(
  floor: { along: number; across: number; atOrigin: number },
  wheels: { along: number; across: number; atOrigin: number } | null,
): FloorResult {
  const corners = [-6000, 6000].flatMap((x) => [-6000, 6000].map((y) => ({ x, y, residual: 0 })));
  return {
    spots: 4,
    plane: floor,
    steepest: Math.hypot(floor.along, floor.across),
    uAlong: null,
    uAcross: null,
    flatness: 0,
    degreesOfFreedom: 1,
    residuals: corners,
    wheels: wheels === null ? null : { plane: wheels, twist: 0, shims: [] },
  };
}

export function barAt(x: number, y: number, yaw: number, width = 2400): Bar {
  return makeBar({ x: mm(x), y: mm(y), yaw: degrees(yaw) }, mm(width));
}

export const EMPTY_SETUP: Setup = { schema: "repair-calibration/setup@1" };

/** All four tapes of an axle. */
export interface FourTapes {
  readonly from: Tapes["from"];
  readonly left: number;
  readonly right: number;
  readonly diagonals: { readonly fromLeft: number; readonly fromRight: number };
}

/**
 * The four tapes of an axle by plane geometry alone: ends from the middle by half of the width along the bar, then the
 * theorem of Pythagoras. For bars across the vehicle, whose left end is that of the larger y.
 */
export function layByHand(
  bar: { readonly x: number; readonly y: number; readonly yaw: number; readonly width: number },
  wheels: readonly { readonly axle: string; readonly side: string; readonly x: number; readonly y: number }[],
  from: Tapes["from"],
): FourTapes {
  const turn = (bar.yaw * Math.PI) / 180;
  const half = bar.width / 2;
  const one = { x: bar.x - half * Math.sin(turn), y: bar.y + half * Math.cos(turn) };
  const other = { x: bar.x + half * Math.sin(turn), y: bar.y - half * Math.cos(turn) };
  const [leftEnd, rightEnd] = one.y > other.y ? [one, other] : [other, one];
  const axle = from === "front-axle" ? "front" : "rear";
  const wheel = (side: string) => wheels.find((each) => each.axle === axle && each.side === side)!;
  const tape = (side: string, end: { x: number; y: number }) =>
    Math.sqrt((wheel(side).x - end.x) ** 2 + (wheel(side).y - end.y) ** 2);
  return {
    from,
    left: tape("left", leftEnd),
    right: tape("right", rightEnd),
    diagonals: { fromLeft: tape("left", rightEnd), fromRight: tape("right", leftEnd) },
  };
}
