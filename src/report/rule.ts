import type { Condition, Leaf } from "../logic/index.js";
import { STRATA, type LoadedRule, type Rule } from "../rulebook/index.js";
import {
  DISTURBANCES,
  EVIDENCE,
  HOLDS,
  INSPECTIONS,
  PRECONDITIONS,
  STAGES,
  STANDINGS,
  TASKS,
  capital,
} from "../vocabulary/index.js";
import { EMPTY_LINE, joinLines, pageWidth, paragraph, type Line, type Styler } from "./layout.js";
import { nameOfSource, nameOfWork, sentence } from "./words.js";

/** How a rule is to look. */
export interface RuleOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  readonly styler?: Styler | undefined;
}

/** Writes all of a rule in words: mechanism, conditions, conclusion, source, limits and examples. */
export function renderRule(loaded: LoadedRule, options: RuleOptions = {}): string {
  const width = pageWidth(options.width);
  const { rule, source, pack } = loaded;
  const head = (text: string): readonly Line[] => [
    EMPTY_LINE,
    ...paragraph(text.toUpperCase(), { width, role: "heading" }),
  ];
  const body = (text: string, indent = 2): readonly Line[] => paragraph(text, { width, indent });
  const items = (texts: readonly string[]): readonly Line[] =>
    texts.flatMap((text) => paragraph(text, { width, indent: 2, lead: "- " }));
  const citation = {
    kind: source.kind,
    cite: source.cite,
    section: rule.source.section,
    supports: rule.source.supports,
    read: source.read,
  };
  const lines = [
    ...paragraph(rule.title, { width, role: "title" }),
    ...body(rule.id, 0),
    ...body(`${capital(rule.stratum.replaceAll("-", " "))}, pack ${pack}, asked of: ${rule.subject}`, 0),
    ...body(statusOf(rule), 0),
    ...head("Why"),
    ...body(rule.because),
    ...head("When"),
    ...writeCondition(rule.conditions, width, 0),
    ...head("Then"),
    ...concludeInWords(rule).flatMap((text) => body(text)),
    ...(rule.exceptionTo === undefined ? [] : body(`It is an exception to ${rule.exceptionTo.join(", ")}.`)),
    ...head("Source"),
    ...body(capital(sentence(nameOfSource(citation)))),
    ...body(SUPPORTS[rule.source.supports]),
    ...(source.checkedOn === null ? [] : body(`Looked up on ${source.checkedOn}.`)),
    ...(rule.source.note === undefined ? [] : body(rule.source.note)),
    ...(rule.assumptions.length === 0 ? [] : [...head("It assumes"), ...items(rule.assumptions)]),
    ...head("It does not say"),
    ...items(rule.doesNotSay),
    ...writeExamples(rule, width, head),
  ];
  return joinLines(lines, options.styler);
}

/** Writes rules as a list, grouped by stratum: id, title, kind of source, and status where it is not settled. */
export function renderRuleList(rules: readonly LoadedRule[], options: RuleOptions = {}): string {
  const width = pageWidth(options.width);
  const lines = STRATA.flatMap((stratum) => {
    const members = rules.filter(({ rule }) => rule.stratum === stratum);
    if (members.length === 0) return [];
    return [
      ...paragraph(`${stratum.replaceAll("-", " ").toUpperCase()} (${members.length})`, {
        width,
        role: "heading",
      }),
      ...members.flatMap(({ rule, source }) => [
        ...paragraph(rule.id, { width, indent: 2 }),
        ...paragraph(
          `${rule.title} [${source.kind.replaceAll("-", " ")}${rule.status === "settled" ? "" : `; ${rule.status}`}]`,
          { width, indent: 4, role: "faint" },
        ),
      ]),
      EMPTY_LINE,
    ];
  });
  return joinLines(lines.slice(0, -1), options.styler);
}

const SUPPORTS: Readonly<Record<Rule["source"]["supports"], string>> = {
  "states-it": "The source states it.",
  "implies-it": "The source implies it and does not state it.",
  "our-judgement": "It is the judgement of the authors of the rule.",
};

function statusOf(rule: Rule): string {
  const revised = rule.revised === undefined ? "" : `, revised in ${rule.revised}`;
  const replaced = rule.replacedBy === undefined ? "" : `, replaced by ${rule.replacedBy}`;
  return `${capital(rule.status)}, since ${rule.since}${revised}${replaced}`;
}

const BRANCHES = {
  all: "All of these hold:",
  any: "At least one of these holds:",
  not: "This does not hold:",
} as const;

