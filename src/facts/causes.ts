import type { Job, JobFindings, JobOperation } from "../job/index.js";
import { known, knownWord, oneOf, unbounded, type Datum, type FactValue } from "../logic/index.js";
import type { CauseKind } from "../rulebook/index.js";
import {
  CODE_READ,
  CODE_STATUS,
  COMPONENTS,
  PART_ORIGINS,
  componentOf,
  failureTypeOf,
  meaningOfFailureType,
  type ActionId,
  type ComponentId,
  type ComponentTerm,
  type PositionId,
  type SensorId,
  type Zone,
} from "../vocabulary/index.js";
import type { Topic, Unknown } from "./unknowns.js";

/** What rules can read of a cause; the names are those of the fact catalogue. */
export interface CauseFacts {
  readonly cause: FactValue<Unknown>;
  readonly action: FactValue<Unknown>;
  readonly component: FactValue<Unknown>;
  readonly side: FactValue<Unknown>;
  readonly axle: FactValue<Unknown>;
  readonly aboutSensor: FactValue<Unknown>;
  readonly componentStructural: FactValue<Unknown>;
  readonly attachment: FactValue<Unknown>;
  readonly structural: FactValue<Unknown>;
  readonly partOrigin: FactValue<Unknown>;
  readonly variantConfirmed: FactValue<Unknown>;
  readonly bracketIncluded: FactValue<Unknown>;
  readonly partConfigured: FactValue<Unknown>;
  readonly adhesiveCured: FactValue<Unknown>;
  readonly inSensorView: FactValue<Unknown>;
  readonly atMounting: FactValue<Unknown>;
  readonly storesCalibration: FactValue<Unknown>;
  readonly adjusted: FactValue<Unknown>;
  readonly sizeChanged: FactValue<Unknown>;
  readonly sizeApproved: FactValue<Unknown>;
  readonly impactZone: FactValue<Unknown>;
  readonly codeMeans: FactValue<Unknown>;
  readonly codeRead: FactValue<Unknown>;
  readonly codeStatus: FactValue<Unknown>;
  readonly measurement: FactValue<Unknown>;
  readonly verdict: FactValue<Unknown>;
  readonly measuredWhen: FactValue<Unknown>;
  readonly overRadar: FactValue<Unknown>;
}

/** An operation as the work order states it or as a rule implies it, or a finding. */
export interface Cause {
  /** Unique within a job: the operation's key, or the pointer of the finding. */
  readonly key: string;
  /** Kind, action and component in one word, for the index over rules. */
  readonly indexKey: string;
  readonly kind: CauseKind;
  /** JSON pointer of the statement; for an implied operation, of the one that it comes from. */
  readonly pointer: string;
  readonly facts: CauseFacts;
  /** The operation behind it; `null` for a finding. */
  readonly operation: OperationSpec | null;
  /** The operation as stated in the job; `null` where a rule implies it, and for findings. */
  readonly stated: JobOperation | null;
  /** A finding that nobody stated, supposed in order to see what it could add. */
  readonly isSupposed: boolean;
  /** For fault codes: the sensor named, and its position where one is stated. */
  readonly names: { readonly sensor: SensorId; readonly position: PositionId | null } | null;
}

/** What identifies an operation, stated or implied. */
export interface OperationSpec {
  readonly action: ActionId;
  readonly component: ComponentId;
  readonly side: FactValue<Unknown>;
  readonly axle: FactValue<Unknown>;
  readonly sensor: SensorId | null;
  readonly position: PositionId | null;
}

/** Stands between the words of an index key; no id holds it. */
export const SEPARATOR = "|";

function indexKeyOf(kind: CauseKind, action: string, component: string): string {
  return [kind, action, component].join(SEPARATOR);
}

const OPERATION = knownWord("operation");
const YES = knownWord("yes");
const NO = knownWord("no");
const NONE = knownWord("none");
const NOTHING = known([]);

