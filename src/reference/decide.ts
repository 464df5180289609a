import { InputError } from "../errors.js";
import {
  Relation,
  causeOfImplied,
  causeOfOperation,
  causesOfFindings,
  readJobFacts,
  readVehicle,
  type Asked,
  type Cause,
  type JobFacts,
  type OperationSpec,
  type RequirementFacts,
  type SensorInstance,
  type Unknown,
} from "../facts/index.js";
import { readJob, type Job, type JobFindings } from "../job/index.js";
import { FALSE, TRUE, known, oneOf, type FactValue, knownWord } from "../logic/index.js";
import type { PlanOptions } from "../plan-calibrations.js";
import {
  appliesTo,
  filmLimitOf,
  layerProcedures,
  procedureFor,
  type LoadedProcedures,
} from "../procedures/index.js";
import type { LoadedRule, RuleOf, Rulebook } from "../rulebook/index.js";
import {
  CLAIM_ACTIONS,
  COMPONENTS,
  SENSORS,
  STANDING_IDS,
  componentOf,
  partsCarriedBy,
  strongest,
  type ActionId,
  type ComponentId,
  type ComponentTerm,
  type DisturbanceId,
  type EvidenceId,
  type HoldId,
  type PreconditionId,
  type SensorTerm,
  type Standing,
  type Task,
} from "../vocabulary/index.js";
import { fireRules } from "./engines.js";

type FirmStanding = Exclude<Standing, "undetermined">;

/** A requirement as the second opinion sees it. */
export interface ReferenceRequirement {
  readonly id: string;
  readonly standing: Standing;
  readonly couldRiseTo: FirmStanding | null;
  /** The requirement rules that support it, and whether any chain through the rule is certain; sorted by id. */
  readonly rules: readonly { readonly id: string; readonly certain: boolean }[];
  readonly disturbances: readonly string[];
  readonly holds: readonly HoldId[];
  readonly preconditions: readonly PreconditionId[];
  readonly evidence: readonly EvidenceId[];
}

/** An operation that rules imply. */
export interface ReferenceOperation {
  readonly action: string;
  readonly component: string;
  readonly side: string | null;
  readonly axle: string | null;
  readonly sensor: string | null;
  readonly position: string | null;
  readonly certain: boolean;
}

/** Support that an exception takes away. */
export interface ReferenceWaiver {
  /** The requirement that the support was for. */
  readonly id: string;
  readonly rule: string;
  readonly waives: readonly string[];
}

/** What json-rules-engine decides on a job from the same rule files. */
export interface ReferenceDecision {
  readonly requirements: readonly ReferenceRequirement[];
  readonly implied: readonly ReferenceOperation[];
  readonly waived: readonly ReferenceWaiver[];
}

/** Everything about a job that stays as it is from round to round. */
interface Case {
  readonly rulebook: Rulebook;
  readonly applicable: readonly LoadedProcedures[];
  readonly job: JobFacts;
  readonly findings: JobFindings;
  /** The sensors that are fitted or may be. */
  readonly sensors: readonly SensorInstance[];
  /** Stated operations and findings. */
  readonly stated: readonly Cause[];
}

/** A cause as far as a round has come. */
interface Event {
  readonly cause: Cause;
  readonly certain: boolean;
  readonly isImplied: boolean;
  /** The stated causes that lead here, by key. */
  readonly roots: ReadonlyMap<string, Cause>;
}

/** A requirement rule's support through one disturbance. */
interface Backing {
  readonly loaded: LoadedRule<RuleOf<"requirements">>;
  readonly disturbance: DisturbanceId;
  readonly event: string;
  readonly sensor: SensorInstance;
  readonly certain: boolean;
}

interface Need {
  readonly id: string;
  readonly sensor: SensorInstance;
  readonly task: Task;
  readonly backings: readonly Backing[];
}

interface Round {
  readonly events: ReadonlyMap<string, Event>;
  readonly needs: ReadonlyMap<string, Need>;
}

/** Rounds after which something is wrong: no chain of work is nearly as long. */
const ROUND_LIMIT = 200;

/**
 * Decides on a job a second time, by json-rules-engine and from nothing but the rule files, for comparison.
 *
 * It draws every conclusion anew in each round, from those of the round before, until a round changes nothing. Slow, and
 * written apart from the way in which plans are made. Throws `InputError` as `planCalibrations` does.
 */
