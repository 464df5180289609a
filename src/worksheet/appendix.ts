import type { Plan, PlanReason } from "../plan/index.js";
import {
  NOT_INDICATED,
  causeOf,
  joinIds,
  nameOfImplied,
  nameOfSource,
  namePlaces,
  sentence,
  shortestReason,
} from "../report/index.js";
import { keyOfPlace, DISTURBANCES, STANDINGS, TASKS, capital, nameOfSensor } from "../vocabulary/index.js";
import { nameMarked, paragraph, type Card, type CardSection } from "./card.js";
import { markup, quoted, type Markup } from "./markup.js";

/** The chains that the card does not show with their requirement, and those behind what was waived. */
export function writeReasons(card: Card): CardSection {
  const { requirements, waived } = card.plan;
  const further = requirements.flatMap(({ id, because }) => {
    const shown = shortestReason(because);
    const rest = because.filter((reason) => reason !== shown);
    return rest.length === 0 ? [] : [writeChains(card, nameMarked(card, id), rest)];
  });
  const taken = waived.map(({ sensor, position, task, because }) =>
    writeChains(card, `Waived: ${nameOfSensor(sensor, position)}, ${TASKS[task].label}`, because),
  );
  if (further.length + taken.length === 0) return null;
  return {
    id: "reasons",
    title: "Appendix: further reasons",
    content: [
      paragraph(
        "From the line or finding, by work that it implies, to what was done to the sensor and the rule that asks.",
        "soft",
      ),
      markup`<div class="fine">${further}${taken}</div>`,
    ],
  };
}

function writeChains(card: Card, title: string, reasons: readonly PlanReason[]): Markup {
  return markup`<section><h3>${title}</h3>
<ul class="uses">${reasons.map((reason) => writeChain(card, reason))}</ul></section>`;
}

function writeChain(card: Card, reason: PlanReason): Markup {
  const links = [
    capital(causeOf(card, reason)),
    ...reason.implied.map((id) => `${id}, ${nameOfImplied(card, id)}`),
    DISTURBANCES[reason.disturbance].label,
    STANDINGS[reason.standing].label,
  ];
  const open = reason.certain ? "" : ` Only as ${joinIds(reason.questions)} may be answered.`;
  const rules = [...reason.disturbanceRules, reason.rule].join(", ");
  return markup`<li>${paragraph(markup`${links.join(" → ")}.${open} <span class="code">${rules}</span>`)}</li>\n`;
}

/** The sentence and the source of each rule that stands behind a reason, once. */
export function writeRules({ plan }: Card): CardSection {
  const sentences = new Map<string, string>();
  const sources = new Map<string, string>();
  for (const reason of reasonsOf(plan)) {
    [...reason.disturbanceRules, reason.rule].forEach((rule, index) => {
      sentences.set(rule, reason.says[index] ?? "");
    });
    sources.set(reason.rule, nameOfSource(reason.source));
  }
  if (sentences.size === 0) return null;
  const rules = [...sentences].sort(([a], [b]) => (a < b ? -1 : 1));
  return {
    id: "rules",
    title: `Appendix: what the rules say (${rules.length})`,
    content: markup`<dl class="rules fine">${rules.map(([rule, says]) => {
      const source = sources.get(rule);
      return markup`<dt class="code">${rule}</dt><dd>${quoted(sentence(says))}${source === undefined ? null : markup` <span class="soft">${quoted(capital(source))}.</span>`}</dd>\n`;
    })}</dl>`,
  };
}

function reasonsOf({ requirements, waived }: Plan): readonly PlanReason[] {
  return [...requirements, ...waived].flatMap(({ because }) => because);
}

/** What would bring a requirement for each sensor for which there is none. */
export function writeChanges({ plan }: Card): CardSection {
  const { notIndicated } = plan;
  if (notIndicated.length === 0) return null;
  const groups = NOT_INDICATED.flatMap(([reason, head]) => {
    const alike = groupAlike(notIndicated.filter((each) => each.reason === reason));
    const items = alike.map(
      ({ places, says }) =>
        markup`<li><strong>${capital(namePlaces(places))}:</strong> ${quoted(says)}</li>\n`,
    );
    return items.length === 0
      ? []
      : [markup`<section><h3>${head}</h3><ul class="uses">${items}</ul></section>`];
  });
  return {
    id: "changes",
    title: "Appendix: what would change what is not indicated",
    content: markup`<div class="fine">${groups}</div>`,
  };
}

/** Sensors of which the same is to be said, together. */
function groupAlike(
  all: Plan["notIndicated"],
): readonly { readonly places: readonly string[]; readonly says: string }[] {
  const groups = new Map<string, string[]>();
  for (const { sensor, position, wouldChange } of all) {
    const says = wouldChange.length === 0 ? "Nothing that a rule names." : wouldChange.join(" ");
    groups.set(says, [...(groups.get(says) ?? []), keyOfPlace(sensor, position)]);
  }
  return [...groups].map(([says, places]) => ({ places, says }));
}
