import { describe, expect, it } from "vitest";
import { checkSetup } from "../../../src/setup/index.js";
import type { Setup, SetupTarget } from "../../../src/setup/shape.js";

const within = (nominal: number, tolerance: number) => ({ nominal, tolerance });

/** Marks 4000 mm apart, the front one 1200 mm before the target, which stands 1800 mm ahead of the front axle. */
const MARKS = { front: { x: 600 }, rear: { x: -3400 }, uFront: 1, uRear: 1, uLine: 1, uTape: 0.5 };

const TARGET: SetupTarget = {
  sensor: "forward-camera",
  id: "board",
  placing: {
    name: "Board",
    datum: "front-axle",
    referenceLine: "centre-line",
    distance: within(1800, 5),
    lateral: within(0, 3),
    height: within(1200, 5),
    yaw: within(0, 0.1),
    pitch: within(0, 0.3),
    roll: within(0, 0.3),
  },
};
const SETUP: Setup = {
  schema: "repair-calibration/setup@1",
  vehicle: { dimensions: { wheelbase: 2700 } },
  marks: MARKS,
};

function ask(measured: NonNullable<SetupTarget["measured"]>, setup: Partial<Setup> = {}) {
  const target = { ...TARGET, measured, U: { lateral: 1, yaw: 0.02 }, k: 2 };
  const result = checkSetup({ ...SETUP, ...setup, target });
  const decisions = result.targets[0]?.decisions ?? [];
  return { ...result, decided: (quantity: string) => decisions.find((each) => each.quantity === quantity)! };
}

describe("a target set from the line through two marks", () => {
  it("is known no better than that line", () => {
    /*
     * d/L = 1200/4000 = 0.3. Line: 1.3² + 0.3² + 1² = 2.78 mm²; reading 0.5² = 0.25. Together √3.03 = 1.740690 mm,
     * and the 0.5 mm of the tape is not counted a second time. Yaw: √2/4000 = 0.020257°, reading 0.01°: 0.022591°.
     */
    const { decided } = ask({ lateral: 0, yaw: 0, countsFrom: { line: "marks" } });
    expect(decided("lateral").u).toBeCloseTo(Math.sqrt(3.03), 9);
    expect(decided("yaw").u).toBeCloseTo(0.022591, 6);
    // 3 mm of room, 0.83 · 2 · 1.74 = 2.89 mm asked of one side, a little more since the other is as near.
    expect(decided("lateral").verdict).toBe("cannot-be-decided");
    expect(decided("lateral").says).toContain("the line through the marks (92 % of the variance)");
    expect(ask({ lateral: 0, countsFrom: { line: "reference-line" } }).decided("lateral")).toMatchObject({
      verdict: "conforms",
      u: 0.5,
    });
  });

  it("stands where the line is, not where it should be", () => {
    // Front mark 2 mm left, rear mark 2 mm right: 2 + 0.3 · 4 = 3.2 mm left at the target; atan(4/4000) = 0.0573°.
    const front = { x: 600, y: 2 };
    const rear = { x: -3400, y: -2 };
    const { decided } = ask(
      { lateral: -1, yaw: 0, countsFrom: { line: "marks" } },
      { marks: { ...MARKS, front, rear } },
    );
    expect(decided("lateral").value).toBeCloseTo(2.2, 4);
    expect(decided("yaw").value).toBeCloseTo(0.057296, 5);
  });

  it("counts against the thrust line with both lines' uncertainties", () => {
    // Thrust line 0.1° right: (1800 + 2700) · tan 0.1° = 7.854 mm right at the target, so that the marks' line is left.
    const setup: Partial<Setup> = { thrustAngle: { value: "0.1°", sign: "right-positive", u: 0.02 } };
    const found = checkSetup({
      schema: "repair-calibration/setup@1",
      vehicle: { dimensions: { wheelbase: 2700 } },
      marks: MARKS,
      ...setup,
      target: {
        sensor: "forward-camera",
        id: "board",
        placing: {
          name: "Board",
          datum: "front-axle",
          referenceLine: "thrust-line",
          distance: within(1800, 5),
          lateral: within(0, 3),
          height: within(1200, 5),
          yaw: within(0, 0.1),
          pitch: within(0, 0.3),
          roll: within(0, 0.3),
        },
        measured: { lateral: 0, countsFrom: { line: "marks" } },
        U: { lateral: 1 },
        k: 2,
      },
    }).targets[0]!.decisions[0]!;
    expect(found.value).toBeCloseTo(7.854, 3);
    // The pivot is the rear axle: 4500 mm · 0.02° = 1.5708 mm beside the 3.03 mm² of before.
    expect(found.u).toBeCloseTo(Math.sqrt(3.03 + 1.570796 ** 2), 4);
    expect(found.verdict).toBe("does-not-conform");
  });

  it("is asked about where marks and a lateral place stand side by side", () => {
    const warned = ask({ lateral: 0 }).warnings.map(({ says }) => says);
    expect(warned.join()).toContain("countsFrom");
    expect(
      ask({ height: 1200 })
        .warnings.map(({ says }) => says)
        .join(),
    ).not.toContain("countsFrom");
  });

  it("has no lateral place without the marks, and no uncertainty without that of the line", () => {
    const bare = checkSetup({
      schema: "repair-calibration/setup@1",
      target: {
        sensor: "forward-camera",
        id: "board",
        placing: {
          name: "Board",
          datum: "front-axle",
          referenceLine: "centre-line",
          distance: within(1800, 5),
          lateral: within(0, 3),
          height: within(1200, 5),
          yaw: within(0, 0.1),
          pitch: within(0, 0.3),
          roll: within(0, 0.3),
        },
        measured: { lateral: 0, countsFrom: { line: "marks" } },
      },
    });
    expect(bare.targets[0]!.decisions).toEqual([]);
    expect(bare.missing.map(({ pointer }) => pointer)).toContain("/marks");

    const { uLine: _uLine, ...marks } = MARKS;
    const open = ask({ lateral: 0, countsFrom: { line: "marks" } }, { marks });
    expect(open.decided("lateral")).toMatchObject({ verdict: "cannot-be-decided", u: null });
    expect(open.missing.map(({ pointer }) => pointer)).toContain("/marks/uLine");
  });

  it("has no uncertainty of a reading whose own is not stated", () => {
    const { decided } = ask({ distance: 1800, yaw: 0.01, countsFrom: { line: "marks" } });
    expect(decided("yaw").u).not.toBeNull();
    const bare = checkSetup({
      ...SETUP,
      target: { ...TARGET, measured: { lateral: 1, yaw: 0.01, countsFrom: { line: "marks" } } },
    });
    expect(bare.targets[0]!.decisions.map(({ quantity, u }) => [quantity, u])).toEqual([
      ["lateral", null],
      ["yaw", null],
    ]);
  });
});
