import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mm } from "../../src/measure/index.js";
import {
  answerFloor,
  checkFloor,
  heightCorrectionAt,
  isSurveyed,
  warnOutsideSurvey,
  workHeightCorrection,
} from "../../src/setup/floor/floor.js";
import type { FloorResult } from "../../src/setup/result.js";
import type { Scene, Wheel } from "../../src/setup/scene.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { tiltOfWheels } from "../../src/setup/floor/wheel-plane.js";
import { check } from "../properties.js";

type Spot = NonNullable<Setup["floor"]>[number];

const SCENE: Scene = {
  wheelbase: mm(2700),
  trackFront: mm(1500),
  trackRear: mm(1500),
  frontOverhang: null,
  rearOverhang: null,
  width: null,
  height: null,
  wheels: null,
  places: [],
  toVehicle: ({ x, y }) => ({ x: mm(x), y: mm(y) }),
};

function setupOf(floor: readonly Spot[]): Setup {
  return setupShape.parse({ schema: "repair-calibration/setup@1", floor });
}

function survey(floor: readonly Spot[], scene: Scene = SCENE): FloorResult {
  const { value } = answerFloor(setupOf(floor), scene);
  if (value === null) throw new Error("no plane");
  return value;
}

/** Wheels of the scene on contacts of these heights: front left, front right, rear left, rear right. */
function onWheels(heights: readonly [number, number, number, number]): Scene {
  const wheel = (axle: Wheel["axle"], side: Wheel["side"], z: number): Wheel => ({
    axle,
    side,
    x: mm(axle === "front" ? 0 : -2700),
    y: mm(side === "left" ? 750 : -750),
    z: mm(z),
    u: null,
  });
  const [frontLeft, frontRight, rearLeft, rearRight] = heights;
  return {
    ...SCENE,
    wheels: [
      wheel("front", "left", frontLeft),
      wheel("front", "right", frontRight),
      wheel("rear", "left", rearLeft),
      wheel("rear", "right", rearRight),
    ],
  };
}

/** Corners of a rectangle 4 m long and 2 m wide about the origin at one height, and its middle. */
function table(corners: number, middle: number, u?: number): Spot[] {
  return [
    { x: 2000, y: 1000, z: corners },
    { x: 2000, y: -1000, z: corners },
    { x: -2000, y: 1000, z: corners },
    { x: -2000, y: -1000, z: corners },
    { x: 0, y: 0, z: middle },
  ].map((spot) => (u === undefined ? spot : { ...spot, u }));
}

/** The same five places on a plane: rise per metre along and across, height at the origin. */
function planar(along: number, across: number, atOrigin: number): Spot[] {
  return table(0, 0).map(({ x, y }) => ({ x, y, z: atOrigin + (along * x + across * y) / 1000 }));
}

describe("the plane of a floor", () => {
  it("lies level through four corners at 0 and a middle at 5 mm, at their mean", () => {
    // By hand: the mean is 1; four residuals of -1 and one of 4; flatness 5. Their squares sum to 20, over 2 degrees of
    // freedom 10; the squares of x sum to 16 m², those of y to 4 m²: u = √(10/16) and √(10/4).
    const floor = survey(table(0, 5));
    expect(floor.plane.along).toBeCloseTo(0, 9);
    expect(floor.plane.across).toBeCloseTo(0, 9);
    expect(floor.plane.atOrigin).toBeCloseTo(1, 9);
    expect(floor.residuals.map(({ residual }) => Math.round(residual * 1e9) / 1e9)).toEqual([
      -1, -1, -1, -1, 4,
    ]);
    expect(floor.flatness).toBeCloseTo(5, 9);
    expect(floor.degreesOfFreedom).toBe(2);
    expect(floor.uAlong).toBeCloseTo(0.790569, 6);
    expect(floor.uAcross).toBeCloseTo(1.581139, 6);
  });

  it("takes the slopes' uncertainties from those stated for the spots, not from the scatter", () => {
    // u over the root of the summed squares: 0.5/4 and 0.5/2 mm/m.
    const floor = survey(table(0, 5, 0.5));
    expect(floor.uAlong).toBeCloseTo(0.125, 9);
    expect(floor.uAcross).toBeCloseTo(0.25, 9);
  });

  it("weighs a spot by the square of how well it is known", () => {
    // Four corners of weight 1 at 0, a middle of weight 1/0.5² = 4 at 5: (4·0 + 4·5)/8.
    const spots = table(0, 5, 1).map((spot) => (spot.x === 0 ? { ...spot, u: 0.5 } : spot));
    expect(survey(spots).plane.atOrigin).toBeCloseTo(2.5, 9);
  });

  it("has its steepest slope by Pythagoras", () => {
    const floor = survey(planar(3, -4, 120));
    expect(floor.steepest).toBeCloseTo(5, 9);
  });

  it("does not call the slopes exact because readings in whole millimetres happen to agree", () => {
    const { value, warnings } = answerFloor(setupOf(planar(0, 0, 10)), SCENE);
    expect(value?.uAlong).toBeNull();
    expect(value?.uAcross).toBeNull();
    expect(warnings.map(({ says }) => says).join(" ")).toContain("is not known");
  });

  it("prints the arithmetic of its numbers", () => {
    const { workings } = answerFloor(setupOf(table(0, 5)), onWheels([3, 1, 2, 4]));
    expect(workings.map(({ id }) => id)).toEqual([
      "steepest-slope",
      "slope-percent",
      "slope-angle",
      "floor-flatness",
      "wheel-twist",
      "shim-thickness",
      "shim-thickness",
      "shim-thickness",
      "shim-thickness",
    ]);
  });
});

