import fc from "fast-check";
import { Matrix, SVD } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { degrees, mm } from "../../src/measure/index.js";
import { checkTapes } from "../../src/setup/targets/check-targets.js";
import { fitTapes, listReadings, type TapeFit, type TapeReading } from "../../src/setup/targets/fit-tapes.js";
import type { Tapes } from "../../src/setup/shape.js";
import { check } from "../properties.js";
import { barAt, FJELL, layByHand, wheelsAt } from "./targets-kit.js";

const WHEELS = wheelsAt(FJELL);
const WIDTH = 2400;
type Pose = { readonly x: number; readonly y: number; readonly yaw: number };
type Found = Extract<TapeFit, { kind: "found" }>;

function lay(pose: Pose, u?: number): readonly Tapes[] {
  return (["front-axle", "rear-axle"] as const).map((from) => ({
    ...layByHand({ ...pose, width: WIDTH }, WHEELS, from),
    ...(u === undefined ? {} : { u }),
  }));
}

function foundOf(fit: TapeFit): Found {
  if (fit.kind !== "found") throw new Error(`the fit is ${fit.kind}`);
  return fit;
}

const START = barAt(1500, 0, 0, WIDTH);
const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
/** Any place somebody could have taken for the right one. */
const poses = fc.record({
  x: fc.double({ min: 1300, max: 1700, noNaN: true }),
  y: number(150),
  yaw: number(6),
});
/** Evenly spread: plain doubles are spread over their exponents. */
const even = fc.noBias(fc.integer({ min: 1, max: 1_000_000 })).map((count) => count / 1_000_000);
const normal = fc.tuple(even, even).map(([a, b]) => Math.sqrt(-2 * Math.log(a)) * Math.cos(2 * Math.PI * b));

/** How far the weakest movement of the bar shows in the readings, by differences: mm for a millimetre. */
function weakest(pose: Pose, keep: readonly boolean[]): number {
  const values = (at: Pose) =>
    lay(at)
      .flatMap(({ left, right, diagonals }) => [left, right, diagonals?.fromLeft, diagonals?.fromRight])
      .filter((_, index) => keep[index] === true) as number[];
  const arc = 0.01 * (360 / (Math.PI * WIDTH));
  const columns = [
    [values({ ...pose, x: pose.x + 0.01 }), values({ ...pose, x: pose.x - 0.01 })],
    [values({ ...pose, y: pose.y + 0.01 }), values({ ...pose, y: pose.y - 0.01 })],
    [values({ ...pose, yaw: pose.yaw + arc }), values({ ...pose, yaw: pose.yaw - arc })],
  ].map(([plus = [], minus = []]) => plus.map((value, index) => (value - minus[index]!) / 0.02));
  return Math.min(...new SVD(new Matrix(columns).transpose()).diagonal);
}

