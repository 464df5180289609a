import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SENSOR_IDS, renderText } from "../../src/index.js";
import type { Plan, Requirement } from "../../src/index.js";
import { LINES, aPlan } from "./a-plan.js";

const PLAN_AS_TEXT = `Calibration plan
Order      RO-9001
Vehicle    Norrvik Skare, model year 2021 or 2022, VIN not stated
Outcome    Needs answers: 1 question open. Until then the list below can still
           grow or firm up.
Due        1 required, 1 to be inspected first.
On hold    calibration of forward camera: see below

STATEMENTS THAT CONTRADICT EACH OTHER (1)
  None of them was believed: the fact counts as unknown.
  - Two entries differ.
    At /vehicle/equipment/0 and /vehicle/equipment/1

OPEN QUESTIONS (1)
  Q1   Is the front radar fitted?
       Answer: yes / no
       Settles: calibration of front radar
       Could add work on: rear corner radar (left, right)
       Belongs at /vehicle/equipment
  - At least one of these is fitted: front radar, lidar. That follows from
    adaptive cruise control (Q1).

ON HOLD (1)
  The work is due all the same. Do not begin it before its hold is cleared.
  H1   The glass can still move. (line L1, remove and replace windshield;
       uncured-holds)
       Holds: calibration of forward camera
       Cleared by: Wait for the cure.

CALIBRATE: REQUIRED (1)
  Do it: practice across makers asks for it, or the maker's own procedure does.

  Forward camera: calibration
    HOLD       H1 above: not to be begun before it is cleared
    Method     Static (Norrvik manual 7, 7.2)
    Target     Camera board: 3000 ±5 mm from the front axle along the thrust
               line, 120 ±3 mm right of it, its centre 1350 ±2 mm above the
               floor, yaw 0 ±0.2°, pitch 0 ±0.5°, roll 0 ±0.5°
    Free floor 6000 mm long, 3500 mm wide, 2200 mm high, from the front bumper
    Drive      60 to 100 km/h; 10 min; 12 km; roads: motorway, trunk road; lane
               markings on both sides; dry
    Afterwards Switch the ignition off and on.
    Why        Line L1, remove and replace windshield ("Rpl W/S")
               -> glass in front of the sensor disturbed. The new glass bends
                  light.
               -> The camera sees the road displaced. [glass-new-asks; common
                  practice, no source]
               and 1 more reason; the command explain shows all: forward-camera
    Until then may fail: lane keeping assistance
               and, if it has them: traffic sign recognition
    Step       2

INSPECT FIRST, CALIBRATE IF IT FAILS (1)
  Do the named inspection, and the task too if it fails or if the maker's
  procedure asks for it.

  Front radar: calibration
    Fitted     Not known; it counts only if the sensor is there.
    Could rise to required, by Q1
    Method     The maker's procedure decides; none was given. Usual on such
               sensors: static or dynamic.
    Inspect    mount inspection
    Why        Finding: an impact (/findings/impactZones/0)
               -> impact load. The force passed near it.
               -> It may point elsewhere. [hit-asks; common practice, no source]
    Step       3

INSPECTIONS (1)
  Each with what counts as failing.

  Mount inspection, for calibration of front radar
    Look at    Bracket and its bond, tabs and fasteners, and the sensor's angle
               read with an inclinometer.
    Fails when Anything is bent, cracked, loose, shimmed, drilled anew or glued,
               or the angle lies outside the procedure.

BEFORE A TASK BEGINS (1)
  Sections are those of Norrvik manual 7, issued 2026-01-10.

  For everything in this plan
  [ ] Floor level: The floor is level.
      Limit: at most 3 mm/m for calibration of forward camera (section 7.2).
      Under the targets too.

STEPS IN ORDER (3)
  [ ] 1  Read all modules.
  [ ] 2  Forward camera: calibration. After 1.
  [ ] 3  Front radar: calibration. After 1.
         Condition: The inspection fails.

RECORDS TO KEEP (1)
  Each for everything in this plan, unless it says for what.
  [ ] Calibration record: The result of the calibration with its measured values
      and the vehicle's identity.
      For calibration of forward camera

WORK THAT THE ORDER IMPLIES (1)
  It stands on no line, but the lines named bring it with them.
  I1   Remove and install forward camera, from L1.
       [glass-off-takes-camera-off]

WAIVED (1)
  Rules asked for it, and a more specific document takes it away.
  Front surround-view camera: calibration (would have been: presumed)
    By         The camera finds itself. [no-grille-camera]
    Document   Norrvik manual 7, 7.2
    Waives     grille-off-asks

NOT INDICATED (3)
  Lines looked at: L1, L2. The command explain tells what would change it.
  - Fitted, and no rule asks for it: rear corner radar (left, right).
  - Not fitted: lidar.

CLAIMED BY THE ORDER (1)
  Lines that bill a calibration or a scan. They are no reason for one, and were
  not weighed here.
  - L3: calibrate ("Static calib")

LINES NOBODY COULD READ (1)
  - L4 ("Misc"): There is no such part.

REMARKS
  - A windshield has no side. (/operations/0/side)
  - Look up the procedure.

CAUTIONS
  - Chock the wheels.

MADE WITH
  - Rules common-practice 1.0.0
    sha256:aa
  - Procedures skare 2.0.0, INVENTED for demonstration: Norrvik manual 7, issued
    2026-01-10; applied
    sha256:bb

SIGNED

  Technician  ______________________________________________  Date ____________
  Reviewer    ______________________________________________  Date ____________
`;

