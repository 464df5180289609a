import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import { InputError, nearestOf, type Issue } from "../errors.js";
import { guardDocument, issuesOf } from "../shapes/index.js";
import { checkExamples, checkMeaning } from "./check.js";
import {
  packHeadShape,
  ruleShape,
  sourcesShape,
  type PackHead,
  type Rule,
  type SourceEntry,
  type Stratum,
  type RuleOf,
} from "./rule.js";
import { orderStages, type StageOrder } from "./stage-order.js";

/** A pack as its files hold it, read but not checked. */
export interface PackSource {
  /** The content of pack.json. */
  readonly head: unknown;
  /** The content of sources.json. */
  readonly sources: unknown;
  /** The rule files, with their paths as messages should name them. */
  readonly rules: readonly { readonly file: string; readonly content: unknown }[];
}

/** A pack that has passed every check. */
export interface CheckedPack {
  readonly head: PackHead;
  readonly digest: string;
  readonly sources: Readonly<Record<string, SourceEntry>>;
  readonly rules: readonly Rule[];
}

/** A rule with the pack it comes from and its source resolved. */
export interface LoadedRule<R extends Rule = Rule> {
  readonly rule: R;
  readonly pack: string;
  readonly source: SourceEntry;
}

/** The rules of all loaded packs, withdrawn and draft ones left out of `rules`. */
export interface Rulebook {
  readonly packs: readonly { readonly id: string; readonly version: string; readonly digest: string }[];
  /** Rules in force, sorted by id. */
  readonly rules: readonly LoadedRule[];
  /** Every rule, drafts and withdrawn ones too, by id. */
  readonly byId: ReadonlyMap<string, LoadedRule>;
  readonly heads: readonly PackHead[];
  /** The order of the stages of work. */
  readonly stageOrder: StageOrder;
  /** The packs that it was layered from. */
  readonly checked: readonly CheckedPack[];
}

/**
 * Checks a pack wholly: shape, meaning, references within the pack, and the examples of every rule.
 * Throws `InputError` of kind "rule-pack" with one issue for each thing that is wrong.
 */
export function checkPack(source: PackSource): CheckedPack {
  const issues: Issue[] = [];
  const harmful = [
    ...inFile("pack.json", guardDocument(source.head)),
    ...inFile("sources.json", guardDocument(source.sources)),
  ];
  if (harmful.length > 0) throw new InputError("rule-pack", harmful);
  const head = packHeadShape.safeParse(source.head);
  if (!head.success)
    issues.push(...inFile("pack.json", issuesOf(head.error, packHeadShape, source.head, "rule-shape")));
  const sources = sourcesShape.safeParse(source.sources);
  if (!sources.success) {
    issues.push(
      ...inFile("sources.json", issuesOf(sources.error, sourcesShape, source.sources, "rule-shape")),
    );
  }
  const rules: Rule[] = [];
  const fileOf = new Map<string, string>();
  for (const { file, content } of [...source.rules].sort((a, b) => (a.file < b.file ? -1 : 1))) {
    const obvious = [...inFile(file, guardDocument(content)), ...findOddConditions(content, file)];
    const missing = obvious.length > 0 ? obvious : findMissingExamples(content, file);
    if (missing.length > 0) {
      issues.push(...missing);
      continue;
    }
    const rule = ruleShape.safeParse(content);
    if (!rule.success) {
      issues.push(...inFile(file, issuesOf(rule.error, ruleShape, content, "rule-shape").map(nameLeafIssue)));
      continue;
    }
    const meaning = checkMeaning(rule.data, file);
    issues.push(...meaning, ...(meaning.length > 0 ? [] : checkExamples(rule.data, file)));
    issues.push(...checkName(rule.data, file, fileOf));
    if (sources.success && sources.data[rule.data.source.ref] === undefined) {
      issues.push({
        code: "rule-unknown-reference",
        file,
        pointer: "/source/ref",
        message: `sources.json of the pack has no source "${rule.data.source.ref}"`,
        ...nearest(rule.data.source.ref, Object.keys(sources.data)),
      });
    }
    if (sources.success) issues.push(...checkCitation(rule.data, sources.data, file));
    rules.push(rule.data);
  }
  if (issues.length > 0 || !head.success || !sources.success) throw new InputError("rule-pack", issues);
  return {
    head: head.data,
    sources: sources.data,
    rules: [...rules].sort(byId),
    digest: digestOf({ head: head.data, sources: sources.data, rules: [...rules].sort(byId) }),
  };
}

