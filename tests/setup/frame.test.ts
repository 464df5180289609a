import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { answerScene, checkScene } from "../../src/setup/vehicle/frame.js";
import type { Scene } from "../../src/setup/scene.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { check } from "../properties.js";

type Wheels = NonNullable<Setup["wheelCentres"]>;
type Corner = "frontLeft" | "frontRight" | "rearLeft" | "rearRight";
type XY = readonly [x: number, y: number];

function setupOf(parts: Omit<Setup, "schema">): Setup {
  return setupShape.parse({ schema: "repair-calibration/setup@1", ...parts });
}

function sceneOf(parts: Omit<Setup, "schema">): Scene {
  const { value } = answerScene(setupOf(parts));
  return value;
}

function wheelsAt(places: Readonly<Record<Corner, XY>>, rest: { u?: number } = {}): Wheels {
  const wheel = (axle: "front" | "rear", side: "left" | "right", [x, y]: XY) => ({
    axle,
    side,
    x,
    y,
    ...rest,
  });
  return [
    wheel("front", "left", places.frontLeft),
    wheel("front", "right", places.frontRight),
    wheel("rear", "left", places.rearLeft),
    wheel("rear", "right", places.rearRight),
  ];
}

/** Wheelbase 2700, tracks 1540 and 1550, in the vehicle's own axes. */
const STRAIGHT = {
  frontLeft: [0, 770],
  frontRight: [0, -770],
  rearLeft: [-2700, 775],
  rearRight: [-2700, -775],
} as const;

/**
 * The same, its front middle at (1000, 1000) and turned so that forward is (0.8, 0.6) and left (−0.6, 0.8), with the
 * front left wheel 5 mm further forward and the front right one 5 mm further back. Worked out by hand.
 */
const TURNED = {
  frontLeft: [542, 1619],
  frontRight: [1458, 381],
  rearLeft: [-1625, 0],
  rearRight: [-695, -1240],
} as const;

describe("the vehicle from its dimensions", () => {
  const dimensions = { wheelbase: 2700, trackFront: 1540, trackRear: 1550, frontOverhang: 880, width: 1820 };

  it("stands on an ideal rectangle", () => {
    const { wheels, ...scene } = sceneOf({ vehicle: { dimensions } });
    expect(scene).toMatchObject({
      wheelbase: 2700,
      trackFront: 1540,
      trackRear: 1550,
      frontOverhang: 880,
      rearOverhang: null,
      width: 1820,
      height: null,
    });
    const unmeasured = { z: null, u: null };
    expect(wheels).toEqual([
      { axle: "front", side: "left", x: 0, y: 770, ...unmeasured },
      { axle: "front", side: "right", x: 0, y: -770, ...unmeasured },
      { axle: "rear", side: "left", x: -2700, y: 775, ...unmeasured },
      { axle: "rear", side: "right", x: -2700, y: -775, ...unmeasured },
    ]);
  });

  it("has no wheels where a track is not known, and fills in none", () => {
    const scene = sceneOf({ vehicle: { dimensions: { wheelbase: 2700, trackFront: 1540 } } });
    expect(scene.wheels).toBeNull();
    expect(scene.trackRear).toBeNull();
  });

  it("takes the document's axes for its own where nobody names others", () => {
    const places = [{ datum: "emblem", x: 850, y: -3, z: 640 }] as const;
    const scene = sceneOf({ places: [...places] });
    expect(scene.places).toEqual([{ datum: "emblem", sensor: null, position: null, x: 850, y: -3, z: 640 }]);
    expect(scene.toVehicle?.({ x: 12.5, y: -7 })).toEqual({ x: 12.5, y: -7 });
  });

  it("cannot place anything in axes on the floor, and says what it would take", () => {
    const places = [{ datum: "emblem" as const, x: 850, y: -3 }];
    const { value, missing } = answerScene(setupOf({ axes: "floor", vehicle: { dimensions }, places }));
    expect(value.toVehicle).toBeNull();
    expect(value.places).toEqual([]);
    expect(value.wheels).toHaveLength(4);
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/wheelCentres"]);
  });

  it("misses nothing where nothing was asked", () => {
    expect(answerScene(setupOf({ axes: "floor" })).missing).toEqual([]);
  });
});

