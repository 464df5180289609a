import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { driveLogShape, readDriveLog } from "../../src/drive/index.js";
import { InputError, type Issue } from "../../src/errors.js";
import { check } from "../properties.js";

const LOG = {
  schema: "repair-calibration/drive@1",
  units: { speed: "mph" },
  samples: [
    { time: 0, speed: 50, lanes: "both" },
    { time: 1, speed: 60, road: "rural", steering: -3, gradient: 1.5 },
  ],
};

function issuesOf(content: unknown): readonly Issue[] {
  try {
    readDriveLog(content);
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

describe("a log as a document", () => {
  it("is read in the units that it names", () => {
    expect(readDriveLog({ ...LOG, reference: "RO-1" })).toEqual({
      reference: "RO-1",
      samples: [
        // 50 and 60 times 1.609344
        { time: 0, speed: 80.4672, lanes: "both" },
        { time: 1, speed: 96.56064, road: "rural", steering: -3, gradient: 1.5 },
      ],
    });
  });

  it("tells the time in seconds or as ISO 8601, not in both ways", () => {
    const told = (...times: unknown[]) => ({ ...LOG, samples: times.map((time) => ({ time, speed: 1 })) });
    const { samples } = readDriveLog(told("1970-01-01T00:00:05Z", "1970-01-01T01:00:06+01:00"));
    expect(samples.map(({ time }) => time)).toEqual([5, 6]);
    expect(issuesOf(told(1, "1970-01-01T00:00:05Z"))).toMatchObject([
      { code: "wrong-type", pointer: "/samples/1/time" },
    ]);
    expect(issuesOf(told("1970-01-01T00:00:05"))).toMatchObject([
      {
        code: "invalid-value",
        pointer: "/samples/0/time",
        message: expect.stringContaining("offset") as string,
      },
    ]);
  });

  it.each<[string, unknown, Partial<Issue>]>([
    ["no units", { ...LOG, units: undefined }, { code: "missing-measurement", pointer: "/units" }],
    ["no unit of speed", { ...LOG, units: {} }, { code: "missing-measurement", pointer: "/units/speed" }],
    ["another unit", { ...LOG, units: { speed: "kmh" } }, { code: "unknown-id", nearest: "km/h" }],
    ["another schema", { ...LOG, schema: "repair-calibration/drive@2" }, { code: "unknown-schema" }],
    ["another key", { ...LOG, sample: [] }, { code: "unknown-key", pointer: "/sample" }],
    ["no samples", { ...LOG, samples: undefined }, { code: "missing-key", pointer: "/samples" }],
    ["samples that are no list", { ...LOG, samples: {} }, { code: "wrong-type", pointer: "/samples" }],
    ["a list", [], { code: "wrong-type", pointer: "" }],
    ["null", null, { code: "wrong-type", pointer: "" }],
    [
      "a sample with another key",
      { ...LOG, samples: [{ time: 0, speed: 1, sped: 2 }] },
      { code: "unknown-key", pointer: "/samples/0/sped", nearest: "speed" },
    ],
    [
      "a speed below nothing",
      { ...LOG, samples: [{ time: 0, speed: -1 }] },
      { code: "out-of-range", pointer: "/samples/0/speed" },
    ],
    [
      "a word for the road that is not in the list",
      { ...LOG, samples: [{ time: 0, speed: 1, road: "motorways" }] },
      { code: "unknown-id", pointer: "/samples/0/road", nearest: "motorway" },
    ],
    [
      "a sample without a speed",
      { ...LOG, samples: [{ time: 0 }] },
      { code: "missing-key", pointer: "/samples/0/speed" },
    ],
  ])("is refused with %s", (_, content, issue) => {
    expect(issuesOf(content)).toMatchObject([issue]);
  });

  it("is refused where its published shape refuses it, and only there", () => {
    const spoilt = fc.oneof(
      fc.constant(undefined),
      fc.constant(null),
      fc.integer(),
      fc.string(),
      fc.constant([]),
    );
    const sample = fc.record(
      {
        time: fc.oneof({ weight: 9, arbitrary: fc.integer({ min: 0, max: 9 }) }, spoilt),
        speed: fc.oneof({ weight: 9, arbitrary: fc.integer({ min: -1, max: 401 }) }, spoilt),
        road: fc.constantFrom("motorway", "unknown", "lane", null),
        steering: fc.integer({ min: -2001, max: 2001 }),
        other: fc.constant(1),
      },
      { requiredKeys: ["time", "speed"] },
    );
    check(
      fc.property(
        fc.array(sample, { minLength: 1, maxLength: 3 }),
        fc.constantFrom("km/h", "mph", "m/s"),
        (samples, speed) => {
          const content = JSON.parse(JSON.stringify({ ...LOG, units: { speed }, samples })) as unknown;
          expect(issuesOf(content).length === 0).toBe(driveLogShape.safeParse(content).success);
        },
      ),
      500,
    );
  });
});
