import type {
  Chain,
  ConsideredOperation,
  Explanation,
  LinkRule,
  NotIndicatedExplanation,
  PlaceExplanation,
  RequirementExplanation,
} from "../explain/index.js";
import { STANDINGS, TASKS, capital } from "../vocabulary/index.js";
import { EMPTY_LINE, joinLines, pageWidth, paragraph, type Line, type Styler } from "./layout.js";
import { count, nameOfSource, sentence } from "./words.js";

/** How an explanation is to look. */
export interface ExplanationOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  readonly styler?: Styler | undefined;
}

/**
 * Writes an explanation as text: for each place of the sensor every chain behind what is due, or which lines were
 * looked at, which rules came nearest and what would change the answer.
 */
export function renderExplanation(explanation: Explanation, options: ExplanationOptions = {}): string {
  const width = pageWidth(options.width);
  const lines = [
    ...paragraph(`Order ${explanation.reference}: what is said of one sensor`, { width, role: "title" }),
    ...explanation.places.flatMap((place) => [EMPTY_LINE, ...writePlace(place, width)]),
  ];
  return joinLines(lines, options.styler);
}

function writePlace(place: PlaceExplanation, width: number): readonly Line[] {
  const verdict = place.indicated
    ? count(place.requirements.length, "requirement")
    : place.waived.length > 0
      ? "waived"
      : "nothing is indicated";
  return [
    ...paragraph(`${place.name.toUpperCase()} (${place.key}): ${verdict}`, { width, role: "heading" }),
    ...place.requirements.flatMap((each) => writeRequirement(each, width)),
    ...place.waived.flatMap((waiver) => [
      ...paragraph(
        `${capital(TASKS[waiver.task].label)} is waived; it would have been ${STANDINGS[waiver.wouldHaveBeen].label}.`,
        {
          width,
          indent: 2,
          role: "strong",
        },
      ),
      ...paragraph(`${sentence(waiver.by.says)} [${waiver.by.rule}; ${nameOfSource(waiver.by.source)}]`, {
        width,
        indent: 4,
      }),
      ...paragraph(`It takes away what these rules asked: ${waiver.waives.join(", ")}`, { width, indent: 4 }),
    ]),
    ...writeNotIndicated(place, width),
  ];
}

function writeRequirement(
  { requirement, chains, questions: asked, holds }: RequirementExplanation,
  width: number,
): readonly Line[] {
  const { standing, couldRiseTo, questions, task } = requirement;
  const rise =
    couldRiseTo === null ? "" : `, could rise to ${STANDINGS[couldRiseTo].label} by ${questions.join(", ")}`;
  return [
    ...paragraph(`${capital(TASKS[task].label)}: ${STANDINGS[standing].label}${rise}`, {
      width,
      indent: 2,
      role: "strong",
    }),
    ...paragraph(STANDINGS[standing].meaning, { width, indent: 2, role: "faint" }),
    ...holds.flatMap(({ says, clearedBy, rule, from }) => [
      ...paragraph(`On hold: ${sentence(says)} [${rule}]`, { width, indent: 2, role: "alert" }),
      ...paragraph(`${sentence(from)} Cleared by: ${clearedBy}`, { width, indent: 4 }),
    ]),
    ...asked.flatMap(({ id, ask, answers, about }) => [
      ...paragraph(`${ask}${answers.length === 0 ? "" : ` (${answers.join(" / ")})`}`, {
        width,
        indent: 2,
        lead: id.padEnd(4),
        role: "alert",
      }),
      ...paragraph(`Belongs at ${about}`, { width, indent: 6, role: "faint" }),
    ]),
    ...chains.flatMap((chain, index) => writeChain(chain, index + 1, chains.length, width)),
  ];
}

function writeChain(chain: Chain, number: number, of: number, width: number): readonly Line[] {
  const certainty = chain.certain
    ? "certain"
    : `open${chain.questions.length === 0 ? "" : `, hangs on ${chain.questions.join(" and ")}`}`;
  return [
    ...paragraph(`Reason ${number} of ${of} (${STANDINGS[chain.standing].label}, ${certainty})`, {
      width,
      indent: 2,
      role: chain.certain ? "plain" : "alert",
    }),
    ...chain.links.flatMap((link, index) => [
      ...paragraph(sentence(link.says), { width, indent: 4, lead: index === 0 ? "   " : "-> " }),
      ...link.rules.flatMap((rule) => writeRule(rule, width)),
    ]),
    ...paragraph(`Source: ${nameOfSource(chain.source)}`, { width, indent: 7, role: "faint" }),
  ];
}

