import { formatNumber } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { capital } from "../vocabulary/index.js";
import type { SetupDecision } from "./set-ups.js";
import type { Block, Cell } from "./setup-content.js";
import { VERDICTS } from "./setup-words.js";
import { sentence } from "./words.js";

type NamedDecision = readonly [name: string, decision: SetupDecision];

/**
 * Why a value does not conform or cannot be decided. Of those that conform the numbers of the table say enough, but not
 * what the verdict presumes: that follows the reason, and is said once for all of which it is true.
 */
export function tellDoubts(decisions: readonly NamedDecision[]): readonly Block[] {
  const names = new Map<string, string[]>();
  for (const [name, { verdict, says }] of decisions) {
    const text = verdict === "conforms" ? says.replace(REASON, "") : says;
    if (text !== "") names.set(text, [...(names.get(text) ?? []), name]);
  }
  const items = [...names].map(([text, whose]) => `${whose.join(", ")}: ${sentence(text)}`);
  return items.length === 0 ? [] : [{ kind: "list", items }];
}

const REASON = /^.*?: conforms\.?\s*/s;

/** "Conforms, 99.5 %": the verdict with the probability that the true value lies within the tolerance. */
export function tellVerdict({ verdict, probability, u }: SetupDecision): string {
  return `${VERDICTS[verdict]}, ${tellProbability(probability, u === 0)}`;
}

/** The verdict in a table, where what does not conform stands out. */
export function markVerdict(decision: SetupDecision): Cell {
  const verdict = tellVerdict(decision);
  return decision.verdict === "does-not-conform" ? { strong: verdict } : verdict;
}

/** What only rounds to certainty is not called certain. */
function tellProbability(probability: number | null, isExact: boolean): string {
  if (probability === null) return "probability not known";
  const text = formatNumber(probability * 100, 1);
  if (!isExact && text === "100.0") return "over 99.9 %";
  if (!isExact && text === "0.0") return "under 0.1 %";
  return `${text} %`;
}

/** Every decision of a result. */
export function listDecisions(result: SetupResult): readonly SetupDecision[] {
  return [
    ...result.targets.flatMap(({ decisions }) => decisions),
    ...result.headlamps.flatMap(({ decision }) => decision ?? []),
    ...result.conditions.map(({ decision }) => decision),
  ];
}

/** The reasons of what conforms, which tables leave to their numbers. */
export function tellConforming(result: SetupResult): readonly string[] {
  return listDecisions(result)
    .filter(({ verdict }) => verdict === "conforms")
    .map(({ of, says }) => `${capital(of)}: ${sentence(says)}`);
}
