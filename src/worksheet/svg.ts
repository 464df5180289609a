import { markup, type Markup } from "./markup.js";

/** A place on the paper: mm to the right of and below its upper left corner. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** An upright rectangle on the paper; mm. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Kinds of line, told apart without colour: by their weight and by their dashes. */
export const LINES = {
  wall: { weight: 0.9, dashes: null },
  target: { weight: 1.1, dashes: null },
  outline: { weight: 0.55, dashes: null },
  doubtful: { weight: 0.35, dashes: "1.6 1.2" },
  edge: { weight: 0.25, dashes: "2.4 1" },
  chain: { weight: 0.2, dashes: "6 1 0.8 1" },
  doubleChain: { weight: 0.35, dashes: "6 1 0.8 1 0.8 1" },
  thin: { weight: 0.18, dashes: null },
  hatch: { weight: 0.09, dashes: null },
} as const;
export type LineKind = keyof typeof LINES;

const INK = "#000";
export const PAPER = "#fff";
const TYPEFACE = "Helvetica, Arial, 'Liberation Sans', sans-serif";

/** Rounds a coordinate to a hundredth of a mm on the paper, and never writes "-0". */
export function coordinate(value: number): number {
  return Math.round(value * 100) / 100 + 0;
}

function at(spot: Spot): string {
  return `${coordinate(spot.x)} ${coordinate(spot.y)}`;
}

function strokeOf(kind: LineKind): Markup {
  const { weight, dashes } = LINES[kind];
  return markup`stroke="${INK}" stroke-width="${weight}"${dashes === null ? null : markup` stroke-dasharray="${dashes}"`}`;
}

/** A line through spots, open or closed. */
export function drawLine(spots: readonly Spot[], kind: LineKind, fill = "none", closed = false): Markup {
  const path = `M${spots.map(at).join("L")}${closed ? "Z" : ""}`;
  return markup`<path d="${path}" fill="${fill}" ${strokeOf(kind)}/>`;
}

export function drawBox(box: Box, kind: LineKind, fill = "none"): Markup {
  return markup`<rect x="${coordinate(box.x)}" y="${coordinate(box.y)}" width="${coordinate(box.width)}" height="${coordinate(box.height)}" fill="${fill}" ${strokeOf(kind)}/>`;
}

export function drawCircle(middle: Spot, radius: number, kind: LineKind, fill: string = PAPER): Markup {
  return markup`<circle cx="${coordinate(middle.x)}" cy="${coordinate(middle.y)}" r="${coordinate(radius)}" fill="${fill}" ${strokeOf(kind)}/>`;
}

/** A dot at the end of a leader, on what the leader speaks of. */
export function drawDot(middle: Spot, radius = 0.6): Markup {
  return markup`<circle cx="${coordinate(middle.x)}" cy="${coordinate(middle.y)}" r="${radius}" fill="${INK}"/>`;
}

/** A filled arrowhead whose tip lies on a spot, coming from another. */
export function drawArrowhead(tip: Spot, from: Spot, length = 2): Markup {
  const run = Math.hypot(tip.x - from.x, tip.y - from.y);
  if (run === 0) return markup``;
  const along = { x: (tip.x - from.x) / run, y: (tip.y - from.y) / run };
  const foot = { x: tip.x - along.x * length, y: tip.y - along.y * length };
  const half = length / 6;
  const corners = [
    tip,
    { x: foot.x - along.y * half, y: foot.y + along.x * half },
    { x: foot.x + along.y * half, y: foot.y - along.x * half },
  ];
  return markup`<path d="M${corners.map(at).join("L")}Z" fill="${INK}"/>`;
}

/** How a line of text stands on the paper. */
export interface TextStyle {
  /** Height of the type; mm. */
  readonly size?: number;
  readonly anchor?: "start" | "middle" | "end";
  readonly bold?: boolean;
  /** Reads upwards, from the right side of the sheet. */
  readonly upwards?: boolean;
  /** Clears the lines behind it. */
  readonly cleared?: boolean;
}

export const TYPE_SIZE = 2.6;

/** A line of text on its base line; it may run in either direction of writing. */
export function drawText(text: string, foot: Spot, style: TextStyle = {}): Markup {
  const { size = TYPE_SIZE, anchor = "start", bold = false, upwards = false, cleared = false } = style;
  const turn = upwards ? markup` transform="rotate(-90 ${at(foot)})"` : null;
  const halo = cleared
    ? markup` stroke="${PAPER}" stroke-width="1" stroke-linejoin="round" paint-order="stroke"`
    : null;
  return markup`<text x="${coordinate(foot.x)}" y="${coordinate(foot.y)}" font-size="${size}" text-anchor="${anchor}" style="unicode-bidi:plaintext"${bold ? markup` font-weight="700"` : null}${halo}${turn}>${text}</text>`;
}

/** Parallel lines over a box, rising or falling at 45 degrees. */
export function drawHatch(box: Box, spacing: number, direction: "rising" | "falling"): Markup {
  const strokes: string[] = [];
  // Along a rising line x + y is the same everywhere, along a falling one x − y.
  for (let shift = spacing; shift < box.width + box.height; shift += spacing) {
    const before = Math.max(0, shift - box.height);
    const after = Math.min(box.width, shift);
    const ends = [before, after].map((right) => {
      const down = shift - right;
      return { x: box.x + right, y: box.y + (direction === "rising" ? down : box.height - down) };
    });
    strokes.push(`M${ends.map(at).join("L")}`);
  }
  return strokes.length === 0
    ? markup``
    : markup`<path d="${strokes.join("")}" fill="none" ${strokeOf("hatch")}/>`;
}

/** A drawing that stands alone or inside a page: no ids, no style sheet, nothing to load. */
export function writeSvg(drawing: {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** What the drawing shows, for those who cannot see it. */
  readonly describes: string;
  readonly body: readonly Markup[];
}): Markup {
  const { width, height, title, describes, body } = drawing;
  const [w, h] = [coordinate(width), coordinate(height)];
  return markup`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${title}" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" font-family="${TYPEFACE}" fill="${INK}"><title>${title}</title><desc>${describes}</desc><rect x="0" y="0" width="${w}" height="${h}" fill="${PAPER}"/>${body}</svg>`;
}
