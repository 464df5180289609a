import { readFileSync, readdirSync } from "node:fs";
import { join, relative } from "node:path";
import type { PackSource } from "../src/rulebook/index.js";

/** Reads a pack folder: pack.json, sources.json, and every other JSON file below it as a rule. */
export function readPackFolder(folder: string): PackSource {
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".json") && file !== "pack.json" && file !== "sources.json")
    .sort();
  return {
    head: readJson(join(folder, "pack.json")),
    sources: readJson(join(folder, "sources.json")),
    rules: files.map((file) => ({
      file: relative(folder, join(folder, file)).replaceAll("\\", "/"),
      content: readJson(join(folder, file)),
    })),
  };
}

function readJson(path: string): unknown {
  return JSON.parse(readFileSync(path, "utf8"));
}
