import { describe, expect, it } from "vitest";
import { readSubmitted } from "../../src/audit/index.js";
import { InputError, type Issue } from "../../src/index.js";

const LINE = { id: "S1", sensor: "rear-corner-radar", position: "left", task: "calibration" };
const DOCUMENT = { schema: "repair-calibration/submitted@1", document: "invoice", lines: [LINE] };

function issuesOf(input: unknown): readonly Issue[] {
  try {
    readSubmitted(input);
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

const placesOf = (input: unknown): readonly (readonly [string, string])[] =>
  issuesOf(input).map(({ code, pointer }) => [code, pointer]);

describe("a submitted document", () => {
  it("is read where it has the right form", () => {
    expect(readSubmitted(DOCUMENT)).toEqual(DOCUMENT);
  });

  it("of another schema is refused for that alone", () => {
    expect(placesOf({ ...DOCUMENT, schema: "repair-calibration/job@1", lines: 3 })).toEqual([
      ["unknown-schema", "/schema"],
    ]);
  });

  it("with misspelt words is told the nearest", () => {
    const [issue] = issuesOf({ ...DOCUMENT, lines: [{ ...LINE, sensor: "rear-corner-rader" }] });
    expect(issue).toMatchObject({
      code: "unknown-id",
      pointer: "/lines/0/sensor",
      nearest: "rear-corner-radar",
    });
    const [key] = issuesOf({ ...DOCUMENT, lines: [{ ...LINE, finishd: "2026-03-02T10:00:00Z" }] });
    expect(key).toMatchObject({ code: "unknown-key", pointer: "/lines/0/finishd", nearest: "finished" });
  });

  it("names every mistake beyond its shape, in the order of the document", () => {
    const document = {
      ...DOCUMENT,
      lines: [
        LINE,
        {
          ...LINE,
          position: "front",
          started: "2026-03-02T10:00:00+01:00",
          finished: "2026-03-02T08:59:59Z",
        },
        { id: "S2", sensor: "forward-camera", position: "left", task: "calibration" },
      ],
      records: [
        { kind: "inspection", sensor: "parking-sensors", position: "left" },
        { kind: "road-test", position: "left" },
      ],
    };
    expect(placesOf(document)).toEqual([
      ["duplicate-id", "/lines/1/id"],
      ["invalid-position", "/lines/1/position"],
      ["invalid-value", "/lines/1/finished"],
      ["invalid-position", "/lines/2/position"],
      ["invalid-position", "/records/0/position"],
      ["missing-key", "/records/1/sensor"],
    ]);
    expect(issuesOf(document)[1]?.expected).toBe("one of left, right, or null");
    expect(issuesOf(document)[3]?.expected).toBe("null, since there is only one");
  });

  it("may begin and end at one time, told in two time zones", () => {
    const line = { ...LINE, started: "2026-03-02T10:00:00+01:00", finished: "2026-03-02T09:00:00Z" };
    expect(placesOf({ ...DOCUMENT, lines: [line] })).toEqual([]);
  });

  it("takes rare positions where a sensor has them", () => {
    const line = { ...LINE, sensor: "occupant-classification-sensor", position: "driver" };
    expect(placesOf({ ...DOCUMENT, lines: [line] })).toEqual([]);
  });

  it("with a time that no clock shows, or without its offset, is refused", () => {
    const withTime = (released: string): unknown => ({ ...DOCUMENT, released });
    expect(placesOf(withTime("2026-02-30T10:00:00Z"))).toEqual([["invalid-value", "/released"]]);
    expect(placesOf(withTime("2026-03-02T10:00:00"))).toEqual([["invalid-value", "/released"]]);
  });

  it("with reserved keys is refused before anything reads it", () => {
    const harmful = JSON.parse(
      '{"schema":"repair-calibration/submitted@1","extensions":{"__proto__":{}}}',
    ) as unknown;
    expect(placesOf(harmful)).toEqual([["forbidden-key", "/extensions/__proto__"]]);
  });
});
