import { nearestOf, type ErrorCode, type Issue } from "../errors.js";
import {
  FALSE,
  TRUE,
  UNKNOWN,
  compileCondition,
  inNegationNormalForm,
  known,
  leavesOf,
  nameOfTruth,
  shapeOf,
  unbounded,
  type Condition,
  type Datum,
  type Leaf,
  type Truth,
} from "../logic/index.js";
import { describeValue } from "../shapes/index.js";
import { STANDING_IDS } from "../vocabulary/index.js";
import { FACTS, factsOf, isFactName, type FactSpec, type Subject } from "./fact-catalogue.js";
import { SUBJECTS_OF, type Rule } from "./rule.js";

/**
 * Holds one rule, of the right shape, against what the catalogue of facts allows: every fact belongs to the
 * subject, every value is one that the fact can take. Returns what is wrong; pointers are into the rule file.
 */
export function checkMeaning(rule: Rule, file: string): readonly Issue[] {
  const subject = checkSubject(rule, file);
  // Of the wrong subject, nothing that the conditions ask would be right.
  if (subject.length > 0) return subject;
  return [
    ...checkLeaves(rule.conditions, rule.subject, file),
    ...checkGrowth(rule, file),
    ...checkConclusion(rule, file),
    ...checkExampleShape(rule, file),
  ];
}

function issue(
  code: ErrorCode,
  file: string,
  pointer: string,
  message: string,
  more: { expected?: string; nearest?: string | undefined } = {},
): Issue {
  const { expected, nearest } = more;
  return {
    code,
    file,
    pointer,
    message,
    ...(expected === undefined ? {} : { expected }),
    ...(nearest === undefined ? {} : { nearest }),
  };
}

function checkSubject(rule: Rule, file: string): readonly Issue[] {
  const allowed = SUBJECTS_OF[rule.stratum];
  if (allowed.includes(rule.subject)) return [];
  return [
    issue(
      "rule-shape",
      file,
      "/subject",
      `a rule of the stratum ${rule.stratum} is not asked of a ${rule.subject}`,
      {
        expected: allowed.join(" or "),
      },
    ),
  ];
}

function checkLeaves(condition: Condition, subject: Subject, file: string): readonly Issue[] {
  return walk(condition, "/conditions").flatMap(({ leaf, pointer }) =>
    checkLeaf(leaf, pointer, subject, file),
  );
}

function walk(condition: Condition, pointer: string): readonly { leaf: Leaf; pointer: string }[] {
  if ("all" in condition) return condition.all.flatMap((part, i) => walk(part, `${pointer}/all/${i}`));
  if ("any" in condition) return condition.any.flatMap((part, i) => walk(part, `${pointer}/any/${i}`));
  if ("not" in condition) return walk(condition.not, `${pointer}/not`);
  return [{ leaf: condition, pointer }];
}

function checkLeaf(leaf: Leaf, pointer: string, subject: Subject, file: string): readonly Issue[] {
  const here = factsOf(subject);
  if (!isFactName(leaf.fact) || !here.includes(leaf.fact)) {
    return [
      issue("rule-unknown-fact", file, `${pointer}/fact`, `a ${subject} has no fact "${leaf.fact}"`, {
        nearest: nearestOf(leaf.fact, here),
      }),
    ];
  }
  const spec: FactSpec = FACTS[leaf.fact];
  const wrong = mismatch(leaf, spec);
  if (wrong !== null) return [issue("rule-wrong-value", file, `${pointer}/operator`, wrong)];
  const strangers = [leaf.value]
    .flat()
    .filter((value) => spec.values !== null && !spec.values.includes(value));
  const unknown = strangers.map((value) =>
    issue(
      "rule-wrong-value",
      file,
      `${pointer}/value`,
      `the fact "${leaf.fact}" is never ${describeValue(value)}`,
      { nearest: nearestOf(String(value), (spec.values ?? []).map(String)) },
    ),
  );
  return [...unknown, ...checkStandingLeaf(leaf, pointer, file)];
}

