import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { readEstimateLines } from "../../src/intake/index.js";
import { ACTION_IDS } from "../../src/vocabulary/actions.js";
import { COMPONENT_IDS } from "../../src/vocabulary/components.js";
import { acceptsPosition, POSITION_IDS, SENSOR_IDS } from "../../src/vocabulary/sensors.js";

const FOLDER = new URL("lines/", import.meta.url);
const LEAST_RECALL = 0.95;

const operationShape = z
  .strictObject({
    action: z.enum(ACTION_IDS),
    component: z.enum(COMPONENT_IDS),
    side: z.enum(["left", "right"]).nullable().default(null),
    axle: z.enum(["front", "rear"]).nullable().default(null),
    sensor: z.enum(SENSOR_IDS).nullable().default(null),
    position: z.enum(POSITION_IDS).nullable().default(null),
  })
  .refine(
    ({ sensor, position }) => position === null || (sensor !== null && acceptsPosition(sensor, position)),
  );

const hintShape = z.strictObject({
  sensor: z.enum(SENSOR_IDS),
  position: z.enum(POSITION_IDS).optional(),
  fitted: z.enum(["yes", "no"]),
});

const lineShape = z.discriminatedUnion("status", [
  z.strictObject({
    text: z.string(),
    status: z.enum(["read", "claimed"]),
    operations: z.array(operationShape).min(1),
    hints: z.array(hintShape).optional(),
  }),
  z.strictObject({
    text: z.string(),
    status: z.literal("ambiguous"),
    alternatives: z.array(z.array(operationShape).min(1)).min(2),
  }),
  z.strictObject({ text: z.string(), status: z.literal("not-read") }),
]);

const fileShape = z.strictObject({
  says: z.string(),
  options: z.strictObject({ driveSide: z.enum(["left", "right"]) }).optional(),
  lines: z.array(lineShape).min(1),
});

type Expected = z.infer<typeof lineShape>;
type ExpectedOperation = z.infer<typeof operationShape>;
type Given = ReturnType<typeof readEstimateLines>["lines"][number];
type GivenOperation = Given["operations"][number];

/** A line that rightly stays unread is "left". */
type Verdict = "right" | "missed" | "wrong" | "left";

function asText(operation: ExpectedOperation | GivenOperation): string {
  const { action, component, side, axle, sensor, position } = operation;
  return [action, component, side, axle, sensor, position].map(String).join(" ");
}

/** The operations of a line in one text, whatever their order. */
function allAsText(operations: readonly (ExpectedOperation | GivenOperation)[]): string {
  return operations.map(asText).sort().join(" + ");
}

function isRead(given: Given): boolean {
  return given.status === "read" || given.status === "claimed";
}

/** A hint without a position in the file is met by any position. */
function judgeHints(expected: Expected, given: Given): Verdict {
  if (expected.status !== "read" && expected.status !== "claimed") return "right";
  const { hints } = expected;
  if (hints === undefined) return "right";
  const meets = (hint: (typeof hints)[number], found: Given["equipmentHints"][number]): boolean =>
    hint.sensor === found.sensor &&
    hint.fitted === found.fitted &&
    (hint.position === undefined || hint.position === found.position);
  if (given.equipmentHints.some((found) => !hints.some((hint) => meets(hint, found)))) return "wrong";
  return hints.every((hint) => given.equipmentHints.some((found) => meets(hint, found))) ? "right" : "missed";
}

function judge(expected: Expected, given: Given): Verdict {
  switch (expected.status) {
    case "read":
    case "claimed": {
      if (!isRead(given)) return "missed";
      const same =
        given.status === expected.status && allAsText(given.operations) === allAsText(expected.operations);
      return same ? judgeHints(expected, given) : "wrong";
    }
    case "ambiguous": {
      if (isRead(given)) return "wrong";
      const offered = given.alternatives.map(allAsText);
      return expected.alternatives.every((one) => offered.includes(allAsText(one))) ? "right" : "missed";
    }
    case "not-read":
      return isRead(given) ? "wrong" : "left";
  }
}

function describeLine(file: string, expected: Expected, given: Given): string {
  const wanted = "operations" in expected ? allAsText(expected.operations) : expected.status;
  const got = isRead(given) ? allAsText(given.operations) : `${given.status}: ${String(given.why)}`;
  const hints = given.equipmentHints.map(({ sensor, fitted }) => `${sensor} ${fitted}`).join(", ");
  return `${file}: ${JSON.stringify(expected.text)}\n    wanted ${wanted}\n    got    ${got}${hints === "" ? "" : ` (hints: ${hints})`}`;
}

const files = readdirSync(FOLDER)
  .filter((name) => name.endsWith(".json"))
  .sort()
  .map((name) => ({
    name,
    ...fileShape.parse(JSON.parse(readFileSync(new URL(name, FOLDER), "utf8"))),
  }));

const judged = files.flatMap(({ name, options, lines }) => {
  const reading = readEstimateLines(
    lines.map(({ text }) => text),
    options,
  );
  if (reading.lines.length !== lines.length) throw new Error(`${name}: not one answer for each line`);
  return lines.flatMap((expected, index) => {
    const given = reading.lines[index];
    if (given === undefined) return [];
    return [{ expected, given, verdict: judge(expected, given), told: describeLine(name, expected, given) }];
  });
});

function toldOf(verdict: Verdict): readonly string[] {
  return judged.filter((line) => line.verdict === verdict).map(({ told }) => told);
}

describe("estimate lines written by hand", () => {
  it("are enough, of either kind, and use every action, component and sensor", () => {
    const expected = judged.map((line) => line.expected);
    const operations = expected.flatMap((line) => ("operations" in line ? line.operations : []));
    expect(expected.filter((line) => "operations" in line).length).toBeGreaterThanOrEqual(320);
    expect(expected.filter((line) => !("operations" in line)).length).toBeGreaterThanOrEqual(120);
    expect(new Set(operations.map(({ action }) => action))).toEqual(new Set(ACTION_IDS));
    expect(new Set(operations.map(({ component }) => component))).toEqual(new Set(COMPONENT_IDS));
    expect(new Set(operations.flatMap(({ sensor }) => sensor ?? []))).toEqual(new Set(SENSOR_IDS));
  });

  it("are never read as something else", () => {
    expect(toldOf("wrong").join("\n")).toBe("");
  });

  it("are read nearly all", () => {
    const right = toldOf("right").length;
    const missed = toldOf("missed");
    const all = judged.filter(({ expected }) => expected.status !== "not-read").length;
    const recall = right / all;
    console.log(
      `recall ${(recall * 100).toFixed(1)} % (${String(right)} of ${String(all)}), ` +
        `wrong ${String(toldOf("wrong").length)}${missed.length === 0 ? "" : `\nmissed:\n${missed.join("\n")}`}`,
    );
    expect(recall).toBeGreaterThanOrEqual(LEAST_RECALL);
  });

  it("give operations only where they are read, each with the words it was read from", () => {
    for (const { given } of judged) {
      expect(given.operations.length > 0, given.text).toBe(isRead(given));
      for (const { words } of given.operations) {
        expect(words.length, given.text).toBeGreaterThan(0);
        for (const [start, end] of words) {
          expect(start, given.text).toBeGreaterThanOrEqual(0);
          expect(end, given.text).toBeGreaterThan(start);
          expect(end, given.text).toBeLessThanOrEqual(given.text.length);
        }
      }
    }
  });
});
