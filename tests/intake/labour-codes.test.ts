import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LABOUR_OPERATIONS, actionOfLabourCode } from "../../src/intake/labour-codes.js";
import { ACTION_IDS, CLAIM_ACTIONS } from "../../src/vocabulary/index.js";
import { check } from "../properties.js";

describe("a labour code", () => {
  it.each(["OP11", "op11", "Op11", " OP11 ", "OP 11", "op  11", "\tOP11\r\n"])(
    "may be written %j",
    (code) => {
      expect(actionOfLabourCode(code)).toMatchObject({ code: "OP11", actions: ["replace"] });
    },
  );

  it.each([
    "",
    " ",
    "11", // A quantity, hours or a line number looks the same.
    "OP",
    "OP27",
    "OP-1",
    "OP011",
    "OP1.0",
    "OP1 1",
    "0P11", // With a nought for the letter.
    "OP11 OP2",
    "LAB",
    "ſop11",
    "ОР11", // In Cyrillic letters.
    "OP１１", // In wide digits.
    "__proto__",
    "constructor",
    "toString",
  ])("is not %j", (code) => {
    expect(actionOfLabourCode(code)).toBeNull();
  });

  it("is none where it is as long as a book, and that is said at once", () => {
    expect(actionOfLabourCode(`OP${" ".repeat(1_000_000)}11`)).toBeNull();
    expect(actionOfLabourCode(`${" ".repeat(1_000_000)}OP11`)).toBeNull();
  });

  it("is read whatever the case of its letters, and nothing else becomes one", () => {
    const codes = Object.keys(LABOUR_OPERATIONS);
    check(
      fc.property(
        fc.oneof(
          fc.string({ unit: "binary" }),
          fc.constantFrom(...codes),
          fc.stringMatching(/^[oO][pP] ?[0-9]{1,3}$/),
        ),
        (code) => {
          const read = actionOfLabourCode(code);
          const plain = code.replace(/\s/g, "").toUpperCase();
          if (read !== null) expect(read.code).toBe(plain);
          else expect(codes).not.toContain(code.trim());
          expect(actionOfLabourCode(code.toLowerCase())).toEqual(actionOfLabourCode(code));
        },
      ),
      1000,
    );
  });
});

describe("what labour codes say", () => {
  const operations = Object.entries(LABOUR_OPERATIONS);

  it.each(operations)("%s has as many actions as its standing needs", (_, { standing, actions }) => {
    const count = actions.length;
    expect(count).toBeGreaterThanOrEqual({ work: 1, "one-of": 2, text: 0, "no-work": 0 }[standing]);
    if (standing === "text" || standing === "no-work") expect(count).toBe(0);
    expect(new Set(actions).size).toBe(count);
  });

  it.each(operations)("%s names actions of the vocabulary, and claims nothing", (_, { actions }) => {
    for (const action of actions) {
      expect(ACTION_IDS).toContain(action);
      // No code of the list stands for a calibration or a scan: such a line says it in words.
      expect(CLAIM_ACTIONS).not.toContain(action);
    }
  });

  it("is told apart by its meaning", () => {
    expect(new Set(operations.map(([, { meaning }]) => meaning)).size).toBe(operations.length);
  });
});

describe("the page about reading estimates", () => {
  const page = readFileSync(new URL("../../docs/reading-estimates.md", import.meta.url), "utf8");
  const rows = [...page.matchAll(/^\| `(OP[0-9]+)` +\| (.*?) +\| (.*?) +\|$/gm)];

  it("lists every code with its meaning, its support and what is done", () => {
    const shown = rows.map(([, code, meaning, done]) => [code, meaning, done]);
    const said = { work: " and ", "one-of": ", ", text: "", "no-work": "" };
    const expected = Object.entries(LABOUR_OPERATIONS).map(
      ([code, { meaning, standing, actions, support }]) => {
        const list = actions.map((action) => `\`${action}\``).join(said[standing]);
        const before = { work: "", "one-of": "one of ", text: "read the text", "no-work": "no work" }[
          standing
        ];
        return [code, `${meaning}${support === "two-sources" ? " ★" : ""}`, before + list];
      },
    );
    expect(shown).toEqual(expected);
  });
});
