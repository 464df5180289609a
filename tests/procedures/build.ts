import { expect } from "vitest";
import {
  InputError,
  loadProcedures,
  loadRulebook,
  planCalibrations,
  type Issue,
  type Job,
  type Plan,
} from "../../src/index.js";

type Part = Readonly<Record<string, unknown>>;

const CITE = "Norrvik workshop literature NW-2026-099 (invented)";

/** A pack as a file would hold it: the least that loads, with what a test is about put over it. */
export function packWith(parts: Part = {}): Part {
  return {
    schema: "repair-calibration/procedures@1",
    id: "norrvik-test",
    version: "1.0.0",
    title: "Norrvik Fjell, made up for a test",
    invented: true,
    appliesTo: { make: "Norrvik", models: ["Fjell"], modelYears: { from: 2023, to: 2026 } },
    issued: "2026-01-12",
    cite: CITE,
    procedures: [],
    sources: {
      literature: { kind: "maker-procedure", cite: CITE, read: "not-applicable", checkedOn: null },
      practice: {
        kind: "common-practice",
        cite: "Common practice, no source.",
        read: "not-applicable",
        checkedOn: null,
      },
    },
    doesNotCover: ["Anything but what the test is about."],
    ...parts,
  };
}

/** A calibration procedure; by default static, for the front radar. */
export function procedureWith(parts: Part = {}): Part {
  return {
    id: "radar",
    sensor: "front-radar",
    task: "calibration",
    method: "static",
    section: "1.1",
    ...parts,
  };
}

interface Leaf {
  readonly fact: string;
  readonly value: string;
}

/** A rule of a pack whose conditions are all "fact equals value", with examples that follow from them. */
export function ruleWith(id: string, leaves: readonly Leaf[], parts: Part): Part {
  const facts = Object.fromEntries(leaves.map(({ fact, value }) => [fact, value]));
  const [first] = leaves;
  return {
    id,
    title: `The rule ${id} of a test`,
    because: `The reason of ${id}, made up for a test.`,
    subject: "disturbance",
    conditions: {
      all: leaves.map(({ fact, value }) => ({
        name: `The ${fact} is ${value}.`,
        fact,
        operator: "equal",
        value,
      })),
    },
    assumptions: [],
    doesNotSay: ["Anything about real vehicles."],
    source: { ref: "literature", section: "9.1", supports: "states-it" },
    status: "settled",
    since: "1.0.0",
    examples: {
      fires: [{ says: "All conditions hold.", facts }],
      staysSilent: [{ says: "It is another disturbance.", like: 0, but: { disturbance: "power-lost" } }],
      cannotTell: [{ says: "One fact is not known.", like: 0, unknown: first?.fact }],
    },
    ...parts,
  };
}

export const COVER_OFF_BEFORE_RADAR: readonly Leaf[] = [
  { fact: "disturbance", value: "cover-removed" },
  { fact: "sensor", value: "front-radar" },
];

/** A bumper cover that came off and went back; the radar stands on the reinforcement behind it. */
export function coverOffJob(vehicle: Partial<Job["vehicle"]> = {}): Job {
  return {
    schema: "repair-calibration/job@1",
    reference: "RO-1",
    vehicle: {
      make: "Norrvik",
      model: "Fjell",
      modelYear: 2024,
      equipment: [
        {
          sensor: "front-radar",
          fitted: "yes",
          mount: "front-bumper-reinforcement",
          looksThrough: "front-bumper-cover",
        },
      ],
      equipmentComplete: true,
      levellingSuspension: "no",
      driveSide: "left",
      market: "eu",
      ...vehicle,
    },
    operations: [{ id: "L1", action: "remove-install", component: "front-bumper-cover" }],
    findings: {
      impactZones: [],
      impactWheels: [],
      airbagsDeployed: false,
      structuralDamage: false,
      faultCodes: [],
      rideHeightChange: { front: 0, rear: 0 },
    },
  };
}

/** A plan by the general rules and these packs. */
export function planWith(job: Job, packs: readonly Part[]): Plan {
  const procedures = packs.map((pack) => loadProcedures(pack));
  return planCalibrations(job, { rulebook: loadRulebook(), procedures });
}

/** What is wrong with a pack, or with packs beside one another; fails where nothing is. */
export function issuesOfRefusal(act: () => unknown): readonly Issue[] {
  try {
    act();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.kind).toMatch(/^(procedure|rule)-pack$/);
    return error.issues;
  }
  throw new Error("expected that the pack is refused");
}

export function requirementOf(plan: Plan, id: string): Plan["requirements"][number] {
  const found = plan.requirements.find((each) => each.id === id);
  if (found === undefined) throw new Error(`the plan does not ask for ${id}`);
  return found;
}

/** The ids of all steps that come before a step, directly or through others. */
export function stepsBefore(plan: Plan, id: string): ReadonlySet<string> {
  const after = new Map(plan.steps.map((step) => [step.id, step.after]));
  if (!after.has(id)) throw new Error(`the plan has no step ${id}`);
  const seen = new Set<string>();
  const open = [...(after.get(id) ?? [])];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    open.push(...(after.get(next) ?? []));
  }
  return seen;
}
