import type {
  Chain,
  Explanation,
  LinkRule,
  PlaceExplanation,
  RequirementExplanation,
} from "../explain/index.js";
import { STANDINGS, TASKS } from "../vocabulary/index.js";
import { EMPTY_LINE, joinLines, pageWidth, paragraph, type Line, type Styler } from "./layout.js";
import { capital, count, nameOfSource, sentence } from "./words.js";

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

function writeRequirement({ requirement, chains }: RequirementExplanation, width: number): readonly Line[] {
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

function writeNotIndicated({ notIndicated }: PlaceExplanation, width: number): readonly Line[] {
  if (notIndicated === null) return [];
  const { reason, considered, wouldChange } = notIndicated;
  return [
    ...paragraph(REASONS[reason], { width, indent: 2 }),
    ...paragraph(
      considered.length === 0
        ? "There was no line or finding to look at."
        : "What was looked at, and the rules that came nearest:",
      { width, indent: 2, role: "strong" },
    ),
    ...considered.flatMap(({ operation, says, nearest }) => [
      ...paragraph(operation === says ? operation : `${operation}: ${says}`, {
        width,
        indent: 2,
        lead: "- ",
      }),
      ...nearest.flatMap((near) => [
        ...paragraph(`[${near.rule}] would say "${near.wouldConclude}", but:`, { width, indent: 6 }),
        ...near.misses.flatMap((miss) =>
          paragraph(`${miss.says}${miss.found === "" ? "" : ` (${miss.found})`}`, {
            width,
            indent: 8,
            lead: `${MARKS[miss.truth]} `,
            role: "faint",
          }),
        ),
      ]),
    ]),
    ...(wouldChange.length === 0
      ? []
      : [
          ...paragraph("What would change the answer:", { width, indent: 2, role: "strong" }),
          ...wouldChange.flatMap((each) => paragraph(each, { width, indent: 2, lead: "- " })),
        ]),
  ];
}