describe("the vehicle from its wheels", () => {
  it("has its origin below the middle of the front axle and x through both middles", () => {
    const places = [{ datum: "sensor" as const, sensor: "front-radar" as const, x: 1704, y: 1528, z: 500 }];
    const scene = sceneOf({ axes: "floor", wheelCentres: wheelsAt(TURNED, { u: 1 }), places });
    expect(scene.wheelbase).toBeCloseTo(2700, 9);
    // √(1540² + 10²): the front wheels are 10 mm apart along the vehicle.
    expect(scene.trackFront).toBeCloseTo(1540.0325, 4);
    expect(scene.trackRear).toBeCloseTo(1550, 9);
    const expected = [
      { axle: "front", side: "left", x: 5, y: 770 },
      { axle: "front", side: "right", x: -5, y: -770 },
      { axle: "rear", side: "left", x: -2700, y: 775 },
      { axle: "rear", side: "right", x: -2700, y: -775 },
    ];
    expect(scene.wheels).toEqual(
      expected.map(({ x, y, ...rest }) => ({
        ...rest,
        x: expect.closeTo(x, 9) as number,
        y: expect.closeTo(y, 9) as number,
        z: null,
        u: 1,
      })),
    );
    // (704, 528) from the front middle is 880 along (0.8, 0.6).
    expect(scene.places).toEqual([
      {
        datum: "sensor",
        sensor: "front-radar",
        position: null,
        x: expect.closeTo(880, 9) as number,
        y: expect.closeTo(0, 9) as number,
        z: 500,
      },
    ]);
  });

  it("shows the arithmetic, and which centre line it is", () => {
    const { workings } = answerScene(
      setupOf({
        axes: "floor",
        wheelCentres: wheelsAt(TURNED),
        places: [{ datum: "emblem", x: 1704, y: 1528 }],
      }),
    );
    const heading = workings.find(({ id }) => id === "heading-of-centre-line");
    expect(heading?.gives).toContain("through the middles of both axles");
    // atan(3/4)
    expect(heading?.value).toBeCloseTo(36.8699, 4);
    expect(workings.map(({ gives }) => gives)).toContain("x of the emblem in the vehicle's axes");
    expect(workings.find(({ gives }) => gives === "x of the middle of the rear axle")?.value).toBe(-1160);
  });

  it("keeps the levels of the floor under the wheels", () => {
    const wheelCentres = wheelsAt(STRAIGHT).map((wheel, index) => ({ ...wheel, z: index }));
    expect(sceneOf({ wheelCentres }).wheels?.map(({ z }) => z)).toEqual([0, 1, 2, 3]);
  });

  it("does not depend on the order in which the wheels are given", () => {
    const wheelCentres = wheelsAt(TURNED);
    const scene = sceneOf({ axes: "floor", wheelCentres });
    const turned = sceneOf({ axes: "floor", wheelCentres: [...wheelCentres].reverse() });
    expect(turned.wheels).toEqual(scene.wheels);
  });
});

