import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { answerCentreLine, checkCentreLine } from "../../src/setup/vehicle/centre-line.js";
import { answerScene } from "../../src/setup/vehicle/frame.js";
import type { TargetResult } from "../../src/setup/result.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { check } from "../properties.js";

type Marks = NonNullable<Setup["marks"]>;
type Wheels = NonNullable<Setup["wheelCentres"]>;

function setupOf(parts: Omit<Setup, "schema">): Setup {
  return setupShape.parse({ schema: "repair-calibration/setup@1", ...parts });
}

/** A target of which only its place matters here. */
function targetAt(x: number | null, y = 0, key = "forward-camera/board-n1"): TargetResult {
  const exactly = { nominal: 0, tolerance: 0 };
  return {
    key,
    requirements: [],
    sensor: "forward-camera",
    position: null,
    id: "board-n1",
    name: "Board N1",
    procedure: null,
    datum: "front-axle",
    referenceLine: "centre-line",
    asked: {
      distance: exactly,
      lateral: exactly,
      height: exactly,
      yaw: exactly,
      pitch: exactly,
      roll: exactly,
    },
    stands: x === null ? null : { x, y, height: 1200, heightAboveFloor: null, yaw: 0, pitch: 0, roll: 0 },
    bar: null,
    tapes: [],
    measured: null,
    corrections: [],
    decisions: [],
  };
}

function draw(parts: Omit<Setup, "schema">, targets: readonly TargetResult[]) {
  const setup = setupOf(parts);
  const scene = answerScene(setup).value;
  return answerCentreLine(setup, scene, targets);
}

/** A front mark at x 700, a rear mark 4000 mm behind it. */
const MARKS: Marks = {
  front: { x: 700, y: 0 },
  rear: { x: -3300, y: 0 },
  uFront: 1,
  uRear: 1,
  uLine: 1,
  uTape: 0.5,
};

describe("uncertainty of the line at a target", () => {
  it("1800 mm beyond marks of 1 mm that lie 4000 mm apart is 1.89 mm and 0.020°", () => {
    // √(1.45² + 0.45² + 1² + 0.5²) = √3.555; √2/4000 rad = 0.02026°.
    const { value, missing } = draw({ marks: MARKS }, [targetAt(2500)]);
    expect(value?.length).toBe(4000);
    expect(value?.uYaw).toBeCloseTo(0.02026, 5);
    expect(value?.atTargets).toEqual([
      {
        target: "forward-camera/board-n1",
        beyond: 1800,
        lateral: 0,
        uLateral: expect.closeTo(1.8855, 4) as number,
      },
    ]);
    expect(missing).toEqual([]);
  });

  it.each([
    // At each mark its own uncertainty alone, halfway 1/√2 of it, then growing again behind the rear mark.
    [700, Math.sqrt(4 + 0 + 0.01 + 0.01)],
    [-1300, Math.sqrt(1 + 2.25 + 0.01 + 0.01)],
    [-3300, Math.sqrt(0 + 9 + 0.01 + 0.01)],
    // d = −6000: (1 − 1.5)² · 2² + 1.5² · 3² = 1 + 20.25
    [-5300, Math.sqrt(1 + 20.25 + 0.01 + 0.01)],
  ])("at x %d with marks of 2 and 3 mm is %d mm", (x, expected) => {
    const marks = { ...MARKS, uFront: 2, uRear: 3, uLine: 0.1, uTape: 0.1 };
    const { value } = draw({ marks }, [targetAt(x)]);
    expect(value?.atTargets[0]?.uLateral).toBeCloseTo(expected, 9);
  });

  it.each([
    ["uLine", "/marks/uLine"],
    ["uTape", "/marks/uTape"],
  ] as const)("is unknown without %s, and is not given without it", (part, pointer) => {
    const { [part]: _left, ...marks } = MARKS;
    const { value, missing } = draw({ marks }, [targetAt(2500)]);
    expect(value?.atTargets[0]).toMatchObject({ beyond: 1800, lateral: 0, uLateral: null });
    expect(value?.uYaw).toBeCloseTo(0.02026, 5);
    expect(missing.map((each) => each.pointer)).toEqual([pointer]);
  });

  it("is asked for only where there is a target", () => {
    const { uLine: _line, uTape: _tape, ...marks } = MARKS;
    const { value, missing } = draw({ marks }, [targetAt(null)]);
    expect(value?.atTargets).toEqual([]);
    expect(missing).toEqual([]);
  });

  it("does not need the marks' y", () => {
    const marks = { ...MARKS, front: { x: 700 }, rear: { x: -3300 } };
    const { value } = draw({ marks }, [targetAt(2500)]);
    expect(value).toMatchObject({ length: 4000, yaw: null });
    expect(value?.atTargets[0]).toMatchObject({ beyond: 1800, lateral: null });
    expect(value?.atTargets[0]?.uLateral).toBeCloseTo(1.8855, 4);
  });
});