describe("what a survey does not tell", () => {
  it("is silent where nobody surveyed the floor", () => {
    const { value, missing } = answerFloor(setupShape.parse({ schema: "repair-calibration/setup@1" }), SCENE);
    expect({ value, missing }).toEqual({ value: null, missing: [] });
  });

  it.each([0, 3, 4])("asks for five spots where there are %i", (count) => {
    const { value, missing } = answerFloor(setupOf(table(0, 5).slice(0, count)), SCENE);
    expect(value).toBeNull();
    expect(missing).toHaveLength(1);
    expect(missing[0]).toMatchObject({
      pointer: "/floor",
      needs: expect.stringContaining(`5 spots or more (${count} stated)`) as unknown,
    });
  });

  it("refuses a survey of one line, whichever way it runs, and says what it takes", () => {
    const line = [0, 1, 2, 3, 4, 5].map((step) => ({ x: 800 * step, y: 300 * step + 50, z: step }));
    expect(checkFloor(setupOf(line))).toEqual([
      {
        code: "invalid-value",
        pointer: "/floor",
        message: "all 6 spots lie on one line, across which the floor's slope stays open",
        expected: "spots on either side of that line as well",
      },
    ]);
    const beside = [...line, { x: 0, y: 900, z: 1 }];
    expect(checkFloor(setupOf(beside))).toEqual([]);
    expect(answerFloor(setupOf(beside), SCENE).value).not.toBeNull();
  });

  it("asks for the wheel centres where nothing ties the survey to the vehicle", () => {
    const { value, missing } = answerFloor(setupOf(table(0, 5)), { ...SCENE, toVehicle: null });
    expect(value).toBeNull();
    expect(missing[0]?.pointer).toBe("/wheelCentres");
  });

  it("warns that five spots leave two degrees of freedom, and six do not", () => {
    const says = (spots: readonly Spot[]): string =>
      answerFloor(setupOf(spots), SCENE)
        .warnings.map((warning) => warning.says)
        .join(" ");
    expect(says(table(0, 5, 1))).toContain("two degrees of freedom");
    expect(says([...table(0, 5, 1), { x: 1000, y: 0, z: 1, u: 1 }])).toBe("");
  });

  it("says that the uncertainties of some spots were not used", () => {
    const spots = table(0, 5).map((spot, index) => (index < 2 ? { ...spot, u: 0.1 } : spot));
    const { value, warnings } = answerFloor(setupOf(spots), SCENE);
    expect(warnings.some(({ says }) => says.startsWith("Only 2 of 5 spots"))).toBe(true);
    expect(value?.uAlong).toBeCloseTo(0.790569, 6);
  });

  it("refuses two spots at one place, of different heights or of the same", () => {
    expect(checkFloor(setupOf(table(0, 5)))).toEqual([]);
    const again = [...table(0, 5), { x: 0, y: 0, z: 6 }, { x: 2000, y: 1000, z: 0 }];
    expect(checkFloor(setupOf(again)).map(({ code, pointer, message }) => [code, pointer, message])).toEqual([
      ["invalid-value", "/floor/5", "this spot is at the place of /floor/4"],
      ["invalid-value", "/floor/6", "this spot is at the place of /floor/0"],
    ]);
  });
});

