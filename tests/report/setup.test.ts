import { describe, expect, it } from "vitest";
import { renderSetup } from "../../src/report/index.js";
import type { SetupResult } from "../../src/setup/index.js";
import { FULL, HOSTILE, POOR } from "../worksheet/setup-results.js";

const TEXT = renderSetup(FULL);
const FIXTURES = [
  ["full", FULL],
  ["poor", POOR],
  ["hostile", HOSTILE],
] as const;

/** The report without its line breaks and indents, so that a sentence can be found however it was broken. */
function flat(text: string): string {
  return text.replace(/\s+/g, " ");
}

function headings(text: string): string[] {
  return text.split("\n").filter((line) => /^[A-Z][A-Z0-9 ()-]+$/.test(line));
}

/** Columns on a terminal: Chinese takes two each, combining marks none. */
function columnsOf(line: string): number {
  return [...line].reduce((sum, letter) => {
    if (/\p{M}/u.test(letter)) return sum;
    return sum + (/\p{Script=Han}/u.test(letter) ? 2 : 1);
  }, 0);
}

describe("the report of a set-up", () => {
  it("says what stands in the way first, and cautions last", () => {
    expect(headings(TEXT)).toEqual([
      "MEASUREMENTS THAT CONTRADICT EACH OTHER (1)",
      "MISSING (1)",
      "TO WATCH (1)",
      "SET-UP S1",
      "SET-UP S2",
      "WHEEL ALIGNMENT",
      "CENTRE LINE FROM TWO MARKS",
      "FLOOR",
      "ATTITUDE",
      "BAY",
      "HEADLAMPS",
      "CONDITIONS DECIDED",
      "HOW IT IS DECIDED",
      "CAUTIONS FOR THE SET-UP",
    ]);
  });

  it("gives the outcome in one sentence", () => {
    // Two of the board and the thrust angle were decided.
    expect(flat(TEXT)).toContain(
      "Outcome 1 contradiction; 1 thing missing; of 3 measured values 2 conform, 0 do not, 1 cannot be decided; the bay does not fit.",
    );
    expect(flat(renderSetup(POOR))).toContain(
      "Outcome 1 thing missing; nothing was measured that could be decided.",
    );
  });

  it("tells the thrust line with both sign conventions by name", () => {
    expect(TEXT).toContain("    ISO 8855       -0.12°, to the vehicle's left positive\n");
    expect(TEXT).toContain("    The trade      0.12°, to the vehicle's right positive\n");
    expect(TEXT).toContain("4.2 mm, 0.15° at the front axle, right wheel rearward");
  });

  it("sets what is asked and what was measured beside each other, with a place to write where nothing was", () => {
    expect(TEXT).toContain(
      [
        "    Quantity  Asked       Measured",
        "    Lateral   0 ±3 mm     -2.7 mm ±1.0 mm (k = 2)",
        "    Distance  2650 ±5 mm  2652.1 mm ±1.2 mm (k = 2)",
        "    Yaw       0 ±0.3°     -0.21° ±0.04° (k = 2)",
        "    Pitch     0 ±0.5°     ________",
        "    Roll      0 ±0.3°     ________",
        "    Height    1460 ±5 mm  1285.0 mm, uncertainty not known",
      ].join("\n"),
    );
  });

  it("says what the tapes have to show and what a difference means", () => {
    expect(TEXT).toContain("    Left wheel to left end    2680.1 mm    ________\n");
    // 2680.1 - 2683.4; 3330.2 - 3316.4; ten times -1.2.
    expect(flat(TEXT)).toContain(
      "left less right has to be -3.3 mm; 1° of yaw counter-clockwise changes it by -41.9 mm. Diagonals: from the left wheel less from the right wheel has to be 13.8 mm; 10 mm to the left changes it by -12.0 mm.",
    );
    expect(flat(TEXT)).toContain("equal diagonals alone prove nothing");
  });

  it("reads tapes in sixteenths of an inch, with the decimals beside them", () => {
    const inches = renderSetup(FULL, { units: "in" });
    // 2680.1 / 25.4 = 105.516, nearest sixteenth 105 8/16; 1484.9 / 25.4 = 58.461, nearest 58 7/16.
    expect(inches).toContain("105 1/2 in (105.52 in)");
    expect(flat(inches)).toContain("58 7/16 in (58.46 in) left of the centre line");
    // 2.7 / 25.4 = 0.106: 2/16.
    expect(flat(inches)).toContain("Move it 2.7 mm to the vehicle's left. That is 1/8 in (0.11 in).");
  });

  it("orders the work: centre, distance, square, level, height last, and says that no document does", () => {
    const setUp = TEXT.slice(TEXT.indexOf("SET-UP S1"), TEXT.indexOf("Marks on the floor"));
    const steps = [...setUp.matchAll(/\[ \] (\w+):/g)].map(([, step]) => step);
    expect(steps).toEqual(["Stand", "Centre", "Distance", "Square", "Level", "Height"]);
    expect(setUp).toContain("Order of work (common practice, no source)");
  });

  it("names the heights as above the floor where one was surveyed, and otherwise not", () => {
    expect(flat(TEXT)).toContain("1464.2 mm above the floor there");
    expect(flat(renderSetup(POOR))).toContain("512.0 mm above a level floor; none was surveyed");
    expect(flat(TEXT)).toContain("Height of its middle: on the floor");
  });

  it("leaves out what nobody measured", () => {
    expect(headings(renderSetup(POOR))).toEqual([
      "MISSING (1)",
      "SET-UP",
      "HOW IT IS DECIDED",
      "CAUTIONS FOR THE SET-UP",
    ]);
    expect(flat(renderSetup(POOR))).toContain(
      "2 Board N1, chequered field 1200 by 800 mm Along the vehicle: not known: see what is missing",
    );
  });

  it("calls no probability certain", () => {
    const decided = (probability: number): string => {
      const [board] = FULL.targets;
      const decisions = board!.decisions.slice(0, 1).map((each) => ({ ...each, probability }));
      return renderSetup({ ...FULL, targets: [{ ...board!, decisions }] });
    };
    expect(decided(0.99996)).toContain("Cannot be decided, over 99.9 %");
    expect(decided(0.00001)).toContain("Cannot be decided, under 0.1 %");
    expect(decided(1)).toContain("Cannot be decided, over 99.9 %");
    expect(decided(0.73)).toContain("Cannot be decided, 73.0 %");
  });

  it("says it when tapes disagree among themselves, and marks it", () => {
    const [board] = FULL.targets;
    const measured = {
      ...board!.measured!,
      fit: { ...board!.measured!.fit!, agree: false, chiSquared: 12.4 },
    };
    const result: SetupResult = { ...FULL, targets: [{ ...board!, measured }] };
    const marked: string[] = [];
    renderSetup(result, {
      styler: (role, line) => {
        if (role === "alert") marked.push(line.trim());
        return line;
      },
    });
    expect(flat(marked.join(" "))).toContain(
      "They disagree among themselves: measure again before anything is moved.",
    );
    expect(flat(marked.join(" "))).toContain("12.40, limit 7.81");
  });
});