describe("a bar's place from its tapes", () => {
  it("is where both straight tapes and both diagonals put it", () => {
    // The bar of the blind diagonals: 7.97 mm to the left and 0.5° counter-clockwise.
    const [tapes] = lay({ x: 1500, y: 7.97, yaw: 0.5 });
    const { bar, quality } = foundOf(fitTapes(listReadings([tapes!], WHEELS), START));
    expect(bar.x).toBeCloseTo(1500, 6);
    expect(bar.y).toBeCloseTo(7.97, 6);
    expect(bar.yaw).toBeCloseTo(0.5, 8);
    expect(quality).toMatchObject({ readings: 4, degreesOfFreedom: 1 });
  });

  it("comes back from any readings that determine it", () => {
    let determined = 0;
    check(
      fc.property(poses, fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }), (pose, keep) => {
        fc.pre(keep.filter(Boolean).length >= 3 && weakest(pose, keep) > 0.2);
        determined += 1;
        const readings = listReadings(lay(pose), WHEELS).filter((_, index) => keep[index]);
        const { bar } = foundOf(fitTapes(readings, START));
        expect(bar.x).toBeCloseTo(pose.x, 5);
        expect(bar.y).toBeCloseTo(pose.y, 5);
        expect(bar.yaw).toBeCloseTo(pose.yaw, 6);
      }),
      400,
    );
    expect(determined).toBeGreaterThan(200);
  });

  it("comes back for a bar behind the vehicle and for one along it", () => {
    const behind = layByHand({ x: -5000, y: 60, yaw: 181, width: 1500 }, WHEELS, "rear-axle");
    const rear = foundOf(fitTapes(listReadings([behind], WHEELS), barAt(-5050, 0, 180, 1500))).bar;
    expect([rear.x, rear.y, rear.yaw].map((value) => Math.round(value * 1e5) / 1e5)).toEqual([
      -5000, 60, 181,
    ]);
    // On the left side, along the vehicle: its left end is the one to the rear, 1000 long about (400, 2600).
    const tape = (wheel: number, y: number, x: number) => Math.hypot(x, wheel - y);
    const side: Tapes = {
      from: "front-axle",
      left: tape(770, 2600, -100),
      right: tape(-770, 2600, 900),
      diagonals: { fromLeft: tape(770, 2600, 900), fromRight: tape(-770, 2600, -100) },
    };
    const panel = foundOf(fitTapes(listReadings([side], WHEELS), barAt(420, 2580, 92, 1000))).bar;
    expect(panel.x).toBeCloseTo(400, 5);
    expect(panel.y).toBeCloseTo(2600, 5);
    expect(panel.yaw).toBeCloseTo(90, 6);
  });

  it("is mirrored with its readings", () => {
    const noise = fc.array(number(2), { minLength: 4, maxLength: 4 });
    check(
      fc.property(poses, noise, (pose, [a = 0, b = 0, c = 0, d = 0]) => {
        const { left, right, diagonals } = layByHand({ ...pose, width: WIDTH }, WHEELS, "front-axle");
        const one: Tapes = {
          from: "front-axle",
          left: left + a,
          right: right + b,
          diagonals: { fromLeft: diagonals.fromLeft + c, fromRight: diagonals.fromRight + d },
          u: 1,
        };
        const other: Tapes = {
          ...one,
          left: right + b,
          right: left + a,
          diagonals: { fromLeft: diagonals.fromRight + d, fromRight: diagonals.fromLeft + c },
        };
        const [here, there] = [one, other].map((set) =>
          foundOf(fitTapes(listReadings([set], WHEELS), START)),
        );
        expect(there!.bar.x).toBeCloseTo(here!.bar.x, 5);
        expect(there!.bar.y).toBeCloseTo(-1 * here!.bar.y, 5);
        expect(there!.bar.yaw).toBeCloseTo(-1 * here!.bar.yaw, 6);
        expect(there!.quality.chiSquared).toBeCloseTo(here!.quality.chiSquared!, 6);
        expect(there!.variance!.xy).toBeCloseTo(-here!.variance!.xy, 6);
      }),
    );
  });

  it("has the least sum of squares there is", () => {
    const noise = fc.array(number(5), { minLength: 8, maxLength: 8 });
    check(
      fc.property(poses, noise, number(3), number(3), number(0.1), (pose, errors, dx, dy, turn) => {
        const readings = disturb(listReadings(lay(pose, 1.5), WHEELS), errors);
        const { bar, quality } = foundOf(fitTapes(readings, START));
        const elsewhere = listReadings(lay({ x: bar.x + dx, y: bar.y + dy, yaw: bar.yaw + turn }), WHEELS);
        const cost = readings.reduce(
          (sum, { value }, index) => sum + ((value - elsewhere[index]!.value) / 1.5) ** 2,
          0,
        );
        expect(cost).toBeGreaterThanOrEqual(quality.chiSquared! - 1e-9);
      }),
    );
  });
});

function disturb(readings: readonly TapeReading[], errors: readonly number[]): readonly TapeReading[] {
  return readings.map((each, index) => ({ ...each, value: mm(each.value + (errors[index] ?? 0)) }));
}

