import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { jobs, plans } from "../published/plans.js";
import { NAMES, generated, objectionsOf, readJson, validatorOf } from "./validators.js";

const folder = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const filesBelow = (path: string): readonly string[] =>
  readdirSync(folder(path), { recursive: true, encoding: "utf8" })
    .map((file) => `${path}/${file.replaceAll("\\", "/")}`)
    .filter((file) => file.endsWith(".json"))
    .sort();

const DRAFT = "https://json-schema.org/draft/2020-12/schema";

describe("the published schemas", () => {
  it("are one for each generated document, and no more", () => {
    expect(filesBelow("schemas")).toEqual(NAMES.map((name) => `schemas/${name}.schema.json`).sort());
    expect(NAMES).toEqual(expect.arrayContaining(["job", "pack", "plan", "procedures", "rule", "sources"]));
  });

  it.each(NAMES)("%s is what the shapes generate", (name) => {
    // Compared as text: the order of keys is part of what readers of a change see.
    expect(JSON.stringify(readJson(`schemas/${name}.schema.json`))).toBe(JSON.stringify(generated[name]));
  });

  it.each(NAMES)("%s names its draft and itself, and compiles in strict mode", (name) => {
    expect(readJson(`schemas/${name}.schema.json`)).toMatchObject({
      $schema: DRAFT,
      $id: expect.stringMatching(new RegExp(`/${name}\\.schema\\.json$`)) as string,
      title: expect.any(String) as string,
    });
    expect(validatorOf(name)).toBeTypeOf("function");
  });

  it.each(NAMES)("%s refuses what is no document at all, and a key that it does not know", (name) => {
    const validate = validatorOf(name);
    for (const document of [null, 1, "text", [], true]) expect(validate(document), String(document)).toBe(false);
    expect(validate({ "no such key": 1 })).toBe(false);
  });
});

describe("documents of this repository are valid by the schema alone", () => {
  const validate = Object.fromEntries(NAMES.map((name) => [name, validatorOf(name)]));
  const objections = (name: string, document: unknown): readonly string[] => {
    const validator = validate[name];
    if (validator === undefined) throw new Error(`no schema ${name}`);
    return objectionsOf(validator, document);
  };

  it.each(jobs)("job: %s", (_name, job) => {
    expect(objections("job", job)).toEqual([]);
  });

  it.each(filesBelow("docs/demo/jobs"))("job: %s", (file) => {
    expect(objections("job", readJson(file))).toEqual([]);
  });

  it.each(filesBelow("docs/demo/procedures"))("procedures: %s", (file) => {
    expect(objections("procedures", readJson(file))).toEqual([]);
  });

  it("pack and sources of common practice", () => {
    expect(objections("pack", readJson("rules/common-practice/pack.json"))).toEqual([]);
    expect(objections("sources", readJson("rules/common-practice/sources.json"))).toEqual([]);
  });

  it("every rule of common practice", () => {
    const files = filesBelow("rules/common-practice").filter((file) => file.split("/").length > 3);
    expect(files.length).toBeGreaterThan(500);
    const wrong = files.flatMap((file) => objections("rule", readJson(file)).map((each) => `${file}: ${each}`));
    expect(wrong).toEqual([]);
  });

  it("every plan of the scenarios, after a way through text as a file takes it", () => {
    expect(plans.length).toBeGreaterThan(200);
    const wrong = plans.flatMap(([name, plan]) =>
      objections("plan", JSON.parse(JSON.stringify(plan))).map((each) => `${name}: ${each}`),
    );
    expect(wrong).toEqual([]);
    // Nothing in a plan is lost on that way, as an undefined or a number without end would be.
    for (const [, plan] of plans) expect(JSON.parse(JSON.stringify(plan))).toStrictEqual(plan);
  });
});
