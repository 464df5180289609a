import * as z from "zod";
import { OPERATORS, type Condition } from "../logic/index.js";
import {
  ACTION_IDS,
  ADJUSTED_IDS,
  COMPONENT_IDS,
  DISTURBANCE_IDS,
  EVIDENCE_IDS,
  HOLD_IDS,
  INSPECTION_IDS,
  PRECONDITION_IDS,
  STAGE_IDS,
  TASK_IDS,
} from "../vocabulary/index.js";
import { FACT_NAMES, SUBJECTS, type Subject } from "./fact-catalogue.js";

/** The layers of the rulebook in the order in which they conclude. */
export const STRATA = [
  "implied-operations",
  "disturbances",
  "requirements",
  "waivers",
  "holds",
  "preconditions",
  "evidence",
  "steps",
  "order",
] as const;
/** A layer of the rulebook. */
export type Stratum = (typeof STRATA)[number];

/** What a rule of each stratum may be asked of. */
export const SUBJECTS_OF: Readonly<Record<Stratum, readonly Subject[]>> = {
  "implied-operations": ["cause", "cause-and-sensor", "requirement"],
  disturbances: ["cause-and-sensor"],
  requirements: ["disturbance"],
  waivers: ["disturbance"],
  holds: ["cause-and-requirement"],
  preconditions: ["requirement"],
  evidence: ["requirement"],
  steps: ["cause"],
  order: ["stage-pair"],
};

const kebab = /^[a-z0-9]+(-[a-z0-9]+)*$/;
const sentence = z.string().min(8).max(600);
const scalar = z.union([z.string(), z.number(), z.boolean()]);

const leafShape = z.strictObject({
  name: sentence.describe("The condition in the author's words, present tense."),
  fact: z.enum(FACT_NAMES as [string, ...string[]]),
  operator: z.enum(OPERATORS),
  value: z.union([scalar, z.array(scalar).min(1)]),
});
const conditionShape: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    leafShape,
    z.strictObject({ all: z.array(conditionShape).min(1) }),
    z.strictObject({ any: z.array(conditionShape).min(1) }),
    z.strictObject({ not: conditionShape }),
  ]),
);

const impliedOperation = z.strictObject({
  action: z.enum(ACTION_IDS),
  /** `carried-parts`: everything that the cause's part carries; `the-sensor`: the sensor of the subject. */
  component: z.enum([...COMPONENT_IDS, "carried-parts", "the-sensor"]),
  side: z.enum(["same", "left", "right", "both"]).optional(),
  axle: z.enum(["same", "front", "rear"]).optional(),
  adjusted: z.union([z.literal("unknown"), z.array(z.enum(ADJUSTED_IDS)).min(1)]).optional(),
});

export const CONCLUSIONS = {
  "implied-operations": z.strictObject({ operation: impliedOperation }),
  disturbances: z.strictObject({ disturbance: z.enum(DISTURBANCE_IDS) }),
  requirements: z.strictObject({
    /** `own`: the default task of the sensor. */
    task: z.enum(["own", ...TASK_IDS]),
    standing: z.enum(["required", "presumed", "inspect-first"]),
    inspection: z.enum(INSPECTION_IDS).optional(),
  }),
  waivers: z.strictObject({ waives: z.array(z.string().regex(kebab)).min(1) }),
  holds: z.strictObject({ hold: z.enum(HOLD_IDS) }),
  preconditions: z.strictObject({ precondition: z.enum(PRECONDITION_IDS) }),
  evidence: z.strictObject({ evidence: z.enum(EVIDENCE_IDS) }),
  steps: z.strictObject({ stage: z.enum(STAGE_IDS) }),
  order: z.strictObject({ order: z.literal("earlier-before-later") }),
} as const;

const factValue = z.union([scalar, z.array(scalar)]);
const exampleFacts = z.partialRecord(z.enum(FACT_NAMES as [string, ...string[]]), factValue);