describe("wheels and statements that disagree", () => {
  const contradictionsOf = (parts: Omit<Setup, "schema">) =>
    answerScene(setupOf(parts)).contradictions.map(({ about }) => about);

  it.each([
    [2710, []],
    [2710.1, [["/vehicle/dimensions/wheelbase", "/wheelCentres"]]],
    [2689.9, [["/vehicle/dimensions/wheelbase", "/wheelCentres"]]],
  ])("a wheelbase of %d beside wheels 2700 apart", (wheelbase, expected) => {
    const vehicle = { dimensions: { wheelbase } };
    expect(contradictionsOf({ vehicle, wheelCentres: wheelsAt(STRAIGHT) })).toEqual(expected);
  });

  it("says which counts, and uses it", () => {
    const parts = { vehicle: { dimensions: { trackFront: 1600 } }, wheelCentres: wheelsAt(STRAIGHT) };
    const { value, contradictions } = answerScene(setupOf(parts));
    expect(value.trackFront).toBe(1540);
    expect(contradictions).toEqual([
      {
        about: ["/vehicle/dimensions/trackFront", "/wheelCentres"],
        says:
          "the wheel centres give a front track of 1540.0 mm and 1600.0 mm is stated: they lie more than 10.0 mm " +
          "apart; the wheel centres count for the geometry, since they are what stands there",
      },
    ]);
  });

  it("counts three times the uncertainty of the wheels", () => {
    // Track: √(2² + 2²) = 2.83, so 18.49; wheelbase: √(4 · 2²)/2 = 2, so 16.
    const wheelCentres = wheelsAt(STRAIGHT, { u: 2 });
    const differing = (dimensions: NonNullable<Setup["vehicle"]>["dimensions"]) =>
      contradictionsOf({ vehicle: { dimensions }, wheelCentres }).length;
    expect(differing({ trackRear: 1568.4 })).toBe(0);
    expect(differing({ trackRear: 1568.6 })).toBe(1);
    expect(differing({ wheelbase: 2715.9 })).toBe(0);
    expect(differing({ wheelbase: 2716.1 })).toBe(1);
  });

  it("notices axes that are not the vehicle's, and takes the wheels", () => {
    const moved = (by: number) =>
      wheelsAt({
        frontLeft: [by, 770],
        frontRight: [by, -770],
        rearLeft: [by - 2700, 775],
        rearRight: [by - 2700, -775],
      });
    expect(contradictionsOf({ wheelCentres: moved(10) })).toEqual([]);
    expect(contradictionsOf({ wheelCentres: moved(35) })).toEqual([["/axes", "/wheelCentres"]]);
    expect(contradictionsOf({ axes: "floor", wheelCentres: moved(35) })).toEqual([]);
    const scene = sceneOf({ wheelCentres: moved(35) });
    expect(scene.wheels?.map(({ x }) => x)).toEqual([0, 0, -2700, -2700]);
    expect(scene.toVehicle?.({ x: 135, y: 4 })).toEqual({ x: 100, y: 4 });
  });

  it("notices a rear axle that lies off the x axis of the vehicle's axes", () => {
    const wheelCentres = wheelsAt({ ...STRAIGHT, rearLeft: [-2700, 790], rearRight: [-2700, -760] });
    expect(contradictionsOf({ wheelCentres })).toEqual([["/axes", "/wheelCentres"]]);
  });
});

