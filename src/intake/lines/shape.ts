import * as z from "zod";
import { ACTION_IDS, COMPONENT_IDS, POSITION_IDS, SENSOR_IDS } from "../../vocabulary/index.js";

/** From the first character to before the last, counted as JavaScript counts (UTF-16). */
const span = z.tuple([z.number().int().min(0), z.number().int().min(1)]);
const words = z.array(span).min(1);

/**
 * An operation as a line says it. Of a calibration that names no sensor, the component is `sensor` and the sensor null;
 * of a scan, the component is `other`.
 */
const operation = z.strictObject({
  action: z.enum(ACTION_IDS),
  component: z.enum(COMPONENT_IDS),
  /** Null in this and the next three: not said. */
  side: z.enum(["left", "right"]).nullable(),
  axle: z.enum(["front", "rear"]).nullable(),
  sensor: z.enum(SENSOR_IDS).nullable(),
  position: z.enum(POSITION_IDS).nullable(),
  words,
});
/** What a line says is done, with the words that say so. */
export type LineOperation = z.infer<typeof operation>;

const equipmentHint = z.strictObject({
  sensor: z.enum(SENSOR_IDS),
  position: z.enum(POSITION_IDS).nullable(),
  fitted: z.enum(["yes", "no"]),
  words,
});
/** What a part's description says of the vehicle's equipment: evidence to confirm, and no more. */
export type EquipmentHint = z.infer<typeof equipmentHint>;

export const LINE_STATUS = ["read", "unread", "ambiguous", "claimed"] as const;

const line = z.strictObject({
  /** Counted from 1 in what was given. */
  line: z.number().int().min(1),
  text: z.string(),
  /** `claimed`: read, and nothing but calibrations and scans. */
  status: z.enum(LINE_STATUS),
  operations: z.array(operation),
  /** Where the status is `ambiguous`: every reading that the words allow. */
  alternatives: z.array(z.array(operation).min(1)),
  /** Why the line was not read; null where it was. */
  why: z.string().nullable(),
  equipmentHints: z.array(equipmentHint),
});
/** What one line says, from which of its words. */
export type ReadLine = z.infer<typeof line>;

/** The reading of an estimate's lines (`repair-calibration/reading@1`), in the order given. */
export const readingShape = z.strictObject({
  schema: z.literal("repair-calibration/reading@1"),
  lines: z.array(line),
});
/** What the lines of an estimate say (`repair-calibration/reading@1`). */
export type Reading = z.infer<typeof readingShape>;
