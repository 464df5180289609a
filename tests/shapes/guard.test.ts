import { describe, expect, it } from "vitest";
import { guardDocument } from "../../src/shapes/index.js";

const codesOf = (document: unknown): readonly string[] => guardDocument(document).map(({ code }) => code);

/** A list in a list, as many levels deep as asked for; the innermost holds nothing. */
function nest(levels: number): unknown {
  let document: unknown = [];
  for (let level = 1; level < levels; level += 1) document = [document];
  return document;
}

describe("a document before any schema sees it", () => {
  it("may be nested 40 levels deep, and not 41", () => {
    expect(codesOf(nest(40))).toEqual([]);
    expect(codesOf(nest(41))).toEqual(["too-deep"]);
  });

  it("may hold 200000 values, itself counted, and not one more", () => {
    expect(codesOf(new Array(199_999).fill(0))).toEqual([]);
    expect(codesOf(new Array(200_000).fill(0))).toEqual(["too-large"]);
  });

  it("that holds itself is refused as too deep", () => {
    const document: Record<string, unknown> = {};
    document["again"] = document;
    expect(codesOf(document)).toEqual(["too-deep"]);
  });

  it("may not use a key that the language reserves, at any depth", () => {
    const document: unknown = JSON.parse(
      '{ "__proto__": 1, "list": [{ "constructor": {} }], "prototype": [] }',
    );
    expect(
      guardDocument(document)
        .map(({ code, pointer }) => `${code} ${pointer}`)
        .sort(),
    ).toEqual(["forbidden-key /__proto__", "forbidden-key /list/0/constructor", "forbidden-key /prototype"]);
  });
});