export async function decideByReference(input: Job, options: PlanOptions): Promise<ReferenceDecision> {
  const given = readCase(input, options);
  const events = new Map(given.stated.map((cause) => [cause.key, eventOf(cause)]));
  let round: Round = { events, needs: await findNeeds(given, events) };
  for (let count = 0; ; count += 1) {
    if (count > ROUND_LIMIT) throw new Error("the conclusions of the rules come to no end");
    const next = await drawRound(given, round);
    const isSettled = describeRound(next) === describeRound(round);
    round = next;
    if (isSettled) break;
  }
  const { kept, waived } = takeExceptions(round, await findWaivers(given, round));
  const requirements = await Promise.all(joinDevices(kept).map((need) => describeNeed(given, round, need)));
  return {
    requirements: requirements.sort(byText(({ id }) => id)),
    implied: [...round.events.values()]
      .filter(({ isImplied }) => isImplied)
      .flatMap(describeEvent)
      .sort(byText((each) => JSON.stringify(each))),
    waived: [...waived].sort(byText(({ id, rule }) => `${id} ${rule}`)),
  };
}

function byText<T>(textOf: (each: T) => string): (a: T, b: T) => number {
  return (a, b) => (textOf(a) < textOf(b) ? -1 : textOf(a) > textOf(b) ? 1 : 0);
}

function readCase(input: Job, options: PlanOptions): Case {
  const read = readJob(input);
  const { job } = read;
  const applicable = (options.procedures ?? []).filter(
    ({ pack }) => appliesTo(pack, job.vehicle, read.modelYears) === "yes",
  );
  const vehicle = readVehicle(job);
  const operations = job.operations.flatMap((operation, index) => {
    const isClaim = CLAIM_ACTIONS.some((action) => action === operation.action);
    if (isClaim || componentOf(operation.component) === "other") return [];
    return [causeOfOperation(operation, `/operations/${index}`)];
  });
  const findings = job.findings ?? {};
  const stated = [...operations, ...causesOfFindings(findings, filmLimitOf(applicable))];
  return {
    rulebook: layerProcedures(options.rulebook, applicable),
    applicable,
    job: readJobFacts(job, vehicle, stated),
    findings,
    sensors: vehicle.sensors.filter(({ isFitted }) => isFitted !== FALSE),
    stated,
  };
}

function eventOf(cause: Cause): Event {
  return { cause, certain: true, isImplied: false, roots: new Map([[cause.key, cause]]) };
}

/** One round: the work that follows from the last round's causes and requirements, and the requirements that follow from that. */
async function drawRound(given: Case, before: Round): Promise<Round> {
  const events = new Map(given.stated.map((cause) => [cause.key, eventOf(cause)]));
  for (const implied of await findImplied(given, before)) {
    const known = events.get(implied.cause.key);
    events.set(implied.cause.key, known === undefined ? implied : mergeEvents(known, implied));
  }
  return { events, needs: await findNeeds(given, events) };
}

function mergeEvents(a: Event, b: Event): Event {
  return { ...a, certain: a.certain || b.certain, roots: new Map([...a.roots, ...b.roots]) };
}

/** Everything by which two rounds can differ, as text. */
function describeRound({ events, needs }: Round): string {
  const causes = [...events].map(([key, { certain, roots }]) => [key, certain, [...roots.keys()].sort()]);
  const backings = [...needs].map(([key, need]) => [
    key,
    need.backings.map((each) => [each.loaded.rule.id, each.disturbance, each.event, each.certain]),
  ]);
  const lines = [...causes, ...backings].map((each) => JSON.stringify(each));
  return lines.sort().join("\n");
}

/* Requirements */

async function findNeeds(
  given: Case,
  events: ReadonlyMap<string, Event>,
): Promise<ReadonlyMap<string, Need>> {
  const needs = new Map<string, Need>();
  for (const event of events.values()) {
    for (const sensor of given.sensors) {
      for (const backing of await findBackings(given, event, sensor)) {
        const { concludes } = backing.loaded.rule;
        const task = concludes.task === "own" ? taskOf(sensor) : concludes.task;
        const id = `${sensor.key}/${task}`;
        const before = needs.get(id)?.backings ?? [];
        needs.set(id, { id, sensor, task, backings: [...before, backing] });
      }
    }
  }
  return needs;
}

