import type { PlanReason, Requirement } from "../plan/index.js";
import {
  keyOfPlace,
  DISTURBANCES,
  INSPECTIONS,
  POSITIONS,
  STANDINGS,
  TASKS,
  capital,
  type Standing,
} from "../vocabulary/index.js";
import { EMPTY_LINE, paragraph, type Line } from "./layout.js";
import { causeOf, joinIds, labelOfFeature, row, section, under, type Page } from "./page.js";
import {
  headingOf,
  holdsOf,
  keyOfHold,
  nameOfImplied,
  shortestReason,
  tellClearArea,
  tellDrive,
  tellMethod,
  tellPlace,
} from "./tell-requirement.js";
import { count, nameOfSource, namePlaces, nameRequirements, sentence } from "./words.js";

/** What may not be carried out yet, why, and what clears it. */
export function writeHolds(page: Page): readonly Line[] {
  const holds = [...holdsOf(page.plan).values()];
  if (holds.length === 0) return [];
  return section(
    page,
    `On hold (${holds.length})`,
    "The work is due all the same. Do not begin it before its hold is cleared.",
    holds.flatMap(({ name, hold, requirements }) => [
      ...paragraph(`${sentence(hold.says)} (${causeOf(page, hold)}; ${hold.rule})`, {
        width: page.width,
        indent: 2,
        lead: name.padEnd(5),
        role: "alert",
      }),
      ...paragraph(`Holds: ${nameRequirements(requirements)}`, { width: page.width, indent: 7 }),
      ...paragraph(`Cleared by: ${hold.clearedBy}`, { width: page.width, indent: 7, role: "alert" }),
    ]),
  );
}

/** The requirements of one standing. */
export function writeRequirements(page: Page, standing: Standing): readonly Line[] {
  const requirements = page.plan.requirements.filter((each) => each.standing === standing);
  if (requirements.length === 0) return [];
  return section(
    page,
    `${headingOf(standing, requirements)} (${requirements.length})`,
    STANDINGS[standing].meaning,
    groupPlaces(requirements.map((each) => writeParts(page, each))).flatMap((group) => [
      EMPTY_LINE,
      ...writeGroup(page, group),
    ]),
  );
}

/** What the report says of a requirement: what its twin at another place may share, and what is always its own. */
interface Parts {
  readonly requirement: Requirement;
  readonly before: readonly Line[];
  readonly after: readonly Line[];
  readonly more: number;
  readonly steps: readonly number[];
}

function writeParts(page: Page, requirement: Requirement): Parts {
  const { couldRiseTo, questions } = requirement;
  return {
    requirement,
    before: [
      ...writeHeld(page, requirement),
      ...(requirement.fitted === "yes"
        ? []
        : row(page, "Fitted", `Not known; it counts only if the sensor is there.`)),
      ...(couldRiseTo === null
        ? []
        : row(page, "Could rise", `to ${STANDINGS[couldRiseTo].label}, by ${questions.join(", ")}`)),
      ...writeMethod(page, requirement),
      ...writeProcedure(page, requirement),
      ...writeInspectionRow(page, requirement),
      ...writeWhy(page, requirement),
    ],
    after: writeFeatures(page, requirement),
    more: requirement.because.length - 1,
    steps: page.plan.steps
      .filter((step) => step.requirement === requirement.id)
      .flatMap(({ id }) => page.steps.get(id) ?? []),
  };
}

type Group = readonly [Parts, ...Parts[]];

/** Places of one sensor of which the report would say the same, together. */
function groupPlaces(all: readonly Parts[]): readonly Group[] {
  const groups = new Map<string, [Parts, ...Parts[]]>();
  for (const parts of all) {
    const { id, sensor, task, alsoFor } = parts.requirement;
    const isOneDevice = alsoFor.length > 0;
    const key = isOneDevice ? id : JSON.stringify([sensor, task, parts.before, parts.after]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [parts]);
    else group.push(parts);
  }
  return [...groups.values()];
}

function writeGroup(page: Page, group: Group): readonly Line[] {
  const [first] = group;
  const { sensor, task, alsoFor } = first.requirement;
  const also = alsoFor.length === 0 ? "" : ` (the same device: ${namePlaces(alsoFor)})`;
  const places = group.map(({ requirement }) => keyOfPlace(requirement.sensor, requirement.position));
  return [
    ...paragraph(`${capital(namePlaces(places))}: ${TASKS[task].label}${also}`, {
      width: page.width,
      indent: 2,
      role: "strong",
    }),
    ...first.before,
    ...writeMore(page, group, group.length === 1 ? places.join() : sensor),
    ...first.after,
    ...writeOwnSteps(page, group),
  ];
}

