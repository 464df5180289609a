import {
  DATUMS,
  REFERENCE_LINES,
  nameRequirements,
  numberOf,
  writeAlong,
  writeAsked,
  writeLateral,
  writeStated,
  writeThrust,
  writeValue,
} from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import type { FloorSheet } from "./floor-plan-parts.js";
import type { FloorBox, FloorPoint, FloorScene, PlacedTarget } from "./floor-plan-scene.js";
import { LINE_HEIGHT, drawLabel, drawNumbered, drawLines, spread, wrapText } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import type { Units } from "./sheet.js";
import { drawDot, drawLine, type Spot } from "./svg.js";

/** What stands beside a drawing about one thing on it. */
export interface KeyEntry {
  readonly number: number | null;
  /** A name from outside or the name of a line; bold. */
  readonly name: string;
  readonly says: readonly string[];
  /** What the leader points at. */
  readonly anchor: FloorPoint;
}

interface Drawn {
  /** How often the thrust line's angle is enlarged. */
  readonly factor: number;
  readonly thrustEnd: FloorPoint | null;
  readonly units: Units;
  readonly top: number;
}

/** All that the floor plan names, each with the place its leader leads to. */
export function listKey(result: SetupResult, scene: FloorScene, drawn: Drawn): readonly KeyEntry[] {
  const { units } = drawn;
  return [
    ...scene.targets.map((target) => tellTarget(result, target, units)),
    ...scene.clearAreas.map(({ requirements, floor, height }, index) =>
      tellClearArea(requirements, floor, height, index, units),
    ),
    ...tellLines(result, scene, drawn),
    ...tellBay(result, scene, units),
  ];
}

function tellTarget(result: SetupResult, target: PlacedTarget, units: Units): KeyEntry {
  const { asked, stands, bar } = target;
  const ends = bar === null ? [stands] : [bar.left, bar.right];
  const rightmost = ends.reduce((a, b) => (b.y < a.y ? b : a));
  // Beside the mark's distance there is no doubt of which line it lies left or right.
  const side = writeLateral(stands.y, units).replace(" of the centre line", "");
  return {
    number: numberOf(result, target),
    name: target.name,
    says: [
      `Asked: ${writeAsked(asked.distance, "mm", units)} from ${DATUMS[target.datum]}, ${REFERENCE_LINES[target.referenceLine]}`,
      `Mark: ${writeAlong(stands.x, result.vehicle.wheelbase, units)}, ${side}`,
      `Yaw ${writeValue(stands.yaw, "deg", units)}${bar === null ? "" : `, width ${writeStated(bar.width, units)}`}`,
    ],
    anchor: rightmost,
  };
}

function tellClearArea(
  requirements: readonly string[],
  { front, rear, left, right }: FloorBox,
  height: number | null,
  index: number,
  units: Units,
): KeyEntry {
  const long = writeStated(front - rear, units);
  const wide = writeStated(left - right, units);
  const high = height === null ? "" : `, ${writeStated(height, units)} high`;
  const share = 0.12 + 0.13 * (index % 6);
  return {
    number: null,
    name: `Clear area for ${nameRequirements(requirements)}`,
    says: [`${long} long, ${wide} wide${high}`],
    anchor: { x: front - (front - rear) * share, y: right },
  };
}

function tellLines(result: SetupResult, scene: FloorScene, drawn: Drawn): readonly KeyEntry[] {
  const thrust = result.alignment?.thrust ?? null;
  const entries: KeyEntry[] = [
    {
      number: null,
      name: "Centre line",
      says: ["through the middles of both axles"],
      anchor: { x: drawn.top - 150, y: 0 },
    },
  ];
  if (thrust === null || drawn.thrustEnd === null) return scene.extent === null ? [] : entries;
  const enlarged = drawn.factor === 1 ? "" : `; drawn ${drawn.factor} times enlarged`;
  entries.push({
    number: null,
    name: "Thrust line",
    says: [`${writeThrust(thrust)}${enlarged}`],
    anchor: drawn.thrustEnd,
  });
  return entries;
}

