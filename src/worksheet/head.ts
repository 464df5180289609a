import { dueOf, nameRequirements, outcomeOf } from "../report/index.js";
import type { Card, CardPart } from "./card.js";
import { facts } from "./form.js";
import { markup, quoted, type Markup } from "./markup.js";

/** What the card is about, and how things stand. */
export function writeHead(card: Card, parts: readonly CardPart[]): Markup {
  const { plan } = card;
  const { make, model, modelYears, vin } = plan.vehicle;
  const held = plan.requirements.filter(({ holds }) => holds.length > 0).map(({ id }) => id);
  const name = [make, model].filter((part) => part !== null).join(" ");
  const year = modelYears.length === 0 ? "model year not known" : `model year ${modelYears.join(" or ")}`;
  const heldText = markup`<strong>${nameRequirements(held)}</strong>: <a href="#holds">see what clears it</a>`;
  return markup`<h1>Calibration job card</h1>
${facts([
  ["Order", markup`<strong>${quoted(plan.reference)}</strong>`],
  ["Vehicle", [name === "" ? "make and model not stated" : quoted(name), `, ${year}`]],
  ["VIN", vin === null ? "not stated" : quoted(vin)],
  ["Outcome", markup`<strong>${outcomeOf(plan)}</strong>`],
  ["Due", dueOf(plan)],
  ["On hold", held.length === 0 ? null : heldText],
])}
${writeInvented(card)}
<nav aria-label="Parts of this card"><ul>${parts.map(
    ({ id, title }) => markup`<li><a href="#${id}">${title}</a></li>`,
  )}</ul></nav>`;
}

/** That a procedure was made up is said where nobody overlooks it. */
function writeInvented({ plan }: Card): Markup | null {
  const invented = plan.procedures.filter((pack) => pack.invented && pack.applies === "yes");
  if (invented.length === 0) return null;
  const names = invented.map(({ id, version }) => `${id} ${version}`).join(", ");
  return markup`<p class="heavy"><strong>INVENTED for demonstration:</strong> the procedures ${names}. No work on a vehicle may rest on them.</p>`;
}
