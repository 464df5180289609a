import type { ActionId } from "../../vocabulary/index.js";
import type { Clause } from "./clauses.js";
import type { PlaceItem, Span } from "./items.js";
import type { PlacedAction, PlacedPart } from "./places.js";
import type { LineOperation } from "./shape.js";
import { actionOn, readTargets, type DriveSide, type Target, type TargetReading } from "./targets.js";

/** An operation with what else its words say of it. */
export interface Drafted {
  readonly operation: LineOperation;
  readonly carries: Target["carries"];
  readonly part: Span | null;
}

/** One reading of a clause or a line; doubtful ones are offered and never taken. */
export interface Draft {
  readonly operations: readonly Drafted[];
  readonly doubtful: boolean;
}

/** More readings than anybody chooses from. */
const DRAFT_LIMIT = 8;

/** Every reading of a line cut into clauses; none where a clause says nothing that can be done. Null beyond the limit. */
export function draftOperations(
  clauses: readonly Clause[],
  driveSide: DriveSide | null,
): readonly Draft[] | null {
  let drafts: readonly Draft[] = [{ operations: [], doubtful: false }];
  for (const clause of clauses) {
    const ofClause = draftClause(clause, driveSide);
    if (ofClause === null || drafts.length * ofClause.length > DRAFT_LIMIT) return null;
    drafts = drafts.flatMap((before) =>
      ofClause.map((next) => ({
        operations: [...before.operations, ...next.operations],
        doubtful: before.doubtful || next.doubtful,
      })),
    );
  }
  return drafts;
}

function draftClause({ actions, parts }: Clause, driveSide: DriveSide | null): readonly Draft[] | null {
  if (parts.length === 0) return actions.map(draftAlone);
  const places = locate(parts, driveSide);
  const located = choose(places.map(({ readings }) => readings));
  if (located === null) return null;
  const drafts: Draft[] = [];
  for (const done of actionLists(actions, parts)) {
    for (const targets of located) {
      const operations = combine(done, places, targets);
      if (operations === null) continue;
      drafts.push({ operations, doubtful: targets.some(({ doubtful }) => doubtful) });
    }
  }
  return distinct(drafts);
}

/** The readings of a part at one of its places. */
interface Located {
  readonly part: PlacedPart;
  readonly words: readonly Span[];
  readonly readings: readonly TargetReading[];
}

function locate(parts: readonly PlacedPart[], driveSide: DriveSide | null): readonly Located[] {
  return parts.flatMap((part) =>
    part.at.map((at) => {
      const { choices } = part.item.means;
      const readings = readTargets(choices, at, driveSide);
      // "LT headlamp and fender": whether the side goes for both is open.
      const shared = sideOfNeighbours(part, at, parts);
      const withShared = shared === null ? [] : readTargets(choices, [...at, shared], driveSide);
      const more = withShared.filter(({ doubtful }) => !doubtful);
      return { part, words: at.map(({ span }) => span), readings: [...readings, ...more] };
    }),
  );
}

/** The side said before an earlier part of the same list, or after a later one, where this part has none of its own. */
function sideOfNeighbours(
  part: PlacedPart,
  at: readonly PlaceItem[],
  parts: readonly PlacedPart[],
): PlaceItem | null {
  if (at.some(saysSide)) return null;
  const here = part.item.span[0];
  for (const other of parts) {
    const [name] = other.item.span;
    if (other === part) continue;
    const goesOn = other.at.flat().find((place) => {
      const isBeforeName = place.span[0] < name;
      return saysSide(place) && isBeforeName === name < here;
    });
    if (goesOn !== undefined) return goesOn;
  }
  return null;
}

function saysSide({ side, either }: PlaceItem): boolean {
  return side !== null || either !== null;
}

interface Done {
  readonly action: ActionId;
  readonly words: readonly ActionId[];
  readonly span: Span | null;
}

/** The actions of a clause, in every way that their words can be meant. */
function actionLists(
  actions: readonly PlacedAction[],
  parts: readonly PlacedPart[],
): readonly (readonly Done[])[] {
  if (actions.length === 0) {
    const implied = parts.flatMap(({ item }) => item.means.implied ?? []);
    return [implied.map((action) => ({ action, words: [action], span: null }))];
  }
  const stated = actions.filter(({ item }) => item.means.mayDescribe !== true);
  const isNewAlone = stated.length === 0;
  const saysReplace = stated.some(({ item }) => item.means.actions.includes("replace"));
  const plain = choose((isNewAlone ? actions : stated).map(doneBy)) ?? [];
  if (isNewAlone || saysReplace || stated.length === actions.length) return plain;
  return [...plain, ...(choose(actions.map(doneBy)) ?? [])];
}

