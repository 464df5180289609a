import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { DOCUMENTS, ROOT, anchorOf, documentAt, findBreak } from "./documents.js";

describe("links", () => {
  it("lead somewhere, and to a heading where they name one", () => {
    expect(DOCUMENTS.flatMap((page) => page.links.flatMap((link) => findBreak(page, link) ?? []))).toEqual(
      [],
    );
  });

  it("are found to be broken where the file or the heading is missing", () => {
    const page = documentAt("README.md");
    expect(findBreak(page, "docs/no-such-page.md")).toBe("README.md: docs/no-such-page.md leads nowhere");
    expect(findBreak(page, "docs/start-here.md#nowhere")).toBe(
      "README.md: docs/start-here.md#nowhere has no such heading",
    );
    expect(findBreak(page, "https://example.invalid/")).toBeNull();
  });

  it("make every page reachable from README.md", () => {
    const seen = new Set(["README.md"]);
    const open = ["README.md"];
    for (let path = open.pop(); path !== undefined; path = open.pop()) {
      for (const link of documentAt(path).links) {
        const target = link.split("#")[0] ?? "";
        const next = join(path, "..", target);
        if (/^[a-z]+:/.test(target) || !next.endsWith(".md") || seen.has(next)) continue;
        seen.add(next);
        open.push(next);
      }
    }
    expect(DOCUMENTS.map(({ path }) => path).filter((path) => !seen.has(path))).toEqual([]);
  });

  it("name headings the way they are shown", () => {
    expect(anchorOf("What carries what")).toBe("what-carries-what");
    expect(anchorOf("`requirements[]`: what is due")).toBe("requirements-what-is-due");
  });
});

describe("paths in prose", () => {
  it("that start with a folder of the project exist", () => {
    const paths = DOCUMENTS.filter(({ path }) => !path.startsWith("docs/generated/")).flatMap((page) =>
      [...page.text.matchAll(/`((?:src|rules|docs|tests|\.ci|schemas)\/[\w./-]*)`/g)].map(
        ([, path]) => [page.path, path ?? ""] as const,
      ),
    );
    expect(paths.length).toBeGreaterThan(10);
    expect(paths.filter(([, path]) => !existsSync(join(ROOT, path))).map((pair) => pair.join(": "))).toEqual(
      [],
    );
  });
});

describe("words", () => {
  const UNFINISHED = [/\bTODO\b/, /\bFIXME\b/, /lorem ipsum/i, /\/(?:tmp|home|root)\//];

  it("hold no placeholders and no paths of somebody's machine", () => {
    const found = DOCUMENTS.flatMap(({ path, text }) =>
      UNFINISHED.flatMap((word) => {
        const match = word.exec(text);
        return match === null ? [] : [`${path}: ${match[0]}`];
      }),
    );
    expect(found).toEqual([]);
  });

  it("of a trade fact are never called published without a document", () => {
    // Values that nobody read at the source are said to be second-hand or from memory.
    const sources = JSON.parse(
      readFileSync(join(ROOT, "rules/common-practice/sources.json"), "utf8"),
    ) as Readonly<Record<string, { readonly read: string }>>;
    const readAtSource = Object.values(sources).filter(({ read }) => read === "at-source");
    expect(readAtSource).toEqual([]);
    expect(documentAt("README.md").text).toContain("None of these documents was read at its source");
  });
});