describe("place of the line at a target", () => {
  const oneOff = (front: number, rear: number): Marks => ({
    ...MARKS,
    front: { x: 700, y: front },
    rear: { x: -3300, y: rear },
  });

  it.each([
    // e_front + (e_front − e_rear) · d/L with d/L = 0.45
    [2, 0, 2.9],
    [0, 2, -0.9],
    [2, 2, 2],
    [2, -2, 3.8],
  ])("marks %d and %d mm to the left put it %d mm to the left", (front, rear, expected) => {
    const { value } = draw({ marks: oneOff(front, rear) }, [targetAt(2500)]);
    expect(value?.atTargets[0]?.lateral).toBeCloseTo(expected, 5);
  });

  it("turns counter-clockwise where the front mark lies further left", () => {
    const { value } = draw({ marks: oneOff(2, -2) }, []);
    // atan(4/4000)
    expect(value?.yaw).toBeCloseTo(0.0573, 4);
  });

  it("behind the rear mark lies on the other side", () => {
    const { value } = draw({ marks: oneOff(2, -2) }, [targetAt(-5300)]);
    expect(value?.atTargets[0]?.beyond).toBeCloseTo(-6000, 2);
    expect(value?.atTargets[0]?.lateral).toBeCloseTo(-4, 5);
  });

  it("goes by the wheels in axes on the floor", () => {
    // Front middle at (1000, 1000), forward (0.8, 0.6), left (−0.6, 0.8).
    const wheelCentres: Wheels = [
      { axle: "front", side: "left", x: 538, y: 1616 },
      { axle: "front", side: "right", x: 1462, y: 384 },
      { axle: "rear", side: "left", x: -1625, y: 0 },
      { axle: "rear", side: "right", x: -695, y: -1240 },
    ];
    // 700 forward and 2 to the left; 3300 back.
    const marks = { ...MARKS, front: { x: 1558.8, y: 1421.6 }, rear: { x: -1640, y: -980 } };
    const { value } = draw({ axes: "floor", wheelCentres, marks }, [targetAt(2500)]);
    expect(value?.length).toBeCloseTo(4000.0005, 4);
    expect(value?.atTargets[0]?.lateral).toBeCloseTo(2.9, 5);
  });

  it("shows the arithmetic of each target by its name", () => {
    const { workings } = draw({ marks: MARKS }, [targetAt(2500)]);
    expect(workings.map(({ id }) => id)).toEqual([
      "length-between-marks",
      "yaw-of-marks",
      "uncertainty-of-yaw-of-marks",
      "beyond-front-mark",
      "lateral-of-line",
      "uncertainty-of-line",
    ]);
    expect(workings[5]?.gives).toBe("Board N1: standard uncertainty of the place of the line at the target");
  });
});