describe("what the readings say about one another", () => {
  it("agrees in about 95 of 100 cases where they scatter by their uncertainty", () => {
    let agree = 0;
    check(
      fc.property(poses, fc.array(normal, { minLength: 8, maxLength: 8 }), (pose, errors) => {
        const readings = disturb(listReadings(lay(pose, 1), WHEELS), errors);
        const { quality } = foundOf(fitTapes(readings, START));
        // 8 readings, 3 unknowns; the 95 % point of chi-squared with 5 degrees of freedom is 11.070 (any table).
        expect(quality.limit).toBeCloseTo(11.07, 2);
        if (quality.agree === true) agree += 1;
      }),
      1000,
    );
    // Standard deviation of the count: √(1000 · 0.95 · 0.05) = 6.9; four of them either way.
    expect(agree).toBeGreaterThan(922);
    expect(agree).toBeLessThan(978);
  });

  it("does not agree where one of four readings is off by far", () => {
    check(
      fc.property(poses, fc.nat(3), fc.constantFrom(-40, 40), (pose, index, error) => {
        const [tapes] = lay(pose, 1);
        const errors = [0, 0, 0, 0].map((_, at) => (at === index ? error : 0));
        const { quality } = foundOf(fitTapes(disturb(listReadings([tapes!], WHEELS), errors), START));
        expect(quality.limit).toBeCloseTo(3.841, 3);
        expect(quality.agree).toBe(false);
      }),
    );
  });

  it("is nothing where there is no reading to spare, or no uncertainty", () => {
    const [tapes] = lay({ x: 1490, y: 4, yaw: 0.3 }, 1);
    const three = listReadings([tapes!], WHEELS).slice(0, 3);
    expect(foundOf(fitTapes(three, START)).quality).toMatchObject({
      degreesOfFreedom: 0,
      limit: null,
      agree: null,
    });
    const { u: _u, ...bare } = tapes!;
    const unweighted = foundOf(fitTapes(listReadings([bare, tapes!], WHEELS), START));
    expect(unweighted.variance).toBeNull();
    expect(unweighted.quality).toMatchObject({ readings: 8, chiSquared: null, limit: null, agree: null });
    expect(unweighted.bar.yaw).toBeCloseTo(0.3, 6);
  });
});

describe("the uncertainty of a bar's place", () => {
  it("follows from the geometry of the tapes", () => {
    // Square and centred at 1500 in front: along each straight tape (c, ±s) with c = 1500/1560.42 = 0.961282 and
    // s = 430/1560.42 = 0.275567; along each diagonal C = 1500/2476.07 = 0.605800, S = 1970/2476.07 = 0.795617.
    // Normal equations in x: 2c² + 2C² = 2.582112, apart from the others by symmetry: u(x) = 1/√2.582112 = 0.6223.
    // y and the arc of the ends: straight (s, −c) and (−s, c), diagonals (−S, C) and (S, −C), so that N = 2 ·
    // [s² + S², −(sc + SC); ·, c² + C²] = [1.417888, −1.493765; ·, 2.582112]; det = 1.429811;
    // u(y) = √(2.582112/det) = 1.3438, u(arc) = √(1.417888/det) = 0.99582 mm of 1200, that is 0.04755°.
    const [tapes] = lay({ x: 1500, y: 0, yaw: 0 }, 1);
    const { variance } = foundOf(fitTapes(listReadings([tapes!], WHEELS), START));
    expect(Math.sqrt(variance!.xx)).toBeCloseTo(0.6223, 4);
    expect(variance!.xy).toBeCloseTo(0, 6);
    expect(Math.sqrt(variance!.yy)).toBeCloseTo(1.3438, 4);
    expect(Math.sqrt(variance!.yaw)).toBeCloseTo(0.04755, 5);
  });

  it("grows in step with that of the tapes, and with that of the wheels' places", () => {
    const at = { x: 1510, y: -20, yaw: 1 };
    const variance = (u: number, wheel: number | null) => {
      const wheels = WHEELS.map((each) => ({ ...each, u: wheel === null ? null : mm(wheel) }));
      const readings = listReadings(lay(at, u), wheels);
      return foundOf(fitTapes(readings, START, { wheels, origin: "front" })).variance!;
    };
    expect(variance(2, null).yy).toBeCloseTo(4 * variance(1, null).yy, 9);
    expect(variance(2, 3).yy).toBeCloseTo(4 * variance(1, 1.5).yy, 9);
    expect(variance(2, 3).yaw).toBeCloseTo(4 * variance(1, 1.5).yaw, 12);
    expect(variance(1, 1).xx).toBeGreaterThan(variance(1, null).xx);
  });
});

