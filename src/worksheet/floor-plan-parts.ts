import { BALLOON, boxAround, drawLabel, drawNumbered, widthOfText } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import {
  halfWidthOf,
  type FloorBox,
  type FloorPoint,
  type FloorScene,
  type PlacedTarget,
} from "./floor-plan-scene.js";
import { writeDimension, type Occupancy, type Units } from "./sheet.js";
import {
  PAPER,
  coordinate,
  drawArrowhead,
  drawBox,
  drawHatch,
  drawLine,
  drawText,
  type Box,
  type Spot,
} from "./svg.js";

/** The paper of a floor plan: nose up, the vehicle's left on the left. */
export interface FloorSheet {
  /** 1 mm on paper is so many mm on the floor. */
  readonly scale: number;
  readonly units: Units;
  /** Where the scene is drawn. */
  readonly field: Box;
  readonly toPaper: (point: FloorPoint) => Spot;
  readonly occupancy: Occupancy;
}

function boxOn(sheet: FloorSheet, { front, rear, left, right }: FloorBox): Box {
  const corner = sheet.toPaper({ x: front, y: left });
  return {
    x: corner.x,
    y: corner.y,
    width: (left - right) / sheet.scale,
    height: (front - rear) / sheet.scale,
  };
}

/** Free floor that is asked for: its edge dashed, its area hatched lightly, each with strokes of its own. */
export function drawClearAreas(sheet: FloorSheet, scene: FloorScene): readonly Markup[] {
  return scene.clearAreas.map(({ floor }, index) => {
    const box = boxOn(sheet, floor);
    const hatch = drawHatch(box, 3 + Math.floor(index / 2) * 1.3, index % 2 === 0 ? "rising" : "falling");
    return markup`<g class="clear-area">${hatch}${drawBox(box, "edge")}</g>`;
  });
}

/** The bay: walls thick, the side of the door broken. */
export function drawBay(sheet: FloorSheet, { bay }: FloorScene): readonly Markup[] {
  if (bay === null) return [];
  const { front, rear, left, right } = bay.floor;
  const corner = (x: number, y: number): Spot => sheet.toPaper({ x, y });
  const [door, far] = bay.doorBehind ? [rear, front] : [front, rear];
  const walls = [corner(door, left), corner(far, left), corner(far, right), corner(door, right)];
  return [
    markup`<g class="bay">${drawLine(walls, "wall")}${drawLine([corner(door, left), corner(door, right)], "doubtful")}</g>`,
  ];
}

/** What stands in the bay, or hangs above its floor: the latter with broken lines, over what stands below it. */
export function drawObstacles(sheet: FloorSheet, { bay }: FloorScene): readonly Markup[] {
  return (bay?.obstacles ?? []).map(({ floor, from }) => {
    const box = boxOn(sheet, floor);
    const hangs = from > 0;
    if (!hangs) sheet.occupancy.take(box);
    const [right, bottom] = [box.x + box.width, box.y + box.height];
    const cross = [
      drawLine([box, { x: right, y: bottom }], "thin"),
      drawLine(
        [
          { x: right, y: box.y },
          { x: box.x, y: bottom },
        ],
        "thin",
      ),
    ];
    return markup`<g class="obstacle">${drawBox(box, hangs ? "doubtful" : "outline", hangs ? "none" : PAPER)}${hangs ? null : cross}</g>`;
  });
}

/** The wheels' sizes on the drawing where no tyre is known: they mark a place and claim no size. */
const WHEEL = { length: 650, width: 220 };