describe("what stands in the way", () => {
  const issuesOf = (parts: Omit<Setup, "schema">) =>
    checkCentreLine(setupOf(parts)).map(({ code, pointer }) => ({ code, pointer }));

  it("is nothing without marks", () => {
    expect(draw({}, [targetAt(2500)]).value).toBeNull();
    expect(draw({}, [targetAt(2500)]).missing).toEqual([]);
    expect(issuesOf({})).toEqual([]);
  });

  it("is nothing with marks in order", () => {
    expect(issuesOf({ marks: MARKS })).toEqual([]);
  });

  it("is that nothing ties the vehicle to the floor", () => {
    const { value, missing } = draw({ axes: "floor", marks: MARKS }, [targetAt(2500)]);
    expect(value).toBeNull();
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/wheelCentres"]);
    expect(issuesOf({ axes: "floor", marks: MARKS })).toEqual([]);
  });

  it("is a mark on the floor without its y", () => {
    const marks = { ...MARKS, front: { x: 700 }, rear: { x: -3300, y: 0 } };
    expect(issuesOf({ axes: "floor", marks })).toEqual([
      { code: "missing-measurement", pointer: "/marks/front/y" },
    ]);
  });

  it("is marks the wrong way round", () => {
    const marks = { ...MARKS, front: MARKS.rear, rear: MARKS.front };
    const [issue] = checkCentreLine(setupOf({ marks }));
    expect(issue).toMatchObject({ code: "invalid-value", pointer: "/marks/front" });
    expect(issue?.message).toBe("the front mark does not lie ahead of the rear mark");
    expect(draw({ marks }, [targetAt(2500)])).toMatchObject({
      value: null,
      missing: [{ pointer: "/marks/front" }],
    });
  });

  it("is two marks at one place, or beside each other", () => {
    const saying = (rear: Marks["rear"]) =>
      checkCentreLine(setupOf({ marks: { ...MARKS, rear } }))[0]?.message;
    expect(saying({ x: 700, y: 0.4 })).toBe("the front mark and the rear mark are at the same place");
    expect(saying({ x: 700, y: 400 })).toBe("the front mark does not lie ahead of the rear mark");
  });

  it("is the order in the vehicle's axes, not in those of the floor", () => {
    // The vehicle faces towards smaller x.
    const wheelCentres: Wheels = [
      { axle: "front", side: "left", x: 0, y: -770 },
      { axle: "front", side: "right", x: 0, y: 770 },
      { axle: "rear", side: "left", x: 2700, y: -775 },
      { axle: "rear", side: "right", x: 2700, y: 775 },
    ];
    const turned = { ...MARKS, front: { x: -700, y: 0 }, rear: { x: 3300, y: 0 } };
    expect(issuesOf({ axes: "floor", wheelCentres, marks: turned })).toEqual([]);
    expect(issuesOf({ axes: "floor", wheelCentres, marks: MARKS })).toEqual([
      { code: "invalid-value", pointer: "/marks/front" },
    ]);
  });
});