describe("places that no vehicle has", () => {
  const issuesOf = (parts: Omit<Setup, "schema">) =>
    checkScene(setupOf(parts)).map(({ code, pointer }) => ({ code, pointer }));
  const onFloor = (places: Partial<Record<Corner, XY>>) =>
    issuesOf({ axes: "floor", wheelCentres: wheelsAt({ ...STRAIGHT, ...places }) });

  it("finds nothing wrong with a straight vehicle, in its own axes or in others", () => {
    expect(issuesOf({ wheelCentres: wheelsAt(STRAIGHT) })).toEqual([]);
    expect(issuesOf({ axes: "floor", wheelCentres: wheelsAt(TURNED) })).toEqual([]);
  });

  it("asks for each wheel once", () => {
    const wheelCentres = wheelsAt(STRAIGHT).map((wheel) =>
      wheel.axle === "rear" ? { ...wheel, side: "left" as const } : wheel,
    );
    expect(issuesOf({ wheelCentres })).toEqual([
      { code: "duplicate-id", pointer: "/wheelCentres/3" },
      { code: "missing-measurement", pointer: "/wheelCentres" },
    ]);
    expect(checkScene(setupOf({ wheelCentres }))[1]?.message).toBe(
      "the centre of the rear right wheel is missing",
    );
    const { value, missing } = answerScene(setupOf({ wheelCentres }));
    expect(value.wheels).toBeNull();
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/wheelCentres"]);
  });

  it("refuses two wheels at one place", () => {
    expect(onFloor({ rearRight: [-2700, 775.5] })).toEqual([
      { code: "invalid-value", pointer: "/wheelCentres/3" },
    ]);
  });

  it("refuses a mirrored quadrilateral", () => {
    const mirrored = {
      frontLeft: [0, -770],
      frontRight: [0, 770],
      rearLeft: [-2700, -775],
      rearRight: [-2700, 775],
    };
    const refused = [
      { code: "invalid-value", pointer: "/wheelCentres/0" },
      { code: "invalid-value", pointer: "/wheelCentres/2" },
    ];
    expect(onFloor(mirrored as unknown as Record<Corner, XY>)).toEqual(refused);
  });

  it("refuses one axle whose wheels are exchanged", () => {
    expect(onFloor({ rearLeft: [-2700, -775], rearRight: [-2700, 775] })).toEqual([
      { code: "invalid-value", pointer: "/wheelCentres/2" },
    ]);
  });

  it("refuses in the vehicle's axes what only axes on the floor allow", () => {
    // Turned about by 180°: a possible vehicle, but not with x forward.
    const about = wheelsAt({
      frontLeft: [0, -770],
      frontRight: [0, 770],
      rearLeft: [2700, -775],
      rearRight: [2700, 775],
    });
    expect(issuesOf({ axes: "floor", wheelCentres: about })).toEqual([]);
    expect(issuesOf({ wheelCentres: about })).toEqual([
      { code: "invalid-value", pointer: "/wheelCentres/0/y" },
      { code: "invalid-value", pointer: "/wheelCentres/2/y" },
    ]);
  });

  it("refuses wheels that stand too near or too far", () => {
    const beyond = { code: "out-of-range", pointer: "/wheelCentres" };
    expect(onFloor({ rearLeft: [-499, 775], rearRight: [-499, -775] })).toEqual([beyond]);
    expect(onFloor({ rearLeft: [-8001, 775], rearRight: [-8001, -775] })).toEqual([beyond]);
    expect(onFloor({ frontLeft: [0, 149], frontRight: [0, -149] })).toEqual([beyond]);
    expect(onFloor({ frontLeft: [0, 1501], frontRight: [0, -1501] })).toEqual([beyond]);
    expect(onFloor({ rearLeft: [-500, 775], rearRight: [-500, -775] })).toEqual([]);
  });

  it("refuses an axle out of square by more than an accident leaves", () => {
    // A figure too many in one x: atan(1000/1540) is 33° from the other wheel.
    const [issue] = checkScene(
      setupOf({ axes: "floor", wheelCentres: wheelsAt({ ...STRAIGHT, frontLeft: [1000, 770] }) }),
    );
    expect(issue).toMatchObject({ code: "out-of-range", pointer: "/wheelCentres" });
    expect(issue?.message).toContain("33.00°");
    expect(onFloor({ frontLeft: [100, 770], frontRight: [-100, -770] })).toEqual([]);
  });

  it.each([
    [{ wheelbase: 499 }, "/vehicle/dimensions/wheelbase"],
    [{ wheelbase: 8001 }, "/vehicle/dimensions/wheelbase"],
    [{ trackFront: 299 }, "/vehicle/dimensions/trackFront"],
    [{ trackRear: 3001 }, "/vehicle/dimensions/trackRear"],
  ])("refuses %o as stated", (dimensions, pointer) => {
    expect(issuesOf({ vehicle: { dimensions } })).toEqual([{ code: "out-of-range", pointer }]);
  });
});

