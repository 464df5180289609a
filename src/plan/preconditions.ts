import type { Limit } from "../procedures/index.js";
import { PRECONDITIONS, type PreconditionId } from "../vocabulary/index.js";
import type { Draft, DraftPrecondition } from "./draft.js";
import { sortByKey } from "./reasons.js";
import type { Plan, PlanLimit, PlanSource } from "./shape.js";
import { sourceOfProcedure, sourceOfRule } from "./sources.js";

export function writePreconditions(drafts: readonly Draft[]): Plan["preconditions"] {
  const needing = new Map<PreconditionId, { readonly draft: Draft; readonly each: DraftPrecondition }[]>();
  for (const draft of drafts) {
    for (const each of draft.preconditions) {
      const list = needing.get(each.id);
      if (list === undefined) needing.set(each.id, [{ draft, each }]);
      else list.push({ draft, each });
    }
  }
  const listed = sortByKey([...needing], ([id]) => id);
  return listed.map(([id, needs]) => {
    const limits = needs.flatMap(({ draft }) => {
      const { procedure } = draft;
      const condition = procedure?.procedure.conditions?.find((each) => each.precondition === id);
      if (procedure === null || condition?.limit === undefined) return [];
      return [
        {
          requirement: draft.key,
          limit: writeLimit(condition.limit),
          note: condition.note ?? null,
          source: sourceOfProcedure(procedure.pack, procedure.procedure),
        },
      ];
    });
    const notes = needs.flatMap(({ draft }) => {
      const condition = draft.procedure?.procedure.conditions?.find((each) => each.precondition === id);
      // A note beside a limit stands with the limit.
      return condition?.note === undefined || condition.limit !== undefined
        ? []
        : [{ requirement: draft.key, note: condition.note }];
    });
    const rule = needs.find(({ each }) => each.rule !== null)?.each.rule ?? null;
    return {
      id,
      statement: PRECONDITIONS[id].meaning,
      certain: needs.some(({ each }) => each.certain),
      limit: tightest(limits.map((each) => each.limit)),
      limits,
      notes,
      source: limits[0]?.source ?? (rule === null ? noSource() : sourceOfRule(rule.loaded)),
      neededBy: needs.map(({ draft }) => draft.key).sort(),
    };
  });
}

function noSource(): PlanSource {
  return {
    kind: "maker-procedure",
    cite: "The maker's procedure of the requirement.",
    section: null,
    supports: "states-it",
    read: "at-source",
  };
}

function writeLimit(limit: Limit): PlanLimit {
  const { low = null, high = null, unit } = limit;
  const sense = low === null ? "at-most" : high === null ? "at-least" : "between";
  return { value: high ?? low ?? 0, unit, sense, low, high };
}

/** The limit that meets all of them, where they are in one unit; otherwise none stands for all. */
function tightest(limits: readonly PlanLimit[]): PlanLimit | null {
  const [first] = limits;
  if (first === undefined || limits.some((limit) => limit.unit !== first.unit)) return null;
  const lows = limits.flatMap(({ low }) => low ?? []);
  const highs = limits.flatMap(({ high }) => high ?? []);
  const low = lows.length > 0 ? Math.max(...lows) : undefined;
  const high = highs.length > 0 ? Math.min(...highs) : undefined;
  return writeLimit({
    unit: first.unit,
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
  });
}
