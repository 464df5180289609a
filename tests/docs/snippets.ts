import { runInThisContext } from "node:vm";
import ts from "typescript";
import { DOCUMENTS, ROOT, type Fence } from "./documents.js";

/** The package's entry points as a reader imports them, and the source files behind them. */
export const ENTRIES: Readonly<Record<string, string>> = {
  "repair-calibration": "src/index.js",
  "repair-calibration/reference": "src/reference/index.js",
};

/** A TypeScript block of a page. */
export interface Snippet {
  readonly name: string;
  readonly code: string;
}

/** Every TypeScript block of every page; a block in another dialect of JavaScript counts as well. */
export const SNIPPETS: readonly Snippet[] = DOCUMENTS.flatMap(({ path, fences }) =>
  fences
    .filter(({ language }: Fence) => ["ts", "js", "mjs", "typescript", "javascript"].includes(language))
    .map(({ text, line }) => ({ name: `${path}:${line}`, code: text })),
);

/** The lines that a snippet says it prints: what stands behind each arrow, in order. */
export function shownBy(code: string): readonly string[] {
  return code.split("\n").flatMap((line) => /\/\/ → ?(.*)$/.exec(line)?.[1] ?? []);
}

/** Runs a snippet against the sources and gives the lines that it prints. */
export async function printedBy(code: string): Promise<readonly string[]> {
  const printed: string[] = [];
  const recorder = {
    log: (...values: readonly unknown[]) => {
      printed.push(...values.map(String).join(" ").split("\n"));
    },
  };
  const load = (name: string): Promise<unknown> =>
    import(ENTRIES[name] === undefined ? name : new URL(`../../${ENTRIES[name]}`, import.meta.url).href);
  const { outputText } = ts.transpileModule(withoutImports(code), {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  const run = runInThisContext(`(async ($load, console) => {${outputText}\n})`) as (
    load: (name: string) => Promise<unknown>,
    console: typeof recorder,
  ) => Promise<void>;
  await run(load, recorder);
  return printed;
}

/** Import statements as loads at run time, since a snippet runs as the body of a function. */
function withoutImports(code: string): string {
  const file = ts.createSourceFile("snippet.ts", code, ts.ScriptTarget.ES2022, true);
  let text = code;
  for (const statement of [...file.statements].reverse()) {
    if (!ts.isImportDeclaration(statement)) continue;
    const names = statement.importClause?.namedBindings;
    const isTypeOnly = statement.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
    const values =
      names === undefined || !ts.isNamedImports(names)
        ? []
        : names.elements.filter((each) => !each.isTypeOnly).map((each) => each.name.text);
    const from = (statement.moduleSpecifier as ts.StringLiteral).text;
    const load = isTypeOnly ? "" : `const { ${values.join(", ")} } = await $load(${JSON.stringify(from)});`;
    text = text.slice(0, statement.getStart()) + load + text.slice(statement.getEnd());
  }
  return text;
}

/** What the compiler objects to in the snippets, under the project's own settings. */
export function objectionsTo(snippets: readonly Snippet[]): readonly string[] {
  const { config } = ts.readConfigFile(`${ROOT}tsconfig.json`, (path) => ts.sys.readFile(path)) as {
    readonly config: { readonly compilerOptions: object };
  };
  const { options } = ts.convertCompilerOptionsFromJson(
    { ...config.compilerOptions, noUnusedLocals: false },
    ROOT,
  );
  const texts = new Map<string, string>(
    snippets.map(({ code }, index) => [`${ROOT}tests/docs/snippet-${index}.ts`, asModule(code)] as const),
  );
  const disk = ts.createCompilerHost(options);
  const host: ts.CompilerHost = {
    ...disk,
    fileExists: (path) => texts.has(path) || disk.fileExists(path),
    readFile: (path) => texts.get(path) ?? disk.readFile(path),
    getSourceFile: (path, language, ...rest) => {
      const text = texts.get(path);
      return text === undefined
        ? disk.getSourceFile(path, language, ...rest)
        : ts.createSourceFile(path, text, language);
    },
  };
  const program = ts.createProgram([...texts.keys()], options, host);
  return [...texts.keys()].flatMap((path, index) => {
    const source = program.getSourceFile(path);
    return [...program.getSyntacticDiagnostics(source), ...program.getSemanticDiagnostics(source)].map(
      ({ messageText }) =>
        `${snippets[index]?.name ?? ""}: ${ts.flattenDiagnosticMessageText(messageText, "\n")}`,
    );
  });
}

/** The snippet as a module beside this file, which reads the sources in place of the package. */
function asModule(code: string): string {
  const local = Object.entries(ENTRIES).reduce(
    (text, [name, path]) => text.replaceAll(`from "${name}"`, `from "../../${path}"`),
    code,
  );
  return `${local}\nexport {};\n`;
}