describe("the plane of the wheels", () => {
  it("has twist and shims by hand", () => {
    // Contacts 3 1 / 2 4: twist ½[(3 + 4) − (1 + 2)] = 2; raised to 4. Front mean 2, rear mean 3: along −1 on 2.7 m.
    const { wheels } = survey(table(0, 5), onWheels([3, 1, 2, 4]));
    expect(wheels?.twist).toBe(2);
    expect(wheels?.shims.map(({ axle, side, thickness }) => `${axle} ${side} ${thickness}`)).toEqual([
      "front left 1",
      "front right 3",
      "rear left 2",
      "rear right 0",
    ]);
    expect(wheels?.plane.along).toBeCloseTo(-1 / 2.7, 9);
    expect(wheels?.plane.across).toBeCloseTo(0, 9);
    expect(wheels?.plane.atOrigin).toBeCloseTo(2, 9);
  });

  it("is not made up from the floor where the heights under the wheels are not known", () => {
    const scene = onWheels([0, 0, 0, 0]);
    const wheels = scene.wheels?.map((wheel, index) => (index === 2 ? { ...wheel, z: null } : wheel)) ?? null;
    const { value, missing } = answerFloor(setupOf(table(0, 5)), { ...scene, wheels });
    expect(value?.wheels).toBeNull();
    expect(missing.map((each) => each.for)).toEqual(["plane of the wheels"]);
    expect(value === null ? 0 : heightCorrectionAt(value, mm(1500), mm(0))).toBeNull();
    expect(value === null ? 0 : tiltOfWheels(value)).toBeNull();
  });

  it("lets a target go up where the floor falls away in front of a level vehicle", () => {
    // The floor falls 2 mm/m forward from 1 mm below the wheels: 1 + 2·2 = 5 mm at 2 m ahead.
    const floor = survey(planar(-2, 0, -1), onWheels([0, 0, 0, 0]));
    expect(heightCorrectionAt(floor, mm(2000), mm(600))).toBeCloseTo(5, 9);
    expect(workHeightCorrection(floor, mm(2000), mm(600))?.value).toBeCloseTo(5, 9);
  });

  it("changes no height where the vehicle stands on the plane of the floor", () => {
    // 3 mm/m along, 4 mm/m across: contacts at y = ±750 and x = 0, −2700.
    const floor = survey(planar(3, 4, 10), onWheels([13, 7, 4.9, -1.1]));
    expect(heightCorrectionAt(floor, mm(5000), mm(-1200))).toBeCloseTo(0, 9);
  });

  it("tilts the target with the wheels: nose up is negative, left side up positive", () => {
    // Contacts 2.7·tan 0.2° = 9.4248 mm lower at the rear; 1.5·tan 0.1° = 2.6180 mm lower at the right.
    const floor = survey(planar(0, 0, 0), onWheels([0, -2.618, -9.4248, -12.0428]));
    const tilt = tiltOfWheels(floor);
    expect(tilt?.pitch).toBeCloseTo(-0.2, 4);
    expect(tilt?.roll).toBeCloseTo(0.1, 4);
  });
});

describe("the surveyed area", () => {
  const floor = survey(table(0, 5));

  it.each([
    [0, 0, true],
    [1900, 900, true],
    [2000, 1000, true],
    [2000, 0, true],
    [2001, 0, false],
    [1900, 1010, false],
    [5000, 0, false],
    [-9000, -9000, false],
  ])("holds (%i, %i): %s", (x, y, inside) => {
    expect(isSurveyed(floor, { x: mm(x), y: mm(y) })).toBe(inside);
    expect(warnOutsideSurvey(floor, "forward-camera/board-n1", { x: mm(x), y: mm(y) }) === null).toBe(inside);
  });
});

