import { TYPE_SIZE, drawCircle, drawText, type Box, type Spot } from "./svg.js";
import { markup, type Markup } from "./markup.js";

/** Height of a line of text with the room to the next; mm on the paper for the usual size of type. */
export const LINE_HEIGHT = 3.25;

const NARROW = /[ijlftrI.,:;'"|!()[\]\s\-/]/;
const BROAD = /[mwMW%@—]/;

/**
 * Room that a text takes up in a sans-serif face; mm. The face is whatever the reader's machine has, so this is a
 * generous estimate by kinds of letters.
 */
export function widthOfText(text: string, size: number = TYPE_SIZE): number {
  let ems = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    if (code >= 0x1100) ems += 1.05;
    else if (NARROW.test(letter)) ems += 0.38;
    else if (BROAD.test(letter)) ems += 0.95;
    else if (letter >= "A" && letter <= "Z") ems += 0.73;
    else ems += 0.6;
  }
  return ems * size;
}

/** Breaks a text into lines no wider than `width`, at spaces where it can; beyond `most` lines it ends in an ellipsis. */
export function wrapText(text: string, width: number, size = TYPE_SIZE, most = 3): readonly string[] {
  const lines: string[] = [];
  let line = "";
  // A figure stays with its unit.
  const joined = text.replace(/(\d) (?=(?:mm|in)\b)/g, "$1\u00a0");
  for (const word of joined.split(/[ \t\r\n]+/).flatMap((each) => splitWord(each, width, size))) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (widthOfText(longer, size) <= width) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  lines.push(line);
  const filled = lines.filter((each) => each !== "");
  return filled.length <= most
    ? filled
    : [...filled.slice(0, most - 1), shorten(`${filled[most - 1] ?? ""}…`, width, size)];
}

function splitWord(word: string, width: number, size: number): readonly string[] {
  const pieces: string[] = [];
  let piece = "";
  for (const letter of word) {
    if (piece !== "" && widthOfText(piece + letter, size) > width) {
      pieces.push(piece);
      piece = "";
    }
    piece += letter;
  }
  return [...pieces, piece];
}

function shorten(text: string, width: number, size: number): string {
  let letters = [...text];
  while (letters.length > 2 && widthOfText(letters.join(""), size) > width) {
    letters = [...letters.slice(0, -2), "…"];
  }
  return letters.join("");
}

/** A text that is to stand near a place on a line, one below or beside the other. */
export interface Wish {
  readonly wanted: number;
  readonly size: number;
}

/** Things that stand next to each other without room between them. */
interface Cluster {
  readonly members: readonly (Wish & { readonly index: number; readonly offset: number })[];
  readonly length: number;
  readonly start: number;
}

/**
 * Places things of given sizes along a line, in the order of where they are wanted and as near to it as they leave each
 * other room: none over another, none before `from`, none beyond `to` unless all together need more. Gives their
 * middles in the order of `wishes`.
 */
export function spread(wishes: readonly Wish[], from: number, to: number, gap: number): readonly number[] {
  const order = wishes
    .map((wish, index) => ({ ...wish, index, offset: 0 }))
    .sort((a, b) => a.wanted - b.wanted || a.index - b.index);
  const clusters: Cluster[] = [];
  for (const wish of order) {
    let last = gather([wish], from, to, gap);
    for (let before = clusters.at(-1); before !== undefined; before = clusters.at(-1)) {
      if (before.start + before.length + gap <= last.start) break;
      clusters.pop();
      last = gather([...before.members, ...last.members], from, to, gap);
    }
    clusters.push(last);
  }
  const middles = new Map<number, number>();
  for (const { members, start } of clusters) {
    for (const { index, offset, size } of members) middles.set(index, start + offset + size / 2);
  }
  return wishes.map((_, index) => middles.get(index) ?? 0);
}

function gather(members: Cluster["members"], from: number, to: number, gap: number): Cluster {
  let length = -gap;
  const placed = members.map((member) => {
    const offset = length + gap;
    length = offset + member.size;
    return { ...member, offset };
  });
  const wanted = placed.map((each) => each.wanted - each.size / 2 - each.offset);
  const mean = wanted.reduce((sum, each) => sum + each, 0) / wanted.length;
  return { members: placed, length, start: Math.max(from, Math.min(mean, to - length)) };
}

export function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/** A box around a middle. */
export function boxAround(middle: Spot, width: number, height: number): Box {
  return { x: middle.x - width / 2, y: middle.y - height / 2, width, height };
}

/** Text in a box of its own; the box is written beside it, so that it can be checked that no two overlap. */
export function drawLabel(box: Box, content: readonly Markup[]): Markup {
  const numbers = [box.x, box.y, box.width, box.height].map((each) => String(Math.round(each * 100) / 100));
  return markup`<g class="label" data-box="${numbers.join(" ")}">${content}</g>`;
}

/** Several lines of text under each other, the first ones bold. */
export function drawLines(lines: readonly string[], corner: Spot, bold = 0): readonly Markup[] {
  return lines.map((line, index) =>
    drawText(line, { x: corner.x, y: corner.y + TYPE_SIZE + index * LINE_HEIGHT }, { bold: index < bold }),
  );
}

/** Radius of the circle around a target's number; mm on paper. */
export const BALLOON = 2.3;

/** The number of a target in its circle. */
export function drawNumbered(number: number, middle: Spot): readonly Markup[] {
  const foot = { x: middle.x, y: middle.y + 0.95 };
  const size = number > 9 ? 2.2 : TYPE_SIZE;
  return [
    drawCircle(middle, BALLOON, "thin"),
    drawText(String(number), foot, { anchor: "middle", bold: true, size }),
  ];
}
