import { InputError } from "../errors.js";
import { FALSE, compileCondition, knownWord, valuesNeeded } from "../logic/index.js";
import { STAGE_IDS, type StageId } from "../vocabulary/index.js";
import type { RuleOf } from "./rule.js";

/** Which stage comes before which, as the order rules say, with everything that follows from chains of them. */
export interface StageOrder {
  readonly isBefore: (earlier: StageId, later: StageId) => boolean;
  /** Of the stages present, those that come directly before each: none of the present ones lies between. */
  readonly directlyBefore: (present: readonly StageId[]) => ReadonlyMap<StageId, readonly StageId[]>;
}

/** Works out the order of stages that rules say. Throws `InputError` of kind "rule-pack" where they run in a circle. */
export function orderStages(ordering: readonly RuleOf<"order">[]): StageOrder {
  const rules = new Map<string, string[]>();
  const before = STAGE_IDS.map(() => STAGE_IDS.map(() => false));
  for (const { id, conditions } of ordering) {
    const condition = compileCondition<Readonly<Record<string, StageId>>, never>(
      conditions,
      (fact) => (pair) => knownWord(pair[fact] ?? "none"),
    );
    const first = valuesNeeded(conditions, "earlier") ?? new Set(STAGE_IDS);
    const then = valuesNeeded(conditions, "later") ?? new Set(STAGE_IDS);
    for (const earlier of first as ReadonlySet<StageId>) {
      for (const later of then as ReadonlySet<StageId>) {
        if (earlier === later || condition.evaluate({ earlier, later }) === FALSE) continue;
        const key = `${earlier}>${later}`;
        rules.set(key, [...(rules.get(key) ?? []), id]);
        const row = before[INDEX_OF[earlier]];
        if (row !== undefined) row[INDEX_OF[later]] = true;
      }
    }
  }
  close(before);
  const isBefore = (earlier: StageId, later: StageId): boolean =>
    before[INDEX_OF[earlier]]?.[INDEX_OF[later]] === true;
  for (const stage of STAGE_IDS) {
    if (isBefore(stage, stage)) refuseCircle(stage, rules);
  }
  const kept = new Map<string, ReadonlyMap<StageId, readonly StageId[]>>();
  return {
    isBefore,
    directlyBefore: (present) => {
      const indices = present.map((stage) => INDEX_OF[stage]).sort((a, b) => a - b);
      const key = indices.join();
      const ready = kept.get(key);
      if (ready !== undefined) return ready;
      const linked = new Map(
        indices.map((later) => {
          const earlier = indices.filter((index) => before[index]?.[later] === true);
          const direct = earlier.filter(
            (index) => !earlier.some((between) => before[index]?.[between] === true),
          );
          return [stageAt(later), direct.map(stageAt)] as const;
        }),
      );
      if (kept.size >= KEPT) kept.clear();
      kept.set(key, linked);
      return linked;
    },
  };
}

/** Names the shortest circle through a stage, with the rules that put each stage before the next. */
function refuseCircle(stage: StageId, rules: ReadonlyMap<string, readonly string[]>): never {
  const open: { readonly last: StageId; readonly says: readonly string[] }[] = [{ last: stage, says: [] }];
  const seen = new Set<StageId>();
  for (let next = open.shift(); next !== undefined; next = open.shift()) {
    const { last, says } = next;
    if (last === stage && says.length > 0) {
      const message = `the order of stages runs in a circle: ${says.join(", ")}`;
      throw new InputError("rule-pack", [{ code: "order-cycle", pointer: "", message }]);
    }
    for (const later of STAGE_IDS) {
      const [rule] = rules.get(`${last}>${later}`) ?? [];
      if (rule === undefined || seen.has(later)) continue;
      seen.add(later);
      open.push({ last: later, says: [...says, `${last} before ${later} by "${rule}"`] });
    }
  }
  throw new RangeError(`no circle goes through the stage ${stage}`);
}

/** Sets of stages whose links are kept before the memory starts anew; most orders share a few dozen. */
const KEPT = 1_000;

const INDEX_OF = Object.fromEntries(STAGE_IDS.map((stage, index) => [stage, index])) as Readonly<
  Record<StageId, number>
>;

function stageAt(index: number): StageId {
  const stage = STAGE_IDS[index];
  if (stage === undefined) throw new RangeError(`no stage has the index ${index}`);
  return stage;
}

/** Transitive closure of a relation given as a matrix, in place (Warshall). */
function close(before: boolean[][]): void {
  before.forEach((fromMiddle, middle) => {
    for (const row of before) {
      if (row[middle] !== true) continue;
      fromMiddle.forEach((reaches, last) => {
        if (reaches) row[last] = true;
      });
    }
  });
}
