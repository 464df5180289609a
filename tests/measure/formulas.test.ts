import { readFileSync, readdirSync } from "node:fs";
import fc from "fast-check";
import { parse, type EvalFunction, type MathNode } from "mathjs";
import { describe, expect, it } from "vitest";
import type { Formula, Unit } from "../../src/measure/index.js";
import { FORMULAS } from "../../src/setup/index.js";
import { check } from "../properties.js";

type AnyFormula = Formula<Readonly<Record<string, Unit>>, Unit>;

const source = new URL("../../src/", import.meta.url);
const files = readdirSync(source, { recursive: true, encoding: "utf8" })
  .map((path) => path.replaceAll("\\", "/"))
  .filter((path) => path.endsWith(".ts") && !path.endsWith(".d.ts"))
  .filter((path) => /\bformula\(\{/.test(readFileSync(new URL(path, source), "utf8")))
  .sort();

const modules = await Promise.all(
  files.map(async (file) => ({
    file,
    exports: (await import(new URL(file, source).href)) as Readonly<Record<string, unknown>>,
  })),
);
const formulas = modules.flatMap(({ file, exports }) =>
  ((exports["FORMULAS"] ?? []) as readonly AnyFormula[]).map((each) => ({ file, id: each.id, each })),
);

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const degrees = (angle: number): number => (angle * 180) / Math.PI;
/** The printed text counts angles in degrees. */
const functions = {
  sin: (angle: number) => Math.sin(radians(angle)),
  cos: (angle: number) => Math.cos(radians(angle)),
  tan: (angle: number) => Math.tan(radians(angle)),
  asin: (ratio: number) => degrees(Math.asin(ratio)),
  acos: (ratio: number) => degrees(Math.acos(ratio)),
  atan: (ratio: number) => degrees(Math.atan(ratio)),
  atan2: (y: number, x: number) => degrees(Math.atan2(y, x)),
};
const known = new Set([...Object.keys(functions), "sqrt", "abs", "min", "max", "pi"]);

/** Sizes as they occur in a bay; every other one small, so that ratios of all sizes occur. */
const RANGES: Readonly<Record<Unit, number>> = { mm: 8000, deg: 80, "%": 30, "mm/m": 300, "1": 10 };
const valueIn = (unit: Unit): fc.Arbitrary<number> =>
  fc
    .tuple(fc.integer({ min: -1_000_000, max: 1_000_000 }), fc.constantFrom(1, 0.02))
    .map(([n, share]) => (n / 1_000_000) * RANGES[unit] * share);

function symbolsOf(node: MathNode): ReadonlySet<string> {
  const found = new Set<string>();
  node.traverse((each) => {
    if ("name" in each && typeof each.name === "string" && each.type === "SymbolNode") found.add(each.name);
  });
  return found;
}

/** The printed text computed by another library; NaN where it has no real value. */
function evaluate(compiled: EvalFunction, inputs: Readonly<Record<string, number>>): number {
  const value: unknown = compiled.evaluate({ ...functions, ...inputs });
  return typeof value === "number" ? value : NaN;
}

describe("the list of all formulas", () => {
  it("holds those of every file", () => {
    const listed: readonly string[] = FORMULAS.map(({ id }) => id);
    expect([...listed].sort()).toEqual(formulas.map(({ id }) => id).sort());
  });
});

describe("every file that makes formulas", () => {
  it("is found", () => {
    expect(files.length).toBeGreaterThan(0);
  });

  it.each(modules)("$file lists those it makes", ({ file, exports }) => {
    const listed = exports["FORMULAS"] as readonly unknown[] | undefined;
    expect(listed, "FORMULAS").toBeDefined();
    const exported = Object.values(exports).filter((each) => typeof each === "function" && "work" in each);
    expect(exported.filter((each) => listed?.includes(each) !== true)).toEqual([]);
    expect(new Set(listed).size, "listed once").toBe(listed?.length);
    const made = readFileSync(new URL(file, source), "utf8").match(/\bformula\(\{/g) ?? [];
    expect(listed).toHaveLength(made.length);
  });
});

describe("formulas", () => {
  it("have ids of their own", () => {
    const ids = formulas.map(({ id }) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
  });
});

describe.each(formulas)("$file: $id", ({ each }) => {
  const parsed = parse(each.text);

  it("names its inputs and nothing else", () => {
    const symbols = [...symbolsOf(parsed)].filter((symbol) => !known.has(symbol));
    expect(symbols.sort()).toEqual(Object.keys(each.inputs).sort());
  });

  it("computes what it prints", () => {
    const compiled = parsed.compile();
    let compared = 0;
    const inputs = fc.record(
      Object.fromEntries(Object.entries(each.inputs).map(([name, unit]) => [name, valueIn(unit)])),
    );
    check(
      fc.property(inputs, (values) => {
        const printed = evaluate(compiled, values);
        const computed: number = each(values);
        // Both have a value, or neither: an arc sine of more than 1, a division by nothing.
        expect(Number.isFinite(computed), JSON.stringify(values)).toBe(Number.isFinite(printed));
        if (!Number.isFinite(printed)) return;
        compared += 1;
        const size = Math.max(1, Math.abs(printed), ...Object.values(values).map(Math.abs));
        expect(Math.abs(computed - printed), JSON.stringify(values)).toBeLessThanOrEqual(1e-9 * size);
      }),
      2000,
    );
    expect(compared).toBeGreaterThanOrEqual(200);
  });

  it("works out what it computes", () => {
    const values = Object.fromEntries(Object.keys(each.inputs).map((name, index) => [name, index + 0.5]));
    const given = values as Parameters<typeof each>[0];
    expect(each.work(given, "the number asked for")).toEqual({
      id: each.id,
      gives: "the number asked for",
      formula: each.text,
      inputs: Object.entries(each.inputs).map(([name, unit]) => ({ name, value: values[name], unit })),
      value: each(given),
      unit: each.result,
    });
    expect(each.work(given).gives).toBe(each.gives);
  });
});
