import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeDecisionRule, type DecisionRule } from "../../src/measure/index.js";
import { answerHeadlamps, checkHeadlamps } from "../../src/setup/headlamps/headlamp.js";
import { HEADLAMP_LIMITS } from "../../src/setup/headlamps/headlamp-limits.js";
import type { HeadlampResult } from "../../src/setup/result.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { check } from "../properties.js";

type Headlamp = NonNullable<Setup["headlamps"]>[number];

const SIMPLE: DecisionRule = { kind: "simple" };
const GUARDED = makeDecisionRule();

const LAMP: Headlamp = {
  position: "left",
  rule: "un-r48-dipped-beam",
  height: 700,
  inclination: { value: 1, unit: "%" },
  load: "driver-75-kg",
};

function setupOf(...lamps: readonly Partial<Headlamp>[]): Setup {
  return setupShape.parse({
    schema: "repair-calibration/setup@1",
    headlamps: lamps.map((lamp) => ({ ...LAMP, ...lamp })),
  });
}

function aim(lamp: Partial<Headlamp>, rule = SIMPLE): HeadlampResult {
  const [result] = answerHeadlamps(setupOf(lamp), rule).value ?? [];
  if (result === undefined) throw new Error("no result");
  return result;
}

function verdict(lamp: Partial<Headlamp>, rule = SIMPLE): string | null {
  return aim(lamp, rule).decision?.verdict ?? null;
}

const perCent = (value: number): Headlamp["inclination"] => ({ value, unit: "%" });

describe("one inclination in three units", () => {
  it.each([
    [{ value: 1, unit: "%" } as const],
    [{ drop: 100, at: 10_000 }],
    [{ drop: 50, at: 5000 }],
    // atan 0.01
    [{ value: 0.572938698, unit: "deg" } as const],
  ])("reads %j as 1 %, 0.573°, 100 mm on 10 m", (inclination) => {
    const result = aim({ inclination });
    expect(result.percent).toBeCloseTo(1, 8);
    expect(result.deg).toBeCloseTo(0.572939, 6);
    expect(result.dropAtTenMetres).toBeCloseTo(100, 6);
    expect(result.says).toContain("falls by 1.00 % (0.57°), 100.0 mm on 10 m.");
  });

  it("says that a cut-off rises", () => {
    const result = aim({ inclination: { drop: -20, at: 10_000 } });
    expect(result.percent).toBeCloseTo(-0.2, 9);
    expect(result.says).toContain("rises by 0.20 % (0.11°), 20.0 mm on 10 m.");
    expect(result.decision?.verdict).toBe("does-not-conform");
  });

  it("comes back from degrees as it went", () => {
    check(
      fc.property(fc.double({ min: -11, max: 11, noNaN: true }), (angle) => {
        expect(aim({ inclination: { value: angle, unit: "deg" } }).deg).toBeCloseTo(angle, 9);
      }),
    );
  });
});

describe("the bands of UN R48", () => {
  const both = "cannot-be-decided";

  // Below 800: 0.5 to 2.5. From 800 to 1000: that, or 1.0 to 3.0 as the maker chose. Above 1000: 1.0 to 3.0.
  it.each([
    [799.9, 0.5, "conforms"],
    [799.9, 0.49, "does-not-conform"],
    [799.9, 2.5, "conforms"],
    [799.9, 2.6, "does-not-conform"],
    [800, 0.7, both],
    [800, 2.7, both],
    [800, 1.5, "conforms"],
    [800, 0.4, "does-not-conform"],
    [1000, 0.7, both],
    [1000, 3.1, "does-not-conform"],
    [1000.1, 0.7, "does-not-conform"],
    [1000.1, 1, "conforms"],
    [1000.1, 3, "conforms"],
  ])("a lamp at %d mm with %d %%: %s", (height, value, expected) => {
    expect(verdict({ height, inclination: perCent(value) })).toBe(expected);
  });

  it("knows from the marked setting which range the maker chose", () => {
    const at = (value: number, marked: number): string | null =>
      verdict({ height: 900, inclination: perCent(value), marked });
    expect(at(0.7, 1)).toBe("conforms");
    expect(at(0.7, 1.4)).toBe("conforms");
    expect(at(2.7, 1.4)).toBe("does-not-conform");
    expect(at(0.7, 1.6)).toBe("does-not-conform");
    expect(at(2.7, 2)).toBe("conforms");
  });

  it("does not know it from a setting that belongs to both ranges, or to none", () => {
    expect(verdict({ height: 900, inclination: perCent(2.7), marked: 1.5 })).toBe("cannot-be-decided");
    expect(verdict({ height: 900, inclination: perCent(2.7), marked: 2.4 })).toBe("cannot-be-decided");
    expect(aim({ height: 900, inclination: perCent(2.7), marked: 1.5 }).says).toContain(
      "the marked setting of 1.5 % does not tell which",
    );
    expect(aim({ height: 900, inclination: perCent(2.7) }).says).toContain(
      "between 0.5 % to 2.5 % and 1 % to 3 %, and no marked setting is stated",
    );
  });

  it("says that the choice makes no difference where it makes none", () => {
    expect(aim({ height: 900, inclination: perCent(1.5) }).says).toContain("both give the same");
  });

  it("sets narrower ranges for the initial aim", () => {
    const initial = (height: number, value: number): string | null =>
      verdict({ rule: "un-r48-initial-aim", height, inclination: perCent(value) });
    expect(initial(700, 1.2)).toBe("conforms");
    expect(initial(700, 1.6)).toBe("does-not-conform");
    expect(initial(1100, 1.6)).toBe("conforms");
    expect(initial(1100, 1.4)).toBe("does-not-conform");
    // In between either range may count; 1.5 is in both.
    expect(initial(900, 1.5)).toBe("conforms");
    expect(initial(900, 1.2)).toBe("cannot-be-decided");
  });
});

