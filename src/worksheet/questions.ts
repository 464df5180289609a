import type { PlanQuestion } from "../plan/index.js";
import {
  joinPlaces,
  labelOfFeature,
  nameMany,
  namePlaces,
  nameRequirements,
  sentence,
} from "../report/index.js";
import { bullets, paragraph, type Card, type CardSection } from "./card.js";
import { facts, field, roomyFields, tickList } from "./form.js";
import { markup, quoted, type Markup } from "./markup.js";

/** The open questions: first those that settle something, then those about the whole job, which could add to it. */
export function writeQuestions(card: Card): CardSection {
  const { questions, atLeastOneOf } = card.plan;
  if (questions.length === 0 && atLeastOneOf.length === 0) return null;
  const settling = questions.filter(({ settles }) => settles.length > 0);
  const general = questions.filter(({ settles }) => settles.length === 0);
  const proven = atLeastOneOf.map(
    ({ sensors, because, question }) =>
      `At least one of these is fitted: ${namePlaces(sensors)}. That follows from ${because.map(labelOfFeature).join(", ")}${question === null ? "" : ` (${question})`}.`,
  );
  return {
    id: "questions",
    title: `Open questions (${questions.length})`,
    content: [
      settling.length < 2 ? null : paragraph("The one that settles most comes first.", "soft"),
      settling.map((question) => writeQuestion(card, question)),
      proven.length === 0 ? null : bullets(proven),
      general.length === 0
        ? null
        : paragraph("About the job as a whole; each answer could add work:", "soft"),
      general.map((question) => writeQuestion(card, question)),
    ],
  };
}

function writeQuestion({ plan }: Card, question: PlanQuestion): Markup {
  const { id, ask, about, answers, settles, couldAdd } = question;
  return markup`<div class="frame" id="${id}">
<h3><span class="mark">${id}</span> ${quoted(ask)}</h3>
${answers.length === 0 ? null : tickList(answers.map(quoted))}
${facts([
  ["Settles", settles.length === 0 ? null : nameRequirements(settles)],
  ["Could add", couldAdd.length === 0 ? null : `work on ${nameMany(plan, couldAdd)}`],
  ["Belongs at", markup`<span class="code">${about}</span>`],
])}
${roomyFields(field(answers.length === 0 ? "Answer" : "Remark"), field("Found out by, date"))}
</div>`;
}

/** What contradicts what. */
export function writeContradictions({ plan }: Card): CardSection {
  const { contradictions } = plan;
  if (contradictions.length === 0) return null;
  return {
    id: "contradictions",
    title: `Statements that contradict each other (${contradictions.length})`,
    content: [
      paragraph("None of them was believed: the fact counts as unknown.", "soft"),
      contradictions.map(
        ({ says, about }) =>
          markup`<div class="frame">${paragraph(sentence(says), "strong")}<p class="code">At ${joinPlaces(about)}</p></div>`,
      ),
    ],
  };
}

/** Oddities that stop nothing. */
export function writeWarnings({ plan }: Card): CardSection {
  const { warnings } = plan;
  if (warnings.length === 0) return null;
  return {
    id: "warnings",
    title: `Warnings (${warnings.length})`,
    content: bullets(
      warnings.map(({ about, says }) => markup`${sentence(says)} <span class="code">${about}</span>`),
    ),
  };
}
