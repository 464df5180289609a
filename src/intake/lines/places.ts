import type { Core, Outcome } from "./descriptions.js";
import { PARTING, type ActionItem, type PartItem, type PlaceItem } from "./items.js";

/** A part with where it is: one entry for each place that the line says it stands for; empty words for none said. */
export interface PlacedPart {
  readonly kind: "part";
  readonly item: PartItem;
  readonly at: readonly (readonly PlaceItem[])[];
  /** How strongly it is parted from what comes before it. */
  readonly gap: number;
}
export interface PlacedAction {
  readonly kind: "action";
  readonly item: ActionItem;
  readonly gap: number;
}
export type Atom = PlacedPart | PlacedAction;

interface Node {
  readonly item: ActionItem | PartItem | PlaceItem;
  /** How strongly it is parted from the one before, as written. */
  readonly written: number;
  /** The same, once lists of places are joined. */
  gap: number;
}

/** Words of place that stand together, and on which side of their part. */
interface Chunk {
  readonly places: readonly PlaceItem[];
  readonly gap: number;
}

const UNCLEAR = "which part a side or end belongs to is not clear";

/** Gives every word of place to the part that it belongs to. */
export function attachPlaces(core: readonly Core[]): Outcome<readonly Atom[]> {
  const nodes = nodesOf(core);
  const chunks = new Map<number, Chunk[]>();
  const parts = nodes.flatMap(({ item }, index) => (item.kind === "part" ? [index] : []));
  for (let at = 0; at < nodes.length; at += 1) {
    if (nodes[at]?.item.kind !== "place") continue;
    let end = at;
    while (nodes[end + 1]?.item.kind === "place" && nodes[end + 1]?.gap === 0) end += 1;
    const owner = ownerOf(nodes, at, end, parts);
    if (owner === null) return { why: parts.length === 0 ? "no part is named" : UNCLEAR };
    const places = nodes.slice(at, end + 1).flatMap(({ item }) => (item.kind === "place" ? [item] : []));
    chunks.set(owner, [...(chunks.get(owner) ?? []), { places, gap: nodes[at]?.written ?? 0 }]);
    at = end;
  }
  return atomsOf(nodes, chunks);
}

function nodesOf(core: readonly Core[]): readonly Node[] {
  const nodes: Node[] = [];
  let gap = 0;
  for (const item of core) {
    if (item.kind === "gap") {
      gap = Math.max(gap, item.strength);
      continue;
    }
    const written = nodes.length === 0 ? 0 : gap;
    nodes.push({ item, written, gap: written });
    gap = 0;
  }
  return nodes;
}

/** The part that the places from `start` to `end` belong to, by its index; a gap that they bridge parts no more. */
function ownerOf(
  nodes: readonly Node[],
  start: number,
  end: number,
  parts: readonly number[],
): number | null {
  const before = adjacentPart(nodes, start, "before");
  const after = adjacentPart(nodes, end, "after");
  if (before !== null && after !== null) return null;
  if (before !== null || after !== null) return before ?? after;
  const [only] = parts;
  if (parts.length === 1 && only !== undefined) return only;
  const inRun = parts.filter((part) => isOneRun(nodes, Math.min(part, start), Math.max(part, end)));
  if (inRun.length > 0) return inRun.length === 1 ? (inRun[0] ?? null) : null;
  return bridge(nodes, start, end);
}

function adjacentPart(nodes: readonly Node[], at: number, direction: "before" | "after"): number | null {
  const other = direction === "before" ? at - 1 : at + 1;
  const gap = direction === "before" ? nodes[at]?.gap : nodes[other]?.gap;
  return gap === 0 && nodes[other]?.item.kind === "part" ? other : null;
}

function isOneRun(nodes: readonly Node[], from: number, to: number): boolean {
  return nodes.slice(from + 1, to + 1).every(({ gap }) => gap === 0);
}

/** Places parted from every part join the list of places on one side, or the part where there is but one side. */
function bridge(nodes: readonly Node[], start: number, end: number): number | null {
  const back = reach(nodes, start, -1);
  const forward = reach(nodes, end, 1);
  const chosen = back !== null && forward !== null ? closerList(back, forward) : (back ?? forward);
  const bridged = nodes[chosen === forward ? end + 1 : start];
  if (chosen === null || bridged === undefined) return null;
  bridged.gap = 0;
  return chosen.part;
}

