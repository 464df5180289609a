import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { WINDSHIELD_JOB } from "../cli/run-cli.js";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Every module that loading one module loads, through packages too: file paths, and the names of built-in modules. */
function reachOf(entry: string): readonly string[] {
  const seen = new Set<string>();
  const open = [entry];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (seen.has(file)) continue;
    seen.add(file);
    if (!file.startsWith("/")) continue;
    open.push(...importsOf(file).map((name) => resolveFrom(file, name)));
  }
  return [...seen];
}

/** The modules that a file loads when it runs; what it imports for its types alone is gone by then. */
function importsOf(file: string): readonly string[] {
  const source = ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true);
  const names: string[] = [];
  const visit = (node: ts.Node): void => {
    const isStatement = ts.isImportDeclaration(node) || ts.isExportDeclaration(node);
    if (isStatement && node.moduleSpecifier !== undefined && ts.isStringLiteral(node.moduleSpecifier)) {
      if (!isForTypesAlone(node)) names.push(node.moduleSpecifier.text);
    }
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [name] = node.arguments;
      names.push(
        name !== undefined && ts.isStringLiteral(name) ? name.text : "a name known only when it runs",
      );
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return names;
}

function isForTypesAlone(node: ts.ImportDeclaration | ts.ExportDeclaration): boolean {
  if (ts.isExportDeclaration(node)) return node.isTypeOnly;
  return node.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
}

function resolveFrom(file: string, name: string): string {
  if (/^\.{1,2}\//.test(name)) {
    const path = join(dirname(file), name);
    return file.endsWith(".ts") ? path.replace(/\.js$/, ".ts") : path;
  }
  const url = import.meta.resolve(name, pathToFileURL(file).href);
  return url.startsWith("file:") ? fileURLToPath(url) : url;
}

/** The package of each file outside the project's own sources. */
function packagesOf(files: readonly string[]): readonly string[] {
  const packages = files.flatMap(
    (file) => /\/node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(file)?.slice(1, 2) ?? [],
  );
  return [...new Set(packages)].sort();
}

describe("what the entries load", () => {
  const main = reachOf(join(root, "src/index.ts"));

  it("is seen through packages", () => {
    expect(main.filter((file) => file.startsWith(join(root, "src"))).length).toBeGreaterThan(50);
    expect(main.filter((file) => file.includes("/zod/")).length).toBeGreaterThan(10);
  });

  it("is for the main entry a few packages that ask nothing of where they run", () => {
    expect(packagesOf(main)).toEqual(["@noble/hashes", "jstat", "ml-matrix", "zod"]);
    expect(main.filter((file) => !file.startsWith("/"))).toEqual([]);
  });

  it("is for the main entry neither the second opinion nor the command line", () => {
    expect(main.filter((file) => /\/src\/(reference|cli)\//.test(file))).toEqual([]);
  });

  it("is for the second opinion its engine as well, which shows that the walk would find it", () => {
    expect(packagesOf(reachOf(join(root, "src/reference/index.ts")))).toContain("json-rules-engine");
  });
});

/** One whose target is found from tapes, so that linear algebra and statistics are at work: a 3-4-5 triangle a side. */
const TAPED_SETUP = {
  schema: "repair-calibration/setup@1",
  vehicle: { dimensions: { wheelbase: 2700, trackFront: 1600, trackRear: 1600 } },
  target: {
    sensor: "forward-camera",
    id: "board",
    barWidth: 1600,
    placing: {
      name: "Board",
      datum: "front-axle",
      referenceLine: "centre-line",
      distance: { nominal: 1200, tolerance: 5 },
      lateral: { nominal: 0, tolerance: 5 },
      height: { nominal: 1400, tolerance: 5 },
      yaw: { nominal: 0, tolerance: 1 },
      pitch: { nominal: 0, tolerance: 1 },
      roll: { nominal: 0, tolerance: 1 },
    },
    measured: {
      tapes: {
        from: "front-axle",
        left: 1200,
        right: 1200,
        diagonals: { fromLeft: 2000, fromRight: 2000 },
        u: 1,
      },
    },
  },
};

describe("a strict browser page", () => {
  it("can plan and set up: no global of Node, and no code made from text", () => {
    const script = `
      const { process } = globalThis;
      for (const name of ["process", "Buffer", "global", "setImmediate"]) delete globalThis[name];
      const { checkSetup, explain, loadRulebook, planCalibrations, renderHtml, renderText } = await import("./src/index.ts");
      const job = ${JSON.stringify(WINDSHIELD_JOB)};
      const plan = planCalibrations(job, { rulebook: loadRulebook() });
      const page = renderText(plan, { operations: job.operations });
      const { places } = explain(plan, "forward-camera", { job, rulebook: loadRulebook() });
      const setup = checkSetup(${JSON.stringify(TAPED_SETUP)});
      const card = renderHtml(plan, { operations: job.operations, setup });
      const { fit } = setup.targets[0].measured;
      process.stdout.write([page.split("\\n")[0], places[0].indicated, fit.agree, card.includes("<svg")].join());
    `;
    const { stdout, stderr } = spawnSync(
      process.execPath,
      ["--disallow-code-generation-from-strings", "--import", "tsx", "--input-type=module", "--eval", script],
      { cwd: root, encoding: "utf8" },
    );
    expect({ stdout, stderr }).toEqual({ stdout: "Calibration plan,true,true,true", stderr: "" });
  });
});