describe("what cannot be decided", () => {
  it("does not decide for another load than the rule presumes", () => {
    const { decision, says } = aim({ load: "unladen" });
    expect(decision).toMatchObject({ verdict: "cannot-be-decided", low: null, high: null });
    expect(says).toContain("with one person (75 kg) in the driver's seat, and this one was unladen");
    expect(verdict({ load: "other" })).toBe("cannot-be-decided");
    expect(verdict({ load: "driver-75-kg" })).toBe("conforms");
  });

  it("has no tolerance for the German inspection and for United States lamps, and says so", () => {
    for (const rule of ["de-periodic-inspection", "us-fmvss-108-visual"]) {
      const result = aim({ rule, marked: 1.2, inclination: perCent(1.5) });
      expect(result.decision).toBeNull();
      expect(result.says).toContain("0.30 % lower than marked on the vehicle (1.2 %)");
      expect(result.says).toMatch(/tolerance/);
    }
  });

  it("has no limits for high lamps before 2016", () => {
    const rule = "uk-periodic-test-before-2016-03-24";
    expect(verdict({ rule, height: 850, inclination: perCent(1.5) })).toBe("conforms");
    expect(verdict({ rule, height: 851, inclination: perCent(1.5) })).toBe("cannot-be-decided");
  });

  it("counts the uncertainty: U = 0.2 % with k = 2 is u = 0.1 %", () => {
    // The guard band is 0.83 · 0.2 = 0.166 %.
    expect(verdict({ inclination: perCent(0.7), U: 0.2, k: 2 }, GUARDED)).toBe("conforms");
    expect(verdict({ inclination: perCent(0.6), U: 0.2, k: 2 }, GUARDED)).toBe("cannot-be-decided");
    expect(verdict({ inclination: perCent(0.3), U: 0.2, k: 2 }, GUARDED)).toBe("does-not-conform");
    expect(aim({ U: 0.3, k: 3 }, GUARDED).decision?.u).toBeCloseTo(0.1, 12);
    expect(verdict({ inclination: perCent(1.5) }, GUARDED)).toBe("cannot-be-decided");
  });

  it("says nothing where no headlamp was measured", () => {
    const setup = setupShape.parse({ schema: "repair-calibration/setup@1" });
    expect(answerHeadlamps(setup, SIMPLE)).toMatchObject({ value: null, missing: [] });
  });
});

describe("where the limits come from", () => {
  it("stands beside every result with how it is known", () => {
    expect(aim({ height: 700 }).source).toContain("known second-hand");
    expect(aim({ height: 1100 }).source).toContain("from memory");
    expect(aim({ rule: "uk-periodic-test", height: 800 }).source).toContain("read at the source");
    expect(aim({ rule: "uk-periodic-test", height: 900 }).source).toContain("known second-hand");
    expect(aim({ rule: "uk-periodic-test", height: 900 }).source).toContain("names no load");
    expect(aim({ rule: "uk-periodic-test", height: 900 }).source).toContain("from 2016-03-24");
  });

  it("has bands that meet without gap or overlap, in ranges that are ranges", () => {
    for (const { bands } of HEADLAMP_LIMITS) {
      bands.forEach(({ from, ranges }, index) => {
        const before = bands[index - 1]?.to;
        expect(from?.at).toBe(before?.at);
        if (from !== undefined) expect(from.included).toBe(before?.included === false);
        for (const { low, high } of ranges) expect(low).toBeLessThan(high);
      });
    }
  });
});

describe("what is refused", () => {
  it("names the rule that was probably meant", () => {
    expect(checkHeadlamps(setupOf({}, { rule: "un-r48-diped-beam" }))).toEqual([
      expect.objectContaining({
        code: "unknown-id",
        pointer: "/headlamps/1/rule",
        nearest: "un-r48-dipped-beam",
      }),
    ]);
    expect(answerHeadlamps(setupOf({ rule: "none" }), SIMPLE)).toMatchObject({
      value: [],
      missing: [{ pointer: "/headlamps/0/rule" }],
    });
  });

  it("asks for the factor of an uncertainty", () => {
    expect(checkHeadlamps(setupOf({ U: 0.1, k: 2 }))).toEqual([]);
    expect(checkHeadlamps(setupOf({ U: 0.1 })).map(({ code, pointer }) => [code, pointer])).toEqual([
      ["missing-measurement", "/headlamps/0/k"],
    ]);
  });

  it("refuses readings that are in another unit", () => {
    const codes = (inclination: Headlamp["inclination"]): readonly string[] =>
      checkHeadlamps(setupOf({ inclination })).map(({ code }) => code);
    expect(codes(perCent(20))).toEqual([]);
    expect(codes(perCent(-21))).toEqual(["out-of-range"]);
    // atan 0.2 is 11.31°.
    expect(codes({ value: 11.3, unit: "deg" })).toEqual([]);
    expect(codes({ value: 12, unit: "deg" })).toEqual(["out-of-range"]);
    expect(codes({ value: 180, unit: "deg" })).toEqual(["out-of-range"]);
    expect(codes({ drop: 3000, at: 10_000 })).toEqual(["out-of-range"]);
  });
});
