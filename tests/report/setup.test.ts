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

  it("sets what is asked, measured, decided and to be done in one row, with a place to write where nothing is", () => {
    // The height is held against what a tape shows from the floor there: 1464.2 mm, as the marks have it.
    expect(TEXT).toContain(
      [
        "    Quantity  Asked         Measured ±U (k = 2)     Verdict",
        "    Lateral   0 ±3 mm       -2.7 ±1.0 mm            Cannot be decided, 73.0 %",
        "              [ ] Move it 2.7 mm to the vehicle's left.",
        "    Distance  2650 ±5 mm    2652.1 ±1.2 mm          Conforms, 99.9 %",
        "              May stay.",
        "    Yaw       0 ±0.3°       -0.21 ±0.04°            Not decided",
        "              [ ] Turn it 0.21° counter-clockwise seen from above.",
        "    Pitch     0 ±0.5°       ________",
        "    Roll      0 ±0.3°       ________",
        "    Height    1464.2 ±5 mm  1285.0 mm, U not known  Not decided",
        "              [ ] Raise it by 179.2 mm.",
      ].join("\n"),
    );
    expect(flat(TEXT)).toContain(
      "Height: the procedure states 1460 ±5 mm against the plane of the wheels; a tape from the floor at the target has to show 1464.2 mm.",
    );
  });

  it("gives the reason of what does not conform or cannot be decided, and no more than the numbers of what does", () => {
    expect(flat(TEXT)).toContain("- Lateral: -2.7 mm lies within ±3 mm, but too close to a limit");
    expect(flat(TEXT)).not.toContain("2652.1 mm lies within");
  });

  it("says what a verdict presumes, once for all of which it is true", () => {
    const [board] = FULL.targets;
    const words = "It presumes a floor in one plane with the wheels.";
    const decisions = board!.decisions.map((each) => ({
      ...each,
      verdict: "conforms" as const,
      says: `${each.quantity} lies within its limits: conforms. ${words}`,
    }));
    const text = flat(renderSetup({ ...FULL, targets: [{ ...board!, decisions }] }));
    expect(text).toContain(`- Lateral, Distance: ${words}`);
    expect(text).not.toContain("lies within its limits");
  });

  it("has nothing corrected that may stay, nor what its readings leave in doubt", () => {
    const [board] = FULL.targets;
    const decide = (verdict: "conforms" | "cannot-be-decided", corrections = board!.corrections): string =>
      renderSetup({
        ...FULL,
        targets: [
          {
            ...board!,
            corrections,
            decisions: board!.decisions.slice(0, 1).map((each) => ({ ...each, verdict })),
          },
        ],
      });
    expect(decide("cannot-be-decided")).toContain("[ ] Move it 2.7 mm to the vehicle's left.");
    expect(decide("conforms")).not.toContain("to the vehicle's left.");
    expect(decide("cannot-be-decided", [])).toContain("[ ] Measure again.");
  });

  it("names a warning once, with all that it is about", () => {
    const says = "The wheels do not stand level.";
    const warnings = [
      { about: "Board N1", says },
      { about: "/floor", says: "The floor was surveyed with nine spots only." },
      { about: "Corner reflector N4", says },
    ];
    const text = flat(renderSetup({ ...FULL, warnings }));
    expect(text).toContain("TO WATCH (2) - The wheels do not stand level. (Board N1; Corner reflector N4) -");
  });

  it("says what the tapes have to show from both axles in one table, and what a difference means", () => {
    expect(TEXT).toContain(
      [
        "    Tape                      Front axle  Reads     Rear axle  Reads",
        "    Left wheel to left end    2680.1 mm   ________  5514.3 mm  ________",
        "    Right wheel to right end  2683.4 mm   ________  5517.6 mm  ________",
        "    Left wheel to right end   3330.2 mm   ________  5854.1 mm  ________",
        "    Right wheel to left end   3316.4 mm   ________  5846.2 mm  ________",
      ].join("\n"),
    );
    // 2680.1 - 2683.4 and 5514.3 - 5517.6; 3330.2 - 3316.4 and 5854.1 - 5846.2; ten times -1.2 and -0.7.
    expect(flat(TEXT)).toContain(
      "left less right has to be -3.3 mm (front axle) and -3.3 mm (rear axle); 1° of yaw counter-clockwise changes it by -41.9 mm (front axle) and -41.9 mm (rear axle). Diagonals: from the left wheel less from the right wheel has to be 13.8 mm (front axle) and 7.9 mm (rear axle); 10 mm to the left changes it by -12.0 mm (front axle) and -7.0 mm (rear axle).",
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
    // 5 / 25.4 = 0.197; 2652.1 / 25.4 = 104.413; 1.2 / 25.4 = 0.047.
    expect(flat(inches)).toContain("104.331 ±0.197 in (2650 ±5 mm)");
    expect(flat(inches)).toContain("104.413 ±0.047 in (2652.1 ±1.2 mm)");
    // 10775 / 25.4 = 424.21; 3600 / 25.4 = 141.73; 725 / 25.4 = 28.54; 1900 / 25.4 = 74.80.
    expect(flat(inches)).toContain(
      "That is 424.21 in by 141.73 in; 28.54 in to spare along, 74.80 in to spare across.",
    );
    // 500 / 25.4 = 19.69, of the second set-up.
    expect(flat(inches)).toContain("19.69 in missing across.");
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
    // Of what conforms the table has the numbers, and a target of which something conforms is not moved in it.
    const said = [
      ...result.targets.flatMap(({ decisions, corrections }) => {
        const open = decisions.filter(({ verdict }) => verdict !== "conforms");
        const stays = (quantity: string): boolean =>
          decisions.some((each) => each.quantity === quantity && each.verdict === "conforms");
        return [...open, ...corrections.filter(({ quantity }) => !stays(quantity))].map(({ says }) => says);
      }),
      ...result.contradictions.map(({ says }) => says),
      ...result.warnings.map(({ says }) => says),
      ...result.headlamps.map(({ says }) => says),
      ...result.conditions.flatMap(({ decision }) => (decision.verdict === "conforms" ? [] : decision.says)),
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
