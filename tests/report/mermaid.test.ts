import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { renderMermaid } from "../../src/index.js";
import { escapeLabel } from "../../src/report/mermaid.js";
import { LINES, aPlan } from "./a-plan.js";

describe("a plan as a flowchart", () => {
  it("draws each chain from its line to what is due", () => {
    expect(renderMermaid(aPlan(), { operations: LINES })).toBe(`flowchart LR
  due1(["forward camera, calibration (required)"])
  line1["Line L1, remove and replace windshield"]
  work1("Implied I1, remove and install forward camera")
  effect1{{"forward camera, sensor removed and installed"}}
  effect2{{"forward camera, glass in front of the sensor disturbed"}}
  due2(["front radar, calibration (inspect first)"])
  line2["Finding#58; an impact (#47;findings#47;impactZones#47;0)"]
  effect3{{"front radar, impact load"}}
  line1 --> work1
  work1 --> effect1
  effect1 --> due1
  line1 --> effect2
  effect2 --> due1
  line2 --> effect3
  effect3 --> due2
`);
  });

  it("says what was found, where it is given the findings", () => {
    expect(renderMermaid(aPlan(), { findings: { impactZones: ["rear"] } })).toContain(
      'line2["Finding#58; impact at the rear"]',
    );
  });

  it("dots what depends on a question, unless another chain makes it certain", () => {
    const plan = aPlan();
    const [camera] = plan.requirements;
    const [viaWork, direct] = camera!.because;
    const chart = renderMermaid({
      ...plan,
      requirements: [
        {
          ...camera!,
          because: [
            { ...direct!, certain: false },
            { ...viaWork!, certain: false },
            { ...viaWork!, rule: "another" },
          ],
        },
      ],
    });
    expect(chart).toContain("  line1 -.-> effect1\n");
    expect(chart).toContain("  effect1 -.-> due1\n");
    expect(chart).toContain("  line1 --> work1\n");
    expect(chart).toContain("  effect2 --> due1\n");
  });

  it("is a chart without nodes where nothing is due", () => {
    expect(renderMermaid({ ...aPlan(), requirements: [] })).toBe("flowchart LR\n");
  });
});

// What a line of the chart may be: one node whose label holds nothing that could end it, or one arrow.
const LABEL = String.raw`"(?:[\p{L}\p{M}\p{N} ,()'.-]|#\d+;)*"`;
const LINE = new RegExp(
  String.raw`^(?: {2}(?:line|work|effect|due)\d+(?:\[${LABEL}\]|\(${LABEL}\)|\{\{${LABEL}\}\}|\(\[${LABEL}\]\)) *| {2}[a-z]+\d+ (?:-->|-\.->) [a-z]+\d+)$`,
  "u",
);

const ATTACKS = [
  '"]; A --> B; B["',
  "%%{init: {'theme': 'dark'}}%%",
  "end",
  'style a fill:#f00;"',
  "<script>alert(1)</script>",
  "click a href javascript:alert(1)",
  "`**bold**`",
  "a\n  b --> c",
  "\u2028graph TD\u2028",
  "#quot;",
  "1. item",
  "---\ntitle: x\n---",
  "\u202eabc",
  "\\u0022",
  "\ud800",
];

describe("whatever the input holds", () => {
  const draw = (text: string): string => {
    const plan = aPlan();
    return renderMermaid(
      {
        ...plan,
        requirements: plan.requirements.map((each) => ({
          ...each,
          because: each.because.map((reason) =>
            reason.operation === null
              ? { ...reason, finding: text }
              : { ...reason, operation: text, implied: [...reason.implied, text] },
          ),
        })),
      },
      { operations: [{ id: text, action: "replace", component: "windshield", text }] },
    );
  };

  it.each(ATTACKS)("%j stays inside its label", (text) => {
    const lines = draw(text).trimEnd().split("\n");
    expect(lines[0]).toBe("flowchart LR");
    expect(lines.slice(1).filter((line) => !LINE.test(line))).toEqual([]);
  });

  it("any text does", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 200 }), (text) => {
        const lines = draw(text).trimEnd().split("\n");
        expect(lines.slice(1).filter((line) => !LINE.test(line))).toEqual([]);
      }),
      { seed: 20260302, numRuns: 300 },
    );
  });

  it("is told apart: two texts never give one label while they are short", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme-ascii", maxLength: 20 }),
        fc.string({ unit: "grapheme-ascii", maxLength: 20 }),
        (a, b) => {
          expect(escapeLabel(a) === escapeLabel(b)).toBe(a === b);
        },
      ),
      { seed: 20260302 },
    );
  });

  it("is cut where no chart could hold it", () => {
    expect(escapeLabel("x".repeat(500))).toBe(`${"x".repeat(117)}...`);
  });
});
