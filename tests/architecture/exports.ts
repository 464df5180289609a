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
