import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  readEstimateLines,
  readingShape,
  type LineOperation,
  type ReadLine,
} from "../../src/intake/index.js";
import { lexiconFor, phraseOf } from "../../src/intake/lines/lexicon.js";
import { STROKED } from "../../src/intake/lines/spellings.js";
import { check } from "../properties.js";

const { phrases, words } = lexiconFor(null);

function readOne(text: string): ReadLine {
  const [line] = readEstimateLines([text]).lines;
  if (line === undefined) throw new Error("no line");
  return line;
}

function contentOf(operations: readonly LineOperation[]): readonly unknown[] {
  return operations.map(({ words: _words, ...content }) => content);
}

/** Lines of phrases, put together without regard to grammar: some are read, most are not. */
const arbitraryPhrase = fc.constantFrom(...[...phrases.values()].map((entry) => entry.words));
const arbitrarySign = fc.constantFrom(
  " ",
  ", ",
  "; ",
  " - ",
  ": ",
  " & ",
  "/",
  " (",
  ") ",
  " 1.5 ",
  " w/ ",
  " w/o ",
);
const arbitraryMess = fc
  .array(fc.tuple(arbitraryPhrase, arbitrarySign), { minLength: 1, maxLength: 8 })
  .map((pieces) => pieces.flat().join(""));

/** Lines of one work on one part, nearly all of which are read. */
const arbitraryLine = fc
  .record({
    action: fc.constantFrom("R&I", "Rpl", "O/H", "Refinish", "Blend", "inspect", "Repair"),
    side: fc.constantFrom("LT", "RT", "left", "R/H", ""),
    part: fc.constantFrom(
      "headlamp",
      "fender",
      "frt door",
      "tail lamp",
      "mirror",
      "qtr panel",
      "strut",
      "fog lamps",
    ),
    after: fc.constantFrom("", " 1.5 hrs", " w/ cam", " OEM $120.00", " assy", ", blend", " and hood"),
  })
  .map(({ action, side, part, after }) => `${action} ${side} ${part}${after}`);

const arbitraryText = fc.oneof(arbitraryLine, arbitraryMess);

/** A word that no phrase holds, in any spelling. */
const arbitraryUnknownWord = fc
  .stringMatching(/^[b-z]{3,9}$/)
  .filter((word) => !words.has(word) && !words.has(phraseOf(word)) && ![...STROKED.keys()].includes(word));

describe("reading estimate lines", () => {
  it("never throws, whatever the text, and gives the shape that it says", () => {
    const anything = fc.oneof(
      fc.string({ unit: "binary", maxLength: 300 }),
      fc.string({ maxLength: 300 }),
      arbitraryText,
    );
    check(
      fc.property(fc.array(anything, { maxLength: 4 }), (lines) => {
        const reading = readEstimateLines(lines);
        expect(readingShape.safeParse(reading).error).toBeUndefined();
        expect(reading.lines).toHaveLength(lines.length);
        expect(reading).toEqual(readEstimateLines(lines));
      }),
    );
  });

  it("says from which words, and they are words of the lexicon", () => {
    check(
      fc.property(arbitraryText, (text) => {
        const { operations, equipmentHints } = readOne(text);
        for (const [start, end] of [...operations, ...equipmentHints].flatMap((each) => each.words)) {
          const word = text.slice(start, end).toLowerCase();
          const spelt =
            STROKED.get(word) ?? word.replaceAll("&", " & ").replaceAll("/", " / ").replaceAll("+", " and ");
          expect(phrases.has(phraseOf(spelt)), `"${word}" of "${text}"`).toBe(true);
        }
      }),
      1000,
    );
  });

  it("gives operations where it reads, readings where it cannot choose, and a reason where it gives none", () => {
    check(
      fc.property(arbitraryText, (text) => {
        const { status, operations, alternatives, why } = readOne(text);
        const isRead = status === "read" || status === "claimed";
        expect(operations.length > 0).toBe(isRead);
        expect(why === null).toBe(isRead);
        expect(alternatives.length > 0).toBe(status === "ambiguous");
        const claims = operations.filter(({ action }) => action === "calibrate" || action === "scan");
        expect(status === "claimed").toBe(isRead && claims.length === operations.length);
      }),
      1000,
    );
  });

  it("reads nothing else for a word that is not known: the line is read no more", () => {
    check(
      fc.property(arbitraryText, arbitraryUnknownWord, fc.nat({ max: 20 }), (text, word, at) => {
        const places = [...text].flatMap((character, index) => (character === " " ? [index] : []));
        const place = places[at % Math.max(1, places.length)] ?? text.length;
        const longer = `${text.slice(0, place)} ${word} ${text.slice(place)}`;
        expect(readOne(longer).operations, longer).toEqual([]);
      }),
      1000,
    );
  });

  it("does not mind capitals and blanks", () => {
    check(
      fc.property(arbitraryText, fc.constantFrom("  ", "\t", " \u00a0 "), (text, blank) => {
        const plain = readOne(text);
        for (const other of [
          text.toUpperCase(),
          text.toLowerCase(),
          text.replaceAll(" ", blank),
          ` ${text} `,
        ]) {
          const again = readOne(other);
          expect(again.status, other).toBe(plain.status);
          expect(contentOf(again.operations), other).toEqual(contentOf(plain.operations));
          expect(again.alternatives.map(contentOf), other).toEqual(plain.alternatives.map(contentOf));
        }
      }),
      500,
    );
  });

  it("reads a line the same among others as alone", () => {
    check(
      fc.property(fc.array(arbitraryText, { minLength: 1, maxLength: 5 }), (lines) => {
        const together = readEstimateLines(lines).lines;
        expect(together).toEqual(lines.map((text, index) => ({ ...readOne(text), line: index + 1 })));
      }),
    );
  });

  it("swaps left and right when the line does", () => {
    const swap = (side: string | null): string | null =>
      side === "left" ? "right" : side === "right" ? "left" : side;
    check(
      fc.property(arbitraryLine, (text) => {
        const mirrored = text.replace(/\b(LT|RT|left|R\/H)\b/, (word) =>
          word === "LT" || word === "left" ? "RT" : "LT",
        );
        const flipped = readOne(text).operations.map(({ words: _words, ...each }) => ({
          ...each,
          side: swap(each.side),
        }));
        expect(contentOf(readOne(mirrored).operations)).toEqual(flipped);
      }),
    );
  });

  it("takes time in proportion to the lines", () => {
    const time = (count: number): number => {
      const lines = Array.from(
        { length: count },
        (_, index) => `Rpl LT frt door ${"assy ".repeat(index % 50)}`,
      );
      const start = performance.now();
      readEstimateLines(lines);
      return performance.now() - start;
    };
    time(500);
    expect(time(4000)).toBeLessThan(100 * Math.max(5, time(500)));
  });
});
