import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { generateDocs } from "../../.ci/docs.js";
import { COMPONENT_IDS, FEATURE_IDS, SENSOR_IDS, STAGE_IDS } from "../../src/vocabulary/index.js";
import { FACT_NAMES } from "../../src/rulebook/index.js";
import { ROOT } from "./documents.js";

const FOLDER = join(ROOT, "docs/generated");
const pages = generateDocs();

describe("the generated pages", () => {
  it("stand in the folder as the generator writes them; npm run generate brings them up to date", () => {
    const names = Object.keys(pages).sort();
    expect(readdirSync(FOLDER).sort()).toEqual(names);
    for (const name of names) expect(readFileSync(join(FOLDER, name), "utf8"), name).toBe(pages[name]);
  });

  it("hold a row for every word, fact and refusal", () => {
    const words = pages["words.md"] ?? "";
    for (const id of [...SENSOR_IDS, ...COMPONENT_IDS, ...FEATURE_IDS, ...STAGE_IDS]) {
      expect(words).toContain(`\n| \`${id}\` |`);
    }
    for (const name of FACT_NAMES) expect(pages["facts.md"]).toContain(`\n| \`${name}\` |`);
    expect(pages["errors.md"]).toContain("\n| `vin-check-digit` |");
  });

  it("have as many cells in each row as their table has columns", () => {
    for (const [name, text] of Object.entries(pages)) {
      let columns: number | null = null;
      for (const line of text.split("\n")) {
        if (!line.startsWith("|")) {
          columns = null;
          continue;
        }
        const cells = line.split(/(?<!\\)\|/).length;
        columns ??= cells;
        expect(cells, `${name}: ${line}`).toBe(columns);
      }
    }
  });
});
