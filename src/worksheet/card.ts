import type { Plan } from "../plan/index.js";
import {
  gatherMaterial,
  holdsOf,
  nameOfRequirement,
  type Material,
  type MaterialOptions,
  type SharedHold,
} from "../report/index.js";
import { capital } from "../vocabulary/index.js";
import { markup, type Markup, type Piece } from "./markup.js";

/** What the parts of a job card share. */
export interface Card extends Material {
  /** Requirement ids → the short mark by which the card speaks of them: "R1". */
  readonly marks: ReadonlyMap<string, string>;
  readonly holds: ReadonlyMap<string, SharedHold>;
}

/** A section of the card; null where there is nothing to say. */
export type CardSection = {
  readonly id: string;
  readonly title: string;
  readonly content: Piece;
} | null;

/** A finished part of the card, with what leads to it. */
export interface CardPart {
  readonly id: string;
  readonly title: string;
  readonly body: Markup;
}

/** Gives everything that the card speaks of the mark by which it does. */
export function layCard(plan: Plan, options: MaterialOptions): Card {
  return {
    ...gatherMaterial(plan, options),
    marks: new Map(plan.requirements.map(({ id }, index) => [id, `R${index + 1}`])),
    holds: holdsOf(plan),
  };
}

/** The mark of a requirement as a link to it. */
export function linkTo(card: Card, requirement: string): Markup | null {
  const mark = card.marks.get(requirement);
  return mark === undefined ? null : markup`<a href="#${mark}">${mark}</a>`;
}

/** A requirement in words behind its mark: "R1 Forward camera: calibration". */
export function nameMarked(card: Card, requirement: string): string {
  const name = capital(nameOfRequirement(requirement));
  const mark = card.marks.get(requirement);
  return mark === undefined ? name : `${mark} ${name}`;
}

/** A paragraph of text that may be in any script. */
export function paragraph(text: Piece, classes = ""): Markup {
  return classes === ""
    ? markup`<p dir="auto">${text}</p>`
    : markup`<p class="${classes}" dir="auto">${text}</p>`;
}

/** Texts as a plain list with bullets; the bullet stays where it is if the text runs from right to left. */
export function bullets(texts: readonly Piece[]): Markup {
  return markup`<ul class="list">${texts.map((text) => markup`<li>${paragraph(text)}</li>`)}</ul>`;
}