function mismatch(leaf: Leaf, spec: FactSpec): string | null {
  const isList = Array.isArray(leaf.value);
  switch (shapeOf(leaf.operator)) {
    case "one-with-one":
      if (spec.type === "list")
        return `"${leaf.operator}" compares single values, but "${leaf.fact}" is a list`;
      return isList ? `"${leaf.operator}" compares with one value, not with a list` : null;
    case "one-with-list":
      if (spec.type === "list")
        return `"${leaf.operator}" asks for a single value, but "${leaf.fact}" is a list`;
      return isList ? null : `"${leaf.operator}" compares with a list of values`;
    case "list-with-one":
      if (spec.type !== "list")
        return `"${leaf.operator}" asks for a list, but "${leaf.fact}" is a single value`;
      return isList ? `"${leaf.operator}" looks for one value, not for a list` : null;
    case "numbers":
      if (spec.type !== "number") return `"${leaf.operator}" compares numbers, but "${leaf.fact}" is not one`;
      return typeof leaf.value === "number" ? null : `"${leaf.operator}" compares with a number`;
  }
}

/**
 * A standing can rise while conclusions are drawn, so a rule may only ask whether it has reached a level:
 * otherwise the answer would depend on the order in which rules were asked.
 */
function checkStandingLeaf(leaf: Leaf, pointer: string, file: string): readonly Issue[] {
  if (leaf.fact !== "standing") return [];
  const values = [leaf.value].flat();
  const reached = STANDING_IDS.slice(0, values.length);
  const isLevel =
    (leaf.operator === "in" || leaf.operator === "equal") && reached.every((each) => values.includes(each));
  if (isLevel) return [];
  return [
    issue("rule-wrong-value", file, `${pointer}/value`, "a condition on the standing asks for a level", {
      expected: 'the strongest standings up to one, such as in ["required", "presumed"]',
    }),
  ];
}

/** What is concluded of a requirement while conclusions are still drawn: lists that only grow. */
const GROWING: readonly string[] = ["standing", "disturbances", "causeComponents", "causeActions", "causes"];

/**
 * A rule that draws work from a requirement is asked while the requirement still grows, so it may not rest on what is
 * not there yet: the answer would depend on when it was asked.
 */
function checkGrowth(rule: Rule, file: string): readonly Issue[] {
  if (rule.stratum !== "implied-operations" || rule.subject !== "requirement") return [];
  return walk(inNegationNormalForm(rule.conditions), "/conditions").flatMap(({ leaf }) =>
    GROWING.includes(leaf.fact) && !["in", "equal", "contains"].includes(leaf.operator)
      ? [
          issue(
            "rule-wrong-value",
            file,
            "/conditions",
            `the rule draws work from a requirement and asks what its "${leaf.fact}" does not hold`,
            { expected: "a condition on what it does hold, since more can come while conclusions are drawn" },
          ),
        ]
      : [],
  );
}

function checkConclusion(rule: Rule, file: string): readonly Issue[] {
  const found: Issue[] = [];
  if ((rule.stratum === "implied-operations") !== (rule.strength !== undefined)) {
    found.push(
      issue(
        "rule-shape",
        file,
        "/strength",
        rule.strength === undefined
          ? "a rule that implies an operation says how surely it does"
          : "only a rule that implies an operation has a strength",
        { expected: "certain or possible, for implied operations only" },
      ),
    );
  }
  if (rule.stratum === "requirements") {
    const isInspect = rule.concludes.standing === "inspect-first";
    if (isInspect !== (rule.concludes.inspection !== undefined)) {
      found.push(
        issue(
          "rule-shape",
          file,
          "/concludes/inspection",
          isInspect ? "inspect-first needs the inspection to do" : "only inspect-first has an inspection",
        ),
      );
    }
  }
  if ((rule.status === "withdrawn") !== (rule.replacedBy !== undefined) && rule.replacedBy !== undefined) {
    found.push(issue("rule-shape", file, "/replacedBy", "only a withdrawn rule is replaced by another"));
  }
  return found;
}

