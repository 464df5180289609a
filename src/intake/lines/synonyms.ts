import { InputError, nearestOf, type Issue } from "../../errors.js";
import {
  ACTION_IDS,
  COMPONENT_IDS,
  SENSOR_IDS,
  acceptsPosition,
  componentOf,
  type ActionId,
  type ComponentId,
  type PositionId,
  type SensorId,
} from "../../vocabulary/index.js";
import { describeConflict, layLexicon, phraseOf, type Lexicon } from "./lexicon.js";
import type { Entry, Meaning } from "./meanings.js";

/** A word or phrase of the caller's own, and what it means; "nothing" is a word that changes nothing. */
export interface Synonym {
  readonly words: string;
  readonly means:
    | { readonly action: ActionId }
    | { readonly component: ComponentId }
    | { readonly sensor: SensorId; readonly position?: PositionId }
    | { readonly side: "left" | "right" }
    | { readonly axle: "front" | "rear" }
    | "nothing";
}

const LENGTH_LIMIT = 120;
const COUNT_LIMIT = 5000;
const EXPECTED = "one of the keys action, component, sensor, side, axle, or the word nothing";

/** Lays the caller's words over the lexicon; throws `InputError` for what contradicts it or means nothing known. */
export function addSynonyms(lexicon: Lexicon, synonyms: readonly Synonym[]): Lexicon {
  const list: unknown = synonyms;
  if (!Array.isArray(list)) refuse([wrongType("/synonyms", "a list of words with what they mean")]);
  if (synonyms.length === 0) return lexicon;
  if (synonyms.length > COUNT_LIMIT) {
    const message = `there are more than ${COUNT_LIMIT} synonyms`;
    refuse([{ code: "too-many", pointer: "/synonyms", message }]);
  }
  const issues: Issue[] = [];
  const entries: Entry[] = [];
  const places: number[] = [];
  for (const [index, synonym] of (list as readonly unknown[]).entries()) {
    const read = readSynonym(synonym, `/synonyms/${index}`);
    if ("issue" in read) issues.push(read.issue);
    else {
      entries.push(read.entry);
      places.push(index);
    }
  }
  const laid = layLexicon(entries, lexicon);
  for (const conflict of laid.conflicts) {
    const pointer = `/synonyms/${places[conflict.index] ?? 0}/words`;
    issues.push({ code: "invalid-value", pointer, message: describeConflict(conflict) });
  }
  if (issues.length > 0) refuse(issues);
  return laid.lexicon;
}

function refuse(issues: readonly Issue[]): never {
  throw new InputError("input", issues);
}

function wrongType(pointer: string, expected: string): Issue {
  return { code: "wrong-type", pointer, message: "this has another type", expected };
}

function readSynonym(
  synonym: unknown,
  pointer: string,
): { readonly entry: Entry } | { readonly issue: Issue } {
  if (!isObject(synonym)) return { issue: wrongType(pointer, "an object with words and means") };
  const { words, means } = synonym;
  if (typeof words !== "string") return { issue: wrongType(`${pointer}/words`, "a text") };
  if (phraseOf(words) === "" || words.length > LENGTH_LIMIT || !isReadable(words)) {
    const message = "these words cannot stand on a line";
    const expected = `letters, digits and the sign / between blanks, at most ${LENGTH_LIMIT} characters`;
    return { issue: { code: "invalid-value", pointer: `${pointer}/words`, message, expected } };
  }
  const read = readMeaning(means, `${pointer}/means`);
  return "issue" in read ? read : { entry: { words, means: read.means } };
}

/** Words as the lines are cut: other signs would part them, so that the phrase could never be found. */
function isReadable(words: string): boolean {
  return words.split(/[\s-]/).every((word) => word === "/" || /^[\p{L}\p{N}]*$/u.test(word));
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

function readMeaning(
  means: unknown,
  pointer: string,
): { readonly means: Meaning } | { readonly issue: Issue } {
  if (means === "nothing") return { means: { kind: "nothing" } };
  if (!isObject(means)) return { issue: wrongType(pointer, EXPECTED) };
  const [key = "", ...more] = Object.keys(means).filter((each) => each !== "position");
  const value = means[key];
  if (more.length > 0 || (key !== "sensor" && Object.hasOwn(means, "position")))
    return {
      issue: { code: "invalid-value", pointer, message: "one meaning is asked for", expected: EXPECTED },
    };
  const at = `${pointer}/${key}`;
  switch (key) {
    case "action": {
      const action = ACTION_IDS.find((each) => each === value);
      return action === undefined
        ? unknownId(value, ACTION_IDS, at)
        : { means: { kind: "action", actions: [action] } };
    }
    case "component": {
      const named = typeof value === "string" ? componentOf(value) : value;
      const component = COMPONENT_IDS.find((each) => each === named);
      if (component === undefined) return unknownId(value, COMPONENT_IDS, at);
      return { means: { kind: "part", choices: [{ component }] } };
    }
    case "sensor":
      return readSensor(value, means["position"], pointer);
    case "side":
      return value === "left" || value === "right"
        ? { means: { kind: "place", side: value } }
        : unknownId(value, ["left", "right"], at);
    case "axle":
      return value === "front" || value === "rear"
        ? { means: { kind: "place", end: value } }
        : unknownId(value, ["front", "rear"], at);
    default:
      return {
        issue: {
          code: "unknown-key",
          pointer: at,
          message: "this key means nothing here",
          expected: EXPECTED,
        },
      };
  }
}

function readSensor(
  value: unknown,
  position: unknown,
  pointer: string,
): { readonly means: Meaning } | { readonly issue: Issue } {
  const sensor = SENSOR_IDS.find((each) => each === value);
  if (sensor === undefined) return unknownId(value, SENSOR_IDS, `${pointer}/sensor`);
  const part = { component: "sensor" as const, sensor };
  if (position === undefined) return { means: { kind: "part", choices: [part], equipment: sensor } };
  if (typeof position !== "string" || !acceptsPosition(sensor, position as PositionId)) {
    const message = `a ${sensor} has no such position`;
    return { issue: { code: "invalid-position", pointer: `${pointer}/position`, message } };
  }
  return {
    means: { kind: "part", choices: [{ ...part, position: position as PositionId }], equipment: sensor },
  };
}

function unknownId(value: unknown, among: readonly string[], pointer: string): { readonly issue: Issue } {
  if (typeof value !== "string") return { issue: wrongType(pointer, `one of ${among.length} words`) };
  const nearest = nearestOf(value, among);
  return {
    issue: {
      code: "unknown-id",
      pointer,
      message: `${JSON.stringify(value.slice(0, LENGTH_LIMIT))} is not in the list`,
      expected: among.length > 4 ? `one of the ${among.length} ids` : among.join(" or "),
      ...(nearest === undefined ? {} : { nearest }),
    },
  };
}
