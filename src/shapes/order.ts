import type { Issue } from "../errors.js";

/**
 * Sorts issues as a reader of the document meets them, from its first line to its last. What a pointer names and the
 * document lacks comes after everything that its object or list does hold.
 */
export function inDocumentOrder(issues: readonly Issue[], document: unknown): readonly Issue[] {
  const ranks: Ranks = new Map();
  return issues
    .map((issue) => ({ issue, places: placesOf(issue.pointer, document, ranks) }))
    .sort((a, b) => comparePlaces(a.places, b.places))
    .map(({ issue }) => issue);
}

/** For each object met, which place each of its keys has: a document gone wrong can have thousands in one object. */
type Ranks = Map<object, ReadonlyMap<string, number>>;

function rankOf(key: string, holder: object, ranks: Ranks): number {
  const ready = ranks.get(holder);
  const rank = ready ?? new Map(Object.keys(holder).map((each, place) => [each, place]));
  if (ready === undefined) ranks.set(holder, rank);
  return rank.get(key) ?? Number.MAX_SAFE_INTEGER;
}

/** For each step of a pointer, which entry of its object or list it leads to, counted from the first. */
function placesOf(pointer: string, document: unknown, ranks: Ranks): readonly number[] {
  const places: number[] = [];
  let value = document;
  for (const part of pointer.split("/").slice(1)) {
    const key = part.replaceAll("~1", "/").replaceAll("~0", "~");
    const holder = value !== null && typeof value === "object" ? value : {};
    places.push(Array.isArray(holder) ? Number(key) : rankOf(key, holder, ranks));
    value = Object.hasOwn(holder, key) ? (holder as Readonly<Record<string, unknown>>)[key] : undefined;
  }
  return places;
}

function comparePlaces(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < Math.min(a.length, b.length); at += 1) {
    const difference = (a[at] ?? 0) - (b[at] ?? 0);
    if (difference !== 0) return difference;
  }
  return a.length - b.length;
}
