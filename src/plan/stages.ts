import { InputError } from "../errors.js";
import { FALSE, valuesNeeded } from "../logic/index.js";
import type { Program } from "../inference/index.js";
import { STAGE_IDS, type StageId } from "../vocabulary/index.js";

/** Which stage comes before which, as the order rules say, with everything that follows from chains of them. */
export interface StageOrder {
  readonly isBefore: (earlier: StageId, later: StageId) => boolean;
  /** The rules that say directly that one comes before the other. */
  readonly rulesFor: (earlier: StageId, later: StageId) => readonly string[];
}

const orders = new WeakMap<Program, StageOrder>();

/** Works out the order of stages of a rulebook, once. Throws `InputError` where the rules run in a circle. */
export function orderStages(program: Program): StageOrder {
  const ready = orders.get(program);
  if (ready !== undefined) return ready;
  const direct = new Map<string, string[]>();
  for (const rule of program.order) {
    const { conditions } = rule.rule;
    const first = valuesNeeded(conditions, "earlier") ?? new Set(STAGE_IDS);
    const then = valuesNeeded(conditions, "later") ?? new Set(STAGE_IDS);
    for (const earlier of first as ReadonlySet<StageId>) {
      for (const later of then as ReadonlySet<StageId>) {
        if (earlier === later || rule.condition.evaluate({ earlier, later }) === FALSE) continue;
        const key = `${earlier}>${later}`;
        direct.set(key, [...(direct.get(key) ?? []), rule.id]);
      }
    }
  }
  const before = close(new Set(direct.keys()));
  for (const stage of STAGE_IDS) {
    if (!before.has(`${stage}>${stage}`)) continue;
    const members = STAGE_IDS.filter(
      (each) => before.has(`${stage}>${each}`) && before.has(`${each}>${stage}`),
    );
    throw new InputError("rule-pack", [
      {
        code: "order-cycle",
        pointer: "",
        message: `the order of stages runs in a circle: ${members.join(", ")}`,
      },
    ]);
  }
  const order: StageOrder = {
    isBefore: (earlier, later) => before.has(`${earlier}>${later}`),
    rulesFor: (earlier, later) => direct.get(`${earlier}>${later}`) ?? [],
  };
  orders.set(program, order);
  return order;
}

/** Transitive closure over pairs of stages (Warshall). */
function close(direct: ReadonlySet<string>): ReadonlySet<string> {
  const closed = new Set(direct);
  for (const middle of STAGE_IDS) {
    for (const first of STAGE_IDS) {
      if (!closed.has(`${first}>${middle}`)) continue;
      for (const last of STAGE_IDS) {
        if (closed.has(`${middle}>${last}`)) closed.add(`${first}>${last}`);
      }
    }
  }
  return closed;
}