const examplesShape = z.strictObject({
  /** Facts under which the rule fires. Every fact that decides is stated. */
  fires: z.array(z.strictObject({ says: sentence, facts: exampleFacts })).min(1),
  /** Each differs from the firing example numbered `like` in exactly one fact, and the rule stays silent. */
  staysSilent: z.array(z.strictObject({ says: sentence, like: z.int().min(0), but: exampleFacts })).min(1),
  /** The firing example `like` with one fact unknown: the rule can't tell and asks for `asks`. */
  cannotTell: z
    .array(
      z.strictObject({
        says: sentence,
        like: z.int().min(0),
        unknown: z.enum(FACT_NAMES as [string, ...string[]]),
      }),
    )
    .min(1),
});

/** What every rule carries, whatever it concludes. */
const common = {
  $schema: z.string().optional(),
  id: z.string().regex(kebab).max(90),
  title: sentence,
  because: sentence.describe("The mechanism, in one sentence."),
  subject: z.enum(SUBJECTS),
  conditions: conditionShape,
  strength: z
    .enum(["certain", "possible"])
    .optional()
    .describe("For implied operations: whether it always comes with the work, or on some vehicles."),
  exceptionTo: z.array(z.string().regex(kebab)).optional(),
  assumptions: z.array(sentence),
  doesNotSay: z.array(sentence).min(1),
  source: z.strictObject({
    ref: z.string().regex(kebab),
    section: z.string().nullable(),
    supports: z.enum(["states-it", "implies-it", "our-judgement"]),
    note: sentence.optional(),
  }),
  status: z.enum(["draft", "settled", "disputed", "withdrawn"]),
  replacedBy: z.string().regex(kebab).optional(),
  since: z.string().regex(/^\d+\.\d+\.\d+$/),
  revised: z
    .string()
    .regex(/^\d+\.\d+\.\d+$/)
    .optional(),
  examples: examplesShape,
};

const ruleOf = <S extends Stratum>(stratum: S) =>
  z.strictObject({ ...common, stratum: z.literal(stratum), concludes: CONCLUSIONS[stratum] });

/** A rule file, by its stratum. */
export const ruleShape = z.discriminatedUnion("stratum", [
  ruleOf("implied-operations"),
  ruleOf("disturbances"),
  ruleOf("requirements"),
  ruleOf("waivers"),
  ruleOf("holds"),
  ruleOf("preconditions"),
  ruleOf("evidence"),
  ruleOf("steps"),
  ruleOf("order"),
]);
/** A rule as its file states it (`schemas/rule.schema.json`); which conclusion it has goes by its stratum. */
export type Rule = z.infer<typeof ruleShape>;
export type RuleOf<S extends Stratum> = Extract<Rule, { stratum: S }>;

export const SOURCE_KINDS = [
  "common-practice",
  "regulation",
  "standard",
  "industry-requirement",
  "maker-procedure",
] as const;

/** One document (or the lack of one) that rules stand on. */
export const sourceShape = z.strictObject({
  kind: z.enum(SOURCE_KINDS),
  cite: sentence,
  read: z
    .enum(["at-source", "second-hand", "from-memory", "not-applicable"])
    .describe("How the text was known to the author of the rule."),
  checkedOn: z.iso.date().nullable(),
});
/** What a rule stands on: a document with how it was read, or common practice, which has none. */
export type SourceEntry = z.infer<typeof sourceShape>;

/** The head of a pack of rules. */
export const packHeadShape = z.strictObject({
  $schema: z.string().optional(),
  schema: z.literal("repair-calibration/pack@1"),
  id: z.string().regex(kebab),
  version: z.string().regex(/^\d+\.\d+\.\d+$/),
  title: sentence,
  scope: sentence,
  doesNotCover: z.array(sentence).min(1),
});
/** What a pack of rules says of itself in `pack.json`. */
export type PackHead = z.infer<typeof packHeadShape>;

export const sourcesShape = z.record(z.string().regex(kebab), sourceShape);
