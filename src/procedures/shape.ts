import * as z from "zod";
import { ruleShape, sourcesShape } from "../rulebook/index.js";
import {
  EVIDENCE_IDS,
  METHOD_IDS,
  POSITION_IDS,
  PRECONDITION_IDS,
  SENSOR_IDS,
  TASK_IDS,
} from "../vocabulary/index.js";

const kebab = /^[a-z0-9]+(-[a-z0-9]+)*$/;
const text = z.string().min(1).max(1000);
const requirementReference = z
  .string()
  .regex(/^[a-z-]+(:[a-z-]+)?\/[a-z-]+$/)
  .describe('A requirement: "forward-camera/calibration", "rear-corner-radar:left/calibration".');

const millimetres = z.strictObject({ nominal: z.number(), tolerance: z.number().min(0) });
const degrees = z.strictObject({ nominal: z.number(), tolerance: z.number().min(0) });

/** Where a target stands: from a datum of the vehicle, along a reference line. Lengths mm, angles degrees (ISO 8855). */
export const targetShape = z.strictObject({
  id: z.string().regex(kebab),
  name: text,
  datum: z.enum(["front-axle", "rear-axle", "front-bumper", "rear-bumper", "sensor", "emblem"]),
  referenceLine: z.enum(["centre-line", "thrust-line"]),
  /**
   * Along the reference line from the datum, away from the vehicle positive: forwards from the front axle and the front
   * bumper, backwards from the rear axle and the rear bumper; from a sensor or an emblem forwards where it lies ahead of
   * the middle of the wheelbase, otherwise backwards.
   */
  distance: millimetres,
  /** Left of the reference line positive. */
  lateral: millimetres,
  /** Of the target's centre above the floor. */
  height: millimetres,
  yaw: degrees,
  pitch: degrees,
  roll: degrees,
  /** Of the board or bar: its width is where the tape is held, from end to end; mm. */
  size: z
    .strictObject({ width: z.number().positive().max(20_000), height: z.number().positive().max(20_000) })
    .optional(),
});
/** Where a target stands (one entry of `targets`). */
export type ProcedureTarget = z.infer<typeof targetShape>;

const limitShape = z.strictObject({
  low: z.number().optional(),
  high: z.number().optional(),
  unit: z.string().min(1).max(20),
});

/** Free floor that a procedure asks for; lengths mm. */
export const clearAreaShape = z.strictObject({
  datum: z.enum(["front-bumper", "rear-bumper", "vehicle-centre"]),
  length: z.number().positive(),
  width: z.number().positive(),
  height: z.number().positive().optional(),
});

/** Classes of road, from the fastest to the slowest: by their build, not by their law. */
export const ROAD_CLASSES = ["motorway", "divided", "rural", "urban"] as const;
/** A class of road by its build. */
export type RoadClass = (typeof ROAD_CLASSES)[number];

/** The drive that a dynamic calibration needs. */
export const driveWindowShape = z.strictObject({
  speed: z.strictObject({
    low: z.number().min(0),
    high: z.number().positive(),
    unit: z.enum(["km/h", "mph"]),
  }),
  minutes: z.number().positive().optional(),
  distance: z.strictObject({ value: z.number().positive(), unit: z.enum(["km", "mi"]) }).optional(),
  roads: z.array(text).optional(),
  /** The same as `roads`, in words that a log can be held against. */
  roadClasses: z.array(z.enum(ROAD_CLASSES)).min(1).optional(),
  laneMarkings: z.enum(["both-sides", "one-side", "not-needed"]).optional(),
  /** Whether the time may be gathered in pieces or has to come in one run; left out: the procedure does not say. */
  run: z.enum(["in-pieces", "in-one-run"]).optional(),
  /** The largest angle of the steering wheel either way; degrees. */
  steering: z.number().positive().max(900).optional(),
  /** The steepest gradient either way; per cent. */
  gradient: z.number().positive().max(40).optional(),
  weather: text.optional(),
});

const procedureShape = z.strictObject({
  id: z.string().regex(kebab),
  sensor: z.enum(SENSOR_IDS),
  position: z.enum(POSITION_IDS).nullable().optional(),
  task: z.enum(TASK_IDS),
  method: z.enum(METHOD_IDS),
  section: text.describe("Where in the cited document it stands."),
  targets: z.array(targetShape).optional(),
  /** Free floor that the procedure asks for, measured from the datum named; mm. */
  clearArea: clearAreaShape.optional(),
  conditions: z
    .array(
      z.strictObject({
        precondition: z.enum(PRECONDITION_IDS),
        limit: limitShape.optional(),
        note: text.optional(),
      }),
    )
    .optional(),
  driveWindow: driveWindowShape.optional(),
  afterwards: z
    .array(text)
    .optional()
    .describe("What follows in the same procedure, such as an ignition cycle."),
  evidence: z.array(z.enum(EVIDENCE_IDS)).optional(),
});
/** What a maker prescribes for one task of one sensor; lengths mm, angles degrees. */
export type Procedure = z.infer<typeof procedureShape>;
export type Limit = z.infer<typeof limitShape>;

/** The drive that a dynamic calibration needs. */
export type DriveWindow = z.infer<typeof driveWindowShape>;
/** Free floor that a procedure asks for; lengths mm. */
export type ClearArea = z.infer<typeof clearAreaShape>;

/** A vehicle maker's procedures for a line of vehicles (`repair-calibration/procedures@1`). */
export const procedurePackShape = z.strictObject({
  $schema: z.string().optional(),
  schema: z.literal("repair-calibration/procedures@1"),
  id: z.string().regex(kebab),
  version: z.string().regex(/^\d+\.\d+\.\d+$/),
  title: text,
  /** True for packs made up for demonstration: reports say so. */
  invented: z.boolean(),
  appliesTo: z.strictObject({
    make: text,
    models: z.array(text).min(1),
    modelYears: z.strictObject({ from: z.int(), to: z.int() }),
  }),
  issued: z.iso.date(),
  cite: text,
  procedures: z.array(procedureShape),
  order: z
    .array(z.strictObject({ first: requirementReference, then: requirementReference, section: text }))
    .optional(),
  sources: sourcesShape.optional(),
  rules: z.array(ruleShape).optional(),
  doesNotCover: z.array(text).min(1),
});
/** A procedure pack as its document holds it. */
export type ProcedurePack = z.infer<typeof procedurePackShape>;