/** Facts of a cause of which nothing applies. A class, since an object spread over so many fields is slow. */
class BlankFacts implements CauseFacts {
  cause: FactValue<Unknown> = NONE;
  action: FactValue<Unknown> = NONE;
  component: FactValue<Unknown> = NONE;
  side: FactValue<Unknown> = NONE;
  axle: FactValue<Unknown> = NONE;
  aboutSensor: FactValue<Unknown> = NONE;
  componentStructural: FactValue<Unknown> = NONE;
  attachment: FactValue<Unknown> = NONE;
  structural: FactValue<Unknown> = NONE;
  partOrigin: FactValue<Unknown> = NONE;
  variantConfirmed: FactValue<Unknown> = NONE;
  bracketIncluded: FactValue<Unknown> = NONE;
  partConfigured: FactValue<Unknown> = NONE;
  adhesiveCured: FactValue<Unknown> = NONE;
  inSensorView: FactValue<Unknown> = NONE;
  atMounting: FactValue<Unknown> = NONE;
  storesCalibration: FactValue<Unknown> = NONE;
  adjusted: FactValue<Unknown> = NOTHING;
  sizeChanged: FactValue<Unknown> = NONE;
  sizeApproved: FactValue<Unknown> = NONE;
  impactZone: FactValue<Unknown> = NONE;
  codeMeans: FactValue<Unknown> = NONE;
  codeRead: FactValue<Unknown> = NONE;
  codeStatus: FactValue<Unknown> = NONE;
  measurement: FactValue<Unknown> = NONE;
  verdict: FactValue<Unknown> = NONE;
  measuredWhen: FactValue<Unknown> = NONE;
  overRadar: FactValue<Unknown> = NONE;
}

function factsWith(given: Partial<CauseFacts>): CauseFacts {
  return Object.assign(new BlankFacts(), given);
}

type YesNoUnknown = "yes" | "no" | "unknown";

function termOf(component: ComponentId): ComponentTerm {
  return COMPONENTS[component];
}

/** The topics of the fields of a line; any other field is about the nature of the work. */
const TOPIC_OF_FIELD: Readonly<Record<string, Topic>> = {
  side: "place",
  axle: "place",
  "part/origin": "part",
  "part/variantConfirmed": "part",
  "part/configured": "part",
  "part/bracketIncluded": "bracketIncluded",
  adjusted: "adjusted",
  sizeChanged: "sizeChanged",
  sizeApproved: "sizeApproved",
};

/** The cause that an operation of the work order is. */
export function causeOfOperation(operation: JobOperation, pointer: string): Cause {
  const component = componentOf(operation.component);
  const label = termOf(component).label;
  const ask = (key: string, question: string, answers: readonly string[]): Unknown => ({
    key: `line/${operation.id}/${key}`,
    topic: TOPIC_OF_FIELD[key] ?? "nature",
    about: `${pointer}/${key}`,
    ask: `${operation.id}: ${question}`,
    answers,
  });
  const triState = (
    key: string,
    value: YesNoUnknown | undefined,
    question: () => string,
  ): FactValue<Unknown> =>
    value === undefined || value === "unknown"
      ? oneOf(["yes", "no"], [ask(key, question(), ["yes", "no"])])
      : value === "yes"
        ? YES
        : NO;
  const spec: OperationSpec = {
    action: operation.action,
    component,
    side: readPlace(termOf(component).sided, operation.side, ["left", "right"], () =>
      ask("side", `On which side is the ${label}?`, ["left", "right"]),
    ),
    axle: readPlace(termOf(component).axled, operation.axle, ["front", "rear"], () =>
      ask("axle", `On which axle is the ${label}?`, ["front", "rear"]),
    ),
    sensor: operation.sensor ?? null,
    position: operation.position ?? null,
  };
  const { action } = operation;
  const repairs = action === "repair" || action === "straighten";
  const brings = action === "replace" || action === "install";
  const alters = action === "replace" || action === "modify" || action === "install";
  const isTyre = component === "tyre" || component === "wheel";
  const facts = factsOfSpec(spec, operation.fastening, (question) =>
    ask("fastening", question, ["bolted", "welded"]),
  );
  facts.structural = readStructural(operation, component, triState);
  facts.partOrigin = brings
    ? readWord(operation.part?.origin, PART_ORIGINS, () =>
        ask("part/origin", `Where does the ${label} come from?`, PART_ORIGINS),
      )
    : NONE;
  facts.variantConfirmed = brings
    ? triState(
        "part/variantConfirmed",
        operation.part?.variantConfirmed,
        () => `Is the ${label} confirmed as the variant for the vehicle's options?`,
      )
    : NONE;
  facts.bracketIncluded = brings
    ? triState(
        "part/bracketIncluded",
        operation.part?.bracketIncluded,
        () => `Does the ${label} come with its sensor bracket?`,
      )
    : NONE;
  facts.partConfigured = brings
    ? triState(
        "part/configured",
        operation.part?.configured,
        () => `Was the ${label} cleared of its former vehicle and configured to this one?`,
      )
    : NONE;
  facts.adhesiveCured =
    termOf(component).attachment === "bonded" && (brings || action === "remove-install")
      ? triState(
          "adhesiveCured",
          operation.adhesiveCured,
          () => `Has the adhesive of the ${label} cured as its maker asks?`,
        )
      : NONE;
  facts.inSensorView =
    operation.inSensorView !== undefined || action === "repair" || action === "install"
      ? triState(
          "inSensorView",
          operation.inSensorView,
          () =>
            `Does the ${action === "repair" ? `damage to the ${label}` : label} lie in the view of a camera or in the window of a radar?`,
        )
      : NONE;
  facts.atMounting =
    operation.atMounting !== undefined || repairs
      ? triState(
          "atMounting",
          operation.atMounting,
          () => `Was the ${label} worked on where a sensor is mounted?`,
        )
      : NONE;
  facts.storesCalibration =
    action !== "program"
      ? NONE
      : component === "sensor"
        ? YES
        : triState(
            "storesCalibration",
            operation.storesCalibration,
            () => `Does the ${label} store the calibration of the sensors that it serves?`,
          );
  facts.adjusted = readAdjusted(operation, component, ask);
  facts.sizeChanged =
    isTyre && (alters || operation.sizeChanged !== undefined)
      ? triState(
          "sizeChanged",
          operation.sizeChanged,
          () => `Does the ${label} differ in size from the one before?`,
        )
      : NONE;
  facts.sizeApproved =
    isTyre && (alters || operation.sizeApproved !== undefined)
      ? triState(
          "sizeApproved",
          operation.sizeApproved,
          () => "Does the vehicle maker approve the new size for this vehicle?",
        )
      : NONE;
  return {
    key: operation.id,
    indexKey: indexKeyOf("operation", action, component),
    kind: "operation",
    pointer,
    operation: spec,
    stated: operation,
    names: null,
    isSupposed: false,
    facts,
  };
}