/** The vehicle as far as it is known; what is not known is broken. */
export function drawVehicle(
  sheet: FloorSheet,
  { vehicle }: FloorScene,
  wheelDiameter: number | null,
): Markup {
  const { wheelbase, frontOverhang, rearOverhang, width, trackFront, trackRear } = vehicle;
  const half = halfWidthOf(vehicle);
  const spot = (x: number, y: number): Spot => sheet.toPaper({ x, y });
  const rearAxle = wheelbase === null ? null : -wheelbase;
  const outline = { wheelbase, frontOverhang, rearOverhang, width };
  const isWhole = Object.values(outline).every((each) => each !== null);
  const front = frontOverhang ?? 0;
  const rear = rearAxle === null ? 0 : rearAxle - (rearOverhang ?? 0);
  const body = boxOn(sheet, { front, rear, left: half, right: -half });
  const axles = [
    { x: 0, track: trackFront },
    ...(rearAxle === null ? [] : [{ x: rearAxle, track: trackRear }]),
  ];
  const wheels = axles.flatMap(({ x, track }) =>
    track === null ? [] : [track / 2, -track / 2].map((y) => drawWheel(sheet, { x, y }, wheelDiameter)),
  );
  return markup`<g class="vehicle">${wheelbase === null && width === null ? null : drawBox(body, isWhole ? "outline" : "doubtful", PAPER)}${axles.map(
    ({ x, track }) => {
      const reach = track === null ? half : track / 2;
      return drawLine([spot(x, reach), spot(x, -reach)], track === null ? "doubtful" : "thin");
    },
  )}${wheels}${frontOverhang === null ? null : drawNose(sheet, front)}</g>`;
}

function drawWheel(sheet: FloorSheet, middle: FloorPoint, diameter: number | null): Markup {
  const half = (diameter ?? WHEEL.length) / 2;
  const { x, y } = middle;
  const floor = { front: x + half, rear: x - half, left: y + WHEEL.width / 2, right: y - WHEEL.width / 2 };
  return drawBox(boxOn(sheet, floor), "outline", PAPER);
}

/** The arrow that says where the nose is, and the word for it. */
function drawNose(sheet: FloorSheet, front: number): Markup {
  const tip = sheet.toPaper({ x: front, y: 0 });
  const top = { x: tip.x, y: tip.y + 1.2 };
  const corners = [top, { x: top.x + 2.4, y: top.y + 3.6 }, { x: top.x - 2.4, y: top.y + 3.6 }];
  return drawLine(corners, "thin", PAPER, true);
}

/** The exaggerated thrust line through the middle of the rear axle. */
export function drawThrustLine(
  sheet: FloorSheet,
  line: {
    readonly wheelbase: number;
    readonly drawnHeading: number;
    readonly front: number;
    readonly rear: number;
  },
): Markup {
  const lateralAt = (x: number): number =>
    (x + line.wheelbase) * Math.tan((line.drawnHeading * Math.PI) / 180);
  const spots = [line.rear, line.front].map((x) => sheet.toPaper({ x, y: lateralAt(x) }));
  return markup`<g class="thrust-line">${drawLine(spots, "doubleChain")}</g>`;
}

/** A target: its bar at its true place, an arrow to the side on which the vehicle stands, a cross on its middle. */
export function drawTarget(sheet: FloorSheet, target: PlacedTarget, vehicleMiddle: number): Markup {
  const { stands, bar } = target;
  const middle = sheet.toPaper(stands);
  const yaw = (stands.yaw * Math.PI) / 180;
  // On paper the vehicle's x points up and its y to the left.
  const normal = { x: -Math.sin(yaw), y: -Math.cos(yaw) };
  const towards = sheet.toPaper({ x: vehicleMiddle, y: 0 });
  const side = normal.x * (towards.x - middle.x) + normal.y * (towards.y - middle.y) >= 0 ? 1 : -1;
  const facing = { x: middle.x + side * normal.x * 5, y: middle.y + side * normal.y * 5 };
  const ends = bar === null ? [] : [bar.left, bar.right].map((end) => sheet.toPaper(end));
  takeLine(sheet, middle, facing);
  takeLine(sheet, ends[0] ?? middle, ends[1] ?? middle);
  return markup`<g class="target" data-target="${target.key}" data-middle="${coordinate(middle.x)} ${coordinate(middle.y)}">${
    ends.length === 0 ? null : drawLine(ends, "target")
  }${drawLine([middle, facing], "thin")}${drawArrowhead(facing, middle)}${drawLine(
    [
      { x: middle.x - 2, y: middle.y },
      { x: middle.x + 2, y: middle.y },
    ],
    "thin",
  )}${drawLine(
    [
      { x: middle.x, y: middle.y - 2 },
      { x: middle.x, y: middle.y + 2 },
    ],
    "thin",
  )}</g>`;
}

