import type { PlanReason, Requirement } from "../plan/index.js";
import {
  causeOf,
  headingOf,
  joinIds,
  joinNumbers,
  keyOfHold,
  labelOfFeature,
  nameOfImplied,
  nameOfSource,
  namePlaces,
  sentence,
  shortestReason,
  tellClearArea,
  tellDrive,
  tellMethod,
  tellPlace,
} from "../report/index.js";
import {
  keyOfPlace,
  DISTURBANCES,
  EVIDENCE,
  INSPECTIONS,
  POSITIONS,
  STANDINGS,
  TASKS,
  capital,
  type Standing,
} from "../vocabulary/index.js";
import { paragraph, type Card, type CardSection } from "./card.js";
import { facts, field, fields, roomyFields, tickList } from "./form.js";
import { markup, quoted, type Markup, type Piece } from "./markup.js";

/** The requirements of one standing, places of one sensor together where the same is to be said of them. */
export function writeRequirements(card: Card, standing: Standing): CardSection {
  const requirements = card.plan.requirements.filter((each) => each.standing === standing);
  if (requirements.length === 0) return null;
  return {
    id: standing,
    title: `${headingOf(standing, requirements)} (${requirements.length})`,
    content: [
      paragraph(STANDINGS[standing].meaning, "soft"),
      groupPlaces(requirements.map((each) => writeParts(card, each))).map((group) => writeGroup(card, group)),
    ],
  };
}

/** What the card says of a requirement that its twin at another place may share. */
interface Parts {
  readonly requirement: Requirement;
  readonly shared: Markup;
}

type Group = readonly [Parts, ...Parts[]];

function groupPlaces(all: readonly Parts[]): readonly Group[] {
  const groups = new Map<string, [Parts, ...Parts[]]>();
  for (const parts of all) {
    const { id, sensor, task, alsoFor, evidence } = parts.requirement;
    const key = alsoFor.length > 0 ? id : JSON.stringify([sensor, task, evidence, parts.shared.markup]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [parts]);
    else group.push(parts);
  }
  return [...groups.values()];
}

function writeGroup(card: Card, group: Group): Markup {
  const [{ requirement: first, shared }] = group;
  const also = first.alsoFor.length === 0 ? "" : ` (the same device: ${namePlaces(first.alsoFor)})`;
  const keys = group.map(({ requirement: { sensor, position } }) => keyOfPlace(sensor, position));
  const marks = group.map(({ requirement }) => card.marks.get(requirement.id) ?? "");
  const isAlone = group.length === 1;
  const id = isAlone ? markup` id="${marks.join()}"` : null;
  return markup`<article>
<h3${id}><span class="mark">${marks.join(", ")}</span> ${capital(namePlaces(keys))}: ${TASKS[first.task].label}${also}</h3>
${shared}
${group.map(({ requirement }) => writeRecord(card, requirement, isAlone))}
</article>`;
}

/** What is to be filled in for one requirement, under the name of its place where it shares its facts with others. */
function writeRecord(card: Card, requirement: Requirement, isAlone: boolean): Markup {
  const { id, position, evidence } = requirement;
  const mark = card.marks.get(id) ?? "";
  const content: Piece = [
    facts([
      ["Steps", writeOwnSteps(card, requirement)],
      [
        "Records",
        evidence.length === 0 ? null : tickList(evidence.map((each) => capital(EVIDENCE[each].label))),
      ],
    ]),
    fields(field("Started"), field("Finished"), field("By whom")),
    roomyFields(field("Result"), field("Fault codes left")),
  ];
  const place = position === null ? "" : `, ${POSITIONS[position].label}`;
  return isAlone
    ? markup`<div class="record" role="group" aria-labelledby="${mark}">${content}</div>`
    : markup`<fieldset class="record" id="${mark}"><legend>${mark}${place}</legend>${content}</fieldset>`;
}

function writeOwnSteps({ plan, steps }: Card, { id }: Requirement): string | null {
  const own = plan.steps
    .filter((step) => step.requirement === id)
    .flatMap((step) => steps.get(step.id) ?? []);
  return own.length === 0 ? null : joinNumbers(own);
}

