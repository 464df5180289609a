import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { spread, widthOfText, wrapText } from "../../src/worksheet/lettering.js";
import { chooseFactor, chooseScale } from "../../src/worksheet/sheet.js";
import { coordinate, drawArrowhead, drawHatch, drawText, writeSvg } from "../../src/worksheet/svg.js";
import { check } from "../properties.js";
import { HOSTILE_NAMES } from "./setup-results.js";
import { pathsOf } from "./read-svg.js";

describe("coordinates", () => {
  it("round to a hundredth and are never minus nothing", () => {
    expect(coordinate(12.3456)).toBe(12.35);
    expect(Object.is(coordinate(-0.001), 0)).toBe(true);
  });
});

describe("an arrowhead", () => {
  it("has its tip on the spot and its foot two millimetres back along the line", () => {
    const [head = []] = pathsOf(drawArrowhead({ x: 10, y: 5 }, { x: 0, y: 5 }).markup);
    expect(head).toEqual([
      { x: 10, y: 5 },
      { x: 8, y: 5.33 },
      { x: 8, y: 4.67 },
    ]);
  });
});

describe("a hatch", () => {
  it.each(["rising", "falling"] as const)("stays in its box and runs at 45 degrees, %s", (direction) => {
    const box = { x: 10, y: 20, width: 30, height: 12 };
    const path = drawHatch(box, 4, direction).markup;
    const strokes = /d="([^"]*)"/.exec(path)?.[1]?.split("M").filter(Boolean) ?? [];
    // Strokes 4, 8 … below 42 along the two sides that they start from.
    expect(strokes).toHaveLength(10);
    for (const stroke of strokes) {
      const [x1 = NaN, y1 = NaN, x2 = NaN, y2 = NaN] = stroke.split(/[ L]/).map(Number);
      expect(Math.abs(x2 - x1)).toBeCloseTo(Math.abs(y2 - y1), 6);
      expect(x2 > x1).toBe(true);
      expect(y2 < y1).toBe(direction === "rising");
      for (const x of [x1, x2]) expect(x >= 10 && x <= 40).toBe(true);
      for (const y of [y1, y2]) expect(y >= 20 && y <= 32).toBe(true);
    }
  });
});

describe("a drawing", () => {
  const drawing = writeSvg({
    width: 100,
    height: 50,
    title: HOSTILE_NAMES[0],
    describes: "A & B",
    body: HOSTILE_NAMES.map((name, index) => drawText(name, { x: 1, y: index })),
  }).markup;

  it("names and describes itself, holds no id, no script and no address to load", () => {
    expect(drawing).toContain('role="img"');
    expect(drawing).toContain("<desc>A &amp; B</desc>");
    expect(drawing).not.toMatch(/ id=|<script|href|url\(/);
  });

  it("escapes what stands in it and keeps bidirectional controls out", () => {
    expect(drawing).toContain("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; ");
    expect(drawing).not.toMatch(/[\u0007\u202e]/);
  });
});

describe("lettering", () => {
  const wishes = fc.array(
    fc.record({
      wanted: fc.double({ min: -50, max: 250, noNaN: true }),
      size: fc.double({ min: 1, max: 20, noNaN: true }),
    }),
    { maxLength: 14 },
  );

  it("spread along a line never overlaps, keeps its order, and stays between the ends where it fits", () => {
    check(
      fc.property(wishes, (things) => {
        const middles = spread(things, 0, 200, 1);
        const placed = things
          .map(({ wanted, size }, index) => ({
            wanted,
            from: middles[index]! - size / 2,
            to: middles[index]! + size / 2,
          }))
          .sort((a, b) => a.from - b.from);
        placed.forEach((each, index) => {
          const before = placed[index - 1];
          if (before === undefined) return;
          expect(each.from - before.to).toBeGreaterThanOrEqual(1 - 1e-6);
          expect(each.wanted).toBeGreaterThanOrEqual(before.wanted);
        });
        const whole = things.reduce((sum, { size }) => sum + size + 1, -1);
        for (const { from, to } of placed) {
          expect(from).toBeGreaterThanOrEqual(-1e-6);
          if (whole <= 200) expect(to).toBeLessThanOrEqual(200 + 1e-6);
        }
      }),
    );
  });

  it("stays where it is wanted if nothing is in the way, and gives way by halves", () => {
    expect(
      spread(
        [
          { wanted: 50, size: 10 },
          { wanted: 20, size: 10 },
        ],
        0,
        100,
        2,
      ),
    ).toEqual([50, 20]);
    // Both want 50; together they take 22: from 39 to 61.
    expect(
      spread(
        [
          { wanted: 50, size: 10 },
          { wanted: 50, size: 10 },
        ],
        0,
        100,
        2,
      ),
    ).toEqual([44, 56]);
  });

  it("breaks at spaces, loses no word, and never runs wider than its room", () => {
    check(
      fc.property(
        fc.array(fc.stringMatching(/^[a-zA-Z]{1,30}$/), { minLength: 1, maxLength: 12 }),
        (words) => {
          const lines = wrapText(words.join(" "), 40, 2.6, 1000);
          for (const line of lines) expect(widthOfText(line)).toBeLessThanOrEqual(40);
          expect(lines.join("").replaceAll(" ", "")).toBe(words.join(""));
        },
      ),
    );
  });

  it("keeps a figure and its unit on one line, and ends in an ellipsis where there is no room", () => {
    expect(wrapText("aaaaaaaaaa 1500 mm", widthOfText("aaaaaaaaaa 1500"))).toEqual([
      "aaaaaaaaaa",
      "1500\u00a0mm",
    ]);
    const [only = ""] = wrapText("one two three four five", widthOfText("one two thr"), 2.6, 1);
    expect(only).toMatch(/^one two.*…$/);
  });
});

describe("scales and factors", () => {
  it("takes the largest usual scale in which all fits", () => {
    // 11 m in 150 mm is 1 : 73.3; 6 m in 100 mm is 1 : 60.
    expect(
      chooseScale([
        { length: 11_000, room: 150 },
        { length: 6000, room: 100 },
      ]),
    ).toBe(75);
  });

  it("enlarges as far as the paper allows", () => {
    expect(chooseFactor(0.4, 9)).toBe(20);
    expect(chooseFactor(-0.4, 9)).toBe(20);
    expect(chooseFactor(30, 9)).toBe(1);
  });
});
