import { askOfStages } from "../facts/index.js";
import { InputError } from "../errors.js";
import { FALSE, valuesNeeded } from "../logic/index.js";
import type { Program } from "../inference/index.js";
import { STAGE_IDS, type StageId } from "../vocabulary/index.js";

/** Which stage comes before which, as the order rules say, with everything that follows from chains of them. */
export interface StageOrder {
  readonly isBefore: (earlier: StageId, later: StageId) => boolean;
  /** Of the stages present, those that come directly before each: none of the present ones lies between. */
  readonly directlyBefore: (present: readonly StageId[]) => ReadonlyMap<StageId, readonly StageId[]>;
  /** The rules that say directly that one comes before the other. */
  readonly rulesFor: (earlier: StageId, later: StageId) => readonly string[];
}

const orders = new WeakMap<Program, StageOrder>();

/** Works out the order of stages of a rulebook, once. Throws `InputError` where the rules run in a circle. */
export function orderStages(program: Program): StageOrder {
  const ready = orders.get(program);
  if (ready !== undefined) return ready;
  const rules = new Map<string, string[]>();
  const before = STAGE_IDS.map(() => STAGE_IDS.map(() => false));
  for (const rule of program.order) {
    const { conditions } = rule.rule;
    const first = valuesNeeded(conditions, "earlier") ?? new Set(STAGE_IDS);
    const then = valuesNeeded(conditions, "later") ?? new Set(STAGE_IDS);
    for (const earlier of first as ReadonlySet<StageId>) {
      for (const later of then as ReadonlySet<StageId>) {
        if (earlier === later || rule.condition.evaluate(askOfStages(earlier, later)) === FALSE) continue;
        const key = `${earlier}>${later}`;
        rules.set(key, [...(rules.get(key) ?? []), rule.id]);
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
  const order: StageOrder = {
    isBefore,
    directlyBefore: (present) => {
      const indices = present.map((stage) => INDEX_OF[stage]);
      return new Map(
        indices.map((later) => {
          const earlier = indices.filter((index) => before[index]?.[later] === true);
          const direct = earlier.filter(
            (index) => !earlier.some((between) => before[index]?.[between] === true),
          );
          return [stageAt(later), direct.map(stageAt)] as const;
        }),
      );
    },
    rulesFor: (earlier, later) => rules.get(`${earlier}>${later}`) ?? [],
  };
  orders.set(program, order);
  return order;
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
