import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { z } from "zod";

const SCENARIO_GROUPS = [
  "glass",
  "front",
  "rear",
  "side",
  "alignment",
  "suspension",
  "steering",
  "electrical",
  "interior",
  "accessories",
  "structure",
  "impact",
  "unknown-equipment",
  "nothing-due",
  "review",
] as const;

const standing = z.enum(["required", "presumed", "inspect-first", "undetermined"]);
const words = z.array(z.string().min(1)).min(1);

/** Everything but the standing is optional; a list names what must be among the plan's, not all of it. */
const expectedRequirement = z.strictObject({
  standing,
  couldRiseTo: standing.nullable().optional(),
  disturbances: words.optional(),
  operations: words.optional(),
  holds: words.optional(),
  /** The plan must hold nothing against this requirement. */
  noHolds: z.literal(true).optional(),
  preconditions: words.optional(),
});

const expectation = z.strictObject({
  /** By requirement id: `sensor[:position]/task`. */
  requirements: z.record(z.string().regex(/^[a-z-]+(:[a-z-]+)?\/[a-z-]+$/), expectedRequirement),
  /** `sensor[:position]`: no task of it may be in the plan. Without a position, none of its positions. */
  notDue: z.array(z.string().regex(/^[a-z-]+(:[a-z-]+)?$/)).optional(),
  /** No requirement beside those listed may be in the plan. */
  only: z.boolean().optional(),
  /** JSON pointers into the job about which a question must be open. */
  questionsAbout: words.optional(),
  /** How many questions that decide over a requirement the plan may ask: what a person can be expected to look up. */
  questionsAtMost: z.int().min(0).optional(),
  implied: z
    .array(z.strictObject({ action: z.string(), component: z.string(), certain: z.boolean() }))
    .optional(),
  /** Pairs of stage ids or requirement ids: the first is done before the second is done. */
  order: z.array(z.tuple([z.string(), z.string()])).optional(),
  contradictions: z.int().min(0).optional(),
  unread: words.optional(),
  claimed: words.optional(),
});

/** A work order with what the trade holds to be due after it, written by hand and never taken from a plan. */
const scenarioShape = z.strictObject({
  title: z.string().min(1),
  reasoning: z.string().min(1),
  /** Which rows of the matrix of common practice were applied; for maintainers. */
  rows: z.array(z.string()),
  job: z.looseObject({
    schema: z.literal("repair-calibration/job@1"),
    operations: z.array(z.looseObject({ id: z.string() })),
  }),
  expect: expectation,
});

type Scenario = z.infer<typeof scenarioShape>;
export type ScenarioExpectation = Scenario["expect"];

interface ScenarioFile {
  /** Group and file name, without the extension: "glass/windshield-replaced". */
  readonly name: string;
  readonly group: (typeof SCENARIO_GROUPS)[number];
  readonly scenario: Scenario;
}

/** Reads every scenario below a folder, in the order of their names; throws where a file is not a scenario. */
export function readScenarios(folder: string): readonly ScenarioFile[] {
  return SCENARIO_GROUPS.flatMap((group) =>
    readdirSync(join(folder, group))
      .filter((file) => file.endsWith(".json"))
      .sort()
      .map((file) => readScenario(folder, group, file)),
  );
}

function readScenario(folder: string, group: ScenarioFile["group"], file: string): ScenarioFile {
  const name = `${group}/${file.replace(/\.json$/, "")}`;
  const parsed = scenarioShape.safeParse(JSON.parse(readFileSync(join(folder, group, file), "utf8")));
  if (!parsed.success) throw new Error(`${name} is not a scenario:\n${z.prettifyError(parsed.error)}`);
  return { name, group, scenario: parsed.data };
}