async function findBackings(given: Case, event: Event, sensor: SensorInstance): Promise<readonly Backing[]> {
  const asked = askAbout(given, event.cause, sensor);
  const disturbing = await fireRules(given.rulebook, "disturbances", "cause-and-sensor", asked);
  const isSure = event.certain && sensor.isFitted === TRUE;
  const kinds = new Set(disturbing.map(({ loaded }) => loaded.rule.concludes.disturbance));
  const backings: Backing[] = [];
  for (const disturbance of kinds) {
    const isDisturbed =
      isSure &&
      disturbing.some(({ loaded, certain }) => certain && loaded.rule.concludes.disturbance === disturbance);
    const requiring = await fireRules(given.rulebook, "requirements", "disturbance", {
      ...asked,
      disturbance,
    });
    for (const { loaded, certain } of requiring) {
      backings.push({
        loaded,
        disturbance,
        event: event.cause.key,
        sensor,
        certain: isDisturbed && certain,
      });
    }
  }
  return backings;
}

function askAbout(given: Case, cause: Cause, sensor: SensorInstance): Asked {
  return { job: given.job, cause, sensor, relation: new Relation(cause, sensor, given.job) };
}

function taskOf(sensor: SensorInstance): Task {
  const term: SensorTerm = SENSORS[sensor.sensor];
  const variants = sensor.facts.variant.candidates ?? [];
  if (term.taskByVariant === undefined || variants.length !== 1) return term.task;
  return term.taskByVariant[variants[0] === "indirect" ? "indirect" : "direct"];
}

/** The standing that certain chains give, and the strongest that a possible one adds. */
function judge(backings: readonly Backing[]): {
  readonly standing: Standing;
  readonly couldRiseTo: FirmStanding | null;
} {
  const standingsOf = (certain: boolean): readonly FirmStanding[] =>
    backings.filter((each) => each.certain === certain).map((each) => each.loaded.rule.concludes.standing);
  const standing = strongest(standingsOf(true)) ?? "undetermined";
  const weaker = STANDING_IDS.slice(0, STANDING_IDS.indexOf(standing));
  const couldRiseTo = weaker.find((each) => standingsOf(false).some((open) => open === each));
  return { standing, couldRiseTo: couldRiseTo === "undetermined" ? null : (couldRiseTo ?? null) };
}

/* Implied operations */

async function findImplied(given: Case, round: Round): Promise<readonly Event[]> {
  const found: Event[] = [];
  for (const event of round.events.values()) {
    const asked: Asked = { job: given.job, cause: event.cause };
    for (const firing of await fireRules(given.rulebook, "implied-operations", "cause", asked)) {
      const certain = event.certain && firing.certain;
      found.push(...imply(given, firing.loaded, asked, certain, event.roots));
    }
    for (const sensor of given.sensors) {
      const about = askAbout(given, event.cause, sensor);
      const firings = await fireRules(given.rulebook, "implied-operations", "cause-and-sensor", about);
      for (const firing of firings) {
        const certain = event.certain && sensor.isFitted === TRUE && firing.certain;
        found.push(...imply(given, firing.loaded, about, certain, event.roots));
      }
    }
  }
  for (const need of round.needs.values()) found.push(...(await implyByNeed(given, round, need)));
  return found;
}

/** What the step that a requirement adds to the plan implies, as it stands now or as it could come to stand. */
async function implyByNeed(given: Case, round: Round, need: Need): Promise<readonly Event[]> {
  const { standing, couldRiseTo } = judge(need.backings);
  const roots = new Map(need.backings.flatMap(({ event }) => [...(round.events.get(event)?.roots ?? [])]));
  const requirement = factsOfNeed(need, round, undefined);
  const found: Event[] = [];
  const settled = new Set<string>();
  if (standing !== "undetermined") {
    const asked: Asked = { job: given.job, sensor: need.sensor, requirement };
    for (const firing of await fireRules(given.rulebook, "implied-operations", "requirement", asked)) {
      settled.add(firing.id);
      found.push(...imply(given, firing.loaded, asked, firing.certain, roots));
    }
  }
  if (couldRiseTo !== null) {
    const risen = { ...requirement, standing: knownWord(couldRiseTo) };
    const asked: Asked = { job: given.job, sensor: need.sensor, requirement: risen };
    for (const firing of await fireRules(given.rulebook, "implied-operations", "requirement", asked)) {
      if (settled.has(firing.id)) continue;
      found.push(...imply(given, firing.loaded, asked, false, roots));
    }
  }
  return found;
}

interface Wanted {
  readonly spec: OperationSpec;
  /** Whether it depends on the vehicle whether there is this work at all. */
  readonly dependsOnVehicle: boolean;
}

