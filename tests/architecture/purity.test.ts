import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { parse } from "./exports.js";

const src = fileURLToPath(new URL("../../src", import.meta.url));
const core = readdirSync(src, { recursive: true, encoding: "utf8" })
  .map((file) => file.replaceAll("\\", "/"))
  .filter((file) => file.endsWith(".ts") && !file.startsWith("cli/"))
  .sort();

/** What differs between machines, moments or runs. */
const IMPURE: ReadonlySet<string> = new Set([
  "Date",
  "Intl",
  "performance",
  "console",
  "process",
  "Buffer",
  "fetch",
  "crypto",
  "require",
  "setTimeout",
  "setInterval",
  "setImmediate",
  "queueMicrotask",
  "Worker",
  "XMLHttpRequest",
  "localStorage",
  "navigator",
]);
const IMPURE_MEMBERS: ReadonlySet<string> = new Set(["random", "localeCompare"]);
const isImpureMember = (name: string): boolean => IMPURE_MEMBERS.has(name) || /^toLocale[A-Z]/.test(name);

/** What a file of the core uses that it should not, each with its line. */
function impuritiesOf(source: ts.SourceFile): readonly string[] {
  const found: string[] = [];
  const report = (node: ts.Node, what: string): void => {
    const { line } = source.getLineAndCharacterOfPosition(node.getStart(source));
    found.push(`line ${line + 1}: ${what}`);
  };
  const visit = (node: ts.Node): void => {
    if (ts.isIdentifier(node) && IMPURE.has(node.text) && isReference(node)) report(node, node.text);
    if (ts.isPropertyAccessExpression(node) && isImpureMember(node.name.text)) report(node, node.name.text);
    if (ts.isElementAccessExpression(node) && ts.isStringLiteral(node.argumentExpression)) {
      if (isImpureMember(node.argumentExpression.text)) report(node, node.argumentExpression.text);
    }
    if (ts.isStringLiteral(node) && isModuleName(node) && !/^\.{1,2}\//.test(node.text)) {
      if (node.text.startsWith("node:") || BUILT_IN.has(node.text)) report(node, node.text);
    }
    if (ts.isAwaitExpression(node) || isAsync(node)) report(node, "asynchronous");
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const BUILT_IN: ReadonlySet<string> = new Set(["fs", "path", "os", "crypto", "util", "url", "child_process"]);

/** A name used as a value; not one that is being given to something, such as a key or a property. */
function isReference(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isPropertyAssignment(parent)) return parent.initializer === node;
  const isDeclared =
    ts.isPropertySignature(parent) ||
    ts.isParameter(parent) ||
    ts.isVariableDeclaration(parent) ||
    ts.isBindingElement(parent) ||
    ts.isMethodDeclaration(parent);
  return !isDeclared;
}

function isModuleName(node: ts.StringLiteral): boolean {
  const { parent } = node;
  return (
    ts.isImportDeclaration(parent) ||
    ts.isExportDeclaration(parent) ||
    (ts.isCallExpression(parent) && parent.expression.kind === ts.SyntaxKind.ImportKeyword)
  );
}

function isAsync(node: ts.Node): boolean {
  if (!ts.canHaveModifiers(node)) return false;
  return ts.getModifiers(node)?.some(({ kind }) => kind === ts.SyntaxKind.AsyncKeyword) === true;
}

describe("the core depends on nothing but its input", () => {
  it("was found", () => {
    expect(core.length).toBeGreaterThan(50);
  });

  // The second opinion runs an engine that has no synchronous way; it is an entry of its own.
  const asynchronous = (file: string): boolean => file.startsWith("reference/");

  it.each(core)("src/%s", (file) => {
    const found = impuritiesOf(parse(`${src}/${file}`));
    expect(found.filter((each) => !(asynchronous(file) && each.endsWith("asynchronous")))).toEqual([]);
  });

  it.each([
    ["const now = new Date();", "Date"],
    ["const now = Date.now();", "Date"],
    ["const lot = Math.random();", "random"],
    ['const lot = Math["random"]();', "random"],
    ["names.sort((a, b) => a.localeCompare(b));", "localeCompare"],
    ["const text = count.toLocaleString();", "toLocaleString"],
    ['import { readFileSync } from "node:fs";', "node:fs"],
    ['export * from "fs";', "fs"],
    ["console.log(plan);", "console"],
    ["const plan = async () => 1;", "asynchronous"],
  ])("would be told of: %s", (code, what) => {
    const source = ts.createSourceFile("a.ts", code, ts.ScriptTarget.ES2022, true);
    expect(impuritiesOf(source)).toEqual([`line 1: ${what}`]);
  });

  it.each([
    "const found = { document: 1 };",
    "read(job.document);",
    "function read(document: string): void {}",
  ])("would not be told of: %s", (code) => {
    const source = ts.createSourceFile("a.ts", code, ts.ScriptTarget.ES2022, true);
    expect(impuritiesOf(source)).toEqual([]);
  });
});
