import { InputError, type Issue } from "../errors.js";
import { issuesOf } from "../shapes/index.js";
import { kilometresPerHour, type DriveSample } from "./sample.js";
import { driveLogShape, driveSampleShape } from "./shape.js";
import { readTime } from "./time.js";

/** Everything of a log but its samples. */
const headShape = driveLogShape.omit({ samples: true });

/** Reads the samples of a log one by one; `index` counts from 0 and stands in messages. Throws `InputError`. */
export interface SampleReader {
  readonly reference: string | null;
  readonly read: (value: unknown, index: number) => DriveSample;
}

/**
 * Reads everything of a log in JSON that is not its samples, and gives the reader of those. Throws `InputError` for an
 * unknown schema, unknown keys, and where a unit is missing.
 */
export function readDriveHead(head: unknown): SampleReader {
  const parsed = headShape.safeParse(head);
  if (!parsed.success) {
    throw new InputError("input", issuesOf(parsed.error, headShape, head).map(aboutUnits));
  }
  const { units, reference } = parsed.data;
  let isText: boolean | null = null;
  return {
    reference: reference ?? null,
    read: (value, index) => {
      const sample = readSample(value, index);
      isText ??= typeof sample.time === "string";
      if (isText !== (typeof sample.time === "string")) refuseMixture(index);
      return {
        ...sample,
        time: typeof sample.time === "string" ? readTimeOf(sample.time, index) : sample.time,
        speed: kilometresPerHour(sample.speed, units.speed),
      };
    },
  };
}

/** Reads a log in JSON that is all there. Throws `InputError`. */
export function readDriveLog(content: unknown): {
  readonly reference: string | null;
  readonly samples: readonly DriveSample[];
} {
  const isObject = content !== null && typeof content === "object" && !Array.isArray(content);
  const { samples, ...head }: Readonly<Record<string, unknown>> = isObject
    ? { ...content }
    : { samples: undefined };
  const { reference, read } = readDriveHead(isObject ? head : content);
  if (!Array.isArray(samples)) refuseSamples(samples);
  return { reference, samples: samples.map(read) };
}

function readSample(value: unknown, index: number) {
  const parsed = driveSampleShape.safeParse(value);
  if (parsed.success) return parsed.data;
  // A time that is almost one is told better by its own reader than by the pattern of the shape.
  const time = value !== null && typeof value === "object" && "time" in value ? value.time : undefined;
  if (typeof time === "string") readTimeOf(time, index);
  throw new InputError("input", at(index, issuesOf(parsed.error, driveSampleShape, value)));
}

function readTimeOf(text: string, index: number): number {
  try {
    return readTime(text);
  } catch (error) {
    throw error instanceof InputError ? new InputError("input", at(index, error.issues)) : error;
  }
}

function at(index: number, issues: readonly Issue[]): readonly Issue[] {
  return issues.map((issue) => ({ ...issue, pointer: `/samples/${index}${issue.pointer}` }));
}

function aboutUnits(issue: Issue): Issue {
  const isAboutUnit = issue.pointer === "/units" || issue.pointer === "/units/speed";
  if (issue.code !== "missing-key" || !isAboutUnit) return issue;
  return {
    code: "missing-measurement",
    pointer: issue.pointer,
    message: "the unit of the speed is not named before the samples",
    expected: '"units": { "speed": "km/h" } or "units": { "speed": "mph" }',
  };
}

function refuseMixture(index: number): never {
  throw new InputError("input", [
    {
      code: "wrong-type",
      pointer: `/samples/${index}/time`,
      message: "some times are numbers and some are texts",
      expected: "the same way of telling the time in all samples",
    },
  ]);
}

function refuseSamples(found: unknown): never {
  throw new InputError("input", [
    {
      code: found === undefined ? "missing-key" : "wrong-type",
      pointer: "/samples",
      message: found === undefined ? "this is missing" : "the samples are not a list",
      expected: "a list",
    },
  ]);
}