function takeLine(sheet: FloorSheet, from: Spot, to: Spot): void {
  const steps = Math.ceil(Math.hypot(to.x - from.x, to.y - from.y));
  for (let step = 0; step <= steps; step += 1) {
    const share = steps === 0 ? 0 : step / steps;
    const spot = { x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share };
    sheet.occupancy.take(boxAround(spot, 1.6, 1.6));
  }
}

/** The number of a target in a circle near it, where room is free. */
export function drawBalloon(sheet: FloorSheet, number: number, near: Spot): Markup {
  const size = BALLOON * 2 + 0.4;
  const box = sheet.occupancy.takeFirst(placesAround(near, size, size, sheet.field));
  if (box === null) return markup``;
  const middle = { x: box.x + size / 2, y: box.y + size / 2 };
  const run = Math.hypot(near.x - middle.x, near.y - middle.y);
  const edge = {
    x: middle.x + ((near.x - middle.x) * BALLOON) / run,
    y: middle.y + ((near.y - middle.y) * BALLOON) / run,
  };
  return markup`${drawLine([edge, near], "thin")}${drawLabel(box, drawNumbered(number, middle))}`;
}

const DIRECTIONS = [-60, 60, -120, 120, -30, 30, -150, 150, -90, 90].map((angle) => (angle * Math.PI) / 180);

function* placesAround(near: Spot, width: number, height: number, field: Box): Generator<Box> {
  for (let run = 5; run < 60; run += 1.5) {
    for (const direction of DIRECTIONS) {
      const box = boxAround(
        { x: near.x + run * Math.cos(direction), y: near.y + run * Math.sin(direction) },
        width,
        height,
      );
      if (contains(field, box)) yield box;
    }
  }
}

export function contains(outer: Box, inner: Box): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  );
}

/** How far a target's middle lies off the centre line, as a dimension near it; nothing where that is too little to draw. */
export function drawLateral(sheet: FloorSheet, { stands }: PlacedTarget): Markup {
  const run = Math.abs(stands.y) / sheet.scale;
  if (run < 6) return markup``;
  const text = writeDimension(Math.abs(stands.y), sheet.units);
  const middle = sheet.toPaper(stands);
  const centre = sheet.toPaper({ x: stands.x, y: 0 });
  const width = widthOfText(text) + 1;
  for (const shift of [5, -5, 8, -8, 11, -11, 14, -14]) {
    const level = middle.y + shift;
    const along = [0.5, 0.35, 0.65].map((share) => middle.x + (centre.x - middle.x) * share);
    const box = along
      .map((x) => boxAround({ x, y: level - 1.6 }, width, 3))
      .find((each) => contains(sheet.field, each) && sheet.occupancy.isFree(each));
    if (box === undefined) continue;
    sheet.occupancy.take(box);
    const [from, to] = [
      { x: middle.x, y: level },
      { x: centre.x, y: level },
    ];
    const foot = { x: box.x + box.width / 2, y: level - 0.7 };
    return markup`${drawLine([middle, { x: middle.x, y: level + Math.sign(shift) }], "thin")}${drawLine([from, to], "thin")}${drawArrowhead(from, to)}${drawArrowhead(to, from)}${drawLabel(box, [drawText(text, foot, { anchor: "middle", cleared: true })])}`;
  }
  return markup``;
}

/** A dimension across the vehicle, inside its outline. */
export function drawWidth(sheet: FloorSheet, at: number, across: number): Markup {
  const half = across / 2;
  const [from, to] = [sheet.toPaper({ x: at, y: half }), sheet.toPaper({ x: at, y: -half })];
  const text = writeDimension(across, sheet.units);
  const middle = { x: (from.x + to.x) / 2, y: from.y };
  const box = boxAround({ x: middle.x, y: middle.y - 1.8 }, widthOfText(text) + 1, 3);
  if (!sheet.occupancy.isFree(box)) return markup``;
  sheet.occupancy.take(box);
  return markup`<g class="dimension" data-of="width">${drawLine([from, to], "thin")}${drawArrowhead(from, to)}${drawArrowhead(to, from)}</g>${drawLabel(box, [drawText(text, { x: middle.x, y: middle.y - 0.8 }, { anchor: "middle", cleared: true })])}`;
}