function writeMore(page: Page, group: Group, word: string): readonly Line[] {
  const numbers = [...new Set(group.map(({ more }) => more))];
  const most = Math.max(...numbers);
  if (most === 0) return [];
  const least = Math.min(...numbers);
  const said =
    least === most
      ? `${count(most, "more reason")}${group.length > 1 ? " each" : ""}`
      : `up to ${most} more reasons`;
  return under(page, `and ${said}; the command explain shows all: ${word}`, "", "faint");
}

function writeOwnSteps(page: Page, group: Group): readonly Line[] {
  const told = group
    .filter(({ steps }) => steps.length > 0)
    .map(({ requirement, steps }) =>
      group.length === 1 || requirement.position === null
        ? steps.join(", ")
        : `${steps.join(", ")} (${POSITIONS[requirement.position].label})`,
    );
  if (told.length === 0) return [];
  const isOne = group.length === 1 && group[0].steps.length === 1;
  return row(page, isOne ? "Step" : "Steps", told.join("; "), "faint");
}

function writeHeld(page: Page, { holds }: Requirement): readonly Line[] {
  if (holds.length === 0) return [];
  const known = holdsOf(page.plan);
  const names = holds.flatMap((hold) => known.get(keyOfHold(hold))?.name ?? []);
  const cleared = names.length === 1 ? "it is" : "they are";
  return row(page, "HOLD", `${names.join(", ")} above: not to be begun before ${cleared} cleared`, "alert");
}

function writeInspectionRow(page: Page, { inspection }: Requirement): readonly Line[] {
  if (inspection === null) return [];
  const names = inspection.map(
    ({ id, certain }) => `${INSPECTIONS[id].label}${certain ? "" : " (depends on a question)"}`,
  );
  return row(page, "Inspect", names.join(", "));
}

/** What the maker's procedure states as numbers, as far as the plan carries it. */
function writeProcedure(page: Page, { procedure }: Requirement): readonly Line[] {
  if (procedure === null) return [];
  const { targets, clearArea, driveWindow, afterwards } = procedure;
  return [
    ...targets.flatMap((target) => row(page, "Target", `${target.name}: ${tellPlace(target, page.units)}`)),
    ...(clearArea === null ? [] : row(page, "Free floor", tellClearArea(clearArea, page.units))),
    ...(driveWindow === null ? [] : row(page, "Drive", tellDrive(driveWindow))),
    ...afterwards.flatMap((text) => row(page, "Afterwards", sentence(text))),
  ];
}

function writeWhy(page: Page, { because }: Requirement): readonly Line[] {
  const reason = shortestReason(because);
  return reason === undefined ? [] : writeReason(page, reason);
}

function writeMethod(page: Page, requirement: Requirement): readonly Line[] {
  const method = tellMethod(requirement);
  return method === null ? [] : row(page, "Method", method);
}

function writeReason(page: Page, reason: PlanReason): readonly Line[] {
  const text =
    reason.operation === null
      ? ""
      : (page.lines.get(reason.operation)?.text ?? "").replace(/\s+/g, " ").trim();
  const begins = `${capital(causeOf(page, reason))}${text === "" ? "" : ` ("${text}")`}`;
  const implied = reason.implied.flatMap((id) => under(page, `${id}, ${nameOfImplied(page, id)}`, "-> "));
  const disturbed = [`${DISTURBANCES[reason.disturbance].label}.`, ...reason.says.slice(0, 1).map(sentence)];
  const asks = [...reason.says.slice(-1).map(sentence), `[${reason.rule}; ${nameOfSource(reason.source)}]`];
  return [
    ...row(page, "Why", begins),
    ...implied,
    ...under(page, disturbed.join(" "), "-> "),
    ...under(page, asks.join(" "), "-> "),
    ...(reason.certain
      ? []
      : under(page, `This holds only as ${joinIds(reason.questions)} may be answered.`)),
  ];
}

function writeFeatures(page: Page, requirement: Requirement): readonly Line[] {
  const { features, possibleFeatures } = requirement;
  const lost =
    features.length === 0
      ? []
      : row(page, "Until then", `may fail: ${features.map(labelOfFeature).join(", ")}`);
  if (possibleFeatures.length === 0) return lost;
  const possible = `${features.length === 0 ? "may fail, if it has them" : "and, if it has them"}: ${possibleFeatures.map(labelOfFeature).join(", ")}`;
  return [...lost, ...(lost.length === 0 ? row(page, "Until then", possible) : under(page, possible))];
}
