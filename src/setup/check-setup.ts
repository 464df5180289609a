import { describeDecisionRule, makeDecisionRule, type DecisionRule } from "../measure/index.js";
import type { Plan } from "../plan/index.js";
import type { LoadedProcedures } from "../procedures/index.js";
import { CAUTIONS } from "../vocabulary/index.js";
import { answerAlignment } from "./vehicle/alignment.js";
import type { Answer } from "./answer.js";
import { gatherAsked } from "./asked.js";
import { answerAttitude } from "./attitude/attitude.js";
import { answerBay } from "./bay/bay.js";
import { answerCentreLine } from "./vehicle/centre-line.js";
import { decideConditions } from "./conditions.js";
import { answerFloor } from "./floor/floor.js";
import { answerScene } from "./vehicle/frame.js";
import { answerHeadlamps } from "./headlamps/headlamp.js";
import { readSetup } from "./read.js";
import type { SetupResult } from "./result.js";
import type { Scene } from "./scene.js";
import type { Setup } from "./shape.js";
import { answerTargets } from "./targets/targets.js";

/** What a set-up is held against. */
export interface SetupOptions {
  /** The maker's procedures: where targets stand, within which tolerances. */
  readonly procedures?: readonly LoadedProcedures[] | undefined;
  /** The plan whose static calibrations are to be set up; without it, those that the document names. */
  readonly plan?: Plan | undefined;
}

/**
 * Works out where the targets stand, what the tape has to show, whether the bay and the floor do, and which of the
 * measured values lie within their tolerances once their uncertainty is counted.
 *
 * `setup` is a document of the form `repair-calibration/setup@1`; lengths mm. Everything in it is optional but what the
 * questions asked need: the result says what it would take for the rest. Throws `InputError` of kind "input".
 */
export function checkSetup(setup: Setup, options: SetupOptions = {}): SetupResult {
  const read = readSetup(setup);
  const rule = makeDecisionRule(read.decisionRule);
  const scene = answerScene(read);
  const place = scene.value;
  const alignment = answerAlignment(read);
  const floor = answerFloor(read, place);
  const attitude = answerAttitude(read, place);
  const asked = gatherAsked(read, options.procedures ?? [], options.plan ?? null);
  const { targets: askedTargets = [], steps = [], limits = [], packs = [] } = asked.value ?? {};
  const targets = answerTargets(askedTargets, {
    setup: read,
    scene: place,
    alignment: alignment.value,
    floor: floor.value,
    rule,
  });
  const centreLine = answerCentreLine(read, place, targets.value ?? []);
  const bay = answerBay({ bay: read.bay, scene: place, steps, targets: targets.value ?? [] });
  const headlamps = answerHeadlamps(read, rule);
  const conditions = decideConditions(limits, {
    setup: read,
    alignment: alignment.value,
    floor: floor.value,
    rule,
  });
  const parts = { scene, alignment, centreLine, floor, attitude, asked, targets, bay, headlamps, conditions };
  return {
    schema: "repair-calibration/setup-result@1",
    reference: read.reference ?? null,
    vehicle: describeVehicle(read, place),
    procedures: packs.map(({ pack, digest }) => ({
      id: pack.id,
      version: pack.version,
      digest,
      cite: pack.cite,
      issued: pack.issued,
      invented: pack.invented,
    })),
    decisionRule: describeRule(rule),
    alignment: alignment.value,
    centreLine: centreLine.value,
    floor: floor.value,
    attitude: attitude.value,
    targets: [...(targets.value ?? [])],
    bay: bay.value,
    headlamps: [...(headlamps.value ?? [])],
    conditions: [...(conditions.value ?? [])],
    ...gatherNotes(parts),
    cautions: CAUTIONS.map(({ text }) => text),
  };
}

function describeVehicle({ vehicle }: Setup, scene: Scene): SetupResult["vehicle"] {
  const { wheelbase, trackFront, trackRear, frontOverhang, rearOverhang, width, height } = scene;
  return {
    make: vehicle?.make ?? null,
    model: vehicle?.model ?? null,
    wheelbase,
    trackFront,
    trackRear,
    frontOverhang,
    rearOverhang,
    width,
    height,
  };
}

function describeRule(rule: DecisionRule): SetupResult["decisionRule"] {
  const says = describeDecisionRule(rule);
  return rule.kind === "simple"
    ? { kind: "simple", conformance: null, guardFactor: null, says }
    : { kind: "guarded", conformance: rule.conformance, guardFactor: rule.guardFactor, says };
}

/** The headings under which the arithmetic is printed. */
const ABOUT = {
  scene: "The vehicle",
  alignment: "Alignment",
  centreLine: "Centre line",
  floor: "Floor",
  attitude: "Ride height",
  asked: "Procedures",
  targets: "Targets",
  bay: "Bay",
  headlamps: "Headlamps",
  conditions: "Conditions",
} as const;

function gatherNotes(
  parts: Readonly<Record<keyof typeof ABOUT, Answer<unknown>>>,
): Pick<SetupResult, "workings" | "missing" | "contradictions" | "warnings"> {
  const entries = (Object.keys(ABOUT) as (keyof typeof ABOUT)[]).map((key) => ({
    about: ABOUT[key],
    part: parts[key],
  }));
  return {
    workings: entries.flatMap(({ about, part }) =>
      part.workings.map((each) => ({ about, ...each, inputs: [...each.inputs] })),
    ),
    missing: unique(entries.flatMap(({ part }) => part.missing)),
    contradictions: entries.flatMap(({ part }) =>
      part.contradictions.map(({ about, says }) => ({ about: [...about], says })),
    ),
    warnings: unique(entries.flatMap(({ part }) => part.warnings)),
  };
}

/** The same thing can be missing for several parts; it is asked for once. */
function unique<T>(all: readonly T[]): T[] {
  const seen = new Set<string>();
  return all.filter((each) => {
    const key = JSON.stringify(each);
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew;
  });
}
