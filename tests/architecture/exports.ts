import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import ts from "typescript";

export function parse(file: string): ts.SourceFile {
  return ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true);
}

/** The names that a module exports, types included, sorted by code unit; modules exported whole are followed. */
export function exportedNames(file: string): readonly string[] {
  return [...new Set(namesIn(file))].sort();
}

function namesIn(file: string): readonly string[] {
  return parse(file).statements.flatMap((statement) => {
    if (ts.isExportDeclaration(statement)) return namesOfExport(statement, file);
    if (!ts.canHaveModifiers(statement)) return [];
    const isExported = ts
      .getModifiers(statement)
      ?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword);
    return isExported === true ? namesOfDeclaration(statement) : [];
  });
}

function namesOfExport(statement: ts.ExportDeclaration, file: string): readonly string[] {
  const { exportClause, moduleSpecifier } = statement;
  if (exportClause !== undefined && ts.isNamedExports(exportClause)) {
    return exportClause.elements.map((element) => element.name.text);
  }
  if (exportClause !== undefined) return [exportClause.name.text];
  if (moduleSpecifier === undefined || !ts.isStringLiteral(moduleSpecifier)) return [];
  return namesIn(join(dirname(file), moduleSpecifier.text.replace(/\.js$/, ".ts")));
}

function namesOfDeclaration(statement: ts.Node): readonly string[] {
  if (ts.isVariableStatement(statement)) {
    return statement.declarationList.declarations.map((declaration) => declaration.name.getText());
  }
  const isNamed =
    ts.isFunctionDeclaration(statement) ||
    ts.isClassDeclaration(statement) ||
    ts.isInterfaceDeclaration(statement) ||
    ts.isTypeAliasDeclaration(statement);
  if (!isNamed || statement.name === undefined)
    throw new Error(`no name for ${statement.getText().slice(0, 60)}`);
  return [statement.name.text];
}

/** The exported names that no doc comment explains where they are declared, sorted by code unit. */
export function undocumentedNames(file: string): readonly string[] {
  const program = ts.createProgram([file], {
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    target: ts.ScriptTarget.ES2022,
    strict: true,
  });
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(file);
  const module = source === undefined ? undefined : checker.getSymbolAtLocation(source);
  if (module === undefined) throw new Error(`${file} is no module`);
  return checker
    .getExportsOfModule(module)
    .filter((symbol) => {
      const isAlias = (symbol.flags & ts.SymbolFlags.Alias) !== 0;
      const declared = isAlias ? checker.getAliasedSymbol(symbol) : symbol;
      return declared.getDocumentationComment(checker).length === 0;
    })
    .map(({ name }) => name)
    .sort();
}
