import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { z } from "zod";

const read = (path: string): string =>
  readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)), "utf8");

const versions = z.record(z.string(), z.string());
const manifest = z
  .object({ dependencies: versions, devDependencies: versions, license: z.string() })
  .parse(JSON.parse(read("package.json")));
const lock = z
  .object({ packages: z.record(z.string(), z.looseObject({ version: z.string().optional() })) })
  .parse(JSON.parse(read("package-lock.json")));
const named = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies });

describe("package", () => {
  it.each(named)("%s is asked for in exactly one version, the locked one", (name, version) => {
    expect(version).toMatch(/^[0-9]+\.[0-9]+\.[0-9]+$/);
    expect(lock.packages[`node_modules/${name}`]?.version).toBe(version);
  });

  it("locks contents and not the places they were fetched from", () => {
    const installed = Object.entries(lock.packages).filter(([path]) => path !== "");
    expect(installed.length).toBeGreaterThan(named.length);
    expect(installed.filter(([, entry]) => "resolved" in entry).map(([path]) => path)).toEqual([]);
    expect(installed.filter(([, entry]) => !("integrity" in entry)).map(([path]) => path)).toEqual([]);
  });

  it("comes with the licence it names", () => {
    expect(manifest.license).toBe("Apache-2.0");
    expect(read("LICENSE")).toMatch(/^\s*Apache License\n\s*Version 2\.0, January 2004\n/);
    expect(read("LICENSE")).toContain("Copyright 2026 The repair-calibration authors");
  });
});