function imply(
  given: Case,
  { rule }: LoadedRule<RuleOf<"implied-operations">>,
  asked: Asked,
  certain: boolean,
  roots: ReadonlyMap<string, Cause>,
): readonly Event[] {
  const { adjusted } = rule.concludes.operation;
  return wantedBy(rule, asked).flatMap(({ spec, dependsOnVehicle }): readonly Event[] => {
    if (given.stated.some((stated) => says(stated, spec))) return [];
    const isOptional = rule.strength === "possible" || dependsOnVehicle;
    const answers = [...roots.values()].map((root) => answerOf(root, given, spec));
    if (isOptional && answers.length > 0 && answers.every((answer) => answer === "no")) return [];
    const isOpen = isOptional && !answers.includes("yes");
    const key = JSON.stringify([
      spec.action,
      spec.component,
      identify(spec.side),
      identify(spec.axle),
      spec.sensor,
      spec.position,
      adjusted ?? null,
    ]);
    const cause = causeOfImplied(key, spec, adjusted);
    return [{ cause, certain: certain && !isOpen, isImplied: true, roots }];
  });
}

function identify(value: FactValue<Unknown>): unknown {
  return [value.candidates, value.unknowns.map(({ key }) => key)];
}

const NOWHERE = known("none");

function wantedBy(rule: RuleOf<"implied-operations">, asked: Asked): readonly Wanted[] {
  const { operation } = rule.concludes;
  const at = (component: ComponentId, dependsOnVehicle: boolean): readonly Wanted[] => {
    const term: ComponentTerm = COMPONENTS[component];
    const sides = placesOf(term.sided, operation.side, asked.cause?.facts.side, ["left", "right"]);
    const axles = placesOf(term.axled, operation.axle, asked.cause?.facts.axle, ["front", "rear"]);
    return sides.flatMap((side) =>
      axles.map((axle) => ({
        spec: { action: operation.action, component, side, axle, sensor: null, position: null },
        dependsOnVehicle,
      })),
    );
  };
  switch (operation.component) {
    case "the-sensor": {
      const { sensor } = asked;
      if (sensor === undefined) return [];
      const spec: OperationSpec = {
        action: operation.action,
        component: "sensor",
        side: NOWHERE,
        axle: NOWHERE,
        sensor: sensor.sensor,
        position: sensor.position,
      };
      return [{ spec, dependsOnVehicle: false }];
    }
    case "carried-parts": {
      const carrier = asked.cause?.operation?.component;
      if (carrier === undefined) return [];
      return partsCarriedBy(carrier, asked.job?.carriedBy).flatMap(({ part, standing }) =>
        at(part, standing.open.length > 0),
      );
    }
    default:
      return at(operation.component, false);
  }
}

/** Where implied work is done: as the rule says, where the cause is, or at both places if the cause has none. */
function placesOf(
  applies: boolean,
  wanted: string | undefined,
  ofCause: FactValue<Unknown> | undefined,
  both: readonly string[],
): readonly FactValue<Unknown>[] {
  if (!applies) return [NOWHERE];
  if (wanted !== undefined && wanted !== "same" && wanted !== "both") return [knownWord(wanted)];
  const isPlaced = ofCause?.candidates?.includes("none") === false;
  return wanted !== "both" && isPlaced ? [ofCause] : both.map(knownWord);
}

/** Actions that come with another one, so that a line which states the other needs no second one for them. */
const COMES_WITH: Readonly<Record<string, readonly ActionId[]>> = {
  "remove-install": ["remove-install", "replace", "overhaul"],
  inspect: ["inspect", "adjust"],
};

function says(stated: Cause, spec: OperationSpec): boolean {
  const line = stated.operation;
  if (line?.component !== spec.component) return false;
  if (!(COMES_WITH[spec.action] ?? [spec.action]).includes(line.action)) return false;
  if (spec.component === "sensor" || spec.component === "sensor-bracket") {
    return line.sensor === spec.sensor && line.position === spec.position;
  }
  return (
    JSON.stringify(identify(line.side)) === JSON.stringify(identify(spec.side)) &&
    JSON.stringify(identify(line.axle)) === JSON.stringify(identify(spec.axle))
  );
}

/** What is stated of possible work: at the line it comes from, or else at another line about the same place. */
function answerOf(root: Cause, given: Case, spec: OperationSpec): string {
  if (root.operation === null) return statedOf(given.findings.dependentWork, spec) ?? "unknown";
  const own = statedOf(root.stated?.dependentWork, spec);
  if (own !== undefined) return own;
  const elsewhere = given.stated
    .filter((line) => line.operation !== null && isAtSamePlace(line, root, spec))
    .map((line) => statedOf(line.stated?.dependentWork, spec));
  return (["yes", "no"] as const).find((each) => elsewhere.includes(each)) ?? "unknown";
}

