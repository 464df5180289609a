import type { Procedure, ProcedurePack } from "../procedures/index.js";
import type { LoadedRule } from "../rulebook/index.js";
import type { PlanSource } from "./shape.js";

const ofRules = new WeakMap<LoadedRule, PlanSource>();

/** A rule's source as the plan prints it: the same object each time, so that no reader of one plan may change it. */
export function sourceOfRule(loaded: LoadedRule): PlanSource {
  const ready = ofRules.get(loaded);
  if (ready !== undefined) return ready;
  const made = Object.freeze(writeSource(loaded));
  ofRules.set(loaded, made);
  return made;
}

function writeSource({ rule, source }: LoadedRule): PlanSource {
  return {
    kind: source.kind,
    cite: source.cite,
    section: rule.source.section,
    supports: rule.source.supports,
    read: source.read,
  };
}

/** A maker procedure as a source. */
export function sourceOfProcedure(pack: ProcedurePack, procedure: Procedure): PlanSource {
  return {
    kind: "maker-procedure",
    cite: pack.cite,
    section: procedure.section,
    supports: "states-it",
    read: "at-source",
  };
}