describe("every report of a set-up", () => {
  it.each(FIXTURES)("holds all that the result says: %s", (_, result) => {
    const text = flat(renderSetup(result, { width: 100_000 }));
    const said = [
      ...result.targets.flatMap(({ decisions, corrections }) =>
        [...decisions, ...corrections].map(({ says }) => says),
      ),
      ...result.contradictions.map(({ says }) => says),
      ...result.warnings.map(({ says }) => says),
      ...result.headlamps.map(({ says }) => says),
      ...result.conditions.map(({ decision }) => decision.says),
      ...(result.bay?.setUps ?? []).flatMap(({ says, inTheWay }) => [
        says,
        ...inTheWay.map((each) => each.says),
      ]),
      ...result.missing.map(({ pointer }) => pointer),
      ...result.procedures.map(({ id }) => id),
      result.decisionRule.says,
    ];
    for (const each of said) expect(text).toContain(flat(each));
  });

  it.each(FIXTURES)("keeps within its width: %s", (_, result) => {
    for (const width of [40, 61, 80, 120]) {
      for (const units of ["mm", "in"] as const) {
        const wide = renderSetup(result, { width, units })
          .split("\n")
          .filter((line) => columnsOf(line) > width);
        expect(wide).toEqual([]);
      }
    }
  });

  it("writes out what could steer a terminal", () => {
    const text = renderSetup({ ...HOSTILE, reference: "A\u001b[31m\u202eB" });
    expect(text).toContain("A\\u001b[31m\\u202eB");
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202a-\u202e]/);
  });

  it("is the same each time", () => {
    expect(renderSetup(structuredClone(FULL))).toBe(TEXT);
  });
});
