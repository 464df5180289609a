import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import { LINE_COUNT_LIMIT, readEstimateLines, readingShape } from "../../src/intake/index.js";
import { readJob } from "../../src/job/index.js";

const only = (text: string) => readEstimateLines([text]).lines[0];

function refusal(lines: unknown, options?: unknown): readonly string[] {
  try {
    readEstimateLines(lines as string, options as Record<string, never>);
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.issues.map(({ code, pointer }) => `${code} ${pointer}`);
    throw error;
  }
}

describe("a reading", () => {
  const text = "R&I frt bumper cvr 1.2\r\n\nRpl W/S glass OEM\nPost-scan\nHood\nReplace windsheild";
  const reading = readEstimateLines(text);

  it("has its shape", () => {
    expect(readingShape.parse(reading)).toEqual(reading);
  });

  it("keeps the order, and the numbers of the lines as they stood", () => {
    expect(reading.lines.map(({ line, status }) => [line, status])).toEqual([
      [1, "read"],
      [3, "read"],
      [4, "claimed"],
      [5, "unread"],
      [6, "ambiguous"],
    ]);
  });

  it("answers each line of a list, the blank ones too", () => {
    expect(readEstimateLines(["", "Rpl hood"]).lines).toMatchObject([
      { line: 1, status: "unread", why: "the line is blank" },
      { line: 2, status: "read", why: null },
    ]);
  });

  it("says from which words an operation was read", () => {
    const line = "12  Repl LT frt door (w/ cam)";
    const [operation] = only("12  Repl LT frt door 1.5")?.operations ?? [];
    expect(operation?.words.map(([start, end]) => line.slice(start, end))).toEqual([
      "Repl",
      "LT",
      "frt",
      "door",
    ]);
  });

  it("says why a line was not read", () => {
    const why = (text: string) => only(text)?.why;
    expect(why("Rpl frt bumper cvr zest")).toBe('the word "zest" is not known');
    expect(why("Hood")).toBe("nothing says what is done");
    expect(why("Replace")).toBe("no part is named that the work is done to");
    expect(why("Replace hood?")).toBe("the line holds a question");
    expect(why("Paint materials")).toBe('the word "materials" is not known');
  });

  it("gives operations that a job takes as they are", () => {
    const { lines } = readEstimateLines([
      "LF TPMS sensor R&R",
      "Rpl LT fender",
      "calib LT blind spot radar",
      "scan",
    ]);
    const operations = lines.flatMap(({ operations: [first] }, index) => {
      if (first === undefined) return [];
      const { action, component } = first;
      const text = lines[index]?.text;
      const stated = Object.entries(first).filter(([key, value]) => key !== "words" && value !== null);
      return [{ ...Object.fromEntries(stated), action, component, text, id: `L${index + 1}` }];
    });
    expect(operations).toHaveLength(4);
    expect(
      readJob({ schema: "repair-calibration/job@1", reference: "RO-1", vehicle: {}, operations }).job
        .operations,
    ).toHaveLength(4);
  });
});

describe("a misspelt word", () => {
  it("of six letters or more is offered as what it may be", () => {
    expect(only("Repl windsheild")).toMatchObject({
      status: "ambiguous",
      operations: [],
      alternatives: [[{ action: "replace", component: "windshield" }]],
    });
  });

  it.each(["Repl hoood", "Repl grlile", "Repl wimdsheild", "Repl windsheild moudling"])(
    "is not guessed at where it is short, far off or one of two: %s",
    (text) => {
      expect(only(text)?.operations).toEqual([]);
      expect(only(text)?.status === "ambiguous").toBe(text === "Repl grlile");
    },
  );
});

describe("what changes nothing", () => {
  it.each([
    "Rpl hood OEM 71200-TA4-A01 $512.40 2.5 hrs",
    "#3 Rpl hood (LKQ) qty 1",
    "** Rpl hood A/M 1.0h",
    "Sublet - Rpl hood, used",
    "rpl HOOD assy",
    "Rpl hood.",
  ])("%s", (text) => {
    expect(only(text)).toMatchObject({
      status: "read",
      operations: [{ action: "replace", component: "hood" }],
    });
    expect(only(text)?.operations).toHaveLength(1);
  });
});

describe("what cannot be a list of lines", () => {
  it.each([
    [7, ["wrong-type "]],
    [null, ["wrong-type "]],
    [["Rpl hood", 7], ["wrong-type /1"]],
    [Array.from({ length: LINE_COUNT_LIMIT + 1 }, () => ""), ["too-many "]],
  ])("is refused", (lines, expected) => {
    expect(refusal(lines)).toEqual(expected);
  });

  it("is refused with its options", () => {
    expect(refusal([], { driveSide: "middle", market: "moon" })).toEqual([
      "unknown-id /driveSide",
      "unknown-id /market",
    ]);
    expect(refusal([], { synonyms: "hood" })).toEqual(["wrong-type /synonyms"]);
  });
});

describe("a line far too long", () => {
  it("is not read, and costs nothing", () => {
    const long = "R&I ".repeat(2_500);
    expect(long).toHaveLength(10_000);
    expect(only(long)).toMatchObject({ status: "unread", why: "the line has more than 2000 characters" });
  });
});
