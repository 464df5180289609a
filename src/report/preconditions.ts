import type { Plan, PlanSource } from "../plan/index.js";
import { PRECONDITIONS, capital } from "../vocabulary/index.js";
import { EMPTY_LINE, paragraph, type Line } from "./layout.js";
import { nameNeeders, section, type Material, type Page } from "./page.js";
import { tellLimit } from "./units.js";
import { nameOfSource, sentence } from "./words.js";

/** Something that has to be true before a task begins. */
export type PlanPrecondition = Plan["preconditions"][number];

/** What has to be true before, in groups of those that one and the same work needs. */
export function writePreconditions(page: Page): readonly Line[] {
  const { preconditions } = page.plan;
  if (preconditions.length === 0) return [];
  return section(
    page,
    `Before a task begins (${preconditions.length})`,
    tellSections(page),
    groupPreconditions(page).flatMap(({ whose, conditions }) => [
      EMPTY_LINE,
      ...paragraph(whose, { width: page.width, indent: 2, role: "strong" }),
      ...conditions.flatMap((condition) => writePrecondition(page, condition)),
    ]),
  );
}

/** Preconditions of the same work. */
export interface PreconditionGroup {
  /** "For calibration of forward camera". */
  readonly whose: string;
  readonly conditions: readonly PlanPrecondition[];
}

/** The preconditions of a plan by the work that needs them; first those that are needed in any case. */
export function groupPreconditions(page: Material): readonly PreconditionGroup[] {
  const { preconditions } = page.plan;
  const inOrder = [
    ...preconditions.filter(({ certain }) => certain),
    ...preconditions.filter(({ certain }) => !certain),
  ];
  return groupBy(inOrder, ({ certain, neededBy }) => `${certain ? 0 : 1} ${neededBy.join()}`).map(
    (conditions) => {
      const whose = nameNeeders(page, conditions[0].neededBy);
      const isSure = conditions[0].certain;
      return {
        whose: isSure ? `For ${whose}` : `For ${whose}, if the method that is still open needs it`,
        conditions,
      };
    },
  );
}

/** The document of the one procedure pack in use: limits from it need not name it again and again. */
function soleDocument({ plan }: Material): { readonly cite: string; readonly issued: string } | null {
  const [pack, ...others] = plan.procedures.filter(({ applies }) => applies === "yes");
  return pack === undefined || others.length > 0 ? null : pack;
}

/** Which document the sections named beside limits are those of; null where each limit names its own. */
export function tellSections(page: Material): string | null {
  const document = soleDocument(page);
  const isNamed = page.plan.preconditions.some(({ limits }) =>
    limits.some(({ source }) => isFrom(document, source)),
  );
  return document === null || !isNamed
    ? null
    : `Sections are those of ${document.cite}, issued ${document.issued}.`;
}

function isFrom(document: { readonly cite: string } | null, source: PlanSource): boolean {
  return document !== null && source.section !== null && sameCite(document.cite, source.cite);
}

function sameCite(a: string, b: string): boolean {
  return a.replace(/[.;]$/, "") === b.replace(/[.;]$/, "");
}

function writePrecondition(page: Page, condition: PlanPrecondition): readonly Line[] {
  const below = { width: page.width, indent: 6 };
  return [
    ...paragraph(`${capital(PRECONDITIONS[condition.id].label)}: ${condition.statement}`, {
      width: page.width,
      indent: 2,
      lead: "[ ] ",
    }),
    ...tellLimits(page, condition).flatMap((limit) => paragraph(`Limit: ${limit}`, below)),
    ...tellNotes(page, condition).flatMap((note) => paragraph(`Note: ${note}`, below)),
  ];
}

/** Each limit once, with those that it is for, unless it is for all that need the precondition. */
export function tellLimits(page: Material, { limits, neededBy }: PlanPrecondition): readonly string[] {
  const document = soleDocument(page);
  const groups = groupBy(limits, ({ limit, note, source }) =>
    JSON.stringify([limit, note, isFrom(document, source) ? "" : nameOfSource(source)]),
  );
  return groups.map((group) => {
    const [first] = group;
    const whose = nameWhose(
      page,
      group.map(({ requirement }) => requirement),
      neededBy,
    );
    const sections = [...new Set(group.flatMap(({ source }) => source.section ?? []))];
    const source = isFrom(document, first.source)
      ? `${sections.length === 1 ? "section" : "sections"} ${sections.join(", ")}`
      : nameOfSource(first.source);
    return `${tellLimit(first.limit, page.units)}${whose === "" ? "" : ` for ${whose}`} (${source})${first.note === null ? "" : `. ${sentence(first.note)}`}`;
  });
}

/** What the procedures add in words, each with those that it is for. */
export function tellNotes(page: Material, { notes, neededBy }: PlanPrecondition): readonly string[] {
  return groupBy(notes, ({ note }) => note).map((group) => {
    const whose = nameWhose(
      page,
      group.map(({ requirement }) => requirement),
      neededBy,
    );
    return `${sentence(group[0].note)}${whose === "" ? "" : ` (${whose})`}`;
  });
}

/** Empty where all are meant that need the precondition. */
function nameWhose(page: Material, ids: readonly string[], neededBy: readonly string[]): string {
  return neededBy.every((id) => ids.includes(id)) ? "" : nameNeeders(page, ids);
}

type Group<T> = readonly [T, ...T[]];

/** Entries of one key together, each group where its first entry stands. */
function groupBy<T>(entries: readonly T[], keyOf: (entry: T) => string): readonly Group<T>[] {
  const groups = new Map<string, [T, ...T[]]>();
  for (const entry of entries) {
    const key = keyOf(entry);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [entry]);
    else group.push(entry);
  }
  return [...groups.values()];
}