describe("a plan as text", () => {
  it("says everything that the plan says, open points first", () => {
    expect(renderText(aPlan(), { operations: LINES })).toBe(PLAN_AS_TEXT);
  });

  it("names lines by their ids alone where it is not given the order", () => {
    expect(renderText(aPlan())).toContain("    Why        Line L1\n");
  });

  it("leaves out what has nothing to say", () => {
    const empty: Plan = {
      ...aPlan(),
      outcome: "complete",
      requirements: [],
      waived: [],
      notIndicated: [],
      impliedOperations: [],
      preconditions: [],
      steps: [],
      questions: [],
      atLeastOneOf: [],
      claimed: [],
      unread: [],
      contradictions: [],
      warnings: [],
      notes: [],
      procedures: [],
    };
    const headings = renderText(empty)
      .split("\n")
      .filter((line) => /^[A-Z]/.test(line) && line === line.toUpperCase());
    expect(headings).toEqual(["CAUTIONS", "MADE WITH", "SIGNED"]);
  });

  it("never calls an empty list with open questions finished", () => {
    const text = renderText({ ...aPlan(), requirements: [] });
    expect(text).toContain("Due        Nothing so far, and the open questions can change that.\n");
    expect(text).toContain("Outcome    Needs answers: 1 question open.");
  });

  it("tells the firmest reason, and of those the shortest", () => {
    const plan = aPlan();
    const [camera] = plan.requirements;
    const [long, short] = camera!.because;
    const possible = { ...short!, certain: false, rule: "possible", questions: ["Q1"] };
    const weak = { ...short!, standing: "presumed" as const, rule: "weak" };
    const text = renderText({
      ...plan,
      requirements: [{ ...camera!, because: [weak, possible, long!] }],
    });
    expect(text).toContain("-> It sits differently afterwards. [camera-off-asks;");
    expect(text).toContain("-> I1, remove and install forward camera (implied)");
    expect(text).toContain("and 2 more reasons");
  });

  it("tells what was found, where it is given the findings", () => {
    expect(renderText(aPlan(), { findings: { impactZones: ["left"] } })).toContain(
      "    Why        Finding: impact on the left side\n",
    );
  });

  describe("two places of one sensor", () => {
    const [, radar] = aPlan().requirements;
    const place = (position: "left" | "right", further: Partial<Requirement> = {}): Requirement => ({
      ...radar!,
      id: `rear-corner-radar:${position}/calibration`,
      sensor: "rear-corner-radar",
      position,
      ...further,
    });
    const step = (position: string): Plan["steps"][number] => ({
      ...aPlan().steps[2]!,
      id: `rear-corner-radar:${position}/calibration`,
      requirement: `rear-corner-radar:${position}/calibration`,
    });
    const write = (left: Requirement, right: Requirement): string =>
      renderText({
        ...aPlan(),
        requirements: [left, right],
        steps: [...aPlan().steps, step("left"), step("right")],
      });

    it("are told together where the same is to be said of them, each with its own steps", () => {
      const text = write(place("left"), place("right"));
      expect(text).toContain("\nINSPECT FIRST, CALIBRATE IF IT FAILS (2)\n");
      expect(text).toContain("\n  Rear corner radar (left, right): calibration\n");
      expect(text).toContain("    Steps      4 (left); 5 (right)\n");
      expect(text.split("Finding: an impact")).toHaveLength(2);
    });

    it("are told apart where anything differs", () => {
      const text = write(place("left"), place("right", { fitted: "yes" }));
      expect(text).toContain("\n  Left rear corner radar: calibration\n");
      expect(text).toContain("\n  Right rear corner radar: calibration\n");
      expect(text).toContain("    Step       5\n");
    });
  });

  it("tells a hold once, with all that it keeps back", () => {
    const plan = aPlan();
    const [camera, radar] = plan.requirements;
    const other = { ...camera!.holds[0]!, says: "The floor slopes.", clearedBy: "Level it." };
    const text = renderText({
      ...plan,
      requirements: [
        { ...camera!, holds: [...camera!.holds, other] },
        { ...radar!, holds: camera!.holds },
      ],
    });
    expect(text.split("The glass can still move.")).toHaveLength(2);
    expect(text).toContain("On hold    calibration of forward camera, front radar: see below\n");
    expect(text).toContain("\nON HOLD (2)\n");
    expect(text).toContain("       Holds: calibration of forward camera, front radar\n");
    expect(text).toContain("    HOLD       H1, H2 above: not to be begun before they are cleared\n");
    expect(text).toContain("    HOLD       H1 above: not to be begun before it is cleared\n");
  });

  it("puts the questions about the whole job last, and names many sensors by those left out", () => {
    const plan = aPlan();
    const [question] = plan.questions;
    const fits = SENSOR_IDS.map((sensor) => ({
      sensor,
      position: null,
      reason: "no-rule-asks-for-it" as const,
      considered: ["L1"],
      wouldChange: [],
    }));
    const general = { ...question!, id: "Q2", ask: "Did an airbag deploy?", settles: [] };
    const text = renderText({
      ...plan,
      requirements: [],
      waived: [],
      notIndicated: fits,
      questions: [
        question!,
        { ...general, couldAdd: SENSOR_IDS.filter((each) => each !== "lidar" && each !== "head-up-display") },
        { ...general, id: "Q3", ask: "Which zones were hit?", couldAdd: [...SENSOR_IDS] },
      ],
    });
    expect(text).toContain(`  About the job as a whole; each answer could add work:
  Q2   Did an airbag deploy?
       Answer: yes / no. Bears on every sensor but lidar, head-up display.
       Belongs at /vehicle/equipment
  Q3   Which zones were hit?
       Answer: yes / no. Bears on every sensor.
       Belongs at /vehicle/equipment
`);
  });

  it("names no more than a few of many places that contradict each other", () => {
    const about = Array.from({ length: 3000 }, (_, index) => `/vehicle/equipment/${index}`);
    const text = renderText({ ...aPlan(), contradictions: [{ about, says: "They differ." }] });
    expect(text).toContain("    At /vehicle/equipment/0, /vehicle/equipment/1, /vehicle/equipment/2,\n");
    expect(text).toContain("    /vehicle/equipment/3 and 2996 more places\n");
  });

  describe("limits", () => {
    const write = (limits: readonly Plan["preconditions"][number]["limits"][number][]): string => {
      const [condition] = aPlan().preconditions;
      return renderText({ ...aPlan(), preconditions: [{ ...condition!, limits: [...limits] }] });
    };
    const [limit] = aPlan().preconditions[0]!.limits;
    const between = (low: number, high: number, unit: string): typeof limit => ({
      ...limit!,
      note: null,
      limit: { value: high, unit, sense: "between", low, high },
    });

    it.each([
      [-0.15, 0.15, "deg", "within ±0.15°"],
      [-8, 8, "mm", "within ±8 mm"],
      [13.2, 14.8, "V", "13.2 to 14.8 V"],
      [-5, 8, "mm", "-5 to 8 mm"],
      [0, 160, "um", "0 to 160 µm"],
      [10, 35, "degC", "10 to 35 °C"],
    ])("between %d and %d %s are written as the trade writes them", (low, high, unit, said) => {
      expect(write([between(low, high, unit)!])).toContain(`      Limit: ${said} for calibration of forward`);
    });

    it("that are the same for all are told once, with the sections of the one document in use", () => {
      const other = {
        ...limit!,
        requirement: "front-radar/calibration",
        source: { ...limit!.source, section: "7.3" },
      };
      expect(write([limit!, other])).toContain(
        "      Limit: at most 3 mm/m (sections 7.2, 7.3). Under the targets too.\n",
      );
    });

    it("from another document than the one in use name it", () => {
      const source = { ...limit!.source, cite: "Alcora manual 3" };
      expect(write([{ ...limit!, source }]).replace(/\s+/g, " ")).toContain("(Alcora manual 3, 7.2)");
    });
  });

  it("marks lines only by the styler that it is given", () => {
    const styled = renderText(aPlan(), { operations: LINES, styler: (role, text) => `<${role}>${text}` });
    expect(styled.replace(/^<[a-z]+>/gm, "")).toBe(PLAN_AS_TEXT);
    expect(styled).toContain("<alert>Outcome    Needs answers");
    expect(styled).toContain("<heading>OPEN QUESTIONS (1)\n");
  });
});