function tellBay(result: SetupResult, { bay }: FloorScene, units: Units): readonly KeyEntry[] {
  if (bay === null || result.bay === null) return [];
  const { front, rear, right } = bay.floor;
  const long = writeStated(result.bay.length, units);
  const wide = writeStated(result.bay.width, units);
  return [
    {
      number: null,
      name: "Bay",
      says: [`${long} long, ${wide} wide; the door's side is broken, ${bay.doorBehind ? "below" : "above"}`],
      anchor: { x: bay.doorBehind ? rear + (front - rear) * 0.04 : rear + (front - rear) * 0.96, y: right },
    },
    ...bay.obstacles.map(({ name, floor, from, to }): KeyEntry => ({
      number: null,
      name,
      says: [tellHeights(from, to, units)],
      anchor: { x: (floor.front + floor.rear) / 2, y: floor.right },
    })),
  ];
}

function tellHeights(from: number, to: number | null, units: Units): string {
  const write = (value: number): string => writeStated(value, units);
  if (from === 0) return `obstacle, from the floor up to ${to === null ? "the ceiling" : write(to)}`;
  return `obstacle, from ${write(from)} above the floor up to ${to === null ? "the ceiling" : write(to)}`;
}

const INDENT = 6.2;

interface Block extends KeyEntry {
  readonly lines: readonly string[];
  readonly bold: number;
  readonly height: number;
}

/** Sets the entries of a key in lines of the column's width. */
export function setKey(entries: readonly KeyEntry[], width: number): readonly Block[] {
  return entries.map((entry) => {
    const room = width - (entry.number === null ? 0.5 : INDENT + 0.5);
    const name = wrapText(entry.name, room * 0.93, undefined, 2);
    const lines = [...name, ...entry.says.flatMap((each) => wrapText(each, room, undefined, 4))];
    return { ...entry, lines, bold: name.length, height: lines.length * LINE_HEIGHT + 0.8 };
  });
}

export function heightOfKey(blocks: readonly Block[]): number {
  return blocks.reduce((sum, { height }) => sum + height + GAP, 0);
}

const GAP = 1.4;

/** Draws the key in its column, every entry as near to what it speaks of as the others leave room. */
export function drawKey(
  sheet: FloorSheet,
  blocks: readonly Block[],
  column: { readonly x: number; readonly width: number; readonly top: number; readonly bottom: number },
): readonly Markup[] {
  const anchors = blocks.map(({ anchor }) => sheet.toPaper(anchor));
  const wishes = blocks.map(({ height }, index) => ({ wanted: anchors[index]?.y ?? 0, size: height }));
  const middles = spread(wishes, column.top, column.bottom, GAP);
  return blocks.map((block, index) => {
    const anchor = anchors[index] ?? { x: column.x, y: column.top };
    const y = (middles[index] ?? 0) - block.height / 2;
    const box = { x: column.x, y, width: column.width, height: block.height };
    const entry = { x: column.x - 0.8, y: y + 2.2 };
    const indent = block.number === null ? 0 : INDENT;
    const circle = { x: column.x + 2.4, y: y + 2.4 };
    const balloon = block.number === null ? [] : drawNumbered(block.number, circle);
    return markup`${block.number === null ? drawLeader(anchor, entry, sheet.field.x + sheet.field.width) : null}${drawLabel(
      box,
      [...balloon, ...drawLines(block.lines, { x: column.x + indent, y }, block.bold)],
    )}`;
  });
}

/** From a dot on the thing straight to the edge of the scene, then to its text. Numbered things need none. */
function drawLeader(anchor: Spot, entry: Spot, edge: number): Markup {
  return markup`<g class="leader">${drawLine([anchor, { x: edge, y: anchor.y }, entry], "thin")}${drawDot(anchor)}</g>`;
}
