import type { FloorSheet } from "./floor-plan-parts.js";
import { halfWidthOf, type FloorPoint, type FloorScene, type PlacedTarget } from "./floor-plan-scene.js";
import { drawLabel, widthOfText } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import { writeDimension } from "./sheet.js";
import { drawArrowhead, drawLine, drawText, type Box } from "./svg.js";

/** A distance along the vehicle that is dimensioned beside the scene. */
interface Span {
  readonly from: FloorPoint;
  readonly to: FloorPoint;
  readonly of: string;
}

export const LANE = 5.5;

/** More lanes than these would leave no room for the scene; the key says the other distances all the same. */
const MOST_LANES = 7;

/** Distances that share no floor share a lane; the first lane is the chain of the vehicle's own dimensions. */
export function layLanes(scene: FloorScene): readonly (readonly Span[])[] {
  const lanes: Span[][] = [chainOf(scene)];
  const spans = scene.targets.map((target) => spanOf(scene, target));
  const distinct = spans.filter(
    (span, index) => spans.findIndex((each) => sameExtent(each, span)) === index && lengthOf(span) > 0,
  );
  for (const span of [...distinct].sort((a, b) => lengthOf(a) - lengthOf(b) || a.to.x - b.to.x)) {
    const free = lanes.slice(1).find((lane) => lane.every((each) => !meets(each, span)));
    if (free !== undefined) free.push(span);
    else if (lanes.length < MOST_LANES) lanes.push([span]);
  }
  return lanes.filter((lane) => lane.length > 0);
}

function chainOf({ vehicle }: FloorScene): Span[] {
  const { wheelbase, frontOverhang, rearOverhang } = vehicle;
  const y = halfWidthOf(vehicle);
  const between = (of: string, from: number, to: number): Span => ({
    of,
    from: { x: from, y },
    to: { x: to, y },
  });
  return [
    ...(frontOverhang === null ? [] : [between("front-overhang", 0, frontOverhang)]),
    ...(wheelbase === null ? [] : [between("wheelbase", -wheelbase, 0)]),
    ...(wheelbase === null || rearOverhang === null
      ? []
      : [between("rear-overhang", -wheelbase - rearOverhang, -wheelbase)]),
  ];
}

/** From the datum to the target's middle along the vehicle; from the nearer axle where the datum's place is not known. */
function spanOf({ vehicle }: FloorScene, target: PlacedTarget): Span {
  const { wheelbase, frontOverhang, rearOverhang } = vehicle;
  const rearAxle = wheelbase === null ? null : -wheelbase;
  const axle = rearAxle !== null && target.stands.x < rearAxle / 2 ? rearAxle : 0;
  const datums: Readonly<Record<PlacedTarget["datum"], number | null>> = {
    "front-axle": 0,
    "rear-axle": rearAxle,
    "front-bumper": frontOverhang,
    "rear-bumper": rearAxle === null || rearOverhang === null ? null : rearAxle - rearOverhang,
    sensor: null,
    emblem: null,
  };
  const ends = target.bar === null ? [target.stands] : [target.stands, target.bar.left, target.bar.right];
  return {
    of: target.key,
    from: { x: datums[target.datum] ?? axle, y: halfWidthOf(vehicle) },
    to: { x: target.stands.x, y: Math.max(...ends.map(({ y }) => y)) },
  };
}

function lengthOf({ from, to }: Span): number {
  return Math.abs(to.x - from.x);
}

function sameExtent(a: Span, b: Span): boolean {
  return Math.abs(a.from.x - b.from.x) < 0.05 && Math.abs(a.to.x - b.to.x) < 0.05;
}

function meets(a: Span, b: Span): boolean {
  const [lowA, highA] = [Math.min(a.from.x, a.to.x), Math.max(a.from.x, a.to.x)];
  const [lowB, highB] = [Math.min(b.from.x, b.to.x), Math.max(b.from.x, b.to.x)];
  return lowA < highB && lowB < highA;
}

/** Draws the lanes to the left of the scene, the first one nearest to it. */
export function drawLanes(sheet: FloorSheet, lanes: readonly (readonly Span[])[]): readonly Markup[] {
  return lanes.flatMap((lane, index) => {
    const x = sheet.field.x - 1 - index * LANE;
    return lane.map((span) => drawSpan(sheet, span, x));
  });
}

function drawSpan(sheet: FloorSheet, span: Span, x: number): Markup {
  const [from, to] = [sheet.toPaper(span.from), sheet.toPaper(span.to)];
  const [top, bottom] = from.y < to.y ? [from, to] : [to, from];
  const ends = [top, bottom].map(({ y }) => ({ x, y }));
  const witnesses = [top, bottom].map((spot) =>
    drawLine(
      [
        { x: spot.x - 0.8, y: spot.y },
        { x: x - 1, y: spot.y },
      ],
      "thin",
    ),
  );
  const isTight = bottom.y - top.y < 5;
  const [first = top, second = bottom] = ends;
  const heads = isTight
    ? [drawArrowhead(first, { x, y: first.y - 1 }), drawArrowhead(second, { x, y: second.y + 1 })]
    : [drawArrowhead(first, second), drawArrowhead(second, first)];
  const stem = isTight
    ? [
        { x, y: first.y - 3.5 },
        { x, y: second.y + 3.5 },
      ]
    : ends;
  return markup`<g class="dimension" data-of="${span.of}">${drawLine(stem, "thin")}${heads}${witnesses}</g>${writeSpan(sheet, span, x, top.y, bottom.y)}`;
}

function writeSpan(sheet: FloorSheet, span: Span, x: number, top: number, bottom: number): Markup {
  const text = writeDimension(lengthOf(span), sheet.units);
  const length = widthOfText(text) + 0.6;
  const places = [(top + bottom) / 2, top - length / 2 - 4, bottom + length / 2 + 4, top + length / 2];
  const boxes = places.map((y): Box => ({ x: x - 3.4, y: y - length / 2, width: 3.1, height: length }));
  const fitting = bottom - top > length + 1 ? boxes : boxes.slice(1);
  const box = sheet.occupancy.takeFirst(fitting.filter((each) => each.y > sheet.field.y - 4));
  if (box === null) return markup``;
  const foot = { x: x - 0.8, y: box.y + length / 2 };
  return drawLabel(box, [drawText(text, foot, { anchor: "middle", upwards: true, cleared: true })]);
}
