import { formatNumber } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { capital } from "../vocabulary/index.js";
import type { Block } from "./setup-content.js";
import { VERDICTS } from "./setup-words.js";

type Decision = SetupResult["targets"][number]["decisions"][number];

/** Verdicts with their reasons; nothing where nothing was decided. */
export function tellDecisions(caption: string, decisions: readonly Decision[]): readonly Block[] {
  if (decisions.length === 0) return [];
  return [
    {
      kind: "table",
      caption,
      columns: [{ head: "What" }, { head: "Verdict, probability" }, { head: "Why", width: "wide" }],
      rows: decisions.map((decision) => [
        capital(decision.of),
        tellVerdict(decision),
        capital(decision.says),
      ]),
    },
  ];
}

/** "Conforms, 99.5 %": the verdict with the probability that the true value lies within the tolerance. */
export function tellVerdict({ verdict, probability, u }: Decision): string {
  return `${VERDICTS[verdict]}, ${tellProbability(probability, u === 0)}`;
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
export function listDecisions(result: SetupResult): readonly Decision[] {
  return [
    ...result.targets.flatMap(({ decisions }) => decisions),
    ...result.headlamps.flatMap(({ decision }) => decision ?? []),
    ...result.conditions.map(({ decision }) => decision),
  ];
}
