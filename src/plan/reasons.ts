import type { Cause } from "../facts/index.js";
import type { CauseNode, Derivation, Support } from "../inference/index.js";
import { STANDING_IDS } from "../vocabulary/index.js";
import type { Questions } from "./questions.js";
import type { PlanReason } from "./shape.js";
import { sourceOfRule } from "./sources.js";

/** Every chain that supports a requirement, one for each rule, cause and stated line that it began with. */
export function writeReasons(
  supports: readonly Support[],
  derivation: Derivation,
  questions: Questions,
  names: ReadonlyMap<string, string>,
): PlanReason[] {
  const reasons = supports.flatMap((support) => {
    const node = derivation.causes.get(support.disturbance.cause);
    if (node === undefined) return [];
    const paths = pathsTo(node, derivation);
    const open = sortIds(support.unknowns.flatMap((unknown) => questions.idOf(unknown) ?? []));
    return node.roots.map((root) => {
      const isLine = root.operation !== null;
      const reason: PlanReason = {
        operation: isLine ? root.key : null,
        finding: isLine ? null : root.pointer,
        implied: (paths.get(root.key) ?? []).flatMap((key) => names.get(key) ?? []),
        disturbance: support.disturbance.kind,
        disturbanceRules: support.disturbance.rules.map(({ rule }) => rule.id),
        rule: support.rule.id,
        standing: support.standing,
        certain: support.certain,
        questions: [...open],
        says: [...support.disturbance.rules.map(({ rule }) => rule.rule.because), support.rule.rule.because],
        source: sourceOfRule(support.rule.loaded),
      };
      return { root, reason };
    });
  });
  return sortByKey(reasons, ({ root, reason }) => keyOfReason(root, reason)).map(({ reason }) => reason);
}

/** Sorts by a text worked out once for each, by code unit. */
export function sortByKey<T>(values: readonly T[], keyOf: (value: T) => string): T[] {
  const keyed = values.map((value) => ({ value, key: keyOf(value) }));
  return keyed.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ value }) => value);
}

function keyOfReason(root: Cause, reason: PlanReason): string {
  const rank = reason.certain ? 0 : 1;
  return `${rank} ${STANDING_IDS.indexOf(reason.standing)} ${rankOf(root)} ${reason.implied.join()} ${reason.disturbance} ${reason.rule}`;
}

/** Findings first, by what they say: a pointer would depend on the order in which they are stated. */
export function rankOf(cause: Cause): string {
  return cause.operation === null ? `/${cause.key}` : cause.key;
}

/**
 * For each stated cause that a cause follows from, by its key: the implied operations on the shortest way, the cause's
 * own included.
 */
export function pathsTo(node: CauseNode, derivation: Derivation): ReadonlyMap<string, readonly string[]> {
  const paths = new Map<string, readonly string[]>();
  const open: { readonly node: CauseNode; readonly path: readonly string[] }[] = [{ node, path: [] }];
  const seen = new Set([node.key]);
  // The list grows while it is walked: nearest causes first.
  for (const next of open) {
    if (next.node.from.length === 0) paths.set(next.node.key, next.path);
    const path = [next.node.key, ...next.path];
    for (const way of next.node.from) {
      const supports = derivation.requirements.get(way.fromRequirement ?? "")?.supports ?? [];
      const causes =
        way.fromCause !== null ? [way.fromCause] : supports.map(({ disturbance }) => disturbance.cause);
      for (const key of causes) {
        const above = derivation.causes.get(key);
        if (above === undefined || seen.has(key)) continue;
        seen.add(key);
        open.push({ node: above, path });
      }
    }
  }
  return paths;
}

export function sortIds(ids: readonly string[]): string[] {
  return [...new Set(ids)].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)));
}
