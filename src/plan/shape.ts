import { z } from "zod";
import { clearAreaShape, driveWindowShape, targetShape } from "../procedures/index.js";
import { SOURCE_KINDS } from "../rulebook/index.js";
import {
  ACTION_IDS,
  COMPONENT_IDS,
  DISTURBANCE_IDS,
  EVIDENCE_IDS,
  FEATURE_IDS,
  HOLD_IDS,
  INSPECTION_IDS,
  METHOD_IDS,
  POSITION_IDS,
  PRECONDITION_IDS,
  SENSOR_IDS,
  STAGE_IDS,
  STAGE_KINDS,
  STANDING_IDS,
  TASK_IDS,
} from "../vocabulary/index.js";

const text = z.string();
const sensor = z.enum(SENSOR_IDS);
const position = z.enum(POSITION_IDS).nullable();
const firm = z.enum(["required", "presumed", "inspect-first"]);

const source = z.strictObject({
  kind: z.enum(SOURCE_KINDS),
  cite: text,
  section: text.nullable(),
  supports: z.enum(["states-it", "implies-it", "our-judgement"]).nullable(),
  read: z.enum(["at-source", "second-hand", "from-memory", "not-applicable"]),
});
/** What a statement of the plan stands on. */
export type PlanSource = z.infer<typeof source>;

/** One chain: from a stated operation or finding, by implied operations, to a disturbance and the rule that asks. */
const reason = z.strictObject({
  /** The stated operation that began it; null where a finding did. */
  operation: text.nullable(),
  /** JSON pointer of the finding that began it; null where an operation did. */
  finding: text.nullable(),
  /** The implied operations on the way, in order. */
  implied: z.array(text),
  disturbance: z.enum(DISTURBANCE_IDS),
  disturbanceRules: z.array(text),
  rule: text,
  standing: firm,
  certain: z.boolean(),
  /** Questions that stand between; empty where certain. */
  questions: z.array(text),
  /** The mechanisms in the rule authors' sentences, from disturbance to requirement. */
  says: z.array(text),
  source,
});
/** One chain behind a requirement, from a line or finding by way of a disturbance to a rule. */
export type PlanReason = z.infer<typeof reason>;

const requirement = z.strictObject({
  id: text,
  sensor,
  position,
  /** Other sensor ids that are the same physical device. */
  alsoFor: z.array(text),
  task: z.enum(TASK_IDS),
  standing: z.enum(STANDING_IDS),
  couldRiseTo: firm.nullable(),
  fitted: z.enum(["yes", "unknown"]),
  method: z.strictObject({
    value: z.enum(METHOD_IDS),
    usual: z.enum(METHOD_IDS).nullable(),
    procedure: text.nullable(),
    source: source.nullable(),
  }),
  /** What the maker's procedure says of the task; null where there is none. */
  procedure: z
    .strictObject({
      id: text,
      pack: text,
      section: text,
      targets: z.array(targetShape),
      clearArea: clearAreaShape.nullable(),
      driveWindow: driveWindowShape.nullable(),
      afterwards: z.array(text),
    })
    .nullable(),
  inspection: z
    .array(
      z.strictObject({ id: z.enum(INSPECTION_IDS), lookAt: text, failsWhen: text, certain: z.boolean() }),
    )
    .nullable(),
  because: z.array(reason).min(1),
  holds: z.array(
    z.strictObject({
      id: z.enum(HOLD_IDS),
      says: text,
      clearedBy: text,
      rule: text,
      operation: text.nullable(),
      finding: text.nullable(),
    }),
  ),
  preconditions: z.array(z.enum(PRECONDITION_IDS)),
  after: z.array(text),
  evidence: z.array(z.enum(EVIDENCE_IDS)),
  /** Features stated for the vehicle that the sensor serves. */
  features: z.array(z.enum(FEATURE_IDS)),
  /** Features that the sensor can serve and of which nothing is stated. */
  possibleFeatures: z.array(z.enum(FEATURE_IDS)),
  questions: z.array(text),
});
/** One task of one sensor that is due or may be, with its reasons and all that attaches to it. */
export type Requirement = z.infer<typeof requirement>;

const limit = z.strictObject({
  value: z.number(),
  unit: text,
  sense: z.enum(["at-most", "at-least", "between"]),
  low: z.number().nullable(),
  high: z.number().nullable(),
});
/** A limit as a procedure states it, in the unit named; null where an end is open. */
export type PlanLimit = z.infer<typeof limit>;