describe("laws", () => {
  const near = (middle: number, by: number) => fc.double({ min: middle - by, max: middle + by, noNaN: true });
  const uncertain = fc.double({ min: 0.05, max: 5, noNaN: true });
  const marks = fc.record({
    front: fc.record({ x: near(700, 600), y: near(0, 10) }),
    rear: fc.record({ x: near(-3300, 600), y: near(0, 10) }),
    uFront: uncertain,
    uRear: uncertain,
    uLine: uncertain,
    uTape: uncertain,
  });
  const place = near(0, 9000);

  it("the uncertainty is what each mark's own moves the line by, added in squares", () => {
    check(
      fc.property(marks, place, (given, x) => {
        const straight = { ...given, front: { x: given.front.x, y: 0 }, rear: { x: given.rear.x, y: 0 } };
        const lateral = (changed: Partial<Marks>) =>
          draw({ marks: { ...straight, ...changed } }, [targetAt(x)]).value!.atTargets[0]!;
        // A thousandth of each uncertainty: small enough for the length between the marks to stay.
        const ofFront = 1000 * lateral({ front: { x: given.front.x, y: given.uFront / 1000 } }).lateral!;
        const ofRear = 1000 * lateral({ rear: { x: given.rear.x, y: given.uRear / 1000 } }).lateral!;
        const expected = Math.hypot(ofFront, ofRear, given.uLine, given.uTape);
        expect(lateral({}).uLateral).toBeCloseTo(expected, 6);
      }),
    );
  });

  it("the line passes through both marks, whose own place is all that counts there", () => {
    check(
      fc.property(marks, (given) => {
        const { front, rear, uFront, uRear, uLine, uTape } = given;
        const { value } = draw({ marks: given }, [targetAt(front.x, front.y), targetAt(rear.x, rear.y, "b")]);
        expect(value?.atTargets[0]?.lateral).toBeCloseTo(front.y, 9);
        expect(value?.atTargets[1]?.lateral).toBeCloseTo(rear.y, 9);
        expect(value?.atTargets[0]?.uLateral).toBeCloseTo(Math.hypot(uFront, uLine, uTape), 9);
        expect(value?.atTargets[1]?.uLateral).toBeCloseTo(Math.hypot(uRear, uLine, uTape), 9);
      }),
    );
  });

  const wheelCentres: Wheels = [
    { axle: "front", side: "left", x: 2, y: 771 },
    { axle: "front", side: "right", x: -2, y: -769 },
    { axle: "rear", side: "left", x: -2705, y: 773 },
    { axle: "rear", side: "right", x: -2695, y: -777 },
  ];

  it("moving and turning wheels and marks on the floor changes nothing", () => {
    const motion = fc.record({ x: near(0, 20_000), y: near(0, 20_000), turn: near(0, Math.PI) });
    check(
      fc.property(marks, place, motion, (given, x, by) => {
        const [cos, sin] = [Math.cos(by.turn), Math.sin(by.turn)];
        const move = (point: { x: number; y: number }) => ({
          x: by.x + point.x * cos - point.y * sin,
          y: by.y + point.x * sin + point.y * cos,
        });
        const before = draw({ axes: "floor", wheelCentres, marks: given }, [targetAt(x)]).value!;
        const after = draw(
          {
            axes: "floor",
            wheelCentres: wheelCentres.map((wheel) => ({ ...wheel, ...move(wheel) })),
            marks: { ...given, front: move(given.front), rear: move(given.rear) },
          },
          [targetAt(x)],
        ).value!;
        expect(after.length).toBeCloseTo(before.length, 6);
        expect(after.yaw).toBeCloseTo(before.yaw!, 8);
        expect(after.atTargets[0]?.beyond).toBeCloseTo(before.atTargets[0]!.beyond, 6);
        expect(after.atTargets[0]?.lateral).toBeCloseTo(before.atTargets[0]!.lateral!, 6);
        expect(after.atTargets[0]?.uLateral).toBeCloseTo(before.atTargets[0]!.uLateral!, 8);
      }),
    );
  });

  it("mirroring wheels, marks and target mirrors yaw and place, and leaves the uncertainties", () => {
    const mirror = <T extends { readonly y: number }>(point: T): T => ({ ...point, y: 0 - point.y });
    const mirrored = wheelCentres.map((wheel) => ({
      ...mirror(wheel),
      side: wheel.side === "left" ? ("right" as const) : ("left" as const),
    }));
    check(
      fc.property(marks, place, near(0, 2000), (given, x, y) => {
        const before = draw({ axes: "floor", wheelCentres, marks: given }, [targetAt(x, y)]).value!;
        const after = draw(
          {
            axes: "floor",
            wheelCentres: mirrored,
            marks: { ...given, front: mirror(given.front), rear: mirror(given.rear) },
          },
          [targetAt(x, 0 - y)],
        ).value!;
        expect(after.yaw).toBeCloseTo(0 - before.yaw!, 9);
        expect(after.uYaw).toBeCloseTo(before.uYaw, 12);
        expect(after.atTargets[0]?.beyond).toBeCloseTo(before.atTargets[0]!.beyond, 7);
        expect(after.atTargets[0]?.lateral).toBeCloseTo(0 - before.atTargets[0]!.lateral!, 7);
        expect(after.atTargets[0]?.uLateral).toBeCloseTo(before.atTargets[0]!.uLateral!, 9);
      }),
    );
  });
});
