import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { valuesNeeded, type Condition, type Scalar } from "../../src/logic/index.js";
import {
  CONCLUSIONS,
  FACTS,
  FACT_NAMES,
  STRATA,
  checkExamples,
  checkMeaning,
  ruleShape,
  sourcesShape,
  type FactName,
  type Rule,
  type RuleOf,
  type Stratum,
} from "../../src/rulebook/index.js";
import {
  DISTURBANCE_IDS,
  EVIDENCE_IDS,
  HOLD_IDS,
  INSPECTION_IDS,
  PRECONDITION_IDS,
  SENSORS,
  SENSOR_IDS,
  STAGE_IDS,
  TASK_IDS,
  type SensorId,
  type StageId,
  type Task,
} from "../../src/vocabulary/index.js";
import { mutantsOf, survivorsOf } from "./mutants.js";

const folder = fileURLToPath(new URL("../../rules/common-practice", import.meta.url));
const read = (file: string): unknown => JSON.parse(readFileSync(`${folder}/${file}`, "utf8"));
const files = readdirSync(folder, { recursive: true, encoding: "utf8" })
  .map((file) => file.replaceAll("\\", "/"))
  .filter((file) => file.includes("/") && file.endsWith(".json"))
  .sort();
const entries = files.map((file) => ({ file, rule: ruleShape.parse(read(file)) }));
const rules: readonly Rule[] = entries.map(({ rule }) => rule);
const sources = sourcesShape.parse(read("sources.json"));

function of<S extends Stratum>(stratum: S): readonly RuleOf<S>[] {
  return rules.filter((rule): rule is RuleOf<S> => rule.stratum === stratum);
}

/** Whether a rule can be met by one of these values of a fact, as far as its words and lists say. */
const admits = (rule: Rule, fact: FactName, value: Scalar): boolean =>
  valuesNeeded(rule.conditions, fact)?.has(value) ?? true;

const inForce = (rule: Rule): boolean => rule.status === "settled" || rule.status === "disputed";

