import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { InputError, type Issue } from "../../src/errors.js";
import { loadProcedures } from "../../src/procedures/index.js";
import { checkSetup, readSetup } from "../../src/setup/index.js";

const folder = new URL("./refused/", import.meta.url);
const packs = new URL("../../docs/demo/procedures/", import.meta.url);

/** A document with mistakes, and what has to be said about each; `message` is a part of it. */
interface Refused {
  readonly says: string;
  readonly procedures?: readonly string[];
  readonly setup: unknown;
  readonly issues: readonly (Pick<Issue, "code" | "pointer" | "nearest"> & { readonly message?: string })[];
}

function readJson(url: URL): unknown {
  return JSON.parse(readFileSync(fileURLToPath(url), "utf8"));
}

function issuesOf({ setup, procedures = [] }: Refused): readonly Issue[] {
  const loaded = procedures.map((id) => loadProcedures(readJson(new URL(`${id}.json`, packs))));
  try {
    checkSetup(readSetup(setup), { procedures: loaded });
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

const files = readdirSync(fileURLToPath(folder)).sort();

describe("set-ups that cannot be true", () => {
  it("are there", () => {
    expect(files.length).toBeGreaterThanOrEqual(25);
  });

  for (const file of files) {
    const refused = readJson(new URL(file, folder)) as Refused;
    it(`${file}: ${refused.says}`, () => {
      expect(refused.issues).not.toEqual([]);
      const found = issuesOf(refused);
      expect(found.map(({ code, pointer, nearest }) => ({ code, pointer, nearest }))).toEqual(
        refused.issues.map(({ code, pointer, nearest }) => ({ code, pointer, nearest })),
      );
      refused.issues.forEach(({ message }, index) => {
        if (message !== undefined) expect(found[index]?.message).toContain(message);
      });
      for (const { message } of found) expect(message.trim()).not.toBe("");
    });
  }
});
