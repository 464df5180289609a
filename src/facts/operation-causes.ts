import type { JobOperation } from "../job/index.js";
import { known, knownWord, oneOf, type Datum, type FactValue } from "../logic/index.js";
import { PART_ORIGINS, componentOf, type ActionId, type ComponentId } from "../vocabulary/index.js";
import {
  BlankFacts,
  NO,
  NONE,
  NOTHING,
  YES,
  indexKeyOf,
  readPlace,
  readWord,
  termOf,
  type Cause,
  type OperationSpec,
} from "./causes.js";
import type { Topic, Unknown } from "./unknowns.js";

const OPERATION = knownWord("operation");

type YesNoUnknown = "yes" | "no" | "unknown";

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
