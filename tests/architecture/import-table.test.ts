import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, it } from "vitest";
import { z } from "zod";

const root = fileURLToPath(new URL("../..", import.meta.url));

const tableShape = z.strictObject({
  says: z.string(),
  everyone: z.array(z.string()),
  units: z.record(
    z.string(),
    z.strictObject({
      units: z.array(z.string()),
      packages: z.array(z.string()),
      node: z.literal(true).optional(),
    }),
  ),
});
const table = tableShape.parse(JSON.parse(readFileSync(join(root, "import-table.json"), "utf8")));
const rows = Object.entries(table.units);

describe("the import table", () => {
  it.each(rows)("%s names only units that have a row", (_, row) => {
    for (const unit of [...row.units, ...table.everyone]) expect(Object.keys(table.units)).toContain(unit);
  });

  it("can be followed from the bottom up: no unit waits for itself", () => {
    const settled = new Set<string>();
    let before = -1;
    while (settled.size > before) {
      before = settled.size;
      for (const [unit, row] of rows) if (row.units.every((under) => settled.has(under))) settled.add(unit);
    }
    expect(rows.map(([unit]) => unit).filter((unit) => !settled.has(unit))).toEqual([]);
  });

  it("lets the command line alone reach files and arguments", () => {
    expect(rows.filter(([, row]) => row.node === true).map(([unit]) => unit)).toEqual(["cli"]);
  });

  it("keeps words and logic free of everything else", () => {
    expect(table.units["vocabulary"]).toEqual({ units: [], packages: [] });
    expect(table.units["logic"]).toEqual({ units: [], packages: [] });
    expect(table.units["errors.ts"]).toEqual({ units: [], packages: [] });
  });

  it("names only packages that are installed with this one", () => {
    const manifest = z
      .object({ dependencies: z.record(z.string(), z.string()) })
      .parse(JSON.parse(readFileSync(join(root, "package.json"), "utf8")));
    const named = new Set(rows.flatMap(([, row]) => row.packages));
    expect([...named].sort()).toEqual(Object.keys(manifest.dependencies).sort());
  });
});

describe("the check of the imports", () => {
  const folders: string[] = [];
  afterEach(() => {
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
  });

  /** Runs the check over a small house of its own: twelve sound files, and those given. */
  function check(files: Readonly<Record<string, string>>): {
    readonly status: number | null;
    readonly lines: string[];
  } {
    const folder = mkdtempSync(join(tmpdir(), "imports-"));
    folders.push(folder);
    symlinkSync(join(root, "node_modules"), join(folder, "node_modules"));
    writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
    const sound = Object.fromEntries(
      Array.from({ length: 12 }, (_, index) => [
        `vocabulary/words-${index}.ts`,
        `export const word = ${index};`,
      ]),
    );
    for (const [path, text] of Object.entries({ ...sound, ...files })) {
      mkdirSync(dirname(join(folder, "src", path)), { recursive: true });
      writeFileSync(join(folder, "src", path), text);
    }
    const run = spawnSync(process.execPath, [join(root, ".ci/check-imports.mjs"), folder], {
      encoding: "utf8",
    });
    return { status: run.status, lines: run.stderr.split("\n").filter((line) => line !== "") };
  }

  it("passes what the table allows", () => {
    const allowed = check({
      "errors.ts": "export const code = 1;",
      "logic/condition.ts": 'import { code } from "../errors.js"; export const condition = code;',
      "job/job.ts":
        'import { z } from "zod"; import { word } from "../vocabulary/words-1.js"; export const job = [z, word];',
      "index.ts": 'export { job } from "./job/job.js";',
      "cli/main.ts":
        'import "node:fs"; import "commander"; import { job } from "../index.js"; export const main = job;',
    });
    expect(allowed).toEqual({ status: 0, lines: [] });
  });

  it("finds each import that the table does not allow", () => {
    const { status, lines } = check({
      "logic/condition.ts": 'import { word } from "../vocabulary/words-1.js"; export const condition = word;',
      "logic/package.ts": 'import { z } from "zod"; export const shape = z;',
      "logic/development.ts": 'import { Ajv } from "ajv"; export const validator = Ajv;',
      "job/job.ts": 'import { readFileSync } from "node:fs"; export const job = readFileSync;',
      "job/type.ts": 'import type { Plan } from "../plan/plan.js"; export type Job = Plan;',
      "plan/plan.ts": "export interface Plan { readonly id: string }",
      "plan/here.ts": 'import { there } from "./there.js"; export const here = (): unknown => there;',
      "plan/there.ts": 'import { here } from "./here.js"; export const there = (): unknown => here;',
      "report/lost.ts": 'export { nothing } from "./nowhere.js";',
      "cli/main.ts": 'import { here } from "../plan/here.js"; export const main = here;',
      "attic/box.ts": "export const box = 1;",
    });
    expect(status).toBe(1);
    const found = [
      /^logic-imports-outside-its-row: src\/logic\/condition\.ts -> src\/vocabulary\/words-1\.ts$/,
      /^logic-imports-package-outside-its-row: src\/logic\/package\.ts -> .*\/zod\//,
      /^logic-imports-package-outside-its-row: src\/logic\/development\.ts -> .*\/ajv\//,
      /^job-imports-node: src\/job\/job\.ts -> fs$/,
      /^job-imports-outside-its-row: src\/job\/type\.ts -> src\/plan\/plan\.ts$/,
      /^cycle: src\/plan\/(here|there)\.ts -> /,
      /^unresolved: src\/report\/lost\.ts -> \.\/nowhere\.js$/,
      /^cli-imports-outside-its-row: src\/cli\/main\.ts -> src\/plan\/here\.ts$/,
      /^no row in import-table\.json: src\/attic$/,
    ];
    for (const pattern of found) expect(lines).toContainEqual(expect.stringMatching(pattern));
    expect(lines.filter((line) => !found.some((pattern) => pattern.test(line)))).toEqual([]);
  });

  it("does not take an empty house for a sound one", () => {
    const folder = mkdtempSync(join(tmpdir(), "imports-"));
    folders.push(folder);
    mkdirSync(join(folder, "src"));
    writeFileSync(join(folder, "src/errors.ts"), "export const code = 1;");
    const run = spawnSync(process.execPath, [join(root, ".ci/check-imports.mjs"), folder], {
      encoding: "utf8",
    });
    expect(run.status).toBe(1);
    expect(run.stderr).toContain("saw 1 modules under src; more than 10 were expected");
  });
});
