import {
  Relation,
  ask,
  askForCarrier,
  causeOfImplied,
  joinUnknowns,
  UNTOUCHED,
  bearsOnAny,
  touchBetween,
  type Asked,
  type Cause,
  type JobFacts,
  type OperationSpec,
  type RequirementFacts,
  type SensorInstance,
  type Unknown,
} from "../facts/index.js";
import { FALSE, TRUE, known, oneOf, type FactValue, knownWord } from "../logic/index.js";
import type { JobFindings } from "../job/index.js";
import {
  COMPONENTS,
  SENSORS,
  partsCarriedBy,
  type ActionId,
  type ComponentId,
  type ComponentTerm,
  type SensorTerm,
  type Task,
} from "../vocabulary/index.js";
import { answerOf, askAboutWork, isAboutWork, keyOfValue } from "./ask-about-work.js";
import {
  standingOf,
  type CauseNode,
  type Derivation,
  type DisturbanceNode,
  type Implication,
  type RequirementNode,
  type Support,
} from "./derivation.js";
import type { CompiledRule, Program } from "./program.js";

/** What the chain starts from. */
export interface Start {
  readonly job: JobFacts;
  readonly sensors: readonly SensorInstance[];
  /** Stated operations that disturb (no claims, nothing unread) and stated findings. */
  readonly causes: readonly Cause[];
  readonly findings: JobFindings;
}

/**
 * Draws every conclusion that the rules allow, to a fixpoint.
 *
 * It ends, and ends in one place whatever the order: operations come from a finite set (action, part, place, sensor,
 * adjustment), a conclusion once drawn is never taken back, and what can change of one – possible to certain, or more
 * ways of reaching it – only grows; no condition reads whether something else was *not* concluded.
 */
export function drawConclusions(program: Program, start: Start): Derivation {
  const chain = new Chain(program, start);
  chain.run();
  return chain.result();
}

/** The working state of one run; nothing of it outlives the run. */
class Chain {
  readonly #program: Program;
  readonly #start: Start;
  readonly #sensors: readonly SensorInstance[];
  readonly #causes = new Map<string, CauseNode>();
  readonly #implied = new Map<string, ImpliedNode>();
  readonly #disturbances = new Map<string, DisturbanceNode>();
  readonly #supports = new Map<string, Map<string, Support>>();
  readonly #sensorOf = new Map<string, { sensor: SensorInstance; task: Task }>();
  /** Causes whose implied operations are still to be drawn, and those still to be held against the sensors. */
  readonly #pending = new Set<string>();
  readonly #unmet = new Set<string>();
  /** Stated operations by part, and those that say whether possible work was done. */
  readonly #stated = new Map<ComponentId, Cause[]>();
  readonly #answering: readonly Cause[];

  constructor(program: Program, start: Start) {
    this.#program = program;
    this.#start = start;
    // A sensor that is known not to be fitted can't be disturbed.
    this.#sensors = start.sensors.filter((sensor) => sensor.isFitted !== FALSE);
    for (const cause of start.causes) {
      const component = cause.operation?.component;
      if (component === undefined) continue;
      const others = this.#stated.get(component);
      if (others === undefined) this.#stated.set(component, [cause]);
      else others.push(cause);
    }
    this.#answering = start.causes.filter(({ stated }) => (stated?.dependentWork ?? []).length > 0);
  }

