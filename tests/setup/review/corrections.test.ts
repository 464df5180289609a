import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkSetup } from "../../../src/setup/index.js";
import type { SetupTarget } from "../../../src/setup/shape.js";
import { build, obey, poseIn, setUp, survey, type Standing, type World } from "./world.js";

type Placing = NonNullable<SetupTarget["placing"]>;
const within = (nominal: number, tolerance: number) => ({ nominal, tolerance });

/** Heading of the thrust line, left positive: half of what the right rear wheel is toed in more than the left one. */
const THRUST = (0.1 - 0.34) / 2;
const VEHICLE = { wheelbase: 2700, track: 1560, frontOverhang: 900, rearOverhang: 950 };
const tan = (angle: number) => Math.tan((angle * Math.PI) / 180);

interface Case {
  readonly name: string;
  readonly placing: Placing;
  readonly barWidth: number;
  /** Where it has to stand in the vehicle's axes, worked out by hand from the placing. */
  readonly wanted: { readonly x: number; readonly y: number; readonly yaw: number };
}

const COMMON = {
  name: "Board",
  height: within(1200, 5),
  yaw: within(0, 0.2),
  pitch: within(0, 0.2),
  roll: within(0, 0.2),
} as const;

const CASES: readonly Case[] = [
  {
    name: "a board ahead, on the thrust line",
    placing: {
      ...COMMON,
      datum: "front-bumper",
      referenceLine: "thrust-line",
      distance: within(1500, 5),
      lateral: within(-250, 3),
    },
    barWidth: 2400,
    // 5100 mm from the rear axle along the line, then 250 mm to its right; the cosine is 1 to six digits.
    wanted: { x: 2400, y: 5100 * tan(THRUST) - 250, yaw: THRUST },
  },
  {
    name: "a van's board behind, facing backwards",
    placing: {
      ...COMMON,
      datum: "rear-bumper",
      referenceLine: "centre-line",
      distance: within(2000, 5),
      lateral: within(300, 3),
      yaw: within(180, 0.2),
    },
    barWidth: 1800,
    wanted: { x: -(2700 + 950 + 2000), y: 300, yaw: 180 },
  },
  {
    name: "a board behind that was put up the same way round as one ahead",
    placing: {
      ...COMMON,
      datum: "rear-axle",
      referenceLine: "thrust-line",
      distance: within(2500, 5),
      lateral: within(0, 3),
    },
    barWidth: 1800,
    wanted: { x: -5200, y: -2500 * tan(THRUST), yaw: THRUST },
  },
  {
    name: "a panel beside the vehicle",
    placing: {
      ...COMMON,
      datum: "front-axle",
      referenceLine: "centre-line",
      // Ahead of the front axle is positive: this one stands beside the doors.
      distance: within(-900, 5),
      lateral: within(2400, 5),
      height: within(800, 5),
      yaw: within(90, 0.3),
    },
    barWidth: 1500,
    wanted: { x: -900, y: 2400, yaw: 90 },
  },
];

const WORLDS: readonly { readonly name: string; readonly world: World }[] = [
  {
    name: "turned on a floor that falls to the rear",
    world: {
      floor: [4, -3],
      plates: { front: 0, left: 0, all: 0 },
      vehicle: { ...VEHICLE, at: [6100, 2400], heading: 7.4 },
      rearToe: { left: 0.34, right: 0.1 },
    },
  },
  {
    name: "on plates, nose towards the door, on a floor that falls ahead",
    world: {
      floor: [3, 2],
      plates: { front: 9, left: -6, all: 50 },
      vehicle: { ...VEHICLE, at: [-4000, 900], heading: -172 },
      rearToe: { left: 0.34, right: 0.1 },
    },
  },
];

const off = fc.record({
  x: fc.double({ min: -60, max: 60, noNaN: true }),
  y: fc.double({ min: -60, max: 60, noNaN: true }),
  height: fc.double({ min: -150, max: 150, noNaN: true }),
  yaw: fc.double({ min: -2, max: 2, noNaN: true }),
  pitch: fc.double({ min: -2, max: 2, noNaN: true }),
  roll: fc.double({ min: -2, max: 2, noNaN: true }),
});

describe("corrections that somebody follows who reads nothing but the sentences", () => {
  for (const { name: where, world } of WORLDS)
    for (const { name, placing, barWidth, wanted } of CASES)
      it(`bring ${name} to its place, the vehicle ${where}`, () => {
        const shop = build(world);
        const target = { sensor: "forward-camera", id: "board", placing, barWidth } as const;
        const check = (standing: Standing) => checkSetup(survey(world, shop, standing, target)).targets[0]!;
        fc.assert(
          fc.property(off, (by) => {
            let standing = setUp(shop, {
              x: wanted.x + by.x,
              y: wanted.y + by.y,
              height: placing.height.nominal + by.height,
              yaw: wanted.yaw + by.yaw,
              pitch: by.pitch,
              roll: by.roll,
            });
            // Each step disturbs the others a little, which is why everything is measured again: twice is enough.
            for (const { says } of check(standing).corrections) standing = obey(shop, standing, says);
            for (const { says } of check(standing).corrections) standing = obey(shop, standing, says);

            const { decisions } = check(standing);
            expect(decisions.map(({ quantity, verdict }) => `${quantity} ${verdict}`)).toEqual(
              ["lateral", "distance", "yaw", "pitch", "roll", "height"].map((each) => `${each} conforms`),
            );
            const truth = poseIn(shop, standing);
            expect(Math.abs(truth.x - wanted.x)).toBeLessThan(1);
            expect(Math.abs(truth.y - wanted.y)).toBeLessThan(1);
            expect(Math.abs(truth.z - placing.height.nominal)).toBeLessThan(1);
            expect(Math.abs(Math.sin(((truth.yaw - wanted.yaw) * Math.PI) / 180))).toBeLessThan(0.0005);
            expect(Math.abs(truth.pitch)).toBeLessThan(0.03);
            expect(Math.abs(truth.roll)).toBeLessThan(0.03);
          }),
          { numRuns: 10 },
        );
      });
});