function inFile(file: string, issues: readonly Issue[]): readonly Issue[] {
  return issues.map((issue) => ({ ...issue, file }));
}

function nearest(word: string, among: readonly string[]): { nearest?: string } {
  const found = nearestOf(word, among);
  return found === undefined ? {} : { nearest: found };
}

const KINDS_OF_CONDITION = ["all", "any", "not", "fact"] as const;

/** A condition of no kind, or of two at once, would be told about as the wrong one of the four kinds that there are. */
function findOddConditions(content: unknown, file: string): readonly Issue[] {
  if (!isObject(content) || guardDocument(content).length > 0) return [];
  const walk = (condition: unknown, pointer: string): readonly Issue[] => {
    if (!isObject(condition)) return [];
    const kinds = KINDS_OF_CONDITION.filter((kind) => Object.hasOwn(condition, kind));
    if (kinds.length !== 1) {
      return [
        {
          code: "rule-shape",
          file,
          pointer,
          message:
            kinds.length === 0
              ? "this is no condition: it compares no fact and joins no others"
              : `this is more than one condition in one object: ${kinds.join(" and ")}`,
          expected: 'exactly one of "all", "any", "not" and "fact"',
        },
      ];
    }
    return (["all", "any", "not"] as const).flatMap((kind) => {
      const below = condition[kind];
      if (!Array.isArray(below)) return walk(below, `${pointer}/${kind}`);
      return below.flatMap((each, index) => walk(each, `${pointer}/${kind}/${index}`));
    });
  };
  return walk(content["conditions"], "/conditions");
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

/** Misspelt facts and operators get the codes of their own that the words in other places have no need of. */
function nameLeafIssue(issue: Issue): Issue {
  const leaf = /^\/conditions.*\/(fact|operator)$/.exec(issue.pointer)?.[1];
  const word = /^("(?:[^"\\]|\\.)*") is not in the list$/.exec(issue.message)?.[1];
  if (leaf === undefined || word === undefined) return issue;
  const { expected, ...rest } = issue;
  return leaf === "fact"
    ? { ...rest, code: "rule-unknown-fact", message: `there is no fact ${word}` }
    : {
        ...rest,
        code: "rule-unknown-operator",
        message: `there is no operator ${word}`,
        ...(expected === undefined ? {} : { expected }),
      };
}

/** A rule without its three lists of examples gets a sentence of its own, since that is the commonest omission. */
function findMissingExamples(content: unknown, file: string): readonly Issue[] {
  if (content === null || typeof content !== "object" || Array.isArray(content)) return [];
  const examples = (content as { readonly examples?: unknown }).examples;
  const lists = ["fires", "staysSilent", "cannotTell"] as const;
  return lists
    .filter((list) => {
      const value =
        examples !== null && typeof examples === "object"
          ? (examples as Readonly<Record<string, unknown>>)[list]
          : undefined;
      return value === undefined || (Array.isArray(value) && value.length === 0);
    })
    .map((list) => ({
      code: "rule-without-examples" as const,
      file,
      pointer: `/examples/${list}`,
      message: `the rule has no example under "${list}"`,
      expected: "at least one",
    }));
}

/** What practice asks for can't be waived by practice: only a document can, and the waiver says where it does. */
function checkCitation(
  rule: Rule,
  sources: Readonly<Record<string, SourceEntry>>,
  file: string,
): readonly Issue[] {
  const source = sources[rule.source.ref];
  if (rule.stratum !== "waivers" || source === undefined) return [];
  if (source.kind !== "common-practice" && rule.source.section !== null) return [];
  return [
    {
      code: "waiver-without-citation",
      file,
      pointer: "/source",
      message: `the waiver "${rule.id}" does not cite where its document permits it`,
      expected: "a source that is a document, and a section",
    },
  ];
}

function checkName(rule: Rule, file: string, fileOf: Map<string, string>): readonly Issue[] {
  const issues: Issue[] = [];
  const name = file
    .split("/")
    .at(-1)
    ?.replace(/\.json$/, "");
  if (name !== rule.id) {
    issues.push({
      code: "rule-shape",
      file,
      pointer: "/id",
      message: `the file holds the rule "${rule.id}"`,
      expected: `the file's own name, "${name ?? ""}"`,
    });
  }
  const other = fileOf.get(rule.id);
  if (other !== undefined) {
    issues.push({
      code: "rule-duplicate-id",
      file,
      pointer: "/id",
      message: `the id "${rule.id}" is taken by ${other}`,
    });
  }
  fileOf.set(rule.id, file);
  return issues;
}

