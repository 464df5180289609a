import type { Issue } from "../errors.js";
import { pointerOf } from "./issues.js";

/** How deep objects and lists may be nested; no document of ours comes near it. */
export const DEPTH_LIMIT = 40;
/** How many values a document may hold in all. */
export const VALUE_LIMIT = 200_000;

const FORBIDDEN: ReadonlySet<string> = new Set(["__proto__", "constructor", "prototype"]);

/**
 * Walks a document before any schema sees it and reports what could harm whoever reads it: keys that the language
 * reserves, nesting without end, and sheer size. Stops at the first of the last two.
 */
export function guardDocument(input: unknown): readonly Issue[] {
  const issues: Issue[] = [];
  let values = 0;
  const open: { readonly value: unknown; readonly path: readonly PropertyKey[] }[] = [
    { value: input, path: [] },
  ];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { value, path } = next;
    values += 1;
    if (values > VALUE_LIMIT) {
      return [
        ...issues,
        { code: "too-large", pointer: "", message: `the document holds more than ${VALUE_LIMIT} values` },
      ];
    }
    if (value === null || typeof value !== "object") continue;
    if (path.length >= DEPTH_LIMIT) {
      return [
        ...issues,
        {
          code: "too-deep",
          pointer: pointerOf(path.slice(0, 3)),
          message: `objects and lists are nested more than ${DEPTH_LIMIT} levels deep below this`,
        },
      ];
    }
    for (const key of Object.keys(value)) {
      const at = [...path, Array.isArray(value) ? Number(key) : key];
      if (FORBIDDEN.has(key)) {
        issues.push({
          code: "forbidden-key",
          pointer: pointerOf(at),
          message: `the key ${JSON.stringify(key)} is reserved and never read from input`,
        });
      } else open.push({ value: (value as Readonly<Record<string, unknown>>)[key], path: at });
    }
  }
  return issues;
}