describe("a wheel whose place is not quite known", () => {
  /** Where tapes put the bar in axes laid through wheels that are somewhere else than stated. */
  const placeWith = (pose: Pose, at: number, dx: number, dy: number, origin: "front" | "rear") => {
    const moved = WHEELS.map((each, index) =>
      index === at ? { ...each, x: mm(each.x + dx), y: mm(each.y + dy) } : each,
    );
    const middle = (axle: "front" | "rear") => {
      const [one, other] = moved.filter((each) => each.axle === axle);
      return { x: (one!.x + other!.x) / 2, y: (one!.y + other!.y) / 2 };
    };
    const { bar } = foundOf(fitTapes(listReadings(lay(pose, 1), moved), START));
    const [front, rear] = [middle("front"), middle("rear")];
    const turn = Math.atan2(front.y - rear.y, front.x - rear.x);
    const from = origin === "front" ? front : rear;
    const along = (bar.x - from.x) * Math.cos(turn) + (bar.y - from.y) * Math.sin(turn);
    const across = (bar.y - front.y) * Math.cos(turn) - (bar.x - front.x) * Math.sin(turn);
    return [along, across, bar.yaw - (turn * 180) / Math.PI] as const;
  };

  it("moves the axes as well as the tapes that start from it", () => {
    check(
      fc.property(poses, fc.constantFrom("front" as const, "rear" as const), (pose, origin) => {
        const wheels = WHEELS.map((each) => ({ ...each, u: mm(0.8) }));
        const variance = (of: typeof WHEELS) =>
          foundOf(fitTapes(listReadings(lay(pose, 1), of), START, { wheels: of, origin })).variance!;
        const moves = WHEELS.flatMap((_, at) =>
          [
            [0.01, 0],
            [0, 0.01],
          ].map(([dx = 0, dy = 0]) => {
            const there = placeWith(pose, at, dx, dy, origin);
            const back = placeWith(pose, at, -dx, -dy, origin);
            return there.map((each, index) => (each - back[index]!) / 0.02);
          }),
        );
        const squares = (index: number) => moves.reduce((sum, move) => sum + (0.8 * move[index]!) ** 2, 0);
        const [both, tapes] = [variance(wheels), variance(WHEELS)];
        expect(both.xx - tapes.xx).toBeCloseTo(squares(0), 3);
        expect(both.yy - tapes.yy).toBeCloseTo(squares(1), 3);
        expect(both.yaw - tapes.yaw).toBeCloseTo(squares(2), 5);
      }),
      40,
    );
  });
});

describe("tapes that say nothing of a bar's place", () => {
  const [full] = lay({ x: 1500, y: 0, yaw: 0 }, 1);

  it("are fewer than three", () => {
    expect(fitTapes(listReadings([full!], WHEELS).slice(0, 2), START).kind).toBe("too-few");
    expect(listReadings([full!], null)).toEqual([]);
  });

  it("all lead to one end, so that the bar can turn about it", () => {
    const toLeft = listReadings(lay({ x: 1500, y: 0, yaw: 0 }, 1), WHEELS).filter(
      ({ end }) => end === "left",
    );
    expect(toLeft).toHaveLength(4);
    expect(fitTapes(toLeft, START).kind).toBe("undetermined");
  });

  it("run side by side, so that the bar can slide: straight tapes to a bar as wide as the track", () => {
    const wheels = wheelsAt({ ...FJELL, trackRear: 1540 });
    const straight = (from: Tapes["from"], length: number): Tapes => ({ from, left: length, right: length });
    const readings = listReadings([straight("front-axle", 1500), straight("rear-axle", 4200)], wheels);
    expect(fitTapes(readings, barAt(1500, 0, 0, 1540)).kind).toBe("undetermined");
  });

  it("put its ends the wrong way about: left of the middle is no longer left", () => {
    // By the theorem of Pythagoras: a bar turned by 120° about (1500, 0), its left end at (1500 - 1039.23, -600).
    const tape = (wheel: number, x: number, y: number) => Math.hypot(x, y - wheel);
    const turned: Tapes = {
      from: "front-axle",
      left: tape(770, 1500 - 1039.23, -600),
      right: tape(-770, 1500 + 1039.23, 600),
      diagonals: {
        fromLeft: tape(770, 1500 + 1039.23, 600),
        fromRight: tape(-770, 1500 - 1039.23, -600),
      },
    };
    const readings = listReadings([turned], WHEELS);
    expect(foundOf(fitTapes(readings, { ...START, yaw: degrees(100) })).bar.yaw).toBeCloseTo(120, 3);
    expect(fitTapes(readings, START).kind).toBe("impossible");
  });

  it("fit no place of the bar", () => {
    // The right end 1560 from the right wheel and 2476 from the left one is fixed; the left wheel then stands 2476 from
    // it, so that the left end of a bar of 2400 cannot come nearer to that wheel than 76.
    const readings = listReadings(
      [{ from: "front-axle", left: 20, right: 1560.42, diagonals: { fromLeft: 2476.07 } }],
      WHEELS,
    );
    expect(fitTapes(readings, START).kind).toBe("impossible");
  });
});