// Characters of which every terminal knows the width, so that the test has its own measure.
const WIDTHS = new Map<string, number>([
  ..."abc XYZ-/.0\"'<>#;:[]{}é".split("").map((each) => [each, 1] as const),
  ...["漢", "字", "カ", "한", "\u{1f697}", "ｆ"].map((each) => [each, 2] as const),
  ...["\u0301", "\u200d"].map((each) => [each, 0] as const),
]);
const measure = (line: string): number =>
  [...line].reduce((sum, character) => sum + (WIDTHS.get(character) ?? 1), 0);

const HOSTILE = [
  "\u0000",
  "\u001b[2J",
  "\r",
  "\n",
  "\t",
  "\u0085",
  "\u2028",
  "\u202e",
  "\u200e",
  "\ufeff",
  "\ud800",
];
const word = fc
  .array(fc.constantFrom(...WIDTHS.keys(), ...HOSTILE), { minLength: 1, maxLength: 200 })
  .map((parts) => parts.join(""));

/** The plan with one text of the input put everywhere where a text of the input can stand. */
function planOf(text: string): Plan {
  const plan = aPlan();
  return {
    ...plan,
    reference: text,
    vehicle: { ...plan.vehicle, make: text, model: text },
    requirements: plan.requirements.map((each) => ({
      ...each,
      questions: [text],
      because: each.because.map((reason) => ({ ...reason, operation: text, says: [text, text], rule: text })),
      holds: each.holds.map((hold) => ({ ...hold, operation: text, says: text, rule: text })),
    })),
    notIndicated: plan.notIndicated.map((each) => ({ ...each, considered: [text] })),
    questions: plan.questions.map((each) => ({ ...each, ask: text, about: text, answers: [text] })),
    claimed: [{ operation: text, action: "scan", text }],
    unread: [{ operation: text, text, why: text }],
    contradictions: [{ about: [text], says: text }],
    warnings: [{ about: text, says: text }],
    notes: [text],
    procedures: plan.procedures.map((each) => ({ ...each, id: text, cite: text })),
    rulebook: { packs: [{ id: text, version: text, digest: text }] },
  };
}