describe("each rule of common practice", () => {
  it("was found: an empty folder would pass everything below", () => {
    expect(entries.length).toBeGreaterThan(500);
    for (const stratum of STRATA) {
      if (stratum === "waivers") continue;
      expect(of(stratum).length, stratum).toBeGreaterThan(20);
    }
  });

  it.each(entries)("$rule.id means what it says", ({ file, rule }) => {
    expect(file).toBe(`${rule.stratum}/${rule.id}.json`);
    expect([...checkMeaning(rule, file), ...checkExamples(rule, file)]).toEqual([]);
    expect(Object.keys(sources)).toContain(rule.source.ref);
  });

  /** Changes that no example can notice, each with the reason; none at present. */
  const EQUIVALENT: Readonly<Record<string, readonly string[]>> = {};

  it.each(entries)("$rule.id needs every part of its condition", ({ rule }) => {
    expect(mutantsOf(rule.conditions).length).toBeGreaterThan(0);
    expect(survivorsOf(rule)).toEqual(EQUIVALENT[rule.id] ?? []);
  });

  it.each(entries)("$rule.id says each condition in a sentence", ({ rule }) => {
    const sentences = [
      rule.title,
      rule.because,
      ...rule.assumptions,
      ...rule.doesNotSay,
      ...namesOf(rule.conditions),
    ];
    for (const sentence of sentences) {
      expect(sentence.trim()).toBe(sentence);
      expect(sentence).toMatch(/^[A-Z0-9"]/);
      expect(sentence).not.toMatch(/\b(TODO|TBD|FIXME|lorem)\b/i);
    }
    for (const sentence of sentences.slice(1)) expect(sentence).toMatch(/[.?]$/);
    expect(rule.title).not.toMatch(/[.]$/);
  });
});

function namesOf(condition: Condition): readonly string[] {
  if ("all" in condition) return condition.all.flatMap(namesOf);
  if ("any" in condition) return condition.any.flatMap(namesOf);
  if ("not" in condition) return namesOf(condition.not);
  return [condition.name];
}

describe("the rules together", () => {
  it("have an id each", () => {
    const ids = rules.map(({ id }) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
  });

  it("do not say the same thing twice", () => {
    const seen = new Map<string, string>();
    const twice = rules.flatMap((rule) => {
      const key = JSON.stringify([rule.stratum, rule.subject, plain(rule.conditions), rule.concludes]);
      const before = seen.get(key);
      seen.set(key, rule.id);
      return before === undefined ? [] : [`${rule.id} repeats ${before}`];
    });
    expect(twice).toEqual([]);
  });

  it("use every source, and cite sources that exist", () => {
    const cited = new Set(rules.map((rule) => rule.source.ref));
    expect([...cited].sort()).toEqual(Object.keys(sources).sort());
  });

  it("do not lend the authority of a document to a judgement", () => {
    for (const { id, source } of rules) {
      const kind = sources[source.ref]?.kind;
      // Practice states nothing anywhere that could be looked up.
      if (kind === "common-practice") expect(source.supports, id).toBe("our-judgement");
      else if (source.supports !== "states-it") expect(source.note, id).toBeDefined();
    }
  });

  it("do not claim that a text was read which was not", () => {
    for (const [ref, source] of Object.entries(sources)) {
      expect(source.read === "not-applicable", ref).toBe(source.kind === "common-practice");
      expect(source.checkedOn === null, ref).toBe(source.kind === "common-practice");
    }
  });

  it("waive nothing: what practice asks for, only a document can take away", () => {
    expect(of("waivers")).toEqual([]);
    expect(rules.filter((rule) => (rule.exceptionTo ?? []).length > 0).map(({ id }) => id)).toEqual([]);
  });

  it("refer to one another by ids that exist", () => {
    const ids = new Set(rules.map(({ id }) => id));
    const named = rules.flatMap((rule) => (rule.replacedBy === undefined ? [] : [rule.replacedBy]));
    expect(named.filter((id) => !ids.has(id))).toEqual([]);
  });
});

/** A condition without its sentences, with the order of parts and values taken away. */
function plain(condition: Condition): unknown {
  if ("all" in condition) return { all: sorted(condition.all.map(plain)) };
  if ("any" in condition) return { any: sorted(condition.any.map(plain)) };
  if ("not" in condition) return { not: plain(condition.not) };
  const { fact, operator, value } = condition;
  return { fact, operator, value: Array.isArray(value) ? sorted(value) : value };
}

function sorted(values: readonly unknown[]): readonly unknown[] {
  const keyed = values.map((value) => ({ value, key: JSON.stringify(value) }));
  return keyed.sort((a, b) => (a.key < b.key ? -1 : 1)).map(({ value }) => value);
}

describe("every word of the vocabulary is used", () => {
  const disturbing = of("disturbances").filter(inForce);
  const requiring = of("requirements").filter(inForce);

  it.each(DISTURBANCE_IDS)("%s is concluded by a rule and asks for something", (disturbance) => {
    expect(disturbing.some(({ concludes }) => concludes.disturbance === disturbance)).toBe(true);
    const asking = requiring.filter((rule) => admits(rule, "disturbance", disturbance));
    expect(asking.map(({ id }) => id)).not.toEqual([]);
  });

  it("every requirement rule names the disturbances that it is about", () => {
    // A rule about any disturbance at all would make "nothing is due" impossible to reach.
    const vague = requiring.filter((rule) => valuesNeeded(rule.conditions, "disturbance") === null);
    expect(vague.map(({ id }) => id)).toEqual([]);
  });

  it.each(SENSOR_IDS)("something can be due for a %s", (sensor) => {
    const asking = requiring.filter((rule) => admits(rule, "sensor", sensor));
    expect(asking.some(({ concludes }) => concludes.standing === "required")).toBe(true);
  });

  it.each(HOLD_IDS)("the hold %s is concluded by a rule", (hold) => {
    expect(of("holds").some((rule) => inForce(rule) && rule.concludes.hold === hold)).toBe(true);
  });

  it.each(PRECONDITION_IDS)("the precondition %s is concluded by a rule", (precondition) => {
    const found = of("preconditions").some(
      (rule) => inForce(rule) && rule.concludes.precondition === precondition,
    );
    expect(found).toBe(true);
  });

  it.each(EVIDENCE_IDS)("the evidence %s is concluded by a rule", (evidence) => {
    expect(of("evidence").some((rule) => inForce(rule) && rule.concludes.evidence === evidence)).toBe(true);
  });

  it.each(INSPECTION_IDS)("the inspection %s is asked for by a rule", (inspection) => {
    expect(requiring.some(({ concludes }) => concludes.inspection === inspection)).toBe(true);
  });

  it.each(TASK_IDS)("the task %s is due by a rule or by a sensor's nature", (task) => {
    const owns = SENSOR_IDS.some((sensor) => SENSORS[sensor].task === task);
    expect(owns || requiring.some(({ concludes }) => concludes.task === task)).toBe(true);
  });

  const STAGES_OF_REQUIREMENTS = "the step of a requirement stands here, not one that work alone brings";
  const STAGES_OF_INSPECTIONS = "the inspection of a requirement stands here";
  /** Stages that no rule of the stratum "steps" concludes, each with the reason. */
  const STAGES_WITHOUT_A_RULE: Readonly<Partial<Record<StageId, string>>> = {
    "static-calibration": STAGES_OF_REQUIREMENTS,
    "dynamic-calibration": STAGES_OF_REQUIREMENTS,
    "calibration-method-open": STAGES_OF_REQUIREMENTS,
    "steering-angle-zero-point": STAGES_OF_REQUIREMENTS,
    "other-zero-points": STAGES_OF_REQUIREMENTS,
    "occupant-zero-point": STAGES_OF_REQUIREMENTS,
    "tyre-pressure-task": STAGES_OF_REQUIREMENTS,
    "ride-height-initialisation": STAGES_OF_REQUIREMENTS,
    "initialisation-other": STAGES_OF_REQUIREMENTS,
    "image-adjustment": STAGES_OF_REQUIREMENTS,
    "function-check": STAGES_OF_REQUIREMENTS,
    "film-thickness-reading": STAGES_OF_INSPECTIONS,
    "mount-inspection": STAGES_OF_INSPECTIONS,
    "view-inspection": STAGES_OF_INSPECTIONS,
    "image-inspection": STAGES_OF_INSPECTIONS,
  };

  it.each(STAGE_IDS)("the stage %s is concluded by a rule, and has its place in the order", (stage) => {
    const concluded = of("steps").some((rule) => inForce(rule) && rule.concludes.stage === stage);
    expect(concluded).toBe(STAGES_WITHOUT_A_RULE[stage] === undefined);
    const ordering = of("order").filter(
      ({ conditions }) =>
        valuesNeeded(conditions, "earlier")?.has(stage) === true ||
        valuesNeeded(conditions, "later")?.has(stage) === true,
    );
    expect(ordering.map(({ id }) => id)).not.toEqual([]);
  });

  /** Facts that no rule of the bundled pack reads, each with the reason. */
  const FACTS_FOR_OTHERS: Readonly<Partial<Record<FactName, string>>> = {
    side: "rules compare sides by sameSide; a maker's rule may speak of the left one alone",
    impactZone: "rules compare zones by inZone; a maker's rule may speak of one zone alone",
  };

  it.each(FACT_NAMES)("the fact %s is read by a rule, or kept for makers' rules with a reason", (fact) => {
    const isRead = rules.some((rule) => factsIn(rule.conditions).includes(fact));
    expect(isRead).toBe(FACTS_FOR_OTHERS[fact] === undefined);
    expect(FACTS[fact].meaning).toMatch(/\.$/);
  });

  it("no stratum is without the form of its conclusion", () => {
    expect(Object.keys(CONCLUSIONS)).toEqual([...STRATA]);
  });
});

function factsIn(condition: Condition): readonly string[] {
  if ("all" in condition) return condition.all.flatMap(factsIn);
  if ("any" in condition) return condition.any.flatMap(factsIn);
  if ("not" in condition) return factsIn(condition.not);
  return [condition.fact];
}

describe("requirement rules ask only for what a sensor can need", () => {
  const looks: readonly Task[] = ["calibration", "function-check"];
  const zero: readonly Task[] = ["zero-point-reset", "function-check"];
  /** What can be done to each sensor at all: a radar has no beam to aim at a wall, a headlamp no target. */
  const POSSIBLE: Readonly<Record<SensorId, readonly Task[]>> = {
    "forward-camera": looks,
    "front-radar": looks,
    "front-corner-radar": looks,
    "rear-corner-radar": looks,
    lidar: looks,
    "night-vision-camera": looks,
    "surround-camera": looks,
    "rear-camera": looks,
    "side-camera": looks,
    "rear-window-camera": looks,
    "mirror-replacement-camera": looks,
    "driver-monitoring-camera": looks,
    "parking-sensors": ["function-check"],
    "steering-angle-sensor": zero,
    "inertial-sensor": zero,
    "steering-torque-sensor": zero,
    "occupant-classification-sensor": zero,
    "ride-height-sensor": ["initialisation", "function-check"],
    "adaptive-headlamp": ["aim", "initialisation", "function-check"],
    "head-up-display": ["image-adjustment", "function-check"],
    "rain-light-sensor": ["initialisation", "function-check"],
    "tyre-pressure-sensors": ["relearn", "initialisation", "function-check"],
  };

  it.each(SENSOR_IDS)("the default task of a %s is one of them", (sensor) => {
    expect(POSSIBLE[sensor]).toContain(SENSORS[sensor].task);
  });

  it.each(of("requirements"))("$id", (rule) => {
    const { task } = rule.concludes;
    if (task === "own") return;
    const impossible = SENSOR_IDS.filter(
      (sensor) => admits(rule, "sensor", sensor) && !POSSIBLE[sensor].includes(task),
    );
    expect(impossible).toEqual([]);
  });
});