describe("the names of readings", () => {
  it("tell every tape from every other, repeated sets too", () => {
    const [front, rear] = lay({ x: 1500, y: 0, yaw: 0 });
    const names = listReadings([front!, rear!, front!], WHEELS).map(({ name }) => name);
    expect(new Set(names).size).toBe(12);
    expect(names[0]).toBe("front left wheel to left end");
    expect(names[7]).toBe("rear right wheel to left end");
    expect(names[8]).toBe("front left wheel to left end (2)");
  });
});

describe("triangles of tapes", () => {
  const bases = { tracks: { "front-axle": 1540, "rear-axle": null }, barWidth: WIDTH };
  const issues = (set: Tapes, given: Parameters<typeof checkTapes>[1] = bases) =>
    checkTapes({ set, pointer: "/target/measured/tapes" }, given);

  it("close for every place of a bar", () => {
    check(
      fc.property(poses, (pose) => {
        expect(issues(lay(pose, 1)[0]!)).toEqual([]);
      }),
    );
  });

  it("do not close where two tapes to one end differ by more than the track", () => {
    // 3200 − 1560 = 1640 > 1540 + 10.
    const found = issues({ from: "front-axle", left: 1560, diagonals: { fromRight: 3200 } });
    expect(found).toEqual([
      {
        code: "out-of-range",
        pointer: "/target/measured/tapes/diagonals/fromRight",
        message:
          "the tapes from both wheels to the left end (1560 and 3200 mm) cannot meet: 1540 mm apart the wheels stand",
        expected: "a difference of at most that",
      },
    ]);
    // From an axle whose track is not known nobody can tell.
    expect(issues({ from: "rear-axle", left: 1560, diagonals: { fromRight: 3200 } })).toEqual([]);
  });

  it("do not close where two tapes from one wheel are shorter together than the bar", () => {
    const found = issues({ from: "rear-axle", right: 1000, diagonals: { fromRight: 1380 } });
    expect(found).toMatchObject([
      { pointer: "/target/measured/tapes/diagonals/fromRight", expected: "a sum of at least that" },
    ]);
    expect(
      issues(
        { from: "rear-axle", right: 1000, diagonals: { fromRight: 1380 } },
        { ...bases, barWidth: null },
      ),
    ).toEqual([]);
  });

  it("may fail to close by what the readings' uncertainty explains", () => {
    // 3 · √2 · 2 = 8.49 beyond 1540.
    const set = (difference: number): Tapes => ({
      from: "front-axle",
      left: 1500,
      diagonals: { fromRight: 1500 + difference },
      u: 2,
    });
    expect(issues(set(1548.4))).toEqual([]);
    expect(issues(set(1548.6))).toHaveLength(1);
  });

  it("need a reading at all", () => {
    expect(issues({ from: "front-axle", diagonals: {} })).toMatchObject([
      { code: "missing-measurement", pointer: "/target/measured/tapes" },
    ]);
  });
});
