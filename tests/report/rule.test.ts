import { describe, expect, it } from "vitest";
import { checkPack, comparePacks, comparePlans, renderRule, renderRuleList } from "../../src/index.js";
import type { CheckedPack, LoadedRule, Plan } from "../../src/index.js";
import { HOUSE_RULE, PACK_HEAD, PACK_SOURCES } from "../cli/pack-files.js";
import { aPlan } from "./a-plan.js";

/** A checked pack of some rules, each in a file of its own name. */
function packOf(...rules: readonly (object & { readonly id: string })[]): CheckedPack {
  return checkPack({
    head: PACK_HEAD,
    sources: PACK_SOURCES,
    rules: rules.map((content) => ({ file: `${content.id}.json`, content })),
  });
}

function loaded(rule: object & { readonly id: string } = HOUSE_RULE): LoadedRule {
  const pack = packOf(rule);
  return { rule: pack.rules[0]!, pack: pack.head.id, source: pack.sources["house"]! };
}

describe("a rule in words", () => {
  it("says all that it holds", () => {
    expect(renderRule(loaded())).toBe(`Painting the liftgate may coat the rear camera
liftgate-painted-disturbs-rear-camera
Disturbances, pack house-rules, asked of: cause-and-sensor
Settled, since 0.1.0

WHY
  Overspray settles on a lens that was masked in a hurry.

WHEN
  All of these hold:
    - The part is painted. (action is one of refinish, blend)
    - The part is the liftgate. (component is liftgate)
    - The sensor is the rear camera. (sensor is rear-camera)

THEN
  View obstructed: Something now stands, sticks or hangs in the sensor's field
  of view.

SOURCE
  Common practice, no source.
  It is the judgement of the authors of the rule.

IT DOES NOT SAY
  - Whether the lens was really coated.

IT SPEAKS, FOR ONE
  - 1: The liftgate with the rear camera was painted.
    action: refinish; component: liftgate; sensor: rear-camera

IT STAYS SILENT, FOR ONE
  - The liftgate was only inspected.
    As 1, but action: inspect
  - The trunk lid was painted.
    As 1, but component: trunk-lid
  - The sensor is another.
    As 1, but sensor: front-radar

IT CANNOT TELL, FOR ONE
  - Nobody has said what was painted.
    As 1, but component is not known
`);
  });

  it("indents what is nested, and names a published source with how it was known", () => {
    const base = loaded();
    const leaf = HOUSE_RULE.conditions.all[1]! as {
      name: string;
      fact: string;
      operator: "equal";
      value: string;
    };
    const text = renderRule({
      ...base,
      rule: {
        ...base.rule,
        status: "withdrawn",
        revised: "0.2.0",
        replacedBy: "another",
        conditions: { all: [{ any: [leaf, { not: leaf }] }, leaf] },
        source: { ref: "house", section: "4.3", supports: "implies-it", note: "Read with its annex." },
      },
      source: {
        kind: "standard",
        cite: "A standard of repair.",
        read: "second-hand",
        checkedOn: "2026-01-02",
      },
    });
    expect(text).toContain("Withdrawn, since 0.1.0, revised in 0.2.0, replaced by another\n");
    expect(text).toContain(`  All of these hold:
    At least one of these holds:
      - The part is the liftgate. (component is liftgate)
      This does not hold:
        - The part is the liftgate. (component is liftgate)
    - The part is the liftgate. (component is liftgate)
`);
    expect(text).toContain(`SOURCE
  A standard of repair, 4.3; known at second hand; it implies this and does not
  state it.
  The source implies it and does not state it.
  Looked up on 2026-01-02.
  Read with its annex.
`);
  });

  it("stands in a list under its stratum", () => {
    const base = loaded();
    const draft = { ...base, rule: { ...base.rule, id: "a-draft", status: "draft" as const } };
    expect(renderRuleList([base, draft])).toBe(`DISTURBANCES (2)
  liftgate-painted-disturbs-rear-camera
    Painting the liftgate may coat the rear camera [common practice]
  a-draft
    Painting the liftgate may coat the rear camera [common practice; draft]
`);
  });
});

