import type { Plan, PlanQuestion } from "../plan/index.js";
import { paragraph, type Line, type Placing } from "./layout.js";
import { bullet, labelOfFeature, section, type Page } from "./page.js";
import { count, namePlaces, nameRequirements, sentence } from "./words.js";
import { keyOfPlace } from "../vocabulary/index.js";

/** How many places of one document are named before the rest is only counted. */
const MOST_PLACES = 4;

/** What contradicts what. */
export function writeContradictions(page: Page): readonly Line[] {
  const { contradictions } = page.plan;
  if (contradictions.length === 0) return [];
  return section(
    page,
    `Statements that contradict each other (${contradictions.length})`,
    "None of them was believed: the fact counts as unknown.",
    contradictions.flatMap(({ says, about }) => [
      ...bullet(page, sentence(says), "alert"),
      ...paragraph(`At ${joinPlaces(about)}`, { width: page.width, indent: 4, role: "faint" }),
    ]),
  );
}

/** Places of a document, the first few by name. */
export function joinPlaces(pointers: readonly string[]): string {
  const more = pointers.length - MOST_PLACES;
  if (more <= 1) return pointers.join(" and ");
  return `${pointers.slice(0, MOST_PLACES).join(", ")} and ${count(more, "more place")}`;
}

/** The open questions: first those that settle something, then those about the whole job, which could add to it. */
export function writeQuestions(page: Page): readonly Line[] {
  const { questions, atLeastOneOf } = page.plan;
  if (questions.length === 0 && atLeastOneOf.length === 0) return [];
  const settling = questions.filter(({ settles }) => settles.length > 0);
  const general = questions.filter(({ settles }) => settles.length === 0);
  const proven = atLeastOneOf.flatMap(({ sensors, because, question }) =>
    bullet(
      page,
      `At least one of these is fitted: ${namePlaces(sensors)}. That follows from ${because.map(labelOfFeature).join(", ")}${question === null ? "" : ` (${question})`}.`,
    ),
  );
  return section(
    page,
    `Open questions (${questions.length})`,
    settling.length < 2 ? null : "The one that settles most comes first.",
    [
      ...settling.flatMap((question) => writeSettling(page, question)),
      ...proven,
      ...(general.length === 0
        ? []
        : [
            ...paragraph("About the job as a whole; each answer could add work:", {
              width: page.width,
              indent: 2,
              role: "faint",
            }),
            ...general.flatMap((question) => writeGeneral(page, question)),
          ]),
    ],
  );
}

function writeAsked(page: Page, question: PlanQuestion): readonly Line[] {
  return paragraph(question.ask, {
    width: page.width,
    indent: 2,
    lead: question.id.padEnd(5),
    role: "strong",
  });
}

function writeSettling(page: Page, question: PlanQuestion): readonly Line[] {
  const below = { width: page.width, indent: 7 } satisfies Placing;
  const { answers, settles, couldAdd, about } = question;
  return [
    ...writeAsked(page, question),
    ...(answers.length === 0 ? [] : paragraph(`Answer: ${answers.join(" / ")}`, below)),
    ...paragraph(`Settles: ${nameRequirements(settles)}`, below),
    ...(couldAdd.length === 0 ? [] : paragraph(`Could add work on: ${nameMany(page.plan, couldAdd)}`, below)),
    ...paragraph(`Belongs at ${about}`, { ...below, role: "faint" }),
  ];
}

function writeGeneral(page: Page, question: PlanQuestion): readonly Line[] {
  const below = { width: page.width, indent: 7 } satisfies Placing;
  const { answers, couldAdd, about } = question;
  const told = [
    ...(answers.length === 0 ? [] : [`Answer: ${answers.join(" / ")}.`]),
    ...(couldAdd.length === 0 ? [] : [`Bears on ${nameMany(page.plan, couldAdd)}.`]),
  ];
  return [
    ...writeAsked(page, question),
    ...(told.length === 0 ? [] : paragraph(told.join(" "), below)),
    ...paragraph(`Belongs at ${about}`, { ...below, role: "faint" }),
  ];
}

/** How many sensors are named one by one, as what a question bears on or as what it does not. */
const MOST_NAMED = 8;

/** Sensors by name or, where they are many, by those that are left out. */
export function nameMany(plan: Plan, keys: readonly string[]): string {
  if (keys.length <= MOST_NAMED) return namePlaces(keys);
  const all = placesOf(plan);
  const others = all.filter((key) => !keys.includes(key));
  if (others.length === 0) return "every sensor";
  if (others.length <= MOST_NAMED) return `every sensor but ${namePlaces(others)}`;
  return `${keys.length} of ${all.length} places of sensors, among them ${namePlaces(keys.slice(0, MOST_NAMED))}`;
}

/** Every place of a sensor of which the plan speaks, and that may be there. */
function placesOf(plan: Plan): readonly string[] {
  const fitted = plan.notIndicated.filter(({ reason }) => reason !== "not-fitted");
  const keys = [...plan.requirements, ...plan.waived, ...fitted].map(({ sensor, position }) =>
    keyOfPlace(sensor, position),
  );
  return [...new Set([...keys, ...plan.requirements.flatMap(({ alsoFor }) => alsoFor)])];
}
