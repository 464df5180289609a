import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { loadProcedures } from "../../src/procedures/index.js";
import { checkSetup, setupResultShape, setupShape } from "../../src/setup/index.js";
import { lookUp } from "./look-up.js";

const folder = new URL("./worked/", import.meta.url);
const packs = new URL("../../docs/demo/procedures/", import.meta.url);

type Expected = number | string | boolean | null | { readonly near: number; readonly within: number };

/** A set-up with what it comes to, worked out by hand or by other means than the library's. */
interface Worked {
  readonly says: string;
  readonly source: string;
  /** The arithmetic behind the expectations. */
  readonly working: string;
  readonly procedures?: readonly string[];
  readonly setup: unknown;
  readonly expect: Readonly<Record<string, Expected>>;
  /** Words that have to turn up in what is missing, contradictory or warned of. */
  readonly missing?: readonly string[];
  readonly contradictions?: readonly string[];
  readonly warnings?: readonly string[];
}

function readJson(url: URL): unknown {
  return JSON.parse(readFileSync(fileURLToPath(url), "utf8"));
}

const files = readdirSync(fileURLToPath(folder)).sort();

function compute({ setup, procedures = [] }: Worked) {
  return checkSetup(setupShape.parse(setup), {
    procedures: procedures.map((id) => loadProcedures(readJson(new URL(`${id}.json`, packs)))),
  });
}

function hold(actual: unknown, expected: Expected, pointer: string): void {
  if (expected === null || typeof expected !== "object") {
    expect(actual, pointer).toStrictEqual(expected);
    return;
  }
  expect(actual, pointer).toBeTypeOf("number");
  expect(Math.abs(Number(actual) - expected.near), `${pointer}: ${String(actual)}`).toBeLessThanOrEqual(
    expected.within,
  );
}

describe("set-ups worked out by other means", () => {
  it("are there", () => {
    expect(files.length).toBeGreaterThanOrEqual(25);
  });

  for (const file of files) {
    const worked = readJson(new URL(file, folder)) as Worked;
    it(`${file}: ${worked.says}`, () => {
      const result = compute(worked);
      expect(setupResultShape.safeParse(result).error?.issues ?? []).toEqual([]);
      for (const [pointer, expected] of Object.entries(worked.expect))
        hold(lookUp(result, pointer), expected, pointer);
      const notes = {
        missing: result.missing.map((each) => `${each.for}: ${each.needs}`),
        contradictions: result.contradictions.map(({ says }) => says),
        warnings: result.warnings.map(({ says }) => says),
      };
      for (const kind of ["missing", "contradictions", "warnings"] as const)
        for (const word of worked[kind] ?? []) expect(notes[kind].join("\n"), kind).toContain(word);
    });
  }
});