const MARKS = { true: "yes", false: "no ", unknown: "?  " } as const;

function writeRule(rule: LinkRule, width: number): readonly Line[] {
  const because = rule.because === "" ? "" : ` ${sentence(rule.because)}`;
  return [
    ...paragraph(`[${rule.id}]${because}`, { width, indent: 7 }),
    ...rule.conditions.flatMap(({ depth, says, truth, found }) =>
      paragraph(`${says}${found === "" ? "" : ` (${found})`}`, {
        width,
        indent: 9 + 2 * Math.min(depth, 6),
        lead: `${MARKS[truth]} `,
        role: truth === "unknown" ? "alert" : "faint",
      }),
    ),
  ];
}

const REASONS = {
  "not-fitted": "It counts as not fitted.",
  "no-rule-asks-for-it": "It is fitted, and no rule asks for anything after the work as stated.",
  "fitment-unknown-but-no-rule-asks-for-it":
    "Whether it is fitted is not known, and no rule would ask for anything if it were.",
} as const;

function writeNotIndicated({ name, notIndicated }: PlaceExplanation, width: number): readonly Line[] {
  if (notIndicated === null) return [];
  const { reason, wouldChange, ifFitted } = notIndicated;
  const changes = ifFitted === null ? wouldChange : [];
  return [
    ...paragraph(REASONS[reason], { width, indent: 2 }),
    ...writeConsidered(notIndicated, width),
    ...(ifFitted === null
      ? []
      : paragraph(`If the ${name} were fitted after all: ${tellIfFitted(ifFitted)}`, { width, indent: 2 })),
    ...(changes.length === 0
      ? []
      : [
          ...paragraph("What would change the answer:", { width, indent: 2, role: "strong" }),
          ...changes.flatMap((each) => paragraph(each, { width, indent: 2, lead: "- " })),
        ]),
  ];
}

function tellIfFitted(due: NonNullable<NotIndicatedExplanation["ifFitted"]>): string {
  if (due.length === 0) return "no rule would ask for anything after the work as stated.";
  const tasks = due.map(({ task, standing, couldRiseTo }) => {
    const rise = couldRiseTo === null ? "" : `, could rise to ${STANDINGS[couldRiseTo].label}`;
    return `${TASKS[task].label} (${STANDINGS[standing].label}${rise})`;
  });
  return `the same order would ask for ${tasks.join(", ")}.`;
}

function writeConsidered({ reason, considered }: NotIndicatedExplanation, width: number): readonly Line[] {
  if (reason === "not-fitted" && considered.length === 0) return [];
  const title =
    considered.length === 0
      ? "There was no line or finding to look at."
      : "What was looked at, and the rules that came nearest:";
  return [
    ...paragraph(title, { width, indent: 2, role: "strong" }),
    ...groupAlike(considered).flatMap((alike) => [
      ...alike.flatMap(({ operation, says }) =>
        // A finding says itself where it stands; its pointer before it would say nothing more.
        paragraph(operation === says || operation.startsWith("/") ? says : `${operation}: ${says}`, {
          width,
          indent: 2,
          lead: "- ",
        }),
      ),
      ...writeNearest(alike, width),
    ]),
  ];
}

function writeNearest(alike: readonly ConsideredOperation[], width: number): readonly Line[] {
  const nearest = alike[0]?.nearest ?? [];
  if (nearest.length === 0) {
    return paragraph("No rule comes near: none speaks of such work on this sensor.", {
      width,
      indent: 6,
      role: "faint",
    });
  }
  return nearest.flatMap((near, index) => [
    ...paragraph(`[${near.rule}] would say "${near.wouldConclude}", but:`, { width, indent: 6 }),
    ...near.misses.flatMap((miss, at) => {
      const found = alike.every((each) => each.nearest[index]?.misses[at]?.found === miss.found)
        ? miss.found
        : "";
      return paragraph(`${miss.says}${found === "" ? "" : ` (${found})`}`, {
        width,
        indent: 8,
        lead: `${MARKS[miss.truth]} `,
        role: "faint",
      });
    }),
  ]);
}

/** Lines for which the same rules missed the same conditions, together, each group where its first line stands. */
function groupAlike(considered: readonly ConsideredOperation[]): readonly (readonly ConsideredOperation[])[] {
  const groups = new Map<string, ConsideredOperation[]>();
  for (const each of considered) {
    const key = JSON.stringify(
      each.nearest.map(({ rule, misses }) => [rule, misses.map(({ says, truth }) => [says, truth])]),
    );
    groups.set(key, [...(groups.get(key) ?? []), each]);
  }
  return [...groups.values()];
}
