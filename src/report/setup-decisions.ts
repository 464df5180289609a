import { formatNumber } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import type { Block, Cell } from "./setup-content.js";
import { VERDICTS } from "./setup-words.js";

type Decision = SetupResult["targets"][number]["decisions"][number];

/** Verdicts with their reasons; nothing where nothing was decided. */
export function tellDecisions(caption: string, decisions: readonly Decision[]): readonly Block[] {
  if (decisions.length === 0) return [];
  return [
    {
      kind: "table",
      caption,
      columns: [{ head: "Verdict" }, { head: "Probability" }, { head: "Why", width: "wide" }],
      rows: decisions.map(tellDecision),
    },
  ];
}

function tellDecision({ verdict, probability, says }: Decision): readonly Cell[] {
  return [VERDICTS[verdict], tellProbability(probability), says];
}

/** That the true value lies within the tolerance; what rounds to certainty is not called certain. */
export function tellProbability(probability: number | null): string {
  if (probability === null) return "not known";
  const text = formatNumber(probability * 100, 1);
  if (text === "100.0" && probability < 1) return "over 99.9 %";
  if (text === "0.0" && probability > 0) return "under 0.1 %";
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
