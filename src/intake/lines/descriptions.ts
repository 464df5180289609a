import type { ActionId } from "../../vocabulary/index.js";
import {
  PARTING,
  type ActionItem,
  type GapItem,
  type Item,
  type PartItem,
  type PlaceItem,
  type Span,
} from "./items.js";
import type { EquipmentWord } from "./meanings.js";

/** Equipment that a part is said to come with or without. */
export interface Described {
  readonly equipment: EquipmentWord;
  readonly fitted: "yes" | "no";
  readonly span: Span;
  /** The part in whose description it stands; null where the line names none before it. */
  readonly part: Span | null;
}

export type Core = ActionItem | PartItem | PlaceItem | GapItem;

/** A line without its descriptions and purposes. */
export interface DescribedLine {
  readonly core: readonly Core[];
  readonly described: readonly Described[];
}

export type Outcome<T> = { readonly is: T } | { readonly why: string };

/** A part that goes along, or a variant of the part before it: each such word doubles the readings. */
const FORKS = 2;

/**
 * Takes out of a line what describes a part ("w/ cam") and what says why ("for access").
 * Gives more than one line where "with" stands before a part: it may be a variant, or go along.
 */
export function takeOutDescriptions(
  items: readonly Item[],
  forks = FORKS,
): Outcome<readonly DescribedLine[]> {
  const core: Core[] = [];
  const described: Described[] = [];
  let at = 0;
  while (at < items.length) {
    const item = items[at];
    if (item === undefined) break;
    if (isCore(item)) {
      core.push(item);
      at += 1;
      continue;
    }
    switch (item.kind) {
      case "with": {
        const equipment = equipmentAfter(items, at + 1);
        if (equipment.next === at + 1) return fork(items, at, forks);
        const part = core.filter(isPart).at(-1)?.span ?? null;
        for (const each of equipment.named) described.push({ ...each, fitted: item.fitted, part });
        at = equipment.next;
        if (items[at]?.kind === "action" && isPart(items[at - 1]))
          return { why: "what is done may be meant of the equipment named before it" };
        break;
      }
      case "including": {
        const next = afterPlaces(items, at + 1);
        const following = items[next];
        if (isPart(following)) {
          if (equipmentOf(following) !== undefined) return fork(items, at, forks);
          core.push({ kind: "gap", strength: PARTING.and });
        } else if (items[at + 1]?.kind === "action") core.push({ kind: "gap", strength: PARTING.comma });
        else if (following?.kind === "equipment") return { why: "what is included is not clear" };
        at += 1;
        break;
      }
      case "for": {
        const end = endOfPurpose(items, at + 1);
        if (end === null) return { why: 'what stands after "for" or "to" is no purpose that is known' };
        at = end;
        break;
      }
      case "purpose":
        return { why: "a purpose stands without what is done for it" };
      case "equipment":
        return { why: "a feature is named without saying that the part comes with or without it" };
    }
  }
  return { is: [{ core, described }] };
}

function isCore(item: Item): item is Core {
  return item.kind === "action" || item.kind === "part" || item.kind === "place" || item.kind === "gap";
}

function isPart(item: Item | undefined): item is PartItem {
  return item?.kind === "part";
}

function afterPlaces(items: readonly Item[], from: number): number {
  let at = from;
  while (items[at]?.kind === "place") at += 1;
  return at;
}

/** What an item says of the equipment of another part: undefined where it is none, null where it names no sensor. */
function equipmentOf(item: Item | undefined): EquipmentWord | null | undefined {
  if (item?.kind === "equipment") return item.equipment;
  if (!isPart(item)) return undefined;
  return item.means.equipment ?? item.means.choices.find(({ carries }) => carries !== undefined)?.carries;
}

function equipmentAfter(
  items: readonly Item[],
  from: number,
): {
  readonly named: readonly { readonly equipment: EquipmentWord; readonly span: Span }[];
  readonly next: number;
} {
  const named: { equipment: EquipmentWord; span: Span }[] = [];
  let next = from;
  let at = from;
  for (;;) {
    at = afterPlaces(items, at);
    const item = items[at];
    const equipment = equipmentOf(item);
    if (item === undefined || equipment === undefined) return { named, next };
    if (equipment !== null && "span" in item) named.push({ equipment, span: item.span });
    at += 1;
    next = at;
    const gap = items[at];
    if (gap?.kind === "gap" && gap.strength === PARTING.and) at += 1;
  }
}

/** Both ways of reading "with" before a part: the part goes along, or tells one variant from another. */
function fork(items: readonly Item[], at: number, forks: number): Outcome<readonly DescribedLine[]> {
  const part = afterPlaces(items, at + 1);
  if (!isPart(items[part])) return { why: 'what stands after "with" or "without" is not known' };
  if (forks === 0) return { why: "too many parts are named after with or without" };
  const along: readonly Item[] = [
    ...items.slice(0, at),
    { kind: "gap", strength: PARTING.and },
    ...items.slice(at + 1),
  ];
  const variant = [...items.slice(0, at), ...items.slice(part + 1)];
  const readings: DescribedLine[] = [];
  for (const each of [variant, along]) {
    const taken = takeOutDescriptions(each, forks - 1);
    if ("why" in taken) return taken;
    readings.push(...taken.is);
  }
  return { is: readings };
}

/** Where a purpose ends: "access", "access to LT headlamp", "fender refinish", "refinish of the fender"; null for none. */
function endOfPurpose(items: readonly Item[], from: number): number | null {
  const first = items[from];
  const place = afterPlaces(items, from);
  let end: number;
  if (first?.kind === "purpose" || isAttendant(first)) {
    end = from + 1;
    if (items[end]?.kind === "for") end += 1;
    const part = afterPlaces(items, end);
    if (isPart(items[part])) end = part + 1;
    end = afterPlaces(items, end);
  } else if (isPart(items[place]) && isAttendant(items[place + 1])) end = place + 2;
  else return null;
  const gap = items[end];
  const mayGoOn = gap?.kind === "gap" && gap.strength === PARTING.and;
  return mayGoOn || isAction(gap) || isPart(gap) ? null : end;
}

/** Work that a line names as its reason: paint and repair have lines of their own, other work may have none. */
function isAttendant(item: Item | undefined): boolean {
  return isAction(item) && item.means.actions.every((action) => ATTENDANT.has(action));
}

const ATTENDANT: ReadonlySet<ActionId> = new Set([
  "refinish",
  "blend",
  "repair",
  "paintless-repair",
  "calibrate",
]);

function isAction(item: Item | undefined): item is ActionItem {
  return item?.kind === "action";
}
