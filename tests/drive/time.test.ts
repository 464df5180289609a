import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readTime } from "../../src/drive/index.js";
import { check } from "../properties.js";

describe("ISO 8601 times", () => {
  it.each([
    ["1970-01-01T00:00:00Z", 0],
    ["1970-01-01T00:00Z", 0],
    ["1969-12-31T23:59:59Z", -1],
    // RFC 3339, section 5.8, from memory: the same moment told with two offsets.
    ["1996-12-19T16:39:57-08:00", 851_042_397],
    ["1996-12-20T00:39:57Z", 851_042_397],
    ["2000-02-29 12:00:00+00", 951_825_600],
    ["1970-01-01T23:59:59+23:59", 59],
    ["2026-04-14T15:05:00.25+0200", 1_776_171_900.25],
    ["2026-04-14T15:05:00,25+02:00", 1_776_171_900.25],
  ])("%s is %d s", (text, seconds) => {
    expect(readTime(text)).toBe(seconds);
  });

  it("agree with the calendar of the machine on every second from 1900 to 2200", () => {
    const from = Date.UTC(1900, 0, 1) / 1000;
    const to = Date.UTC(2200, 0, 1) / 1000;
    check(
      fc.property(fc.integer({ min: from, max: to }), (seconds) => {
        const text = new Date(seconds * 1000).toISOString().replace(".000Z", "Z");
        expect(readTime(text)).toBe(seconds);
      }),
    );
  });

  it.each([
    ["2026-04-14T15:05:00", "does not say its offset"],
    ["2026-04-31T15:05:00Z", "no calendar has"],
    ["2026-13-01T15:05:00Z", "no calendar has"],
    ["2026-02-29T15:05:00Z", "no calendar has"],
    ["2024-02-30T15:05:00Z", "no calendar has"],
    ["1900-02-29T15:05:00Z", "no calendar has"],
    ["2026-04-14T24:00:00Z", "no clock shows"],
    ["2026-04-14T15:60:00Z", "no clock shows"],
    ["2026-04-14T15:05:61Z", "no clock shows"],
    ["2026-04-14T15:05:00+24:00", "no clock shows"],
    ["2016-12-31T23:59:60Z", "leap second"],
    ["14.04.2026 15:05", "is no time"],
    ["2026-4-14T15:05:00Z", "is no time"],
    ["", "is no time"],
  ])("%s is refused: %s", (text, message) => {
    expect(() => readTime(text)).toThrow(message);
  });
});
