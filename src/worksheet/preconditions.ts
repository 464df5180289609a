import {
  groupPreconditions,
  inspectionsOf,
  nameNeeders,
  nameOfUnit,
  recordsOf,
  sentence,
  tellLimits,
  tellNotes,
  tellSections,
  type PlanPrecondition,
} from "../report/index.js";
import { EVIDENCE, INSPECTIONS, PRECONDITIONS, capital } from "../vocabulary/index.js";
import { nameMarked, paragraph, type Card, type CardSection } from "./card.js";
import { facts, groupedTable, namedField, namedTickBox, table } from "./form.js";
import { markup, quoted, type Piece } from "./markup.js";

/** What has to be true before, with limits, in groups of those that one and the same work needs. */
export function writePreconditions(card: Card): CardSection {
  const { preconditions } = card.plan;
  if (preconditions.length === 0) return null;
  const sections = tellSections(card);
  const columns = [
    { head: "Condition", width: "half" as const },
    { head: "Limit", width: "third" as const },
    { head: "Measured or found" },
    { head: "Met", width: "narrow" as const },
  ];
  return {
    id: "preconditions",
    title: `Before a task begins (${preconditions.length})`,
    content: [
      sections === null ? null : paragraph(sections, "soft"),
      groupedTable(
        markup`<span class="hidden">Preconditions with their limits</span>`,
        columns,
        groupPreconditions(card).map(({ whose, conditions }) => ({
          head: whose,
          rows: conditions.map((condition) => writePrecondition(card, condition)),
        })),
      ),
    ],
  };
}

function writePrecondition(card: Card, condition: PlanPrecondition): readonly Piece[] {
  const name = capital(PRECONDITIONS[condition.id].label);
  const notes = tellNotes(card, condition).map((note) => paragraph(`Note: ${note}`, "small"));
  const limits = tellLimits(card, condition).map((limit) => paragraph(capital(limit), "small"));
  return [
    [markup`<strong>${name}.</strong> ${quoted(sentence(condition.statement))}`, notes],
    limits.length === 0 ? markup`<span class="soft small">no limit stated</span>` : limits,
    namedField(`${name}: measured or found`, unitOf(card, condition)),
    namedTickBox(`${name}: met`),
  ];
}

/** The unit in which all limits are stated, as the card tells them; null where there is none or more than one. */
function unitOf({ units }: Card, { limits }: PlanPrecondition): string | null {
  const [unit, ...others] = new Set(limits.map(({ limit }) => limit.unit));
  if (unit === undefined || others.length > 0) return null;
  return unit === "mm" && units === "in" ? "in" : nameOfUnit(unit);
}

/** What each inspection looks at and when it fails, with room for what was found. */
export function writeInspections(card: Card): CardSection {
  const needed = inspectionsOf(card.plan);
  if (needed.length === 0) return null;
  const columns = [
    { head: "For", width: "wide" as const },
    { head: "Found" },
    { head: "Passed", width: "narrow" as const },
    { head: "Failed", width: "narrow" as const },
  ];
  return {
    id: "inspections",
    title: `Inspections (${needed.length})`,
    content: needed.map(({ id, requirements }) => {
      const { label, lookAt, failsWhen } = INSPECTIONS[id];
      const rows = requirements.map((requirement) => {
        const name = nameMarked(card, requirement);
        const about = `${capital(label)}, ${name}`;
        return [
          name,
          namedField(`${about}: found`),
          namedTickBox(`${about}: passed`),
          namedTickBox(`${about}: failed`),
        ];
      });
      return markup`<section class="keep" aria-labelledby="${id}">
<h3 id="${id}">${capital(label)}</h3>
${facts([
  ["Look at", lookAt],
  ["Fails when", failsWhen],
])}
${table(markup`<span class="hidden">${capital(label)}: what was found</span>`, columns, rows)}
</section>`;
    }),
  };
}

/** What each record is, and for what; the boxes stand with the requirements. */
export function writeRecords(card: Card): CardSection {
  const needed = recordsOf(card.plan);
  if (needed.length === 0) return null;
  return {
    id: "records",
    title: `Records to keep (${needed.length})`,
    content: [
      paragraph("Each for everything in this plan, unless it says for what.", "soft"),
      facts(
        needed.map(({ id, requirements }) => {
          const isForAll = requirements.length === card.plan.requirements.length;
          return [
            capital(EVIDENCE[id].label),
            [
              EVIDENCE[id].meaning,
              isForAll ? null : markup` <span class="soft">For ${nameNeeders(card, requirements)}.</span>`,
            ],
          ] as const;
        }),
      ),
    ],
  };
}
