import { describe, expect, it } from "vitest";
import { generateSchemas } from "../../.ci/schemas.js";
import { documentAt } from "./documents.js";

/** The names of all properties that a JSON Schema describes, at any depth. */
function propertiesOf(schema: unknown): readonly string[] {
  if (Array.isArray(schema)) return schema.flatMap(propertiesOf);
  if (schema === null || typeof schema !== "object") return [];
  return Object.entries(schema).flatMap(([key, value]) =>
    key === "properties" && value !== null && typeof value === "object"
      ? [...Object.keys(value as object), ...Object.values(value as object).flatMap(propertiesOf)]
      : propertiesOf(value),
  );
}

/** Every word that a page sets in backquotes. */
function quotedIn(path: string): ReadonlySet<string> {
  const words = [...documentAt(path).text.matchAll(/`([^`\n]+)`/g)].flatMap(([, word]) => word ?? []);
  return new Set(words);
}

const schemas = generateSchemas();

/** A schema without some of its properties, which another page explains. */
function without(name: string, ...left: readonly string[]): unknown {
  const schema = schemas[name] as { readonly properties: Readonly<Record<string, unknown>> };
  const kept = Object.entries(schema.properties).filter(([key]) => !left.includes(key));
  return { properties: Object.fromEntries(kept) };
}

/** What a plan hands on from a maker's procedure as it stands there. */
const OF_PROCEDURES: ReadonlySet<string> = new Set(
  "name datum referenceLine distance lateral height yaw pitch roll nominal tolerance length width speed minutes roads laneMarkings weather size roadClasses run steering gradient".split(
    " ",
  ),
);

const NOTHING: ReadonlySet<string> = new Set();

describe("every field is explained", () => {
  it.each([
    ["docs/reading-a-plan.md", "plan", schemas["plan"], OF_PROCEDURES],
    ["docs/procedure-packs.md", "procedures", without("procedures", "rules"), NOTHING],
    ["docs/setting-up.md", "setup", schemas["setup"], NOTHING],
    ["docs/setting-up.md", "setup-result", schemas["setup-result"], NOTHING],
    ["docs/drive-logs.md", "drive", schemas["drive"], NOTHING],
    ["docs/drive-logs.md", "drive-result", schemas["drive-result"], NOTHING],
    ["docs/writing-rules.md", "rule", schemas["rule"], NOTHING],
    ["docs/writing-rules.md", "pack", schemas["pack"], NOTHING],
  ] as const)("%s explains those of a %s", (path, _name, schema, elsewhere) => {
    const own = new Set(propertiesOf(schema).filter((field) => field !== "$schema"));
    const quoted = quotedIn(path);
    expect(own.size).toBeGreaterThan(3);
    expect([...own].filter((field) => !elsewhere.has(field) && !quoted.has(field))).toEqual([]);
  });
});