function writeParts(card: Card, requirement: Requirement): Parts {
  const { couldRiseTo, fitted, inspection, procedure, questions } = requirement;
  const inspections = inspection?.map(
    ({ id, certain }) => `${INSPECTIONS[id].label}${certain ? "" : " (depends on a question)"}`,
  );
  const rise = couldRiseTo === null ? null : `to ${STANDINGS[couldRiseTo].label}, by ${joinIds(questions)}`;
  const told: readonly (readonly [string, Piece])[] = [
    ["Fitted", fitted === "yes" ? null : "Not known; it counts only if the sensor is there."],
    ["Could rise", rise],
    ["Method", tellMethod(requirement)],
    ...(procedure === null ? [] : writeProcedure(card, procedure)),
    ["Inspect", inspections?.join(", ") ?? null],
    ["Why", writeWhy(card, requirement)],
    ["Until then", writeFeatures(requirement)],
  ];
  return { requirement, shared: markup`${writeHeld(card, requirement)}${facts(told)}` };
}

function writeHeld(card: Card, { holds }: Requirement): Markup | null {
  if (holds.length === 0) return null;
  const names = holds.flatMap((hold) => card.holds.get(keyOfHold(hold))?.name ?? []);
  const links = names.map((name, index) => markup`${index === 0 ? "" : ", "}<a href="#${name}">${name}</a>`);
  return markup`<p class="double"><strong>HOLD ${links}</strong>: not to be begun before ${names.length === 1 ? "it is" : "they are"} cleared.</p>`;
}

type PlanProcedure = NonNullable<Requirement["procedure"]>;

/** What the maker's procedure states as numbers, as far as the plan carries it. */
function writeProcedure({ units }: Card, procedure: PlanProcedure): readonly (readonly [string, Piece])[] {
  const { id, pack, section, targets, clearArea, driveWindow, afterwards } = procedure;
  return [
    ["Procedure", quoted(`${pack}, ${id}, section ${section}`)],
    ...targets.map((target) => ["Target", [quoted(target.name), `: ${tellPlace(target, units)}`]] as const),
    ["Free floor", clearArea === null ? null : tellClearArea(clearArea, units)],
    ["Drive", driveWindow === null ? null : quoted(tellDrive(driveWindow))],
    ...afterwards.map((text) => ["Afterwards", quoted(sentence(text))] as const),
  ];
}

function writeFeatures({ features, possibleFeatures }: Requirement): string | null {
  const lost = features.length === 0 ? [] : [`may fail: ${features.map(labelOfFeature).join(", ")}`];
  const possible =
    possibleFeatures.length === 0
      ? []
      : [
          `${features.length === 0 ? "may fail, if it has them" : "and, if it has them"}: ${possibleFeatures.map(labelOfFeature).join(", ")}`,
        ];
  return lost.length + possible.length === 0 ? null : [...lost, ...possible].join("; ");
}

function writeWhy(card: Card, { because }: Requirement): Markup | null {
  const reason = shortestReason(because);
  if (reason === undefined) return null;
  const more = because.length - 1;
  return markup`${writeChain(card, reason)}${
    more === 0
      ? null
      : markup`<p class="soft small"><a href="#reasons">${more} more ${more === 1 ? "reason" : "reasons"}</a> in the appendix.</p>`
  }`;
}

/** One chain, link by link, in the sentences of the rules' authors. */
function writeChain(card: Card, reason: PlanReason): Markup {
  const text =
    reason.operation === null
      ? ""
      : (card.lines.get(reason.operation)?.text ?? "").replace(/\s+/g, " ").trim();
  const asks = reason.says.slice(-1).map(sentence).join("");
  const links: readonly Piece[] = [
    [capital(causeOf(card, reason)), text === "" ? null : markup` (${quoted(`“${text}”`)})`],
    ...reason.implied.map((id) => `${id}, ${nameOfImplied(card, id)}`),
    [`${DISTURBANCES[reason.disturbance].label}. `, reason.says.slice(0, 1).map(sentence).join("")],
    [asks, markup` <span class="code">${reason.rule}; ${nameOfSource(reason.source)}</span>`],
  ];
  return markup`<ol class="chain">${links.map((link) => markup`<li>${paragraph(link)}</li>`)}</ol>${
    reason.certain
      ? null
      : markup`<p class="small">This holds only as ${joinIds(reason.questions)} may be answered.</p>`
  }`;
}