function statedOf(stated: JobFindings["dependentWork"], spec: OperationSpec): string | undefined {
  return stated?.find(
    ({ action, component }) => action === spec.action && componentOf(component) === spec.component,
  )?.done;
}

function isAtSamePlace(line: Cause, root: Cause, spec: OperationSpec): boolean {
  const isSame = (a: FactValue<Unknown>, b: FactValue<Unknown>): boolean =>
    JSON.stringify(identify(a)) === JSON.stringify(identify(b));
  if (spec.sensor !== null) {
    return (
      line.operation?.component === root.operation?.component && isSame(line.facts.side, root.facts.side)
    );
  }
  const isNowhere = (place: FactValue<Unknown>): boolean => place.candidates?.join() === "none";
  return [
    [line.facts.side, spec.side],
    [line.facts.axle, spec.axle],
  ].every(([a = NOWHERE, b = NOWHERE]) => isNowhere(a) || isNowhere(b) || isSame(a, b));
}

/* Exceptions, holds and what else attaches to a requirement */

const OPEN_METHOD: FactValue<Unknown> = oneOf(
  ["static", "dynamic", "static-and-dynamic", "static-or-dynamic"],
  [],
);

function factsOfNeed(
  need: Need,
  { events }: Round,
  method: FactValue<Unknown> | undefined,
): RequirementFacts {
  const causes = need.backings.flatMap(({ event }) => events.get(event)?.cause ?? []);
  const list = (values: readonly string[]): FactValue<Unknown> => known([...new Set(values)].sort());
  return {
    task: knownWord(need.task),
    standing: knownWord(judge(need.backings).standing),
    method: method ?? (need.task === "calibration" ? OPEN_METHOD : knownWord("none")),
    disturbances: list(need.backings.map(({ disturbance }) => disturbance)),
    causeComponents: list(causes.flatMap(({ operation }) => operation?.component ?? [])),
    causeActions: list(causes.flatMap(({ operation }) => operation?.action ?? [])),
    causes: list(causes.map(({ kind }) => kind)),
  };
}

/** For each backing, the first waiver that names its rule and surely holds there. */
async function findWaivers(given: Case, round: Round): Promise<ReadonlyMap<Backing, string>> {
  const waivers = new Map<Backing, string>();
  for (const { backings } of round.needs.values()) {
    for (const backing of backings) {
      const event = round.events.get(backing.event);
      if (event?.certain !== true) continue;
      const { disturbance, sensor } = backing;
      const firings = await fireRules(given.rulebook, "waivers", "disturbance", {
        ...askAbout(given, event.cause, sensor),
        disturbance,
      });
      const first = firings.find(
        ({ certain, loaded }) => certain && loaded.rule.concludes.waives.includes(backing.loaded.rule.id),
      );
      if (first !== undefined) waivers.set(backing, first.id);
    }
  }
  return waivers;
}

function takeExceptions(
  round: Round,
  waivers: ReadonlyMap<Backing, string>,
): { readonly kept: readonly Need[]; readonly waived: readonly ReferenceWaiver[] } {
  const kept: Need[] = [];
  const waived: ReferenceWaiver[] = [];
  for (const need of round.needs.values()) {
    const taken = new Map<string, string[]>();
    const left = need.backings.filter((backing) => {
      const by = exceptionTo(backing, need, waivers);
      if (by === undefined) return true;
      taken.set(by, [...(taken.get(by) ?? []), backing.loaded.rule.id]);
      return false;
    });
    for (const [rule, waives] of taken) {
      waived.push({ id: need.id, rule, waives: [...new Set(waives)].sort() });
    }
    if (left.length > 0) kept.push({ ...need, backings: left });
  }
  return { kept, waived };
}

/** The rule that takes a backing away; two that do not agree are refused. */
function exceptionTo(
  backing: Backing,
  need: Need,
  waivers: ReadonlyMap<Backing, string>,
): string | undefined {
  const { id } = backing.loaded.rule;
  const exceptions = need.backings
    .filter(
      (other) =>
        other.certain &&
        other.event === backing.event &&
        other.disturbance === backing.disturbance &&
        other.loaded.rule.exceptionTo?.includes(id) === true,
    )
    .map(({ loaded }) => loaded.rule)
    .sort(byText((rule) => rule.id));
  const waiver = waivers.get(backing);
  const [first, second] = exceptions;
  const isSplit = second !== undefined && first?.concludes.standing !== second.concludes.standing;
  if (isSplit || (waiver !== undefined && first !== undefined)) {
    const named = [waiver, first?.id, second?.id].flatMap((each) => each ?? []).slice(0, 2);
    throw new InputError("procedure-pack", [
      {
        code: "rule-conflict",
        pointer: "/rules",
        message: `the rules "${named.join('" and "')}" both take an exception to "${id}" here and do not agree`,
      },
    ]);
  }
  return waiver ?? first?.id;
}

