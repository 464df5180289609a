import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { renderText } from "../../src/index.js";
import type { Plan } from "../../src/index.js";
import { LINES, aPlan } from "./a-plan.js";

const PLAN_AS_TEXT = `Calibration plan
Order      RO-9001
Vehicle    Norrvik Skare, model year 2021 or 2022, VIN not stated
Outcome    Needs answers: 1 question open. Until then the list below can still
           grow or firm up.
Due        1 required, 1 to be inspected first.
On hold    forward camera: calibration. What clears each hold stands with it.

STATEMENTS THAT CONTRADICT EACH OTHER (1)
  None of them was believed: the fact counts as unknown.
  - Two entries differ.
    At /vehicle/equipment/0 and /vehicle/equipment/1

OPEN QUESTIONS (1)
  The one that settles most comes first.
  Q1   Is the front radar fitted?
       Answer: yes / no
       Settles: calibration of front radar
       Could add work on: rear corner radar (left, right)
       Belongs at /vehicle/equipment
  - At least one of these is fitted: front radar, lidar. That follows from
    adaptive cruise control (Q1).

CALIBRATE: REQUIRED (1)
  Do it: practice across makers asks for it, or the maker's own procedure does.

  Forward camera: calibration
    HOLD       The glass can still move. (line L1, remove and replace
               windshield; uncured-holds)
               Cleared by: Wait for the cure.
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
    Why        Finding: impact zone (/findings/impactZones/0)
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

BEFORE THE WORK BEGINS (1)

  For everything in this plan
  [ ] Floor level: The floor is level.
      Limit: at most 3 mm/m for forward camera: calibration (Norrvik manual 7,
      7.2). Under the targets too.

STEPS IN ORDER (3)
  [ ] 1  Read all modules.
  [ ] 2  Forward camera: calibration. After 1.
  [ ] 3  Front radar: calibration. After 1.
         Condition: The inspection fails.

RECORDS TO KEEP (1)
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