/** The cause that an operation implied by a rule is; `key` says which operation it is. */
export function causeOfImplied(
  key: string,
  spec: OperationSpec,
  adjusted: readonly string[] | "unknown" | undefined,
): Cause {
  const ask = (question: string, answers: readonly string[]): Unknown => ({
    key: `${key}/adjusted`,
    topic: "alignmentOutcome",
    about: "/operations",
    ask: question,
    answers,
  });
  const facts = factsOfSpec(spec, undefined, (question) => ask(question, ["bolted", "welded"]));
  facts.structural = isWelded(spec.component) && reworks(spec.action) ? YES : NO;
  facts.adjusted = readImpliedAdjustment(adjusted, ask);
  return {
    key,
    indexKey: indexKeyOf("operation", spec.action, spec.component),
    kind: "operation",
    pointer: "/operations",
    operation: spec,
    stated: null,
    names: null,
    isSupposed: false,
    facts,
  };
}

function readImpliedAdjustment(
  adjusted: readonly string[] | "unknown" | undefined,
  ask: (question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (adjusted === undefined) return NOTHING;
  if (adjusted !== "unknown") return known(adjusted);
  return oneOf(
    ANY_ADJUSTMENT.map((each) => [each]),
    [
      ask(
        "What did the wheel alignment adjust? State it as an operation on wheel-alignment with what it adjusted.",
        [...ANY_ADJUSTMENT, "nothing"],
      ),
    ],
  );
}

function factsOfSpec(
  spec: OperationSpec,
  fastening: "bolted" | "welded" | "unknown" | undefined,
  ask: (question: string) => Unknown,
): BlankFacts {
  const term = termOf(spec.component);
  const facts = new BlankFacts();
  facts.cause = OPERATION;
  facts.action = knownWord(spec.action);
  facts.component = knownWord(spec.component);
  facts.side = spec.side;
  facts.axle = spec.axle;
  facts.aboutSensor = spec.sensor === null ? NONE : knownWord(spec.sensor);
  facts.componentStructural = term.structural ? YES : NO;
  facts.attachment =
    fastening === undefined
      ? knownWord(term.attachment)
      : fastening === "unknown"
        ? oneOf(["bolted", "welded"], [ask(`Is the ${term.label} bolted or welded on?`)])
        : known(fastening);
  return facts;
}

function readPlace(
  applies: boolean,
  stated: string | undefined,
  places: readonly string[],
  ask: () => Unknown,
): FactValue<Unknown> {
  if (!applies) return NONE;
  return readWord(stated, places, ask);
}

function readWord(
  stated: string | undefined,
  values: readonly string[],
  ask: () => Unknown,
): FactValue<Unknown> {
  return stated === undefined || stated === "unknown" ? oneOf(values, [ask()]) : knownWord(stated);
}

function reworks(action: ActionId): boolean {
  return action === "replace" || action === "section" || action === "straighten";
}

function isWelded(component: ComponentId): boolean {
  return termOf(component).structural && termOf(component).attachment !== "bolted";
}

/**
 * Whether the work reworks structure. Replacing, sectioning or straightening a structural part does, unless it is
 * bolted on and merely replaced; a paintless repair never does; a repair does where it says so.
 */
function readStructural(
  operation: JobOperation,
  component: ComponentId,
  triState: (key: string, value: YesNoUnknown | undefined, question: () => string) => FactValue<Unknown>,
): FactValue<Unknown> {
  const { action } = operation;
  const term = termOf(component);
  if (action === "paintless-repair") return NO;
  if (reworks(action) && term.structural) {
    const fastening = operation.fastening ?? (term.attachment === "bolted" ? "bolted" : "welded");
    if (action !== "replace" || fastening === "welded") return YES;
    if (fastening === "bolted") return NO;
    return triState("fastening", undefined, () => `Is the ${term.label} welded on?`);
  }
  if (action !== "repair" && action !== "straighten") return NO;
  if (operation.structural === undefined && !term.structural) return NO;
  return triState(
    "structural",
    operation.structural,
    () => `Was the ${term.label} heated, pulled, measured or welded?`,
  );
}

const ANY_ADJUSTMENT = [
  "front-toe",
  "rear-toe",
  "caster",
  "front-camber",
  "rear-camber",
  "thrust",
  "subframe-position",
] as const;

/** What an alignment adjusted. Plain "camber" leaves the axle open; an adjustment of unknown kind adjusted something. */
function readAdjusted(
  operation: JobOperation,
  component: ComponentId,
  ask: (key: string, question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (component !== "wheel-alignment") return NOTHING;
  const stated = operation.adjusted;
  const question = (): Unknown => ask("adjusted", "What did the wheel alignment adjust?", ANY_ADJUSTMENT);
  if (stated === undefined || stated.length === 0 || stated.includes("unknown")) {
    if (operation.action !== "adjust") return NOTHING;
    const certain = (stated ?? []).filter((each) => each !== "unknown" && each !== "nothing");
    const candidates: Datum[] = ANY_ADJUSTMENT.map((each) => [...new Set([...certain, each])]);
    return oneOf(candidates, [question()]);
  }
  if (!stated.includes("camber")) return known(stated);
  const others = stated.filter((each) => each !== "camber");
  return oneOf(
    [
      [...others, "front-camber"],
      [...others, "rear-camber"],
    ],
    [question()],
  );
}

/**
 * The causes that the findings of the job are, those that were stated.
 * `filmLimit` is the thickest film, in micrometres, that a maker's procedure allows over a radar, where one says so.
 */
export function causesOfFindings(findings: JobFindings, filmLimit: number | null): readonly Cause[] {
  return [
    ...(findings.impactZones ?? []).map((zone, index) => causeOfImpact(zone, index)),
    ...(findings.impactWheels ?? []).map((wheel, index) => {
      const pointer = `/findings/impactWheels/${index}`;
      const key = keyOfFinding("impact-wheel", wheel);
      return finding(
        "impact-wheel",
        pointer,
        {
          side: readWord(wheel.side, ["left", "right"], () => ({
            key: `${key}/side`,
            topic: "place",
            about: `${pointer}/side`,
            ask: "On which side was the wheel hit?",
            answers: ["left", "right"],
          })),
          axle: readWord(wheel.axle, ["front", "rear"], () => ({
            key: `${key}/axle`,
            topic: "place",
            about: `${pointer}/axle`,
            ask: "On which axle was the wheel hit?",
            answers: ["front", "rear"],
          })),
        },
        null,
        wheel,
      );
    }),
    ...(findings.airbagsDeployed === true
      ? [finding("airbags-deployed", "/findings/airbagsDeployed", {})]
      : []),
    ...(findings.structuralDamage === true
      ? [finding("structural-damage", "/findings/structuralDamage", {})]
      : []),
    ...(findings.faultCodes ?? []).map((code, index) => causeOfCode(code, index)),
    ...(findings.sensorDamage ?? []).map((damage, index) => {
      const { sensor, position = null } = damage;
      const facts = { aboutSensor: knownWord(sensor) };
      return finding("sensor-damage", `/findings/sensorDamage/${index}`, facts, { sensor, position }, damage);
    }),
    ...(findings.tyreSizesMatch === "no"
      ? [finding("tyre-sizes-mixed", "/findings/tyreSizesMatch", {})]
      : []),
    ...(["front", "rear"] as const).flatMap((axle) =>
      (findings.rideHeightChange?.[axle] ?? 0) === 0
        ? []
        : [
            finding(
              "ride-height-change",
              `/findings/rideHeightChange/${axle}`,
              { axle: knownWord(axle) },
              null,
              axle,
            ),
          ],
    ),
    ...(findings.filmThickness ?? []).map((film, index) => {
      const pointer = `/findings/filmThickness/${index}`;
      return finding(
        "film-thickness",
        pointer,
        {
          component: known(componentOf(film.component)),
          measurement: known("film-thickness"),
          measuredWhen: known("after"),
          verdict: known(filmLimit === null ? "undecided" : film.micrometres <= filmLimit ? "in" : "out"),
          overRadar:
            film.overRadar === "unknown"
              ? oneOf(
                  ["yes", "no"],
                  [
                    {
                      key: `${keyOfFinding("film-thickness", film)}/overRadar`,
                      topic: "finding",
                      about: `${pointer}/overRadar`,
                      ask: "Was the film measured over the window of a radar?",
                      answers: ["yes", "no"],
                    },
                  ],
                )
              : film.overRadar
                ? YES
                : NO,
        },
        null,
        film,
      );
    }),
    ...(findings.measurements ?? []).map(causeOfMeasurement),
  ];
}

type Measurement = NonNullable<JobFindings["measurements"]>[number];

/** Measurements that are made at one axle, so that leaving the axle out leaves it open. */
const AT_AN_AXLE: readonly Measurement["kind"][] = ["ride-height", "total-toe", "tread-depth"];

function causeOfMeasurement(measured: Measurement, index: number): Cause {
  const pointer = `/findings/measurements/${index}`;
  const place = (field: "axle" | "side", places: readonly string[], applies: boolean): FactValue<Unknown> =>
    readPlace(applies || measured[field] !== undefined, measured[field], places, () => ({
      key: `${keyOfFinding("measurement", measured)}/${field}`,
      topic: "place",
      about: `${pointer}/${field}`,
      ask: `At which ${field} was the ${measured.kind} measured?`,
      answers: places,
    }));
  return finding(
    "measurement",
    pointer,
    {
      measurement: knownWord(measured.kind),
      measuredWhen: knownWord(measured.when),
      verdict: known(measured.verdict ?? judge(measured)),
      component: measured.component === undefined ? NONE : known(componentOf(measured.component)),
      axle: place("axle", ["front", "rear"], AT_AN_AXLE.includes(measured.kind)),
      side: place("side", ["left", "right"], false),
    },
    null,
    measured,
  );
}

function causeOfImpact(zone: Zone, index: number): Cause {
  return finding(
    "impact-zone",
    `/findings/impactZones/${index}`,
    { impactZone: knownWord(zone) },
    null,
    zone,
  );
}

function causeOfCode(code: NonNullable<JobFindings["faultCodes"]>[number], index: number): Cause {
  const pointer = `/findings/faultCodes/${index}`;
  const ask = (key: string, question: string, answers: readonly string[]): Unknown => ({
    key: `${keyOfFinding("fault-code", code)}/${key}`,
    topic: "finding",
    about: `${pointer}/${key}`,
    ask: question,
    answers,
  });
  const position = code.position ?? null;
  return finding(
    "fault-code",
    pointer,
    {
      aboutSensor: knownWord(code.sensor),
      codeMeans: readCodeMeaning(code, ask),
      codeRead: readWord(code.read, CODE_READ, () =>
        ask("read", `When was the ${code.sensor} fault code read?`, CODE_READ),
      ),
      codeStatus: readWord(code.status, CODE_STATUS, () =>
        ask("status", `Is the ${code.sensor} fault code active or only stored?`, CODE_STATUS),
      ),
    },
    { sensor: code.sensor, position },
    code,
  );
}

function readCodeMeaning(
  code: NonNullable<JobFindings["faultCodes"]>[number],
  ask: (key: string, question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (code.means !== undefined) return knownWord(code.means);
  const byte = code.code === undefined ? null : failureTypeOf(code.code);
  if (byte !== null) return known(meaningOfFailureType(byte));
  return unbounded(ask("means", `What does the ${code.sensor} fault code mean?`, []));
}

function judge(measured: {
  readonly value: number;
  readonly low?: number | undefined;
  readonly high?: number | undefined;
}): string {
  if (measured.low === undefined && measured.high === undefined) return "undecided";
  const isIn = measured.value >= (measured.low ?? -Infinity) && measured.value <= (measured.high ?? Infinity);
  return isIn ? "in" : "out";
}

/**
 * A finding is known by what it says, not by where it stands, so that the order of findings never matters. The line
 * break, which no stated id holds, keeps a line from being taken for a finding.
 */
function keyOfFinding(kind: CauseKind, content: unknown): string {
  return `${kind}\n${JSON.stringify(content)}`;
}

function finding(
  kind: CauseKind,
  pointer: string,
  facts: Partial<CauseFacts>,
  names: Cause["names"] = null,
  content: unknown = null,
): Cause {
  return {
    key: keyOfFinding(kind, content),
    indexKey: indexKeyOf(kind, "none", String(facts.component?.candidates?.[0] ?? "none")),
    kind,
    pointer,
    operation: null,
    stated: null,
    names,
    isSupposed: false,
    facts: factsWith({ cause: knownWord(kind), ...facts }),
  };
}

/** Kinds of findings of which the job says nothing, with the question that each one is. */
export function openFindings(job: Job): readonly { readonly kind: CauseKind; readonly unknown: Unknown }[] {
  const findings = job.findings ?? {};
  const open = (kind: CauseKind, field: string, ask: string, answers: readonly string[]) => ({
    kind,
    unknown: {
      key: `findings/${field}`,
      topic: "finding" as const,
      about: `/findings/${field}`,
      ask,
      answers,
    },
  });
  return [
    ...(findings.impactZones === undefined
      ? [
          open("impact-zone", "impactZones", "Which zones of the vehicle were hit, if any?", [
            "none",
            "front",
            "rear",
            "left",
            "right",
            "roof",
            "underside",
          ]),
        ]
      : []),
    ...(findings.impactWheels === undefined
      ? [
          open("impact-wheel", "impactWheels", "Was a wheel hit, and which?", [
            "none",
            "the wheel's axle and side",
          ]),
        ]
      : []),
    ...(typeof findings.airbagsDeployed !== "boolean"
      ? [open("airbags-deployed", "airbagsDeployed", "Did an airbag deploy?", ["yes", "no"])]
      : []),
    ...(typeof findings.structuralDamage !== "boolean"
      ? [open("structural-damage", "structuralDamage", "Was damage to the structure found?", ["yes", "no"])]
      : []),
    ...(findings.faultCodes === undefined
      ? [
          open(
            "fault-code",
            "faultCodes",
            "Which fault codes of driver-assistance sensors are stored, if any?",
            ["none", "the codes, with when they were read"],
          ),
        ]
      : []),
    ...(findings.rideHeightChange === undefined
      ? [
          open(
            "ride-height-change",
            "rideHeightChange",
            "Did the ride height change from before the repair, and by how much?",
            ["no", "the change per axle in mm"],
          ),
        ]
      : []),
  ];
}

/** The finding of a kind of which the job says nothing, with everything about it open. */
export function supposeFinding(kind: CauseKind, unknown: Unknown): Cause {
  const open = unbounded(unknown);
  return {
    ...finding(kind, unknown.about, {
      side: open,
      axle: open,
      impactZone: open,
      codeMeans: open,
      codeRead: open,
      codeStatus: open,
      aboutSensor: open,
    }),
    isSupposed: true,
  };
}