/** One device that is listed under several sensors has one requirement for each task. */
function joinDevices(needs: readonly Need[]): readonly Need[] {
  const namedBy = (need: Need): Need | undefined =>
    needs.find((other) => other.task === need.task && other.sensor.key === need.sensor.sameDeviceAs);
  const headOf = (need: Need): Need => {
    const met = new Set<Need>();
    let last = need;
    for (let next: Need | undefined = need; next !== undefined; next = namedBy(next)) {
      // Names that lead round in a circle: the last of it by id stands for all.
      if (met.has(next))
        return (
          [...met]
            .filter((each) => leadsTo(each, each, namedBy))
            .sort(byText(({ id }) => id))
            .at(-1) ?? next
        );
      met.add(next);
      last = next;
    }
    return last;
  };
  return needs
    .filter((need) => headOf(need) === need)
    .map((need) => ({
      ...need,
      backings: needs.filter((other) => headOf(other) === need).flatMap(({ backings }) => backings),
    }));
}

/** Whether the device that a requirement names is, at some remove, the other one. */
function leadsTo(from: Need, to: Need, namedBy: (need: Need) => Need | undefined): boolean {
  const met = new Set<Need>();
  for (let next = namedBy(from); next !== undefined && !met.has(next); next = namedBy(next)) {
    if (next === to) return true;
    met.add(next);
  }
  return false;
}

async function describeNeed(given: Case, round: Round, need: Need): Promise<ReferenceRequirement> {
  const { sensor, task, backings } = need;
  const { rulebook } = given;
  const procedure = procedureFor(given.applicable, sensor.sensor, sensor.position, task)?.procedure;
  const method = procedure === undefined ? undefined : knownWord(procedure.method);
  const asked: Asked = { job: given.job, sensor, requirement: factsOfNeed(need, round, method) };
  const holds: HoldId[] = [];
  for (const cause of given.stated) {
    const about = { ...asked, ...askAbout(given, cause, sensor) };
    for (const firing of await fireRules(rulebook, "holds", "cause-and-requirement", about)) {
      if (firing.certain) holds.push(firing.loaded.rule.concludes.hold);
    }
  }
  const preconditions = await fireRules(rulebook, "preconditions", "requirement", asked);
  const evidence = await fireRules(rulebook, "evidence", "requirement", asked);
  const rules = new Map<string, boolean>();
  for (const { loaded, certain } of backings) {
    rules.set(loaded.rule.id, certain || rules.get(loaded.rule.id) === true);
  }
  return {
    id: need.id,
    ...judge(backings),
    rules: [...rules].map(([id, certain]) => ({ id, certain })).sort(byText(({ id }) => id)),
    disturbances: uniqueWords(backings.map(({ disturbance }) => disturbance)),
    holds: uniqueWords(holds),
    preconditions: uniqueWords([
      ...preconditions.map(({ loaded }) => loaded.rule.concludes.precondition),
      ...(procedure?.conditions ?? []).map(({ precondition }) => precondition),
    ]),
    evidence: uniqueWords([
      ...evidence.filter(({ certain }) => certain).map(({ loaded }) => loaded.rule.concludes.evidence),
      ...(procedure?.evidence ?? []),
    ]),
  };
}

function uniqueWords<T extends string>(words: readonly T[]): readonly T[] {
  return [...new Set(words)].sort();
}

function describeEvent({ cause, certain }: Event): readonly ReferenceOperation[] {
  const spec = cause.operation;
  if (spec === null) return [];
  return [
    {
      action: spec.action,
      component: spec.component,
      side: describePlace(spec.side),
      axle: describePlace(spec.axle),
      sensor: spec.sensor,
      position: spec.position,
      certain,
    },
  ];
}

function describePlace(place: FactValue<Unknown>): string | null {
  const [only, ...others] = place.candidates ?? [];
  if (only === undefined || others.length > 0) return "unknown";
  return only === "none" ? null : String(only);
}