/** The answer to a work order (`repair-calibration/plan@1`). */
export const planShape = z.strictObject({
  schema: z.literal("repair-calibration/plan@1"),
  reference: text,
  outcome: z.enum(["complete", "needs-answers"]),
  vehicle: z.strictObject({
    make: text.nullable(),
    model: text.nullable(),
    /** Empty: unknown. Several: the VIN leaves it open. */
    modelYears: z.array(z.int()),
    vin: text.nullable(),
  }),
  rulebook: z.strictObject({
    packs: z.array(z.strictObject({ id: text, version: text, digest: text })),
  }),
  procedures: z.array(
    z.strictObject({
      id: text,
      version: text,
      digest: text,
      cite: text,
      issued: text,
      invented: z.boolean(),
      applies: z.enum(["yes", "no", "unknown"]),
    }),
  ),
  requirements: z.array(requirement),
  waived: z.array(
    z.strictObject({
      sensor,
      position,
      task: z.enum(TASK_IDS),
      by: z.strictObject({ rule: text, says: text, source }),
      waives: z.array(text),
      wouldHaveBeen: firm,
      because: z.array(reason).min(1),
    }),
  ),
  notIndicated: z.array(
    z.strictObject({
      sensor,
      position,
      reason: z.enum(["not-fitted", "no-rule-asks-for-it", "fitment-unknown-but-no-rule-asks-for-it"]),
      considered: z.array(text),
      wouldChange: z.array(text),
    }),
  ),
  impliedOperations: z.array(
    z.strictObject({
      id: text,
      action: z.enum(ACTION_IDS),
      component: z.enum(COMPONENT_IDS),
      side: z.enum(["left", "right", "unknown"]).nullable(),
      axle: z.enum(["front", "rear", "unknown"]).nullable(),
      sensor: sensor.nullable(),
      position,
      /** The stated operation, or the pointer of the finding, that it follows from; the first of `fromAll`. */
      from: text,
      fromAll: z.array(text),
      /** The requirement whose step it is, where it follows from one. */
      fromRequirement: text.nullable(),
      rule: text,
      rules: z.array(text),
      certain: z.boolean(),
      questions: z.array(text),
    }),
  ),
  preconditions: z.array(
    z.strictObject({
      id: z.enum(PRECONDITION_IDS),
      statement: text,
      /** False where it is needed only by a method that nobody has stated yet. */
      certain: z.boolean(),
      limit: limit.nullable(),
      limits: z.array(z.strictObject({ requirement: text, limit, note: text.nullable(), source })),
      /** What the procedures add in words, such as the datum of a limit. */
      notes: z.array(z.strictObject({ requirement: text, note: text })),
      source,
      neededBy: z.array(text),
    }),
  ),
  steps: z.array(
    z.strictObject({
      id: text,
      stage: z.enum(STAGE_IDS),
      kind: z.enum(STAGE_KINDS),
      says: text,
      requirement: text.nullable(),
      /** Why it may fall away; null where it is due as things stand. */
      onlyIf: text.nullable(),
      after: z.array(text),
      setup: text.nullable(),
    }),
  ),
  questions: z.array(
    z.strictObject({
      id: text,
      ask: text,
      about: text,
      answers: z.array(text),
      settles: z.array(text),
      couldAdd: z.array(text),
    }),
  ),
  /** "At least one of these is fitted", where a feature proves that and no more. */
  atLeastOneOf: z.array(
    z.strictObject({
      sensors: z.array(text),
      because: z.array(z.enum(FEATURE_IDS)),
      question: text.nullable(),
    }),
  ),
  claimed: z.array(
    z.strictObject({ operation: text, action: z.enum(["calibrate", "scan"]), text: text.nullable() }),
  ),
  unread: z.array(z.strictObject({ operation: text, text: text.nullable(), why: text })),
  contradictions: z.array(z.strictObject({ about: z.array(text), says: text })),
  warnings: z.array(z.strictObject({ about: text, says: text })),
  notes: z.array(text),
  cautions: z.array(text),
});
/** What a repair makes due (`repair-calibration/plan@1`). */
export type Plan = z.infer<typeof planShape>;
/** One step of the work; steps stand in a valid order, and `after` names those that come directly before. */
export type PlanStep = Plan["steps"][number];
/** An open point as a question; `settles` names requirements, `couldAdd` sensors that it could bring one for. */
export type PlanQuestion = Plan["questions"][number];
