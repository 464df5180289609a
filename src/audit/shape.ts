import * as z from "zod";
import { EVIDENCE_IDS, METHOD_IDS, POSITION_IDS, SENSOR_IDS, TASK_IDS } from "../vocabulary/index.js";

const text = z.string().max(2000);
const id = z
  .string()
  .min(1)
  .max(120)
  .regex(/^[^\u0000-\u001f\u007f]*$/);
/** A time with its offset from UTC. */
export const timeShape = z.iso.datetime({ offset: true });
const sensor = z.enum(SENSOR_IDS);
const position = z.enum(POSITION_IDS).nullable();

/** What became of a task. */
export const RESULTS = ["passed", "failed", "aborted", "not-done", "unknown"] as const;

const evidenceShape = z.strictObject({
  kind: z.enum(EVIDENCE_IDS),
  /** Of the vehicle that the evidence names. */
  vin: z.string().max(40).optional(),
  reference: text.optional(),
  at: timeShape.optional(),
  result: z.enum(RESULTS).optional(),
});

const lineShape = z.strictObject({
  id,
  sensor,
  position: position.optional(),
  task: z.enum(TASK_IDS),
  method: z.enum(METHOD_IDS).optional(),
  text: text.optional(),
  started: timeShape.optional(),
  finished: timeShape.optional(),
  result: z.enum(RESULTS).optional(),
  /** What was followed, and the date of that document. */
  procedure: z.strictObject({ cite: text, issued: z.iso.date().optional() }).optional(),
  /** The maker's document that says why it is not done. */
  waiver: z.strictObject({ cite: text, section: text.optional() }).nullable().optional(),
  /** Lines with the same word were done from one stand of the vehicle. */
  setUp: id.optional(),
  performedBy: z
    .strictObject({ person: text.optional(), firm: text.optional(), equipment: text.optional() })
    .optional(),
  evidence: z.array(evidenceShape).max(100).optional(),
});

const recordShape = z.strictObject({
  kind: z.enum(EVIDENCE_IDS),
  at: timeShape.optional(),
  sensor: sensor.nullable().optional(),
  position: position.optional(),
  vin: z.string().max(40).optional(),
  reference: text.optional(),
  /** For an inspection or a check. */
  result: z.enum(RESULTS).optional(),
  /** For a cure: until when; for a notice: to whom; for a log: minutes that qualify. Free, and never read as a verdict. */
  values: z.record(z.string().max(120), z.union([z.string().max(2000), z.number(), z.boolean()])).optional(),
});

/** A plan, a work record or an invoice as somebody submitted it (`repair-calibration/submitted@1`). */
export const submittedShape = z.strictObject({
  $schema: z.string().optional(),
  schema: z.literal("repair-calibration/submitted@1"),
  document: z.enum(["estimate", "work-record", "invoice"]),
  reference: text.optional(),
  vin: z.string().max(40).optional(),
  /** When the vehicle went back to its owner; left out: not known, or not yet. */
  released: timeShape.optional(),
  lines: z.array(lineShape).max(2000),
  records: z.array(recordShape).max(2000).optional(),
  extensions: z.record(z.string(), z.unknown()).optional(),
});
export type Submitted = z.infer<typeof submittedShape>;
/** One calibration, reset, aim or check as a document lists or bills it. */
export type SubmittedLine = z.infer<typeof lineShape>;
/** A record that came with a document. */
export type SubmittedRecord = z.infer<typeof recordShape>;
/** What became of a task, as a document or a record says it. */
export type Result = (typeof RESULTS)[number];

/** Every kind of finding, with its severity. */
export const FINDING_KINDS = {
  "missing-requirement": "high",
  "undecided-requirement": "medium",
  "missing-inspection": "medium",
  "unsupported-line": "medium",
  "method-mismatch": "high",
  "done-out-of-order": "high",
  "hold-ignored": "high",
  "precondition-unproven": "medium",
  "scan-missing": "medium",
  "evidence-missing": "medium",
  "result-missing": "medium",
  "result-failed": "high",
  "vehicle-mismatch": "high",
  "duplicate-line": "low",
  "procedure-superseded": "low",
  "waiver-uncited": "high",
  "customer-notice-missing": "high",
  "stale-result": "high",
  "scan-out-of-order": "high",
  "drive-not-proven": "medium",
  "setup-unproven": "medium",
  "performer-missing": "medium",
  "overlapping-lines": "low",
  "hold-open": "low",
} as const;
export type FindingKind = keyof typeof FINDING_KINDS;

const findingKinds = Object.keys(FINDING_KINDS) as [FindingKind, ...FindingKind[]];

/** What a submitted document leaves open or says otherwise (`repair-calibration/audit@1`). */
export const auditShape = z.strictObject({
  schema: z.literal("repair-calibration/audit@1"),
  reference: text.nullable(),
  document: z.enum(["estimate", "work-record", "invoice"]),
  outcome: z.enum(["nothing-found", "something-found"]),
  rulebook: z.strictObject({
    packs: z.array(z.strictObject({ id: text, version: text, digest: text })),
  }),
  procedures: z.array(
    z.strictObject({ id: text, version: text, digest: text, applies: z.enum(["yes", "no", "unknown"]) }),
  ),
  findings: z.array(
    z.strictObject({
      /** "F1": in the order of the list. */
      id: text,
      kind: z.enum(findingKinds),
      severity: z.enum(["high", "medium", "low"]),
      sensor: sensor.nullable(),
      position,
      /** The submitted line that it is about; null where none is. */
      line: text.nullable(),
      requirement: text.nullable(),
      /** One sentence: what is supported by what, and what is not. */
      says: text,
      /** What it rests on: rules, operations, records, by their ids. */
      because: z.array(text),
      resolvedBy: text,
    }),
  ),
  /** Requirements beside the lines that answer them, for a reviewer's sheet. */
  pairs: z.array(
    z.strictObject({
      requirement: text.nullable(),
      lines: z.array(text),
      standing: text.nullable(),
      state: z.enum(["answered", "waived", "not-answered", "unsupported"]),
    }),
  ),
  totals: z.strictObject({
    high: z.int(),
    medium: z.int(),
    low: z.int(),
    missing: z.int(),
    unsupported: z.int(),
    undecided: z.int(),
  }),
  cautions: z.array(text),
});
export type Audit = z.infer<typeof auditShape>;
/** One thing that a document leaves open or says otherwise. */
export type Finding = Audit["findings"][number];
