import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import * as api from "../../src/index.js";
import * as reference from "../../src/reference/index.js";
import { exportedNames, undocumentedNames } from "./exports.js";

const path = (file: string): string => fileURLToPath(new URL(`../../${file}`, import.meta.url));

/**
 * What other software may rely on, kept by hand: a name or a code that goes away, or changes, breaks somebody, and a new
 * one is a promise. Whoever changes the list says so in the changelog.
 */
const promised = z
  .strictObject({
    says: z.string(),
    exports: z.strictObject({ ".": z.array(z.string()), "./reference": z.array(z.string()) }),
    errorCodes: z.array(z.string()),
  })
  .parse(JSON.parse(readFileSync(path("tests/architecture/api.json"), "utf8")));

const ENTRIES = [
  [".", "src/index.ts", api],
  ["./reference", "src/reference/index.ts", reference],
] as const;

/** Types whose words are those of the closed set or list above them. */
const TYPES_OF_SETS = [
  "ComponentGroup",
  "FaultMeaning",
  "FeatureValue",
  "Market",
  "Method",
  "PreciseMount",
  "StageKind",
  "Standing",
  "Task",
  "TyrePressureVariant",
  "Zone",
];

describe("what other software may rely on", () => {
  it.each(ENTRIES)("%s exports the names that are promised, types included", (entry, file) => {
    expect(exportedNames(path(file))).toEqual(promised.exports[entry]);
  });

  it.each(ENTRIES)("%s has each of its values under a promised name", (entry, _file, module) => {
    const values = Object.keys(module);
    expect(values.length).toBeGreaterThan(0);
    expect(values.filter((name) => !promised.exports[entry].includes(name))).toEqual([]);
  });

  it.each(ENTRIES)("%s says of each name what it stands for", (_entry, file) => {
    // The ids of a closed set, and their type, stand below the set, which says it for all three.
    const ofSets = promised.exports["."].filter((name) => /_IDS$|Ids?$/.test(name));
    const telling = new Set([...ofSets, ...TYPES_OF_SETS]);
    expect(undocumentedNames(path(file)).filter((name) => !telling.has(name))).toEqual([]);
  });

  it("error codes are those that are promised", () => {
    expect(Object.keys(api.ERROR_CODES).sort()).toEqual(promised.errorCodes);
  });

  it("the package leads to these entries and to no others", () => {
    const manifest = z
      .object({ exports: z.record(z.string(), z.unknown()) })
      .parse(JSON.parse(readFileSync(path("package.json"), "utf8")));
    expect(Object.keys(manifest.exports)).toEqual([".", "./reference", "./package.json"]);
  });

  it("the lists are sorted by code unit, so that a change is one line", () => {
    for (const list of [...Object.values(promised.exports), promised.errorCodes]) {
      expect(list).toEqual([...new Set(list)].sort());
    }
  });
});
