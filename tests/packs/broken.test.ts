import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { readPackFolder } from "../../.ci/read-pack.js";
import {
  COMMON_PRACTICE,
  ERROR_CODES,
  InputError,
  STRATA,
  checkPack,
  formatIssue,
  loadRulebook,
  planCalibrations,
  type Issue,
  type Job,
  type PackSource,
} from "../../src/index.js";
import { check } from "../properties.js";

const folder = fileURLToPath(new URL("./broken", import.meta.url));
const names = readdirSync(folder).sort();

const expectedShape = z.strictObject({
  /** Every issue, in the order in which it is told; the words are written by hand. */
  issues: z
    .array(
      z.strictObject({
        code: z.enum(Object.keys(ERROR_CODES) as [string, ...string[]]),
        file: z.string().optional(),
        pointer: z.string(),
        message: z.string(),
        expected: z.string().optional(),
        nearest: z.string().optional(),
      }),
    )
    .min(1),
});

function readCase(name: string): { readonly source: PackSource; readonly expected: unknown } {
  const source = readPackFolder(`${folder}/${name}`);
  const rules = source.rules.filter(({ file }) => file !== "expected.json");
  const text = readFileSync(`${folder}/${name}/expected.json`, "utf8");
  return { source: { ...source, rules }, expected: expectedShape.parse(JSON.parse(text)) };
}

const EMPTY_JOB: Job = { schema: "repair-calibration/job@1", reference: "RO-1", vehicle: {}, operations: [] };

/** What is wrong with a pack laid over common practice; the order of stages shows when the first plan is made. */
function issuesOf(source: PackSource): readonly Issue[] {
  try {
    planCalibrations(EMPTY_JOB, { rulebook: loadRulebook([COMMON_PRACTICE, source]) });
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.kind).toBe("rule-pack");
    return error.issues;
  }
}

describe("a broken pack is refused in the words beside it", () => {
  it("in each of many ways", () => {
    expect(names.length).toBeGreaterThan(60);
  });

  it.each(names)("%s", (name) => {
    const { source, expected } = readCase(name);
    expect({ issues: issuesOf(source) }).toEqual(expected);
  });

  it.each(names)("%s is told in one line for each issue", (name) => {
    for (const issue of issuesOf(readCase(name).source)) {
      const line = formatIssue(issue);
      expect(line).not.toMatch(/[\n\r]|undefined|\[object|  /);
      // A sentence without its full stop, and no hint that repeats what was given.
      expect(issue.message).toMatch(/^[a-z"].*[^.]$/);
      expect(issue.message).not.toContain(`"${issue.nearest ?? "no hint"}" `);
    }
  });

  it("covers every code that speaks of rules alone", () => {
    const told = new Set(names.flatMap((name) => issuesOf(readCase(name).source).map(({ code }) => code)));
    // Two rules can only contradict one another over the facts of a job; procedure packs are told about elsewhere.
    const elsewhere = ["rule-conflict"];
    const codes = Object.keys(ERROR_CODES).filter((code) => /^(rule|waiver)-/.test(code));
    expect(codes.filter((code) => !told.has(code as Issue["code"]))).toEqual(elsewhere);
  });
});

describe("a sound pack is not refused", () => {
  const { source } = readCase("rule-with-a-priority");
  const sound = {
    ...source,
    rules: source.rules.map(({ file, content }) => {
      const { priority: _priority, ...rest } = content as Record<string, unknown>;
      return { file, content: rest };
    }),
  };

  it("so that each refusal above comes from what is broken", () => {
    expect(issuesOf(sound)).toEqual([]);
    expect(checkPack(sound).rules).toHaveLength(1);
  });

  it("whatever way its files are listed", () => {
    expect(checkPack({ ...sound, rules: [...sound.rules].reverse() }).digest).toBe(checkPack(sound).digest);
  });
});

describe("whatever a file holds, loading refuses it as a pack or takes it", () => {
  const [rule] = readCase("id-not-the-file-name").source.rules;
  const { head, sources } = readCase("id-not-the-file-name").source;
  const file = rule?.file ?? "";
  const refusedOrTaken = (source: PackSource): "refused" | "taken" => {
    try {
      checkPack(source);
      return "taken";
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      return "refused";
    }
  };

  it("any value at all in place of the rule, the head or the sources", () => {
    const anything = fc.anything({ withNullPrototype: true, maxDepth: 3 });
    check(
      fc.property(anything, (content) => {
        refusedOrTaken({ head, sources, rules: [{ file, content }] });
        refusedOrTaken({ head: content, sources, rules: [] });
        refusedOrTaken({ head, sources: content, rules: [] });
      }),
    );
  });

  it("any value at all in any place of a rule", () => {
    const places = placesIn(rule?.content);
    const value = fc.oneof(
      fc.jsonValue({ maxDepth: 2 }),
      fc.constantFrom<unknown>(
        ...STRATA,
        "cause",
        "equal",
        "in",
        [],
        {},
        { all: [] },
        { not: {} },
        undefined,
      ),
    );
    const outcomes = new Set<string>();
    check(
      fc.property(fc.constantFrom(...places), value, (place, put) => {
        const content = putAt(rule?.content, place, put);
        outcomes.add(refusedOrTaken({ head, sources, rules: [{ file, content }] }));
      }),
      1_500,
    );
    expect(outcomes).toContain("refused");
  });

  it("conditions nested as deep as anybody likes", () => {
    for (const depth of [30, 100, 50_000]) {
      let conditions: unknown = {
        name: "It is so at last.",
        fact: "sensor",
        operator: "equal",
        value: "lidar",
      };
      for (let level = 0; level < depth; level += 1) conditions = { not: conditions };
      const content = putAt(rule?.content, ["conditions"], conditions);
      expect(refusedOrTaken({ head, sources, rules: [{ file, content }] })).toBe("refused");
    }
  });
});

type Place = readonly (string | number)[];

function placesIn(value: unknown, at: Place = []): readonly Place[] {
  if (value === null || typeof value !== "object") return [at];
  const below = Object.entries(value).flatMap(([key, each]) =>
    placesIn(each, [...at, Array.isArray(value) ? Number(key) : key]),
  );
  return [at, ...below];
}

/** A copy of a document with another value in one place; nothing of the value itself is copied. */
function putAt(document: unknown, [key, ...rest]: Place, value: unknown): unknown {
  if (key === undefined) return value;
  if (Array.isArray(document)) {
    return (document as readonly unknown[]).map((each, index) =>
      index === key ? putAt(each, rest, value) : each,
    );
  }
  const above = document as Readonly<Record<string, unknown>>;
  return { ...above, [key]: putAt(above[key], rest, value) };
}