describe("whatever the input holds", () => {
  it("no line is wider than the page", () => {
    fc.assert(
      fc.property(word, fc.integer({ min: 40, max: 120 }), (text, width) => {
        const rendered = renderText(planOf(text), {
          width,
          operations: [{ id: text, action: "replace", component: "windshield", text }],
        });
        expect(rendered.split("\n").filter((line) => measure(line) > width)).toEqual([]);
      }),
      { seed: 20260302, numRuns: 150 },
    );
  });

  it("nothing of it steers the terminal or begins a line of its own", () => {
    const before = renderText(planOf("x"), { width: 4000 }).split("\n").length;
    fc.assert(
      fc.property(word, (text) => {
        const rendered = renderText(planOf(text), { width: 4000 });

        expect(rendered).not.toMatch(
          /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u202e\u200e\ufeff\ud800]/u,
        );
        // Wide enough that nothing wraps: each paragraph is one line.
        expect(rendered.split("\n")).toHaveLength(before);
      }),
      { seed: 20260302, numRuns: 150 },
    );
  });

  it("a long word without a joint is cut, and one with joints is cut behind one", () => {
    const text = renderText(
      { ...aPlan(), notes: [`${"n".repeat(100)} ${"half-".repeat(20)}`] },
      { width: 60 },
    );
    expect(text).toContain(
      `  - ${"n".repeat(56)}\n    ${"n".repeat(44)}\n    ${"half-".repeat(11)}\n    ${"half-".repeat(9)}\n`,
    );
  });

  it("the same plan gives the same text", () => {
    expect(renderText(aPlan(), { operations: LINES })).toBe(renderText(aPlan(), { operations: LINES }));
  });
});
