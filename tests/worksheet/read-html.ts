/** One start or end of an element. */
export interface Tag {
  readonly name: string;
  readonly isEnd: boolean;
  /** Of an element that has no content and no end of its own. */
  readonly isAlone: boolean;
  readonly attributes: ReadonlyMap<string, string>;
}

const TAG = /<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z][a-zA-Z0-9:-]*(?:="[^"<>]*")?)*)\s*(\/?)>/y;
const ATTRIBUTE = /([a-zA-Z][a-zA-Z0-9:-]*)(?:="([^"]*)")?/g;
const WITHOUT_END = ["meta", "input", "br", "hr"];

/**
 * Reads the tags of a document that has to consist of nothing but plain tags and text. A `<` that begins no such tag is
 * text that nobody escaped, and an error.
 */
export function readTags(html: string): readonly Tag[] {
  const body = html.replace(/^<!doctype html>/, "");
  const tags: Tag[] = [];
  for (let at = body.indexOf("<"); at >= 0; at = body.indexOf("<", at + 1)) {
    TAG.lastIndex = at;
    const match = TAG.exec(body);
    if (match === null) throw new Error(`no tag: ${body.slice(at, at + 80)}`);
    const [, slash, name = "", attributes = "", alone] = match;
    const pairs = [...attributes.matchAll(ATTRIBUTE)].map(
      ([, key = "", value = ""]) => [key, unescape(value)] as const,
    );
    tags.push({
      name,
      isEnd: slash === "/",
      isAlone: alone === "/" || WITHOUT_END.includes(name),
      attributes: new Map(pairs),
    });
  }
  return tags;
}

/** The text that a reader sees, spaces drawn together. */
export function readText(html: string): string {
  const body = html.slice(html.indexOf("<body"));
  return unescape(body.replace(/<\/?(?:a|bdi|span|strong)(?: [^>]*)?>/g, "").replace(/<[^>]*>/g, " "))
    .replace(/\s+/g, " ")
    .trim();
}

function unescape(text: string): string {
  return text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");
}

/** Texts as they are compared: without the spaces that markup puts between the parts of a sentence. */
export function squeeze(text: string): string {
  return text.replace(/\s+/g, "");
}
