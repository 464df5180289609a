import { causeOf, sentence } from "../report/index.js";
import { nameMarked, paragraph, type Card, type CardSection } from "./card.js";
import { facts, field, fields, tickBox } from "./form.js";
import { markup, quoted } from "./markup.js";

/** What may not be carried out yet, why, and what clears it. */
export function writeHolds(card: Card): CardSection {
  const holds = [...card.holds.values()];
  if (holds.length === 0) return null;
  return {
    id: "holds",
    title: `On hold (${holds.length})`,
    content: [
      paragraph("The work is due all the same. Do not begin it before its hold is cleared.", "strong"),
      holds.map(
        ({ name, hold, requirements }) => markup`<div class="double" id="${name}">
<h3><span class="mark">${name}</span> ${quoted(sentence(hold.says))}</h3>
${facts([
  [
    "Holds",
    markup`<ul class="plain tight">${requirements.map((id) => markup`<li>${nameMarked(card, id)}</li>`)}</ul>`,
  ],
  ["Cleared by", markup`<strong>${quoted(hold.clearedBy)}</strong>`],
  ["Brought by", markup`${causeOf(card, hold)} <span class="code">${hold.rule}</span>`],
])}
${tickBox("Cleared")}
${fields(field("Record that shows it"), field("By whom"), field("Date and time"))}
</div>`,
      ),
    ],
  };
}
