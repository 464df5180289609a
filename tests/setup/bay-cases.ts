import fc from "fast-check";
import { mm } from "../../src/measure/index.js";
import type { ClearArea } from "../../src/procedures/index.js";
import type { TargetResult } from "../../src/setup/result.js";
import type { Scene, StaticStep } from "../../src/setup/scene.js";
import type { Bay } from "../../src/setup/shape.js";

/** 4675 mm from bumper to bumper: 900 ahead of the front axle, 3775 behind it. */
export const FJELL: Scene = {
  wheelbase: mm(2750),
  trackFront: mm(1580),
  trackRear: mm(1575),
  frontOverhang: mm(900),
  rearOverhang: mm(1025),
  width: mm(1840),
  height: mm(1500),
  wheels: null,
  places: [],
  toVehicle: null,
};

export function stepOf(
  requirement: string,
  clearArea: ClearArea | null,
  rest: { readonly targets?: readonly string[]; readonly after?: readonly string[] } = {},
): StaticStep {
  return { requirement, clearArea, targets: rest.targets ?? [], after: rest.after ?? [] };
}

const NOTHING_ASKED = { nominal: 0, tolerance: 0 };

/** A target with a bar across the vehicle, its middle at (x, y); without a place where `x` is null. */
export function targetAt(
  key: string,
  place: { readonly x: number; readonly y: number; readonly height?: number; readonly width?: number } | null,
): TargetResult {
  const { x = 0, y = 0, height = 1000, width } = place ?? {};
  return {
    key,
    requirements: [],
    sensor: "forward-camera",
    position: null,
    id: key,
    name: key,
    procedure: null,
    datum: "front-axle",
    referenceLine: "centre-line",
    asked: {
      distance: NOTHING_ASKED,
      lateral: NOTHING_ASKED,
      height: NOTHING_ASKED,
      yaw: NOTHING_ASKED,
      pitch: NOTHING_ASKED,
      roll: NOTHING_ASKED,
    },
    stands: place === null ? null : { x, y, height, heightAboveFloor: null, yaw: 0, pitch: 0, roll: 0 },
    bar:
      place === null || width === undefined
        ? null
        : { width, left: { x, y: y + width / 2 }, right: { x, y: y - width / 2 } },
    tapes: [],
    measured: null,
    corrections: [],
    decisions: [],
  };
}

export interface Case {
  readonly scene: Scene;
  readonly steps: readonly StaticStep[];
  readonly targets: readonly TargetResult[];
  readonly bay: Bay;
}

type Rectangle = Readonly<Record<"x0" | "x1" | "y0" | "y1", number>>;
type Body = Rectangle & { readonly height: number };

/** What has to be free for one step in the vehicle's axes, straight from the numbers of the case. */
export function bodiesOf({ scene, targets }: Case, step: StaticStep): readonly Body[] {
  const front = scene.frontOverhang!;
  const rear = scene.wheelbase! + scene.rearOverhang!;
  const half = scene.width! / 2;
  const outline = { x0: -rear, x1: front, y0: -half, y1: half, height: scene.height! };
  const bodies: Body[] = [outline];
  if (step.clearArea !== null) {
    const { datum, length, width, height } = step.clearArea;
    const begin = {
      "front-bumper": front,
      "rear-bumper": -rear - length,
      "vehicle-centre": (front - rear - length) / 2,
    };
    const x0 = begin[datum];
    bodies.push({ x0, x1: x0 + length, y0: -width / 2, y1: width / 2, height: height! });
  }
  for (const { key, bar, stands } of targets) {
    if (!step.targets.includes(key) || bar === null) continue;
    const { left, right } = bar;
    bodies.push({ x0: left.x, x1: left.x, y0: right.y, y1: left.y, height: 2 * stands!.height });
  }
  return bodies;
}

/**
 * How far the vehicle may be off at a place before one of its bodies touches a wall or an obstacle; below zero where it
 * does. Bodies and obstacles are compared one by one, in the bay.
 */
export function playAt(
  { bay }: Case,
  bodies: readonly Body[],
  at: { readonly x: number; readonly y: number },
  noseIn: boolean,
): number {
  let play = Infinity;
  for (const body of bodies) {
    const placed = noseIn
      ? { x0: at.x + body.x0, x1: at.x + body.x1, y0: at.y + body.y0, y1: at.y + body.y1 }
      : { x0: at.x - body.x1, x1: at.x - body.x0, y0: at.y - body.y1, y1: at.y - body.y0 };
    play = Math.min(
      play,
      placed.x0,
      bay.length - placed.x1,
      placed.y0 + bay.width / 2,
      bay.width / 2 - placed.y1,
    );
    for (const { x, y, length, width, from = 0 } of bay.obstacles ?? []) {
      if (from > 0 && from >= body.height) continue;
      const gaps = [placed.x0 - (x + length), x - placed.x1, placed.y0 - (y + width), y - placed.y1];
      play = Math.min(play, Math.max(...gaps));
    }
  }
  return play;
}

const tens = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min / 10, max: max / 10 }).map((value) => value * 10);

const sceneArbitrary: fc.Arbitrary<Scene> = fc
  .record({
    wheelbase: tens(2300, 3200),
    frontOverhang: tens(700, 1100),
    rearOverhang: tens(600, 1200),
    width: tens(1600, 2000),
    height: tens(1300, 2000),
  })
  .map((given) => ({
    ...FJELL,
    wheelbase: mm(given.wheelbase),
    frontOverhang: mm(given.frontOverhang),
    rearOverhang: mm(given.rearOverhang),
    width: mm(given.width),
    height: mm(given.height),
  }));

const areaArbitrary: fc.Arbitrary<ClearArea> = fc.record({
  datum: fc.constantFrom("front-bumper", "rear-bumper", "vehicle-centre"),
  length: tens(1000, 7000),
  width: tens(1000, 7000),
  height: tens(1500, 2500),
});

const obstacleArbitrary = fc.record({
  x: tens(0, 9500),
  y: tens(-4000, 3700),
  length: tens(100, 1500),
  width: tens(100, 1500),
  from: fc.constantFrom(0, 0, 1400, 2200),
});

/** A vehicle with one to five calibrations, each with a clear area or a target ahead, in a bay with obstacles. */
export const caseArbitrary: fc.Arbitrary<Case> = fc
  .record({
    scene: sceneArbitrary,
    areas: fc.array(fc.option(areaArbitrary, { freq: 4 }), { minLength: 1, maxLength: 5 }),
    bars: fc.array(fc.record({ x: tens(1500, 6000), y: tens(-2000, 2000), width: tens(500, 2500) }), {
      minLength: 5,
      maxLength: 5,
    }),
    waits: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
    obstacles: fc.array(obstacleArbitrary, { maxLength: 5 }),
    length: tens(6000, 14_000),
    width: tens(3000, 9000),
    noseIn: fc.constantFrom(true, false, null),
  })
  .map(({ scene, areas, bars, waits, obstacles, length, width, noseIn }) => ({
    scene,
    steps: areas.map((area, index) =>
      stepOf(`step-${index}`, area, {
        targets: area === null ? [`bar-${index}`] : [],
        after: index > 0 && waits[index] === true ? [`step-${index - 1}`] : [],
      }),
    ),
    targets: bars.map((bar, index) => targetAt(`bar-${index}`, bar)),
    bay: {
      length,
      width,
      obstacles: obstacles
        .map((each, index) => ({ id: `o${index}`, ...each }))
        .filter(({ x, y, width: across }) => x < length && y < width / 2 && y + across > -width / 2),
      noseIn,
    },
  }));