describe("two packs compared", () => {
  const second = { ...HOUSE_RULE, id: "another-rule" };

  it("differ in nothing from themselves", () => {
    expect(comparePacks(packOf(HOUSE_RULE), packOf(HOUSE_RULE))).toEqual({
      added: [],
      removed: [],
      changed: [],
    });
  });

  it("tell rules added from rules removed", () => {
    expect(comparePacks(packOf(HOUSE_RULE), packOf(second))).toEqual({
      added: ["another-rule"],
      removed: [HOUSE_RULE.id],
      changed: [],
    });
  });

  it.each([
    [
      "a condition",
      {
        conditions: {
          all: [
            HOUSE_RULE.conditions.all[0],
            { ...HOUSE_RULE.conditions.all[1], value: "tailgate" },
            HOUSE_RULE.conditions.all[2],
          ],
        },
        examples: {
          ...HOUSE_RULE.examples,
          fires: [
            {
              says: "The tailgate was painted.",
              facts: { action: "refinish", component: "tailgate", sensor: "rear-camera" },
            },
          ],
        },
      },
      [
        'No longer a condition: "The part is the liftgate. (component is liftgate)".',
        'New condition: "The part is the liftgate. (component is tailgate)".',
        "Its examples changed.",
      ],
    ],
    [
      "the order of conditions",
      { conditions: { all: [...HOUSE_RULE.conditions.all].reverse() } },
      ["The same conditions are joined in another way (all, any, not, or their order)."],
    ],
    ["the status", { status: "disputed" }, ['Status: was "settled", is "disputed".']],
    [
      "a limit",
      { doesNotSay: ["Anything else at all."] },
      [
        'No longer a limit of what it says: "Whether the lens was really coated.".',
        'New limit of what it says: "Anything else at all.".',
      ],
    ],
    ["when it was revised", { revised: "0.2.0" }, ['Revised: was not stated, is "0.2.0".']],
  ])("say what became of %s", (_, change, says) => {
    const { changed } = comparePacks(packOf(HOUSE_RULE), packOf({ ...HOUSE_RULE, ...change }));
    expect(changed).toEqual([{ id: HOUSE_RULE.id, says }]);
  });

  it("notice that a source came to stand for another document", () => {
    const before = packOf(HOUSE_RULE);
    const after = {
      ...before,
      sources: { house: { ...before.sources["house"]!, cite: "Another document." } },
    };
    expect(comparePacks(before, after).changed).toEqual([
      { id: HOUSE_RULE.id, says: ['What the source "house" stands for changed.'] },
    ]);
  });
});

describe("two plans compared", () => {
  const plan = aPlan();
  const [camera, radar] = plan.requirements;
  const withRequirements = (...requirements: Plan["requirements"]): Plan => ({ ...plan, requirements });

  it("differ in nothing from themselves", () => {
    expect(comparePlans(plan, plan)).toEqual([]);
  });

  it("tell what is new, what is gone and what is firmer", () => {
    expect(comparePlans(withRequirements(camera!), withRequirements(radar!))).toEqual([
      "Forward camera: calibration is gone; it was required.",
      "Front radar: calibration is new: inspect first.",
    ]);
    expect(
      comparePlans(
        withRequirements(radar!),
        withRequirements({ ...radar!, standing: "required", couldRiseTo: null, inspection: null }),
      ),
    ).toEqual([
      "Front radar: calibration: the standing was inspect first, and is required.",
      "Front radar: calibration: what it could rise to was required, and is nothing firmer.",
      "Front radar: calibration: the inspection was mount-inspection, and is none.",
    ]);
  });

  it("tell of holds, methods, preconditions, records and questions", () => {
    const after = {
      ...withRequirements({
        ...camera!,
        holds: [],
        method: { ...camera!.method, value: "dynamic" as const },
        preconditions: [],
        evidence: [],
      }),
      outcome: "complete" as const,
      questions: [],
    };
    expect(comparePlans(withRequirements(camera!), after)).toEqual([
      "Forward camera: calibration: the method was static, and is dynamic.",
      "Forward camera: calibration: the list of holds was adhesive-not-cured, and is none.",
      "Forward camera: calibration: the list of preconditions was floor-level, and is none.",
      "Forward camera: calibration: the list of records was calibration-record, and is none.",
      "The outcome was needs-answers, and is complete.",
      "1 question stood open, and 0 do now.",
    ]);
  });
});