function checkExampleShape(rule: Rule, file: string): readonly Issue[] {
  const { fires, staysSilent, cannotTell } = rule.examples;
  const found: Issue[] = [];
  staysSilent.forEach((example, index) => {
    const pointer = `/examples/staysSilent/${index}`;
    if (Object.keys(example.but).length !== 1) {
      found.push(
        issue(
          "rule-example-broken",
          file,
          `${pointer}/but`,
          "a silent example differs from a firing one in exactly one fact",
        ),
      );
    }
    if (fires[example.like] === undefined) found.push(noSuchExample(file, pointer));
  });
  cannotTell.forEach((example, index) => {
    if (fires[example.like] === undefined) found.push(noSuchExample(file, `/examples/cannotTell/${index}`));
  });
  return found;
}

function noSuchExample(file: string, pointer: string): Issue {
  return issue("rule-example-broken", file, `${pointer}/like`, "there is no firing example with this number");
}

type Facts = Readonly<Record<string, Datum | undefined>>;

/**
 * Runs a rule's own examples: those that should fire, those that should stay silent, and those in which it
 * can't tell and asks for the fact that is unknown. Returns one issue for each that does otherwise.
 */
export function checkExamples(rule: Rule, file: string): readonly Issue[] {
  const asks = compileCondition<Facts, string>(rule.conditions, (fact) => (facts) => {
    const value = facts[fact];
    return value === undefined ? unbounded(fact) : known(value);
  });
  const found: Issue[] = [];
  const expectTruth = (facts: Facts, expected: Truth, pointer: string): void => {
    const actual = asks.evaluate(facts);
    if (actual === expected) return;
    const open = asks.unknowns(facts);
    const because = open.length > 0 ? ` (it asks for ${open.join(", ")})` : "";
    found.push(
      issue(
        "rule-example-broken",
        file,
        pointer,
        `the rule ${verb(actual)} here${because}, but the example says that it ${verb(expected)}`,
      ),
    );
  };
  const read = new Set(leavesOf(rule.conditions).map((leaf) => leaf.fact));
  const checkNames = (facts: Facts, pointer: string): void => {
    for (const [name, value] of Object.entries(facts)) {
      if (!read.has(name)) {
        found.push(
          issue(
            "rule-example-broken",
            file,
            `${pointer}/${name}`,
            `no condition of the rule reads "${name}"`,
            {
              nearest: nearestOf(name, [...read]),
            },
          ),
        );
        continue;
      }
      if (!isFactName(name)) continue;
      const spec: FactSpec = FACTS[name];
      for (const each of [value].flat()) {
        if (each !== undefined && spec.values !== null && !spec.values.includes(each)) {
          found.push(
            issue(
              "rule-example-broken",
              file,
              `${pointer}/${name}`,
              `"${name}" is never ${describeValue(each)}`,
              {
                nearest: nearestOf(String(each), spec.values.map(String)),
              },
            ),
          );
        }
      }
    }
  };
  rule.examples.fires.forEach((example, index) => {
    checkNames(example.facts, `/examples/fires/${index}/facts`);
    expectTruth(example.facts, TRUE, `/examples/fires/${index}`);
  });
  rule.examples.staysSilent.forEach((example, index) => {
    const base = rule.examples.fires[example.like];
    if (base === undefined) return;
    checkNames(example.but, `/examples/staysSilent/${index}/but`);
    expectTruth({ ...base.facts, ...example.but }, FALSE, `/examples/staysSilent/${index}`);
  });
  rule.examples.cannotTell.forEach((example, index) => {
    const base = rule.examples.fires[example.like];
    if (base === undefined) return;
    expectTruth({ ...base.facts, [example.unknown]: undefined }, UNKNOWN, `/examples/cannotTell/${index}`);
  });
  return found;
}

function verb(truth: Truth): string {
  switch (nameOfTruth(truth)) {
    case "true":
      return "fires";
    case "false":
      return "stays silent";
    case "unknown":
      return "cannot tell";
  }
}
