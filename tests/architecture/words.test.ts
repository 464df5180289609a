import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { READERS } from "../../src/facts/index.js";
import { COMMON_PRACTICE } from "../../src/index.js";
import {
  type FactSpec,
  FACTS,
  FACT_NAMES,
  SUBJECTS,
  SUBJECTS_OF,
  STRATA,
  factsOf,
} from "../../src/rulebook/index.js";
import { planShape } from "../../src/plan/shape.js";
import * as vocabulary from "../../src/vocabulary/index.js";
import {
  CARRIED_BY,
  COMPONENTS,
  isCarriedBy,
  partsOfMount,
  type ComponentId,
} from "../../src/vocabulary/index.js";

const root = fileURLToPath(new URL("../..", import.meta.url));

describe("the catalogue of facts", () => {
  it("has a reader for each fact, and no reader without one", () => {
    expect(Object.keys(READERS).sort()).toEqual([...FACT_NAMES].sort());
  });

  it("brings each fact with at least one subject, and no subject without facts", () => {
    const brought = new Set(SUBJECTS.flatMap((subject) => factsOf(subject)));
    expect(FACT_NAMES.filter((name) => !brought.has(name))).toEqual([]);
    for (const subject of SUBJECTS) expect(factsOf(subject).length, subject).toBeGreaterThan(0);
  });

  it("asks every subject in some stratum, and every stratum of some subject", () => {
    expect(new Set(STRATA.flatMap((stratum) => SUBJECTS_OF[stratum]))).toEqual(new Set(SUBJECTS));
    for (const stratum of STRATA) expect(SUBJECTS_OF[stratum].length, stratum).toBeGreaterThan(0);
  });

  it.each(FACT_NAMES)("%s has values that can be told apart", (name) => {
    const { values, type }: FactSpec = FACTS[name];
    if (values === null) return;
    expect(new Set(values).size).toBe(values.length);
    expect(values.length).toBeGreaterThan(type === "list" ? 0 : 1);
    // Rules compare words; the word for not knowing is no value, or a rule could rest on ignorance.
    expect(values).not.toContain("unknown");
  });
});

describe("what carries what", () => {
  const edges = Object.entries(CARRIED_BY).flatMap(([part, { parts }]) =>
    parts.map((carrier) => [part as ComponentId, carrier] as const),
  );

  it("speaks of components that exist", () => {
    expect(edges.length).toBeGreaterThan(30);
    for (const [part, carrier] of edges) {
      expect(COMPONENTS[part], part).toBeDefined();
      expect(COMPONENTS[carrier], carrier).toBeDefined();
    }
  });

  it("has no circle: nothing carries itself", () => {
    const settled = new Set<string>();
    const follow = (part: ComponentId, path: readonly string[]): void => {
      expect(path, [...path, part].join(" on ")).not.toContain(part);
      if (settled.has(part)) return;
      for (const carrier of CARRIED_BY[part]?.parts ?? []) follow(carrier, [...path, part]);
      settled.add(part);
    };
    for (const [part] of edges) follow(part, []);
  });

  it("names a part once for each that it stands on, and leaves a choice only where there is one", () => {
    for (const [part, { kind, parts }] of Object.entries(CARRIED_BY)) {
      expect(new Set(parts).size, part).toBe(parts.length);
      if (kind === "one-of") expect(parts.length, part).toBeGreaterThan(1);
    }
  });

  it("ends at parts that stand on the body: structure, hinges, seats, the chassis", () => {
    const ends = [...new Set(edges.map(([, carrier]) => carrier))].filter(
      (part) => CARRIED_BY[part] === undefined,
    );
    const bolted = ends.filter((part) => !COMPONENTS[part].structural);
    expect(bolted.sort()).toEqual(["liftgate", "steering-column", "tailgate", "trunk-lid"]);
  });

  it("leads from every mount to parts that exist", () => {
    for (const mount of vocabulary.MOUNT_IDS) {
      for (const part of partsOfMount(mount)) expect(COMPONENTS[part], `${mount}: ${part}`).toBeDefined();
    }
  });

  it("carries the windshield's camera bracket, and not the other way round", () => {
    expect(isCarriedBy("camera-bracket", "a-pillar").surely).toBe("yes");
    expect(isCarriedBy("a-pillar", "camera-bracket").surely).toBe("no");
    expect(isCarriedBy("grille-emblem", "front-bumper-cover").surely).toBe("on-some");
  });
});

describe("rules named in the documentation", () => {
  const pages = ["README.md", ...markdownBelow("docs")];
  const known = new Set([
    ...COMMON_PRACTICE.rules.map(({ id }) => id),
    ...jsonBelow("docs/demo/procedures").flatMap(rulesIn),
    ...Object.values(vocabulary).flatMap(idsIn),
    // Words of a plan that read like rules.
    ...planShape.shape.notIndicated.element.shape.reason.options,
  ]);
  // The grammar of rule ids: a cause, a verb, what it does.
  const VERB =
    /-(asks?|implies|requires?|presumes?|holds?|precedes?|renews?|moves|changes|disturbs|waives|specifies|is-proved-by|may-imply|needs?|waits?-for)-/;

  it.each(pages)("%s names only rules that there are", (page) => {
    const text = readFileSync(`${root}/${page}`, "utf8");
    const named = [...text.matchAll(/`([a-z0-9]+(?:-[a-z0-9]+){2,})`/g)].flatMap(([, id]) => id ?? []);
    const unknown = named.filter((id) => VERB.test(id) && !known.has(id));
    expect(unknown.filter((id) => !introducedIn(text, id))).toEqual([]);
  });

  it("were looked for", () => {
    const text = pages.map((page) => readFileSync(`${root}/${page}`, "utf8")).join("\n");
    const ids = COMMON_PRACTICE.rules.map(({ id }) => id).filter((id) => text.includes(id));
    expect(ids.length).toBeGreaterThan(0);
    for (const { id } of COMMON_PRACTICE.rules.filter(({ stratum }) => stratum === "requirements")) {
      expect(known).toContain(id);
    }
  });

  /** A page may make up a rule to show how one is written: then it stands there as a whole, with its id. */
  function introducedIn(text: string, id: string): boolean {
    return new RegExp(`"id":\\s*"${id}"`).test(text);
  }
});

function markdownBelow(folder: string): readonly string[] {
  return readdirSync(`${root}/${folder}`, { recursive: true, encoding: "utf8" })
    .map((file) => `${folder}/${file.replaceAll("\\", "/")}`)
    .filter((file) => file.endsWith(".md"))
    .sort();
}

function jsonBelow(folder: string): readonly unknown[] {
  return readdirSync(`${root}/${folder}`)
    .filter((file) => file.endsWith(".json"))
    .map((file) => JSON.parse(readFileSync(`${root}/${folder}/${file}`, "utf8")) as unknown);
}

function rulesIn(pack: unknown): readonly string[] {
  const { rules = [] } = pack as { readonly rules?: readonly { readonly id: string }[] };
  return rules.map(({ id }) => id);
}

function idsIn(value: unknown): readonly string[] {
  return value !== null && typeof value === "object" ? Object.keys(value) : [];
}
