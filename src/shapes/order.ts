import type { Issue } from "../errors.js";

/**
 * Sorts issues as a reader of the document meets them, from its first line to its last. What a pointer names and the
 * document lacks comes after everything that its object or list does hold.
 */
export function inDocumentOrder(issues: readonly Issue[], document: unknown): readonly Issue[] {
  return issues
    .map((issue) => ({ issue, places: placesOf(issue.pointer, document) }))
    .sort((a, b) => comparePlaces(a.places, b.places))
    .map(({ issue }) => issue);
}

/** For each step of a pointer, which entry of its object or list it leads to, counted from the first. */
function placesOf(pointer: string, document: unknown): readonly number[] {
  const places: number[] = [];
  let value = document;
  for (const part of pointer.split("/").slice(1)) {
    const key = part.replaceAll("~1", "/").replaceAll("~0", "~");
    const holder = value !== null && typeof value === "object" ? value : {};
    const place = Array.isArray(holder) ? Number(key) : Object.keys(holder).indexOf(key);
    places.push(place < 0 ? Number.MAX_SAFE_INTEGER : place);
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
