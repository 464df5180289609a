import type { PlanStep } from "../plan/index.js";
import { joinNumbers, sentence } from "../report/index.js";
import { linkTo, type Card, type CardSection } from "./card.js";
import { tickBox } from "./form.js";
import { markup, type Markup } from "./markup.js";

/** The steps in order, each with a box. */
export function writeSteps(card: Card): CardSection {
  const { steps } = card.plan;
  if (steps.length === 0) return null;
  return {
    id: "steps",
    title: `Steps in order (${steps.length})`,
    content: markup`<ol class="steps">${steps.map((step) => writeStep(card, step))}</ol>`,
  };
}

function writeStep(card: Card, step: PlanStep): Markup {
  const { id, says, requirement, onlyIf, setup } = step;
  const link = requirement === null ? null : linkTo(card, requirement);
  const after = step.after.flatMap((each) => card.steps.get(each) ?? []).sort((a, b) => a - b);
  const shared =
    setup === null
      ? []
      : card.plan.steps
          .filter((other) => other.setup === setup && other.id !== id)
          .flatMap((other) => card.steps.get(other.id) ?? []);
  const told = [
    after.length === 0 ? "" : `After ${joinNumbers(after)}.`,
    shared.length === 0 ? "" : `One set-up with ${joinNumbers(shared)}.`,
    onlyIf === null ? "" : `Condition: ${sentence(onlyIf)}`,
  ].filter((text) => text !== "");
  return markup`<li>${tickBox(markup`<bdi>${sentence(says)}</bdi>`)}${link === null ? null : markup` <span class="soft">${link}</span>`}${
    told.length === 0 ? null : markup` <span class="soft small">${told.join(" ")}</span>`
  }</li>\n`;
}
