import { nameOfFinding } from "../explain/index.js";
import {
  APPLIES,
  NOT_INDICATED,
  joinIds,
  nameOfRequirement,
  nameOfSource,
  nameOfWork,
  namePlaces,
  sentence,
} from "../report/index.js";
import { keyOfPlace, STANDINGS, TASKS, capital, nameOfSensor } from "../vocabulary/index.js";
import { bullets, paragraph, type Card, type CardSection } from "./card.js";
import { facts } from "./form.js";
import { markup, quoted } from "./markup.js";

export function writeImplied({ plan, findings }: Card): CardSection {
  const { impliedOperations } = plan;
  if (impliedOperations.length === 0) return null;
  return {
    id: "implied",
    title: `Work that the order implies (${impliedOperations.length})`,
    content: [
      paragraph("It stands on no line, but the lines named bring it with them.", "soft"),
      facts(
        impliedOperations.map((implied) => {
          const from = implied.fromAll.map((root) =>
            root.startsWith("/") ? nameOfFinding(root, findings) : root,
          );
          const by =
            implied.fromRequirement === null ? "" : `, by ${nameOfRequirement(implied.fromRequirement)}`;
          const open = implied.certain ? "" : ` Possible, not certain: ${joinIds(implied.questions)}.`;
          return [
            implied.id,
            markup`${capital(nameOfWork(implied))}, from ${quoted(from.join(", "))}${by}.${open} <span class="code">${implied.rules.join(", ")}</span>`,
          ] as const;
        }),
      ),
    ],
  };
}

export function writeWaived({ plan }: Card): CardSection {
  const { waived } = plan;
  if (waived.length === 0) return null;
  return {
    id: "waived",
    title: `Waived (${waived.length})`,
    content: [
      paragraph("Rules asked for it, and a more specific document takes it away.", "soft"),
      waived.map(
        ({ sensor, position, task, by, waives, wouldHaveBeen }) => markup`<article>
<h3>${capital(nameOfSensor(sensor, position))}: ${TASKS[task].label}</h3>
${facts([
  ["By", markup`${quoted(sentence(by.says))} <span class="code">${by.rule}</span>`],
  ["Document", quoted(nameOfSource(by.source))],
  ["Without it", STANDINGS[wouldHaveBeen].label],
  ["Waives", markup`<span class="code">${waives.join(", ")}</span>`],
])}
</article>`,
      ),
    ],
  };
}

export function writeNotIndicated({ plan }: Card): CardSection {
  const { notIndicated } = plan;
  if (notIndicated.length === 0) return null;
  const considered = [...new Set(notIndicated.flatMap((each) => each.considered))];
  const lines =
    considered.length === 0
      ? "The order has no line to look at."
      : `Lines looked at: ${considered.join(", ")}.`;
  const groups = NOT_INDICATED.flatMap(([reason, says]) => {
    const names = notIndicated
      .filter((each) => each.reason === reason)
      .map(({ sensor, position }) => keyOfPlace(sensor, position));
    return names.length === 0 ? [] : [`${says}: ${namePlaces(names)}.`];
  });
  return {
    id: "not-indicated",
    title: `Not indicated (${notIndicated.length})`,
    content: [
      markup`<p class="soft">${quoted(lines)} <a href="#changes">What would change it</a> stands in the appendix.</p>`,
      bullets(groups),
    ],
  };
}

export function writeClaimed({ plan }: Card): CardSection {
  const { claimed } = plan;
  if (claimed.length === 0) return null;
  return {
    id: "claimed",
    title: `Claimed by the order (${claimed.length})`,
    content: [
      paragraph(
        "Lines that bill a calibration or a scan. They are no reason for one, and were not weighed here.",
        "soft",
      ),
      bullets(
        claimed.map(
          ({ operation, action, text }) =>
            markup`${quoted(operation)}: ${action}${text === null ? null : markup` (${quoted(`“${text}”`)})`}`,
        ),
      ),
    ],
  };
}

export function writeUnread({ plan }: Card): CardSection {
  const { unread } = plan;
  if (unread.length === 0) return null;
  return {
    id: "unread",
    title: `Lines nobody could read (${unread.length})`,
    content: unread.map(
      ({ operation, text, why }) =>
        markup`<p class="frame"><strong>${quoted(operation)}${text === null ? null : markup` (${quoted(`“${text}”`)})`}</strong>: ${quoted(sentence(why))}</p>`,
    ),
  };
}

export function writeRemarks({ plan }: Card): CardSection {
  return plan.notes.length === 0 ? null : { id: "remarks", title: "Remarks", content: bullets(plan.notes) };
}

export function writeCautions({ plan }: Card): CardSection {
  return plan.cautions.length === 0
    ? null
    : { id: "cautions", title: "Cautions", content: bullets(plan.cautions) };
}

/** Rules and procedures with their digests, by which a plan can be told from another. */
export function writeBasis({ plan }: Card): CardSection {
  const { rulebook, procedures } = plan;
  return {
    id: "basis",
    title: "Made with",
    content: bullets([
      ...rulebook.packs.map(
        ({ id, version, digest }) => markup`Rules ${id} ${version} <span class="code">${digest}</span>`,
      ),
      ...procedures.map(
        ({ id, version, digest, invented, cite, issued, applies }) =>
          markup`Procedures ${id} ${version}${invented ? ", INVENTED for demonstration" : ""}: ${quoted(cite)}, issued ${issued}; ${APPLIES[applies]} <span class="code">${digest}</span>`,
      ),
    ]),
  };
}