interface Reached {
  readonly part: number;
  readonly gap: number;
  /** Whether places of that part stand next, so that these go on with a list. */
  readonly goesOn: boolean;
}

function closerList(back: Reached, forward: Reached): Reached | null {
  if (back.goesOn === forward.goesOn) return null;
  const [list, other] = back.goesOn ? [back, forward] : [forward, back];
  return list.gap <= other.gap ? list : null;
}

/** The part that a list of places leads to, and how strongly the list is parted from these places. */
function reach(nodes: readonly Node[], from: number, step: 1 | -1): Reached | null {
  const gap = (step === 1 ? nodes[from + 1] : nodes[from])?.gap ?? 0;
  const goesOn = nodes[from + step]?.item.kind === "place";
  let at = from + step;
  while (nodes[at]?.item.kind === "place") at += step;
  return nodes[at]?.item.kind === "part" ? { part: at, gap, goesOn } : null;
}

function atomsOf(
  nodes: readonly Node[],
  chunks: ReadonlyMap<number, readonly Chunk[]>,
): Outcome<readonly Atom[]> {
  const atoms: Atom[] = [];
  let gap = 0;
  for (const [index, node] of nodes.entries()) {
    gap = Math.max(gap, node.gap);
    const { item } = node;
    if (item.kind === "place") continue;
    if (item.kind === "action") atoms.push({ kind: "action", item, gap });
    else {
      const at = listPlaces(chunks.get(index) ?? []);
      if (at === null) return { why: UNCLEAR };
      atoms.push({ kind: "part", item, at, gap });
    }
    gap = 0;
  }
  return { is: atoms };
}

interface Said {
  readonly side: boolean;
  readonly end: boolean;
}

function saidIn(places: readonly PlaceItem[]): Said {
  return {
    side: places.some(({ side, either }) => side !== null || either !== null),
    end: places.some(({ end, either }) => end !== null || either === "right-rear-or-rear"),
  };
}

/** One place after the other, or a list of places: "LT and RT front" is two. Null where it is neither. */
function listPlaces(chunks: readonly Chunk[]): readonly (readonly PlaceItem[])[] | null {
  const list: (readonly PlaceItem[])[] = [];
  for (const { places, gap } of chunks) {
    const last = list.at(-1);
    if (last === undefined) {
      list.push(places);
      continue;
    }
    const [said, before] = [saidIn(places), saidIn(last)];
    const adds = !(said.side && before.side) && !(said.end && before.end);
    if (adds && gap === PARTING.and) return null;
    if (adds || gap === PARTING.bracket) list[list.length - 1] = [...last, ...places];
    else list.push(places);
  }
  return list.length < 2 ? [list[0] ?? []] : shareFirstOrLast(list);
}

/** In "LT front and rear" the first word, in "LT and RT front" the last one goes for all. */
function shareFirstOrLast(list: readonly (readonly PlaceItem[])[]): readonly (readonly PlaceItem[])[] | null {
  const said = list.map(saidIn);
  const isFull = (every: (each: Said) => boolean): boolean => said.every(every);
  const isFree = (every: (each: Said) => boolean): boolean => !said.some(every);
  const sides = (each: Said): boolean => each.side;
  const ends = (each: Said): boolean => each.end;
  if ((isFull(sides) || isFree(sides)) && (isFull(ends) || isFree(ends))) return list;
  const shares = isFull(sides) ? "end" : "side";
  if (shares === "side" && !isFull(ends)) return null;
  const lacking = said.filter((each) => !each[shares]).length;
  if (lacking !== list.length - 1) return null;
  const first = list[0]?.[0];
  const last = list.at(-1)?.at(-1);
  const shared = [first, last].find(
    (place) =>
      place !== undefined && place[shares] !== null && place[shares === "end" ? "side" : "end"] === null,
  );
  if (shared === undefined) return null;
  return list.map((places) => (saidIn(places)[shares] ? places : [...places, shared]));
}