describe("laws of a survey", () => {
  const spot = fc.record({
    x: fc.integer({ min: -6000, max: 6000 }),
    y: fc.integer({ min: -3000, max: 3000 }),
    z: fc.integer({ min: -300, max: 300 }).map((tenths) => tenths / 10),
  });
  const frame = table(0, 0);
  /** The frame keeps every survey off a line. */
  const spots = fc
    .tuple(fc.array(spot, { maxLength: 20 }), fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 5 }))
    .map(([more, heights]) => [
      ...frame.map((each, index) => ({ ...each, z: heights[index] ?? 0 })),
      ...more,
    ]);
  const slope = fc.double({ min: -30, max: 30, noNaN: true });

  it("returns the plane that its spots were taken from", () => {
    check(
      fc.property(spots, slope, slope, slope, (survey0, along, across, atOrigin) => {
        const onPlane = survey0.map(({ x, y }) => ({ x, y, z: atOrigin + (along * x + across * y) / 1000 }));
        const { plane, flatness } = survey(onPlane);
        expect(plane.along).toBeCloseTo(along, 6);
        expect(plane.across).toBeCloseTo(across, 6);
        expect(plane.atOrigin).toBeCloseTo(atOrigin, 6);
        expect(flatness).toBeCloseTo(0, 6);
      }),
    );
  });

  it("leaves residuals that sum to nothing, plainly and times x and y: no other plane lies nearer", () => {
    check(
      fc.property(spots, (given) => {
        const { residuals } = survey(given);
        const sum = (weigh: (each: { readonly x: number; readonly y: number }) => number): number =>
          residuals.reduce((total, each) => total + weigh(each) * each.residual, 0);
        expect(sum(() => 1)).toBeCloseTo(0, 6);
        expect(sum(({ x }) => x / 1000)).toBeCloseTo(0, 6);
        expect(sum(({ y }) => y / 1000)).toBeCloseTo(0, 6);
      }),
    );
  });

  it("does not depend on where on the floor the axes of the survey lie", () => {
    check(
      fc.property(spots, fc.integer({ min: 0, max: 359 }), slope, slope, (given, turn, east, north) => {
        const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
        const moved = given.map(({ x, y, z }) => ({
          x: 100 * east + c * x - s * y,
          y: 100 * north + s * x + c * y,
          z,
        }));
        const back: Scene = {
          ...SCENE,
          toVehicle: ({ x, y }) => {
            const [dx, dy] = [x - 100 * east, y - 100 * north];
            return { x: mm(c * dx + s * dy), y: mm(c * dy - s * dx) };
          },
        };
        const [here, there] = [survey(given), survey(moved, back)];
        expect(there.plane.along).toBeCloseTo(here.plane.along, 6);
        expect(there.plane.across).toBeCloseTo(here.plane.across, 6);
        expect(there.plane.atOrigin).toBeCloseTo(here.plane.atOrigin, 6);
        expect(there.flatness).toBeCloseTo(here.flatness, 6);
        expect(there.uAlong ?? 0).toBeCloseTo(here.uAlong ?? 0, 6);
      }),
    );
  });

  it("shows a higher level of the instrument in the height at the origin alone", () => {
    check(
      fc.property(spots, fc.integer({ min: -5000, max: 5000 }), (given, raise) => {
        const scene = onWheels([3, 1, 2, 4]);
        const wheels = scene.wheels?.map((wheel) => ({ ...wheel, z: mm((wheel.z ?? 0) + raise) })) ?? null;
        const [low, high] = [
          survey(given, scene),
          survey(
            given.map((each) => ({ ...each, z: each.z + raise })),
            { ...scene, wheels },
          ),
        ];
        expect(high.plane.atOrigin - low.plane.atOrigin).toBeCloseTo(raise, 6);
        expect(high.plane.along).toBeCloseTo(low.plane.along, 6);
        expect(high.plane.across).toBeCloseTo(low.plane.across, 6);
        expect(high.flatness).toBeCloseTo(low.flatness, 6);
        expect(high.wheels?.shims).toEqual(low.wheels?.shims);
        const at = [mm(2400), mm(-700)] as const;
        expect(heightCorrectionAt(high, ...at) ?? 0).toBeCloseTo(heightCorrectionAt(low, ...at) ?? 1, 6);
      }),
    );
  });

  it("mirrors with the vehicle: the slope across and the twist change sign, nothing else does", () => {
    check(
      fc.property(
        spots,
        fc.tuple(
          ...([0, 1, 2, 3].map(() => fc.integer({ min: -9, max: 9 })) as [
            fc.Arbitrary<number>,
            fc.Arbitrary<number>,
            fc.Arbitrary<number>,
            fc.Arbitrary<number>,
          ]),
        ),
        (given, [fl, fr, rl, rr]) => {
          const plain = survey(given, onWheels([fl, fr, rl, rr]));
          const mirrored = survey(
            given.map((each) => ({ ...each, y: -each.y })),
            onWheels([fr, fl, rr, rl]),
          );
          expect(mirrored.plane.along).toBeCloseTo(plain.plane.along, 6);
          expect(mirrored.plane.across).toBeCloseTo(-plain.plane.across, 6);
          expect(mirrored.flatness).toBeCloseTo(plain.flatness, 6);
          expect(mirrored.wheels?.twist).toBeCloseTo(-(plain.wheels?.twist ?? 1), 9);
          expect(mirrored.wheels?.plane.across).toBeCloseTo(-(plain.wheels?.plane.across ?? 1), 6);
          expect(heightCorrectionAt(mirrored, mm(3000), mm(800)) ?? 0).toBeCloseTo(
            heightCorrectionAt(plain, mm(3000), mm(-800)) ?? 1,
            6,
          );
        },
      ),
    );
  });

  it("levels the four contacts with shims of which none is negative and one is none", () => {
    const height = fc.integer({ min: -50, max: 50 });
    check(
      fc.property(height, height, height, height, (fl, fr, rl, rr) => {
        const shims = survey(table(0, 5), onWheels([fl, fr, rl, rr])).wheels?.shims ?? [];
        const tops = [fl, fr, rl, rr].map((each, index) => each + (shims[index]?.thickness ?? NaN));
        expect(new Set(tops).size).toBe(1);
        expect(Math.min(...shims.map(({ thickness }) => thickness))).toBe(0);
      }),
    );
  });
});