function doneBy({ item }: PlacedAction): readonly Done[] {
  const words = item.means.actions;
  return words.map((action) => ({ action, words, span: item.span }));
}

function combine(
  done: readonly Done[],
  places: readonly Located[],
  located: readonly TargetReading[],
): readonly Drafted[] | null {
  const drafted: Drafted[] = [];
  for (const { action, words, span } of done) {
    for (const [index, place] of places.entries()) {
      for (const target of located[index]?.targets ?? []) {
        if (!isMeantOf(action, target, place.part)) return null;
        const meant = actionOn(action, target, words);
        if (meant === null) return null;
        const own = place.part.item.span;
        drafted.push({
          operation: operationOf(meant, target, [...(span === null ? [] : [span]), own, ...place.words]),
          carries: target.carries,
          part: own,
        });
      }
    }
  }
  return contradicts(drafted) ? null : withoutRepeats(drafted);
}

/** The same part cannot go back on, or in part, and be replaced. */
function contradicts(drafted: readonly Drafted[]): boolean {
  const keysOf = (action: ActionId): readonly string[] =>
    drafted
      .filter(({ operation }) => operation.action === action)
      .map(({ operation }) => keyOf({ ...operation, action: "replace" }));
  const kept = [...keysOf("remove-install"), ...keysOf("section")];
  return keysOf("replace").some((key) => kept.includes(key));
}

/** Of a name for both skin and assembly, the assembly is taken apart and the skin is painted. */
function isMeantOf(action: ActionId, { component }: Target, { item }: PlacedPart): boolean {
  const assemblies = item.means.choices.filter((choice) => choice.component.endsWith("-assembly"));
  if (assemblies.length === 0 || assemblies.length === item.means.choices.length) return true;
  const isAssembly = component.endsWith("-assembly");
  if (action === "overhaul") return isAssembly;
  return action === "refinish" || action === "blend" ? !isAssembly : true;
}

function operationOf(action: ActionId, target: Target, words: readonly Span[]): LineOperation {
  const { component, side, axle, sensor, position, carries } = target;
  const place = action === "calibrate" && carries !== null ? { side: null, axle: null } : { side, axle };
  return {
    action,
    ...(action === "calibrate" && carries !== null
      ? { component: "sensor" as const, ...place, sensor: carries, position: side }
      : { component: action === "rotate" ? ("wheel" as const) : component, ...place, sensor, position }),
    words: inOrder(words),
  };
}

function inOrder(spans: readonly Span[]): LineOperation["words"] {
  return spans.map(([start, end]): [number, number] => [start, end]).sort((a, b) => a[0] - b[0]);
}

/** "Replace … R&R" is one work said twice. */
function withoutRepeats(drafted: readonly Drafted[]): readonly Drafted[] {
  const seen = new Map<string, Drafted>();
  for (const each of drafted) {
    const key = keyOf(each.operation);
    if (!seen.has(key)) seen.set(key, each);
  }
  return [...seen.values()];
}

function draftAlone({ item }: PlacedAction): Draft {
  const [action = "scan"] = item.means.actions;
  const one: Drafted = {
    operation: {
      action,
      component: action === "calibrate" ? "sensor" : "other",
      side: null,
      axle: null,
      sensor: null,
      position: null,
      words: inOrder([item.span]),
    },
    carries: null,
    part: null,
  };
  return { operations: item.means.twice === true ? [one, one] : [one], doubtful: false };
}

/** What an operation says, without the words that say it. */
export function keyOf({ action, component, side, axle, sensor, position }: LineOperation): string {
  return JSON.stringify([action, component, side, axle, sensor, position]);
}

/** One reading for each different content, the first of each. */
export function distinct(drafts: readonly Draft[]): readonly Draft[] {
  const seen = new Map<string, Draft>();
  for (const draft of drafts) {
    const key = draft.operations.map(({ operation }) => keyOf(operation)).join();
    const before = seen.get(key);
    if (before === undefined || (before.doubtful && !draft.doubtful)) seen.set(key, draft);
  }
  return [...seen.values()];
}

/** Every way of choosing one of each list; null where there are more than anybody would look through. */
function choose<T>(lists: readonly (readonly T[])[]): readonly (readonly T[])[] | null {
  let chosen: readonly (readonly T[])[] = [[]];
  for (const list of lists) {
    if (chosen.length * list.length > DRAFT_LIMIT * DRAFT_LIMIT) return null;
    chosen = chosen.flatMap((before) => list.map((next) => [...before, next]));
  }
  return chosen;
}