  run(): void {
    for (const cause of this.#start.causes) {
      this.#causes.set(cause.key, {
        key: cause.key,
        cause,
        roots: [cause],
        certain: true,
        unknowns: [],
        from: [],
      });
      this.#pending.add(cause.key);
    }
    // Operations first, since they are cheap and raise one another; a cause that has settled meets the sensors once.
    do {
      for (const key of this.#pending) this.#followCause(key);
      for (const key of this.#unmet) this.#meetSensors(key);
      if (this.#pending.size === 0) this.#followRequirements();
    } while (this.#pending.size > 0);
  }

  result(): Derivation {
    const requirements = new Map<string, RequirementNode>();
    for (const key of [...this.#supports.keys()].sort()) {
      const node = this.#requirement(key);
      if (node !== undefined) requirements.set(key, node);
    }
    return {
      job: this.#start.job,
      sensors: this.#start.sensors,
      causes: this.#causes,
      disturbances: this.#disturbances,
      requirements,
    };
  }

  #requirement(key: string): RequirementNode | undefined {
    const about = this.#sensorOf.get(key);
    const supports = this.#supports.get(key);
    if (about === undefined || supports === undefined) return undefined;
    const sorted = [...supports]
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .map(([, support]) => support);
    return { key, sensor: about.sensor, task: about.task, supports: sorted };
  }

  #followCause(key: string): void {
    this.#pending.delete(key);
    this.#unmet.add(key);
    const node = this.#causes.get(key);
    if (node === undefined) return;
    const { cause, certain, unknowns, roots } = node;
    const asked = ask(this.#start.job, cause);
    for (const rule of this.#program.impliedByCause.lookUp(cause.indexKey)) {
      this.#imply(rule, asked, { cause: key, roots, requirement: null, certain, unknowns, sensor: null });
    }
  }

  #meetSensors(key: string): void {
    this.#unmet.delete(key);
    const node = this.#causes.get(key);
    if (node === undefined) return;
    for (const sensor of this.#sensorsFor(node.cause)) this.#followToSensor(node, sensor);
  }

  /** The sensors that a cause can bear on: most work says nothing to a sensor that its part does not touch. */
  #sensorsFor({ indexKey, operation, stated }: Cause): readonly SensorInstance[] {
    const { disturbances, impliedBySensor } = this.#program;
    const reachesAll =
      operation === null ||
      stated?.serves !== undefined ||
      bearsOnAny(operation.component) ||
      disturbances.lookUp(indexKey, "", UNTOUCHED).length > 0 ||
      impliedBySensor.lookUp(indexKey, "", UNTOUCHED).length > 0;
    if (reachesAll) return this.#sensors;
    return this.#sensors.filter(({ concernedBy }) => concernedBy.has(operation.component));
  }

  #followToSensor(node: CauseNode, sensor: SensorInstance): void {
    const { indexKey } = node.cause;
    const touch = touchBetween(node.cause, sensor, this.#start.job);
    const disturbing = this.#program.disturbances.lookUp(indexKey, sensor.sensor, touch);
    const implying = this.#program.impliedBySensor.lookUp(indexKey, sensor.sensor, touch);
    if (disturbing.length === 0 && implying.length === 0) return;
    const relation = new Relation(node.cause, sensor, this.#start.job);
    const asked = ask(this.#start.job, node.cause, relation);
    const certain = node.certain && sensor.isFitted === TRUE;
    const unknowns = joinUnknowns(node.unknowns, sensor.isFitted === TRUE ? [] : sensor.fitted.unknowns);
    for (const rule of implying) {
      this.#imply(rule, asked, {
        cause: node.key,
        roots: node.roots,
        requirement: null,
        certain,
        unknowns,
        sensor,
      });
    }
    for (const rule of disturbing) {
      const truth = rule.condition.evaluate(asked);
      if (truth === FALSE) continue;
      this.#disturb(rule, node, relation, {
        certain: certain && truth === TRUE,
        unknowns: truth === TRUE ? unknowns : joinUnknowns(unknowns, rule.condition.unknowns(asked)),
      });
    }
  }

  #disturb(rule: CompiledRule<"disturbances">, node: CauseNode, relation: Relation, found: Sureness): void {
    const { sensor } = relation;
    const kind = rule.rule.concludes.disturbance;
    const key = `${kind}|${node.key}|${sensor.key}`;
    const before = this.#disturbances.get(key);
    const others = before?.rules.filter((each) => each.rule.id !== rule.id) ?? [];
    const rules = [...others, { rule, ...found }].sort((a, b) => (a.rule.id < b.rule.id ? -1 : 1));
    const sure = anyOf(rules);
    const disturbance: DisturbanceNode = {
      key,
      kind,
      cause: node.key,
      sensor,
      certain: sure.certain,
      unknowns: sure.unknowns,
      rules,
    };
    this.#disturbances.set(key, disturbance);
    const about = ask(this.#start.job, node.cause, relation, kind);
    for (const requiring of this.#program.requirements.lookUp(node.cause.indexKey, sensor.sensor, kind)) {
      const truth = requiring.condition.evaluate(about);
      if (truth === FALSE) continue;
      this.#support(requiring, disturbance, sensor, {
        certain: disturbance.certain && truth === TRUE,
        unknowns:
          truth === TRUE
            ? disturbance.unknowns
            : joinUnknowns(disturbance.unknowns, requiring.condition.unknowns(about)),
      });
    }
  }

  #support(
    rule: CompiledRule<"requirements">,
    disturbance: DisturbanceNode,
    sensor: SensorInstance,
    found: Sureness,
  ): void {
    const { concludes } = rule.rule;
    const task = concludes.task === "own" ? ownTask(sensor) : concludes.task;
    const key = `${sensor.key}/${task}`;
    const supports = this.#supports.get(key) ?? new Map<string, Support>();
    this.#supports.set(key, supports);
    this.#sensorOf.set(key, { sensor, task });
    supports.set(`${rule.id}|${disturbance.key}`, {
      rule,
      standing: concludes.standing,
      inspection: concludes.inspection ?? null,
      disturbance,
      certain: found.certain,
      unknowns: found.certain ? [] : found.unknowns,
    });
  }

  /** A step that a requirement adds to the plan is work again, and can disturb in its turn. */
  #followRequirements(): void {
    for (const [key, { sensor, task }] of this.#sensorOf) {
      const rules = this.#program.impliedByRequirement.lookUp(task, sensor.sensor);
      const node = rules.length === 0 ? undefined : this.#requirement(key);
      if (node === undefined) continue;
      const requirement = factsOfRequirement(node, this.#causes);
      const { standing, couldRiseTo } = standingOf(node.supports);
      const roots = rootsOf(node.supports.flatMap((each) => this.#causes.get(each.disturbance.cause) ?? []));
      const from = { cause: null, roots, requirement: key, sensor: node.sensor };
      const asked = ask(this.#start.job, undefined, undefined, undefined, requirement, node.sensor);
      for (const rule of rules) {
        if (standing !== "undetermined" && rule.condition.evaluate(asked) !== FALSE) {
          this.#imply(rule, asked, { ...from, certain: true, unknowns: [] });
        } else if (couldRiseTo !== null) {
          // Not reached yet, but an open question could bring it there.
          const reached = { ...requirement, standing: knownWord(couldRiseTo) };
          const risen = ask(this.#start.job, undefined, undefined, undefined, reached, node.sensor);
          const unknowns = joinAll(node.supports.map((each) => each.unknowns));
          this.#imply(rule, risen, { ...from, certain: false, unknowns });
        }
      }
    }
  }

  #imply(rule: CompiledRule<"implied-operations">, asked: Asked, from: From): void {
    const truth = rule.condition.evaluate(asked);
    if (truth === FALSE) return;
    const given: Sureness = {
      certain: from.certain && truth === TRUE,
      unknowns: truth === TRUE ? from.unknowns : joinUnknowns(from.unknowns, rule.condition.unknowns(asked)),
    };
    for (const wanted of specsOf(rule, asked)) this.#addOperation(rule, wanted, given, from);
  }

  #addOperation(rule: CompiledRule<"implied-operations">, wanted: Wanted, given: Sureness, from: From): void {
    const { spec } = wanted;
    if (this.#stated.get(spec.component)?.some((stated) => covers(stated, spec)) === true) return;
    const isOptional = rule.rule.strength === "possible" || wanted.unknowns.length > 0;
    const answers = from.roots.map((root) => ({
      root,
      answer: answerOf(root, this.#start.findings, spec, this.#answering),
    }));
    const isConfirmed = answers.some(({ answer }) => answer === "yes");
    if (isOptional && answers.length > 0 && answers.every(({ answer }) => answer === "no")) return;
    const isOpen = isOptional && !isConfirmed;
    const unanswered = answers.find(({ answer }) => answer !== "no")?.root;
    // Whether the carriers of a part, or work that is itself only possible, come into it at all is asked first.
    const isEarly =
      from.sensor === null
        ? given.unknowns.length > 0
        : given.unknowns.some((unknown) => isAboutWork(unknown));
    const asked =
      wanted.unknowns.length > 0
        ? wanted.unknowns
        : isEarly
          ? []
          : [askAboutWork(unanswered, spec, rule.rule.title)];
    const sure: Sureness = {
      certain: given.certain && !isOpen,
      unknowns: isOpen ? joinAll([given.unknowns, asked]) : given.unknowns,
    };
    const key = keyOfSpec(wanted);
    const implication: Implication = {
      rule,
      fromCause: from.cause,
      fromRequirement: from.requirement,
      sensor: from.sensor,
      certain: sure.certain,
      unknowns: sure.certain ? [] : sure.unknowns,
    };
    const before = this.#implied.get(key);
    const node = before ?? new ImpliedNode(key, causeOfImplied(key, spec, wanted.adjusted));
    if (before === undefined) {
      this.#implied.set(key, node);
      this.#causes.set(key, node);
    }
    const isNews = node.add(implication, from.roots, spec);
    if (isNews || before === undefined) this.#pending.add(key);
  }
}

/** An operation that rules imply, as it gathers the ways in which it follows; what it gathers only grows. */
class ImpliedNode implements CauseNode {
  readonly #ways = new Map<string, Implication>();
  readonly #roots = new Map<string, Cause>();
  #sorted: { readonly from: readonly Implication[]; readonly roots: readonly Cause[] } | undefined;
  certain = false;
  unknowns: readonly Unknown[] = [];

  constructor(
    readonly key: string,
    readonly cause: Cause,
  ) {}

  get from(): readonly Implication[] {
    return this.#sort().from;
  }

  get roots(): readonly Cause[] {
    return this.#sort().roots;
  }

  /** Takes up one more way, or a way anew that has become surer, and tells whether anything that others read changed. */
  add(implication: Implication, roots: readonly Cause[], spec: OperationSpec): boolean {
    const { size } = this.#roots;
    this.#sorted = undefined;
    this.#ways.set(placeOf(implication), implication);
    for (const root of roots) this.#roots.set(root.key, root);
    const { certain, unknowns } = anyOf(withoutDetours([...this.#ways.values()], spec));
    const isNews = this.certain !== certain || !isSame(this.unknowns, unknowns) || this.#roots.size !== size;
    this.certain = certain;
    this.unknowns = unknowns;
    return isNews;
  }

  #sort(): { readonly from: readonly Implication[]; readonly roots: readonly Cause[] } {
    return (this.#sorted ??= {
      from: [...this.#ways].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, way]) => way),
      roots: uniqueRoots([...this.#roots.values()]),
    });
  }
}

/** Whether two lists hold the same open points; one that gives way to another changes no length. */
function isSame(a: readonly Unknown[], b: readonly Unknown[]): boolean {
  return a.length === b.length && a.every(({ key }) => b.some((other) => other.key === key));
}

function uniqueRoots(roots: readonly Cause[]): readonly Cause[] {
  const byKey = new Map(roots.map((root) => [root.key, root]));
  return [...byKey.values()].sort((a, b) => (a.key < b.key ? -1 : 1));
}

function rootsOf(nodes: readonly CauseNode[]): readonly Cause[] {
  return uniqueRoots(nodes.flatMap((node) => node.roots));
}

interface Sureness {
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
}

interface From extends Sureness {
  readonly cause: string | null;
  readonly roots: readonly Cause[];
  readonly requirement: string | null;
  readonly sensor: SensorInstance | null;
}

/** Several ways to the same conclusion: certain if one is, otherwise open on what any of them hangs on. */
function anyOf(ways: readonly Sureness[]): Sureness {
  if (ways.some((way) => way.certain)) return { certain: true, unknowns: [] };
  return { certain: false, unknowns: joinAll(ways.map((way) => way.unknowns)) };
}

/** Where the work itself is asked about, the answer settles it, by whichever other work it could have come as well. */
function withoutDetours(ways: readonly Implication[], spec: OperationSpec): readonly Implication[] {
  if (ways.some(({ certain }) => certain)) return ways;
  const direct = ways.filter(({ unknowns }) => unknowns.some((unknown) => isAboutWork(unknown, spec)));
  return direct.length === 0 ? ways : direct;
}

/** The union of lists of open points. Not list by list: a long order brings a thousand, and each would be read anew. */
function joinAll(lists: readonly (readonly Unknown[])[]): readonly Unknown[] {
  const filled = lists.filter((each) => each.length > 0);
  if (filled.length < 3) return joinUnknowns(filled[0] ?? [], filled[1] ?? []);
  const byKey = new Map<string, Unknown>();
  for (const list of filled) {
    for (const unknown of list) if (!byKey.has(unknown.key)) byKey.set(unknown.key, unknown);
  }
  return [...byKey.values()];
}

function placeOf(implication: Implication): string {
  return `${implication.rule.id}|${implication.fromCause ?? ""}|${implication.fromRequirement ?? ""}|${implication.sensor?.key ?? ""}`;
}

function ownTask(sensor: SensorInstance): Task {
  const term: SensorTerm = SENSORS[sensor.sensor];
  const variant = sensor.facts.variant.candidates ?? [];
  if (term.taskByVariant !== undefined && variant.length === 1) {
    return variant[0] === "indirect" ? term.taskByVariant.indirect : term.taskByVariant.direct;
  }
  return term.task;
}

interface Wanted {
  readonly spec: OperationSpec;
  readonly adjusted: readonly string[] | "unknown" | undefined;
  readonly unknowns: readonly Unknown[];
}

const NONE = knownWord("none");

/** The operations that a rule's conclusion names, for the cause at hand. */
function specsOf(rule: CompiledRule<"implied-operations">, asked: Asked): readonly Wanted[] {
  const { operation } = rule.rule.concludes;
  const { adjusted } = operation;
  if (operation.component === "the-sensor") {
    const { sensor } = asked;
    if (sensor === undefined) return [];
    return [
      {
        spec: {
          action: operation.action,
          component: "sensor",
          side: NONE,
          axle: NONE,
          sensor: sensor.sensor,
          position: sensor.position,
        },
        adjusted,
        unknowns: [],
      },
    ];
  }
  if (operation.component === "carried-parts") {
    const carrier = asked.cause?.operation?.component;
    if (carrier === undefined) return [];
    return partsCarriedBy(carrier, asked.job?.carriedBy).flatMap(({ part, standing }) => {
      const unknowns = standing.open.map(askForCarrier);
      return placesOf(operation, part, asked.cause).map((place) => ({
        spec: { action: operation.action, component: part, ...place, sensor: null, position: null },
        adjusted,
        unknowns,
      }));
    });
  }
  const { component } = operation;
  return placesOf(operation, component, asked.cause).map((place) => ({
    spec: { action: operation.action, component, ...place, sensor: null, position: null },
    adjusted,
    unknowns: [],
  }));
}

interface Place {
  readonly side: FactValue<Unknown>;
  readonly axle: FactValue<Unknown>;
}

/** Side and axle of an implied operation. A part with sides under a cause without one is worked on at both. */
function placesOf(
  wanted: { readonly side?: string | undefined; readonly axle?: string | undefined },
  component: ComponentId,
  cause: Cause | undefined,
): readonly Place[] {
  const term: ComponentTerm = COMPONENTS[component];
  const sides = term.sided ? valuesOf(wanted.side ?? "same", cause?.facts.side, ["left", "right"]) : [NONE];
  const axles = term.axled ? valuesOf(wanted.axle ?? "same", cause?.facts.axle, ["front", "rear"]) : [NONE];
  return sides.flatMap((side) => axles.map((axle) => ({ side, axle })));
}

function valuesOf(
  wanted: string,
  same: FactValue<Unknown> | undefined,
  both: readonly string[],
): readonly FactValue<Unknown>[] {
  if (wanted === "same") {
    const isPlaced = same?.candidates?.includes("none") === false;
    return isPlaced ? [same] : both.map(knownWord);
  }
  return wanted === "both" ? both.map(knownWord) : [knownWord(wanted)];
}

/** No stated id holds a line break, so no implied operation can be taken for a stated one. */
function keyOfSpec({ spec, adjusted }: Wanted): string {
  return [
    "\n",
    spec.action,
    spec.component,
    keyOfValue(spec.side),
    keyOfValue(spec.axle),
    spec.sensor ?? "",
    spec.position ?? "",
    adjusted === undefined ? "" : String(adjusted),
  ].join("/");
}

/** Actions that include another one: a part that is replaced or overhauled is also removed. */
const INCLUDES: Readonly<Partial<Record<ActionId, readonly ActionId[]>>> = {
  "remove-install": ["replace", "overhaul"],
  inspect: ["adjust"],
};

/** Whether a stated operation already says what a rule would imply. */
function covers(stated: Cause, spec: OperationSpec): boolean {
  const given = stated.operation;
  if (given === null || given.component !== spec.component) return false;
  if (given.action !== spec.action && INCLUDES[spec.action]?.includes(given.action) !== true) return false;
  if (spec.component === "sensor" || spec.component === "sensor-bracket") {
    return given.sensor === spec.sensor && given.position === spec.position;
  }
  return keyOfValue(given.side) === keyOfValue(spec.side) && keyOfValue(given.axle) === keyOfValue(spec.axle);
}

/** What rules can read of a requirement, as far as it is derived. */
export function factsOfRequirement(
  node: RequirementNode,
  causes: ReadonlyMap<string, CauseNode>,
  method?: FactValue<Unknown>,
): RequirementFacts {
  const { standing } = standingOf(node.supports);
  const nodes = node.supports.flatMap((support) => causes.get(support.disturbance.cause) ?? []);
  const operations = nodes.flatMap((each) => each.cause.operation ?? []);
  return {
    task: knownWord(node.task),
    standing: knownWord(standing),
    method: method ?? (METHODLESS.includes(node.task) ? knownWord("none") : ANY_METHOD),
    disturbances: known(unique(node.supports.map((support) => support.disturbance.kind))),
    causeComponents: known(unique(operations.map((each) => each.component))),
    causeActions: known(unique(operations.map((each) => each.action))),
    causes: known(unique(nodes.map((each) => each.cause.kind))),
  };
}

/** Tasks that have no method to choose. */
const METHODLESS: readonly Task[] = [
  "zero-point-reset",
  "initialisation",
  "aim",
  "relearn",
  "image-adjustment",
  "function-check",
];
const ANY_METHOD: FactValue<Unknown> = oneOf(
  ["static", "dynamic", "static-and-dynamic", "static-or-dynamic"],
  [],
);

function unique(values: readonly string[]): readonly string[] {
  return [...new Set(values)].sort();
}
