import { existsSync, readFileSync, readdirSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/** A fenced block: its language, what else stands on the fence, and the line on which the fence stands. */
export interface Fence {
  readonly language: string;
  readonly note: string;
  readonly text: string;
  readonly line: number;
}

export interface Document {
  /** Path from the top of the project. */
  readonly path: string;
  readonly text: string;
  readonly fences: readonly Fence[];
  /** Anchors of the headings. */
  readonly anchors: ReadonlySet<string>;
  /** Targets of the links outside fences. */
  readonly links: readonly string[];
}

/** Every page that people read: the two at the top, and what lies under docs. */
export const DOCUMENTS: readonly Document[] = [
  "README.md",
  "DEVELOPERS.md",
  ...readdirSync(join(ROOT, "docs"), { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".md"))
    .sort()
    .map((file) => join("docs", file)),
].map((path) => readDocument(path, readFileSync(join(ROOT, path), "utf8")));

export function documentAt(path: string): Document {
  const found = DOCUMENTS.find((each) => each.path === path);
  if (found === undefined) throw new Error(`there is no page ${path}`);
  return found;
}

function readDocument(path: string, text: string): Document {
  const fences: Fence[] = [];
  const prose: string[] = [];
  let open: { language: string; note: string; line: number; lines: string[] } | null = null;
  for (const [index, line] of text.split("\n").entries()) {
    const fence = /^```(\S*)\s*(.*)$/.exec(line);
    if (fence === null) {
      (open?.lines ?? prose).push(line);
    } else if (open === null) {
      open = { language: fence[1] ?? "", note: fence[2] ?? "", line: index + 1, lines: [] };
    } else {
      fences.push({ language: open.language, note: open.note, line: open.line, text: open.lines.join("\n") });
      open = null;
    }
  }
  if (open !== null) throw new Error(`${path}: a fence is not closed`);
  const outside = prose.join("\n").replaceAll(/`[^`\n]*`/g, "");
  return {
    path,
    text,
    fences,
    anchors: new Set(prose.flatMap((line) => /^#+ (.+)$/.exec(line)?.[1] ?? []).map(anchorOf)),
    links: [...outside.matchAll(/\]\(([^)\s]+)\)/g)].flatMap(([, target]) => target ?? []),
  };
}

/** The anchor that a heading gets where Markdown is shown with links to headings. */
export function anchorOf(heading: string): string {
  return heading
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N} _-]/gu, "")
    .replaceAll(" ", "-");
}

/** What is wrong with a relative link of a page; `null` where it leads somewhere, or out of the project. */
export function findBreak(document: Document, target: string): string | null {
  if (/^[a-z]+:/.test(target)) return null;
  const [file = "", anchor] = target.split("#");
  const path = file === "" ? document.path : relative(ROOT, join(ROOT, dirname(document.path), file));
  if (!existsSync(join(ROOT, path))) return `${document.path}: ${target} leads nowhere`;
  if (anchor === undefined) return null;
  const page = DOCUMENTS.find((each) => each.path === path);
  return page?.anchors.has(anchor) === true ? null : `${document.path}: ${target} has no such heading`;
}
