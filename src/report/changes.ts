import { leavesOf } from "../logic/index.js";
import type { Plan, Requirement } from "../plan/index.js";
import type { CheckedPack, Rule } from "../rulebook/index.js";
import { METHODS, STANDINGS, capital } from "../vocabulary/index.js";
import { comparisonOf, concludeInWords } from "./rule.js";
import { count, nameOfRequirement } from "./words.js";

/** What became of one rule between two packs, each change as a sentence. */
export interface RuleChange {
  readonly id: string;
  readonly says: readonly string[];
}

/** What differs between two packs of rules. */
export interface PackChanges {
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly changed: readonly RuleChange[];
}

/** Compares two packs rule by rule; lists are sorted by rule id. */
export function comparePacks(before: CheckedPack, after: CheckedPack): PackChanges {
  const old = new Map(before.rules.map((rule) => [rule.id, rule]));
  const now = new Map(after.rules.map((rule) => [rule.id, rule]));
  return {
    added: [...now.keys()].filter((id) => !old.has(id)).sort(),
    removed: [...old.keys()].filter((id) => !now.has(id)).sort(),
    changed: [...now]
      .flatMap(([id, rule]): readonly RuleChange[] => {
        const earlier = old.get(id);
        if (earlier === undefined) return [];
        const says = [...compareRules(earlier, rule), ...compareSources(before, after, earlier, rule)];
        return says.length === 0 ? [] : [{ id, says }];
      })
      .sort((a, b) => (a.id < b.id ? -1 : 1)),
  };
}

function compareRules(before: Rule, after: Rule): readonly string[] {
  const field = (name: string, a: string | undefined, b: string | undefined): readonly string[] =>
    a === b ? [] : [`${name}: was ${quote(a)}, is ${quote(b)}.`];
  return [
    ...field("Status", before.status, after.status),
    ...field("Stratum", before.stratum, after.stratum),
    ...field("Conclusion", concludeInWords(before).join(" "), concludeInWords(after).join(" ")),
    ...compareConditions(before, after),
    ...field("Asked of", before.subject, after.subject),
    ...field("Strength", before.strength, after.strength),
    ...compareLists("exception", before.exceptionTo ?? [], after.exceptionTo ?? []),
    ...field("Title", before.title, after.title),
    ...field("Mechanism", before.because, after.because),
    ...field("Source", sourceOf(before), sourceOf(after)),
    ...field("Replaced by", before.replacedBy, after.replacedBy),
    ...compareLists("assumption", before.assumptions, after.assumptions),
    ...compareLists("limit of what it says", before.doesNotSay, after.doesNotSay),
    ...field("Since", before.since, after.since),
    ...field("Revised", before.revised, after.revised),
    ...compareExamples(before, after),
  ];
}

function quote(text: string | undefined): string {
  return text === undefined ? "not stated" : JSON.stringify(text);
}

function sourceOf({ source }: Rule): string {
  return [source.ref, source.section ?? "no section", source.supports, source.note ?? ""].join(", ");
}

/** The document behind a rule can change while the rule still names it by the same word. */
function compareSources(before: CheckedPack, after: CheckedPack, old: Rule, now: Rule): readonly string[] {
  const a = write(before.sources[old.source.ref]);
  const b = write(after.sources[now.source.ref]);
  return old.source.ref !== now.source.ref || a === b
    ? []
    : [`What the source "${now.source.ref}" stands for changed.`];
}

function compareConditions(before: Rule, after: Rule): readonly string[] {
  const sayLeaves = (rule: Rule): readonly string[] =>
    leavesOf(rule.conditions).map((leaf) => `${leaf.name} (${comparisonOf(leaf)})`);
  const changes = compareLists("condition", sayLeaves(before), sayLeaves(after));
  if (changes.length > 0) return changes;
  return write(before.conditions) === write(after.conditions)
    ? []
    : ["The same conditions are joined in another way (all, any, not, or their order)."];
}

/** The bundled pack holds no examples, so nothing can be said of them where one side has none. */
function compareExamples(before: Rule, after: Rule): readonly string[] {
  if (before.examples.fires.length === 0 || after.examples.fires.length === 0) return [];
  return write(before.examples) === write(after.examples) ? [] : ["Its examples changed."];
}

function compareLists(what: string, before: readonly string[], after: readonly string[]): readonly string[] {
  return [
    ...before.filter((each) => !after.includes(each)).map((each) => `No longer a ${what}: ${quote(each)}.`),
    ...after.filter((each) => !before.includes(each)).map((each) => `New ${what}: ${quote(each)}.`),
  ];
}

/** A value as text in which the order of keys does not matter. */
function write(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(write).join()}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, each]) => `${JSON.stringify(key)}:${write(each)}`).join()}}`;
  }
  return value === undefined ? "" : JSON.stringify(value);
}

/** Compares two plans of one job requirement by requirement; each difference is a sentence. */
export function comparePlans(before: Plan, after: Plan): readonly string[] {
  const old = new Map(before.requirements.map((each) => [each.id, each]));
  const now = new Map(after.requirements.map((each) => [each.id, each]));
  const ids = [...new Set([...old.keys(), ...now.keys()])].sort();
  return [
    ...ids.flatMap((id) => compareRequirement(id, old.get(id), now.get(id))),
    ...(before.outcome === after.outcome
      ? []
      : [`The outcome was ${before.outcome}, and is ${after.outcome}.`]),
    ...(before.questions.length === after.questions.length
      ? []
      : [
          `${capital(count(before.questions.length, "question"))} stood open, and ${after.questions.length} ${after.questions.length === 1 ? "does" : "do"} now.`,
        ]),
  ];
}

function compareRequirement(
  id: string,
  before: Requirement | undefined,
  after: Requirement | undefined,
): readonly string[] {
  const name = capital(nameOfRequirement(id));
  if (before === undefined && after === undefined) return [];
  if (before === undefined) {
    return after === undefined ? [] : [`${name} is new: ${STANDINGS[after.standing].label}.`];
  }
  if (after === undefined) return [`${name} is gone; it was ${STANDINGS[before.standing].label}.`];
  const changed = (what: string, a: string, b: string): readonly string[] =>
    a === b ? [] : [`${name}: ${what} was ${a}, and is ${b}.`];
  const rise = ({ couldRiseTo }: Requirement): string =>
    couldRiseTo === null ? "nothing firmer" : STANDINGS[couldRiseTo].label;
  const listed = (ids: readonly string[]): string => (ids.length === 0 ? "none" : ids.join(", "));
  return [
    ...changed("the standing", STANDINGS[before.standing].label, STANDINGS[after.standing].label),
    ...changed("what it could rise to", rise(before), rise(after)),
    ...changed("the method", METHODS[before.method.value].label, METHODS[after.method.value].label),
    ...changed(
      "the inspection",
      listed((before.inspection ?? []).map((each) => each.id)),
      listed((after.inspection ?? []).map((each) => each.id)),
    ),
    ...changed(
      "the list of holds",
      listed(before.holds.map((each) => each.id)),
      listed(after.holds.map((each) => each.id)),
    ),
    ...changed("the list of preconditions", listed(before.preconditions), listed(after.preconditions)),
    ...changed("the list of records", listed(before.evidence), listed(after.evidence)),
  ];
}