function writeCondition(condition: Condition, width: number, depth: number): readonly Line[] {
  const indent = 2 + 2 * Math.min(depth, 10);
  const branch = (kind: keyof typeof BRANCHES, parts: readonly Condition[]): readonly Line[] => [
    ...paragraph(BRANCHES[kind], { width, indent }),
    ...parts.flatMap((part) => writeCondition(part, width, depth + 1)),
  ];
  if ("all" in condition) return branch("all", condition.all);
  if ("any" in condition) return branch("any", condition.any);
  if ("not" in condition) return branch("not", [condition.not]);
  return paragraph(`${condition.name} (${comparisonOf(condition)})`, { width, indent, lead: "- " });
}

const COMPARISONS: Readonly<Record<Leaf["operator"], string>> = {
  equal: "is",
  notEqual: "is not",
  in: "is one of",
  notIn: "is none of",
  contains: "contains",
  doesNotContain: "does not contain",
  lessThan: "is less than",
  lessThanInclusive: "is at most",
  greaterThan: "is more than",
  greaterThanInclusive: "is at least",
};

/** A leaf as fact, comparison and value: "action is replace". */
export function comparisonOf(leaf: Leaf): string {
  return `${leaf.fact} ${COMPARISONS[leaf.operator]} ${[leaf.value].flat().join(", ")}`;
}

/** What a rule concludes, in words. */
export function concludeInWords(rule: Rule): readonly string[] {
  switch (rule.stratum) {
    case "implied-operations": {
      const { action, component, side, axle, adjusted } = rule.concludes.operation;
      const part =
        component === "carried-parts"
          ? "what the part carries"
          : component === "the-sensor"
            ? "the sensor"
            : component;
      const places = [side, axle].filter((each) => each !== undefined);
      const where = places.length === 0 ? "" : ` (place: ${places.join(", ")})`;
      const adjusts = adjusted === undefined ? "" : ` Adjusted: ${[adjusted].flat().join(", ")}.`;
      const strength = rule.strength === "possible" ? "on some vehicles" : "always";
      return [`It implies, ${strength}: ${nameOfWork({ action, component: part })}${where}.${adjusts}`];
    }
    case "disturbances": {
      const term = DISTURBANCES[rule.concludes.disturbance];
      return [`${capital(term.label)}: ${term.meaning}`];
    }
    case "requirements": {
      const { task, standing, inspection } = rule.concludes;
      const what = task === "own" ? "The sensor's own task" : capital(TASKS[task].label);
      return [
        `${what} is due: ${STANDINGS[standing].label}.`,
        ...(inspection === undefined
          ? []
          : [
              `Look at: ${INSPECTIONS[inspection].lookAt}`,
              `It fails when: ${INSPECTIONS[inspection].failsWhen}`,
            ]),
      ];
    }
    case "waivers":
      return [`It takes away what these rules ask: ${rule.concludes.waives.join(", ")}.`];
    case "holds": {
      const term = HOLDS[rule.concludes.hold];
      return [`Hold, ${term.label}: ${term.meaning}`, `Cleared by: ${term.clearedBy}`];
    }
    case "preconditions": {
      const term = PRECONDITIONS[rule.concludes.precondition];
      return [`Before it, ${term.label}: ${term.meaning}`];
    }
    case "evidence": {
      const term = EVIDENCE[rule.concludes.evidence];
      return [`To be recorded, ${term.label}: ${term.meaning}`];
    }
    case "steps": {
      const term = STAGES[rule.concludes.stage];
      return [`The job has the step "${term.label}": ${term.meaning}`];
    }
    case "order":
      return ["The earlier stage comes before the later one."];
  }
}

function writeExamples(rule: Rule, width: number, head: (text: string) => readonly Line[]): readonly Line[] {
  const { fires, staysSilent, cannotTell } = rule.examples;
  const example = (says: string, facts: string): readonly Line[] => [
    ...paragraph(says, { width, indent: 2, lead: "- " }),
    ...(facts === "" ? [] : paragraph(facts, { width, indent: 4, role: "faint" })),
  ];
  const factsOf = (facts: Readonly<Record<string, unknown>>): string =>
    Object.entries(facts)
      .map(([name, value]) => `${name}: ${Array.isArray(value) ? `[${value.join(", ")}]` : String(value)}`)
      .join("; ");
  return [
    ...(fires.length === 0 ? [] : head("It speaks, for one")),
    ...fires.flatMap(({ says, facts }, index) => example(`${index + 1}: ${says}`, factsOf(facts))),
    ...(staysSilent.length === 0 ? [] : head("It stays silent, for one")),
    ...staysSilent.flatMap(({ says, like, but }) => example(says, `As ${like + 1}, but ${factsOf(but)}`)),
    ...(cannotTell.length === 0 ? [] : head("It cannot tell, for one")),
    ...cannotTell.flatMap(({ says, like, unknown }) =>
      example(says, `As ${like + 1}, but ${unknown} is not known`),
    ),
  ];
}
