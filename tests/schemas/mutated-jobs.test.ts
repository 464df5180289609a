import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jobShape } from "../../src/job/index.js";
import { check } from "../properties.js";
import { jobs } from "../published/plans.js";
import { objectionsOf, validatorOf } from "./validators.js";

const validate = validatorOf("job");

type Path = readonly (string | number)[];

/** Every place inside a document. */
function placesIn(value: unknown, at: Path = []): readonly Path[] {
  if (value === null || typeof value !== "object") return [at];
  return [at, ...Object.entries(value).flatMap(([key, each]) => placesIn(each, [...at, Array.isArray(value) ? Number(key) : key]))];
}

/** A copy of a document with one place changed; `change` gets the object or list above it and the key. */
function changeAt(document: unknown, path: Path, change: (above: Record<string | number, unknown>, key: string | number) => void): unknown {
  const copy: unknown = structuredClone(document);
  const key = path.at(-1);
  if (key === undefined) return copy;
  let above = copy as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) above = above[step] as Record<string | number, unknown>;
  change(above, key);
  return copy;
}

/** Values of every kind, some of which are right in some places of a job. */
const value = fc.constantFrom<unknown>(
  null,
  true,
  false,
  "",
  "unknown",
  "yes",
  "left",
  "front-radar",
  "front-radar:left",
  "windshield",
  "rear-toe",
  "2026-03-02T09:10:00Z",
  "2026-03-02T09:10:00+02:00",
  "2026-03-02",
  "2026-13-02T09:10:00Z",
  "line\nbreak",
  0,
  -1,
  1,
  2024,
  1.5,
  1e9,
  [],
  ["front"],
  ["unknown", 7],
  {},
  { front: 10 },
  { "lane-keeping-assistance": "standard" },
);

type Mutation =
  | { readonly kind: "delete" | "duplicate"; readonly draw: number }
  | { readonly kind: "retype"; readonly draw: number; readonly value: unknown }
  | { readonly kind: "add"; readonly draw: number; readonly key: string; readonly value: unknown }
  | { readonly kind: "misspell"; readonly draw: number };

const draw = fc.nat();
const mutation: fc.Arbitrary<Mutation> = fc.oneof(
  fc.record({ kind: fc.constantFrom<"delete" | "duplicate">("delete", "duplicate"), draw }),
  fc.record({ kind: fc.constant<"retype">("retype"), draw, value }),
  fc.record({ kind: fc.constant<"add">("add"), draw, key: fc.constantFrom("extensions", "$schema", "side", "mount", "other key", "amount"), value }),
  fc.record({ kind: fc.constant<"misspell">("misspell"), draw }),
);

function mutate(document: unknown, { draw, ...mutation }: Mutation): unknown {
  const places = placesIn(document).slice(1);
  const path = places[draw % places.length];
  if (path === undefined) return document;
  return changeAt(document, path, (above, key) => {
    switch (mutation.kind) {
      case "delete":
        if (Array.isArray(above)) above.splice(Number(key), 1);
        else Reflect.deleteProperty(above, key);
        return;
      case "duplicate":
        if (Array.isArray(above)) above.push(structuredClone(above[Number(key)]));
        return;
      case "retype":
        above[key] = mutation.value;
        return;
      case "add":
        if (!Array.isArray(above)) above[mutation.key] = mutation.value;
        return;
      case "misspell":
        if (typeof above[key] === "string") above[key] = `${above[key]}x`;
    }
  });
}

describe("the schema of a job and the library's own reading of its form", () => {
  it("agree on every job of the scenarios", () => {
    for (const [name, job] of jobs) {
      expect(jobShape.safeParse(job).success, name).toBe(true);
      expect(objectionsOf(validate, job), name).toEqual([]);
    }
  });

  it("agree on jobs with up to three places changed", () => {
    const outcomes = { accepted: 0, refused: 0 };
    const property = fc.property(
      fc.constantFrom(...jobs),
      fc.array(mutation, { minLength: 1, maxLength: 3 }),
      ([, job], mutations) => {
        const mutated = mutations.reduce(mutate, job);
        const byShape = jobShape.safeParse(mutated);
        const objections = objectionsOf(validate, mutated);
        outcomes[byShape.success ? "accepted" : "refused"] += 1;
        expect(objections.length === 0, `${objections.join("; ")}\n${byShape.error?.message ?? ""}`).toBe(byShape.success);
      },
    );
    check(property, 1_500);
    // Neither outcome is the only one: otherwise agreeing would prove nothing.
    expect(outcomes.accepted).toBeGreaterThan(150);
    expect(outcomes.refused).toBeGreaterThan(500);
  });
});