function byId(a: { readonly id: string }, b: { readonly id: string }): number {
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

/**
 * Layers packs into one rulebook. Packs may come in any order.
 * Throws `InputError` of kind "rule-pack" where ids clash or a reference leads nowhere.
 */
export function layerPacks(packs: readonly CheckedPack[]): Rulebook {
  const issues: Issue[] = [];
  const sorted = [...packs].sort((a, b) => byId(a.head, b.head));
  const all = new Map<string, LoadedRule>();
  sorted.forEach((pack, index) => {
    if (sorted[index - 1]?.head.id === pack.head.id) {
      issues.push({
        code: "pack-conflict",
        pointer: "/id",
        message: `two packs carry the id "${pack.head.id}"`,
      });
    }
    for (const rule of pack.rules) {
      const taken = all.get(rule.id);
      if (taken !== undefined) {
        issues.push({
          code: "rule-duplicate-id",
          pointer: "/id",
          message: `the packs "${taken.pack}" and "${pack.head.id}" both hold a rule "${rule.id}"`,
        });
      }
      const source = pack.sources[rule.source.ref];
      if (source !== undefined) all.set(rule.id, { rule, pack: pack.head.id, source });
    }
  });
  const ids = [...all.keys()];
  for (const { rule, pack } of all.values()) {
    const named = [
      ...(rule.exceptionTo ?? []),
      ...(rule.replacedBy === undefined ? [] : [rule.replacedBy]),
      ...(rule.stratum === "waivers" ? rule.concludes.waives : []),
    ];
    for (const id of named) {
      if (all.has(id)) continue;
      issues.push({
        code: "rule-unknown-reference",
        pointer: "",
        message: `rule "${rule.id}" of pack "${pack}" names a rule "${id}" that no loaded pack holds`,
        ...nearest(id, ids),
      });
    }
  }
  issues.push(...findExceptionCircles(all));
  if (issues.length > 0) throw new InputError("rule-pack", issues);
  const rules = [...all.values()]
    .filter(({ rule }) => rule.status === "settled" || rule.status === "disputed")
    .sort((a, b) => byId(a.rule, b.rule));
  return {
    packs: sorted.map(({ head, digest }) => ({ id: head.id, version: head.version, digest })),
    rules,
    byId: all,
    heads: sorted.map(({ head }) => head),
    stageOrder: orderStages(rules.flatMap(({ rule }) => (rule.stratum === "order" ? [rule] : []))),
    checked: sorted,
  };
}

/** Of rules that take exception to one another in a circle none would be left, and what they ask for with it. */
function findExceptionCircles(all: ReadonlyMap<string, LoadedRule>): readonly Issue[] {
  const settled = new Set<string>();
  const issues: Issue[] = [];
  const follow = (id: string, path: readonly string[]): void => {
    if (settled.has(id)) return;
    const at = path.indexOf(id);
    if (at >= 0) {
      issues.push({
        code: "rule-cycle",
        pointer: "",
        message: `exceptions run in a circle: ${[...path.slice(at), id].map((each) => `"${each}"`).join(" to ")}`,
      });
      return;
    }
    for (const exception of all.get(id)?.rule.exceptionTo ?? []) follow(exception, [...path, id]);
    settled.add(id);
  };
  for (const id of [...all.keys()].sort()) follow(id, []);
  return issues;
}

/** The rules of one stratum that are in force, sorted by id. */
export function rulesOf<S extends Stratum>(rulebook: Rulebook, stratum: S): readonly LoadedRule<RuleOf<S>>[] {
  return rulebook.rules.filter((loaded): loaded is LoadedRule<RuleOf<S>> => loaded.rule.stratum === stratum);
}

/** SHA-256 over a value written as JSON with sorted keys, so that neither formatting nor key order matters. */
export function digestOf(value: unknown): string {
  return `sha256:${bytesToHex(sha256(utf8ToBytes(canonical(value))))}`;
}

function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value)
      .filter(([key, each]) => each !== undefined && key !== "$schema")
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, each]) => `${JSON.stringify(key)}:${canonical(each)}`).join(",")}}`;
  }
  return JSON.stringify(value);
}
