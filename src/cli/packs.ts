import { existsSync, readdirSync, statSync, type Dirent } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { InputError, type Issue } from "../errors.js";
import {
  COMMON_PRACTICE,
  checkPack,
  loadProcedures,
  loadRulebook,
  type CheckedPack,
  type LoadedProcedures,
  type LoadedRule,
  type PackSource,
  type Rulebook,
} from "../index.js";
import { nameOfInput, readJsonFile, type Reader } from "./read-input.js";

/** The most files that a pack may hold. */
const FILE_LIMIT = 5000;

/** Reads and checks the pack in a folder: pack.json, sources.json, and every other JSON file below it as a rule. */
export function readPack(folder: string): CheckedPack {
  const source = readPackFolder(folder);
  try {
    return checkPack(source);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.kind,
      error.issues.map((issue) => ({
        ...issue,
        file: issue.file === undefined ? folder : join(folder, issue.file),
      })),
    );
  }
}

function readPackFolder(folder: string): PackSource {
  const stat = statSync(folder, { throwIfNoEntry: false });
  if (stat === undefined) refuse(folder, "there is no such folder");
  if (!stat.isDirectory()) refuse(folder, "this is a file, and a rule pack is a folder");
  if (!existsSync(join(folder, "pack.json"))) refuse(folder, "the folder has no pack.json");
  const issues: Issue[] = [];
  const read = (file: string): unknown => {
    try {
      return readJsonFile(join(folder, file), "rule-pack");
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      issues.push(...error.issues);
      return null;
    }
  };
  const source = {
    head: read("pack.json"),
    sources: read("sources.json"),
    rules: listRuleFiles(folder).map((file) => ({ file, content: read(file) })),
  };
  // What could not be read is not checked: the check would only add that null is no rule.
  if (issues.length > 0) throw new InputError("rule-pack", issues);
  return source;
}

function refuse(folder: string, message: string): never {
  throw new InputError("rule-pack", [
    { code: "pack-unreadable", file: folder, pointer: "", message, expected: "a folder with a pack.json" },
  ]);
}

function listRuleFiles(folder: string): readonly string[] {
  const files = listEntries(folder)
    .filter((entry) => entry.name.endsWith(".json") && !entry.isDirectory())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter((file) => file !== "pack.json" && file !== "sources.json" && !/(^|\/)\./.test(file))
    .sort();
  if (files.length > FILE_LIMIT) {
    throw new InputError("rule-pack", [
      {
        code: "too-many",
        file: folder,
        pointer: "",
        message: `the folder holds ${files.length} rule files`,
        expected: `at most ${FILE_LIMIT}`,
      },
    ]);
  }
  return files;
}

function listEntries(folder: string): readonly Dirent[] {
  try {
    return readdirSync(folder, { recursive: true, withFileTypes: true });
  } catch {
    refuse(folder, "the folder may not be read");
  }
}

/** The bundled rules with the packs of some folders; a pack with the bundled one's id takes its place. */
export function assembleRulebook(folders: readonly string[]): Rulebook {
  return assemble(folders.map(readPack));
}

/** The bundled rules with some packs; a pack with the bundled one's id takes its place. */
export function assemble(packs: readonly CheckedPack[]): Rulebook {
  if (packs.length === 0) return loadRulebook();
  const isReplaced = packs.some(({ head }) => head.id === COMMON_PRACTICE.head.id);
  return loadRulebook(isReplaced ? packs : [COMMON_PRACTICE, ...packs]);
}

/** Reads and checks procedure packs, each a JSON document. */
export async function readProcedures(
  paths: readonly string[],
  reader: Reader,
): Promise<readonly LoadedProcedures[]> {
  const packs: LoadedProcedures[] = [];
  for (const path of paths) {
    const content = await reader.readDocument(path, "procedure-pack");
    try {
      packs.push(loadProcedures(content, nameOfInput(path)));
    } catch (error) {
      throw reader.locate(error, path);
    }
  }
  return packs;
}

/**
 * A rule with its examples. The bundle leaves them out, so they are read from the rules that come with the package;
 * where those are missing, the rule is given back without.
 */
export function withExamples(loaded: LoadedRule): LoadedRule {
  const { rule, pack } = loaded;
  if (rule.examples.fires.length > 0 || pack !== COMMON_PRACTICE.head.id) return loaded;
  const folder = fileURLToPath(new URL(`../../rules/${pack}`, import.meta.url));
  if (!existsSync(join(folder, "pack.json"))) return loaded;
  const file = listRuleFiles(folder).find((each) => each.split("/").at(-1) === `${rule.id}.json`);
  if (file === undefined) return loaded;
  const content = readJsonFile(join(folder, file), "rule-pack") as Partial<LoadedRule["rule"]>;
  return content.examples === undefined
    ? loaded
    : { ...loaded, rule: { ...rule, examples: content.examples } };
}