describe("laws", () => {
  const near = (middle: number, by: number) => fc.double({ min: middle - by, max: middle + by, noNaN: true });
  const point = fc.tuple(near(0, 8000), near(0, 8000));
  const vehicle = fc.record({
    frontLeft: fc.tuple(near(0, 30), near(770, 60)),
    frontRight: fc.tuple(near(0, 30), near(-770, 60)),
    rearLeft: fc.tuple(near(-2700, 30), near(775, 60)),
    rearRight: fc.tuple(near(-2700, 30), near(-775, 60)),
  });
  const motion = fc.record({ x: near(0, 20_000), y: near(0, 20_000), turn: near(0, Math.PI) });

  type Motion = { readonly x: number; readonly y: number; readonly turn: number };
  function move([x, y]: XY, by: Motion): XY {
    const [cos, sin] = [Math.cos(by.turn), Math.sin(by.turn)];
    return [by.x + x * cos - y * sin, by.y + x * sin + y * cos];
  }
  function mapCorners(places: Readonly<Record<Corner, XY>>, map: (place: XY) => XY): Record<Corner, XY> {
    const { frontLeft, frontRight, rearLeft, rearRight } = places;
    return {
      frontLeft: map(frontLeft),
      frontRight: map(frontRight),
      rearLeft: map(rearLeft),
      rearRight: map(rearRight),
    };
  }
  const place = ([x, y]: XY) => ({ datum: "emblem" as const, x, y });
  const expectNear = (found: { x: number; y: number } | undefined, wanted: XY) => {
    expect(found?.x).toBeCloseTo(wanted[0], 6);
    expect(found?.y).toBeCloseTo(wanted[1], 6);
  };

  it("moving and turning everything on the floor changes nothing", () => {
    check(
      fc.property(vehicle, point, motion, (corners, spot, by) => {
        const before = sceneOf({ axes: "floor", wheelCentres: wheelsAt(corners), places: [place(spot)] });
        const after = sceneOf({
          axes: "floor",
          wheelCentres: wheelsAt(mapCorners(corners, (each) => move(each, by))),
          places: [place(move(spot, by))],
        });
        expect(before.wheels).toHaveLength(4);
        for (const key of ["wheelbase", "trackFront", "trackRear"] as const) {
          expect(after[key]).toBeCloseTo(before[key]!, 6);
        }
        before.wheels?.forEach(({ x, y }, index) => {
          expectNear(after.wheels?.[index], [x, y]);
        });
        const was = before.places[0]!;
        expectNear(after.places[0], [was.x, was.y]);
        const [x, y] = move(spot, by);
        expectNear(after.toVehicle?.({ x, y }), [was.x, was.y]);
      }),
    );
  });

  it("mirroring everything mirrors the scene", () => {
    check(
      fc.property(vehicle, point, motion, (corners, spot, by) => {
        const mirror = ([x, y]: XY): XY => [x, -y];
        const moved = mapCorners(corners, (each) => move(each, by));
        const before = sceneOf({ axes: "floor", wheelCentres: wheelsAt(moved), places: [place(spot)] });
        const after = sceneOf({
          axes: "floor",
          wheelCentres: wheelsAt({
            frontLeft: mirror(moved.frontRight),
            frontRight: mirror(moved.frontLeft),
            rearLeft: mirror(moved.rearRight),
            rearRight: mirror(moved.rearLeft),
          }),
          places: [place(mirror(spot))],
        });
        const [fl, fr, rl, rr] = before.wheels!;
        [fr!, fl!, rr!, rl!].forEach(({ x, y }, index) => {
          expectNear(after.wheels?.[index], [x, 0 - y]);
        });
        const was = before.places[0]!;
        expectNear(after.places[0], [was.x, 0 - was.y]);
      }),
    );
  });

  it("whatever passes the check has its front middle at the origin and its rear middle behind it", () => {
    check(
      fc.property(vehicle, motion, (corners, by) => {
        const setup = setupOf({
          axes: "floor",
          wheelCentres: wheelsAt(mapCorners(corners, (each) => move(each, by))),
        });
        fc.pre(checkScene(setup).length === 0);
        const { wheels, wheelbase } = answerScene(setup).value;
        const [fl, fr, rl, rr] = wheels!;
        expectNear({ x: (fl!.x + fr!.x) / 2, y: (fl!.y + fr!.y) / 2 }, [0, 0]);
        expectNear({ x: (rl!.x + rr!.x) / 2, y: (rl!.y + rr!.y) / 2 }, [0 - wheelbase!, 0]);
        expect(fl!.y).toBeGreaterThan(fr!.y);
        expect(rl!.y).toBeGreaterThan(rr!.y);
      }),
    );
  });
});
