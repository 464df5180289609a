import * as z from "zod";
import { driveWindowShape, ROAD_CLASSES } from "../procedures/index.js";
import { POSITION_IDS, SENSOR_IDS, TASK_IDS } from "../vocabulary/index.js";

const text = z.string();
const number = z.number();

/** What a log can say of the road, beside the classes of a drive window. */
export const ROADS_SEEN = [...ROAD_CLASSES, "unknown"] as const;
/** What a log can say of the lane markings: on both sides of the vehicle, on one, on none. */
export const LANES_SEEN = ["both", "one", "none", "unknown"] as const;
export const SPEED_UNITS = ["km/h", "mph"] as const;
/** The units in which a log may give speeds. */
export type SpeedUnit = (typeof SPEED_UNITS)[number];

/** The fastest that a log may say; km/h. */
export const SPEED_LIMIT = 400;
/** Further from zero no time can be told to the microsecond; seconds. */
export const TIME_LIMIT = 9_000_000_000;
export const STEERING_LIMIT = 2000;
export const GRADIENT_LIMIT = 100;

export const driveSampleShape = z.strictObject({
  time: z
    .union([
      z.number().min(-TIME_LIMIT).max(TIME_LIMIT),
      z.string().regex(/^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}([.,]\d+)?)?(Z|[+-]\d{2}(:?\d{2})?)$/),
    ])
    .describe("Seconds from any origin, or an ISO 8601 time with its offset; the same way in all samples."),
  speed: z.number().min(0).max(SPEED_LIMIT),
  road: z.enum(ROADS_SEEN).optional(),
  lanes: z.enum(LANES_SEEN).optional(),
  steering: z
    .number()
    .min(-STEERING_LIMIT)
    .max(STEERING_LIMIT)
    .optional()
    .describe("Angle of the steering wheel from straight ahead; degrees, the same side always positive."),
  gradient: z
    .number()
    .min(-GRADIENT_LIMIT)
    .max(GRADIENT_LIMIT)
    .optional()
    .describe("Rise of the road; per cent."),
});

export const driveUnitsShape = z.strictObject({
  time: z.literal("s").optional(),
  speed: z.enum(SPEED_UNITS),
  steering: z.literal("deg").optional(),
  gradient: z.literal("%").optional(),
});

/** A log of a drive (`repair-calibration/drive@1`); `units` stands before `samples`, which are read as they come. */
export const driveLogShape = z.strictObject({
  $schema: z.string().max(1000).optional(),
  schema: z.literal("repair-calibration/drive@1"),
  reference: z.string().max(120).optional(),
  units: driveUnitsShape,
  samples: z.array(driveSampleShape).min(1),
});
/** A drive log as one document (`repair-calibration/drive@1`). */
export type DriveLog = z.infer<typeof driveLogShape>;

/** Why a stretch of a log does not count, or may not. */
export const DRIVE_REASONS = [
  "too-slow",
  "too-fast",
  "road",
  "lanes",
  "steering",
  "gradient",
  "gap",
  "clock",
] as const;
export type DriveReason = (typeof DRIVE_REASONS)[number];
const reason = z.enum(DRIVE_REASONS);

const amount = z.strictObject({ seconds: number, km: number });
const run = z.strictObject({
  /** Seconds from the first sample. */
  begin: number,
  end: number,
  seconds: number,
  km: number,
});
const byReason = z.array(z.strictObject({ why: reason, seconds: number }));

export const DRIVE_VERDICTS = ["met", "not-met", "cannot-be-told"] as const;
/** What a log comes to. */
export type DriveVerdict = (typeof DRIVE_VERDICTS)[number];

export const driveFindingsShape = z.strictObject({
  verdict: z.enum(DRIVE_VERDICTS),
  says: text,
  /** What more it would take, each in words; empty where the drive is met. */
  missing: z.array(text),
  /** What to look up or to note before it can be told, each in words. */
  lookUp: z.array(text),
  /** What no log shows. */
  confirmByHand: z.array(text),
  samples: z.int(),
  /** All that was recorded, without gaps and without what the clock showed twice. */
  whole: amount,
  /** What fulfils the window for certain. */
  certain: amount,
  /** What may fulfil it beyond that: nothing speaks against it, but something that the window asks for is not recorded. */
  possible: amount,
  longestRun: z.strictObject({
    certain: run.nullable(),
    /** With everything counted that may fulfil the window. */
    possible: run.nullable(),
  }),
  /** Between stretches that fulfil the window, for certain or possibly; seconds from the first sample. */
  interruptions: z.array(
    z.strictObject({
      begin: number,
      end: number,
      /** By the clock, as far as it ran forward. */
      seconds: number,
      why: z.array(reason),
    }),
  ),
  /** Interruptions beyond those listed, by what caused them; one with two causes counts under both. */
  furtherInterruptions: z.strictObject({
    total: z.int(),
    byReason: z.array(z.strictObject({ why: reason, interruptions: z.int() })),
  }),
  /** Recorded time that does not fulfil the window; time with two reasons stands under both. */
  notCounted: byReason,
  /** Time that only possibly fulfils the window, by what is not recorded. */
  notRecorded: byReason,
  gaps: z.strictObject({
    /** Neighbouring samples further apart than this are a gap; seconds. */
    longerThan: number,
    total: z.int(),
    seconds: number,
    longest: z.strictObject({ begin: number, end: number }).nullable(),
  }),
  clock: z.strictObject({
    /** Where the time goes back; seconds from the first sample. */
    backwardSteps: z.array(z.strictObject({ from: number, to: number })),
    /** Samples with the same time as the one before. */
    standstills: z.int(),
    /** Time that the clock showed a second time; it counts once. */
    repeatedSeconds: number,
  }),
});
/** What a log shows of the drive that a procedure asks for. */
export type DriveFindings = z.infer<typeof driveFindingsShape>;

/** What a log shows of the drive that one procedure asks for (`repair-calibration/drive-result@1`). */
export const driveResultShape = z.strictObject({
  schema: z.literal("repair-calibration/drive-result@1"),
  /** Of the log, where it states one. */
  reference: text.nullable(),
  requirement: text,
  sensor: z.enum(SENSOR_IDS),
  position: z.enum(POSITION_IDS).nullable(),
  task: z.enum(TASK_IDS),
  procedure: z.strictObject({
    pack: text,
    version: text,
    digest: text,
    title: text,
    cite: text,
    issued: text,
    invented: z.boolean(),
    id: text,
    section: text,
  }),
  /** As the procedure states it. */
  asked: driveWindowShape,
  ...driveFindingsShape.shape,
  /** What follows in the same procedure once the drive is done. */
  afterwards: z.array(text),
  cautions: z.array(text),
});
/** What a log comes to, held against one procedure (`repair-calibration/drive-result@1`). */
export type DriveResult = z.infer<typeof driveResultShape>;
