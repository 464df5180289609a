import { findSetUp, nameOfVehicle, numberOf, writeStated, type SetUpView } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import type { PlacedTarget } from "./floor-plan-scene.js";
import { BALLOON, boxAround, drawLabel, drawNumbered, spread, widthOfText } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import {
  DIMENSIONS_IN,
  Occupancy,
  chooseScale,
  sheetWidth,
  writeDimension,
  type DrawingOptions,
  type Units,
} from "./sheet.js";
import { drawSlope } from "./side-view-slope.js";
import { HEAD_HEIGHT, drawFoot, drawHead, drawNotes } from "./sheet-frame.js";
import {
  PAPER,
  drawArrowhead,
  drawBox,
  drawCircle,
  drawDot,
  drawLine,
  drawText,
  writeSvg,
  type Spot,
} from "./svg.js";

const MARGIN = 3;
const LANE = 5.5;
/** Where nobody stated the vehicle's height or a tyre, so that there is something to see; both are drawn broken. */
const UNKNOWN = { height: 1500, wheel: 650 };

/** A side view's paper: the nose to the right, the floor level. */
interface SideSheet {
  readonly scale: number;
  readonly units: Units;
  readonly left: number;
  readonly right: number;
  readonly floor: number;
  readonly toPaper: (x: number, z: number) => Spot;
}

/**
 * Draws a set-up from its right side, to scale, nose to the right: heights above the floor, the floor's slope enlarged.
 * A whole SVG document as `renderFloorPlan` writes one; an `InputError` (unknown-reference) for an unknown set-up.
 */
export function renderSideView(result: SetupResult, options: DrawingOptions = {}): string {
  return drawSideView(result, findSetUp(result, options.setUp), options).markup;
}

/** The drawing as part of a page. */
export function drawSideView(result: SetupResult, view: SetUpView, options: DrawingOptions): Markup {
  const width = sheetWidth(options.width);
  const units = options.units ?? "mm";
  const targets = view.targets.filter((target): target is PlacedTarget => target.stands !== null);
  const lanes = layHeights(result, targets);
  const sheet = layOut(result, targets, lanes, width, units);
  const slope = drawSlope(sheet, result.floor);
  const notes = notesOf(result, view, units);
  const foot = sheet.floor + 4 + slope.height;
  const drawnNotes = drawNotes(notes, { x: MARGIN, y: foot + 5.5 }, width - 2 * MARGIN);
  const title = `${view.title} from the right`;
  const body = [
    drawHead({
      title,
      about: `${nameOfVehicle(result.vehicle)}; nose to the right`,
      scale: sheet.scale,
      width,
    }),
    drawVehicle(sheet, result),
    drawLine(
      [
        { x: MARGIN, y: sheet.floor },
        { x: width - MARGIN, y: sheet.floor },
      ],
      "outline",
    ),
    ...targets.map((target) => drawTarget(sheet, target)),
    ...drawBalloons(result, sheet, targets),
    ...drawHeights(sheet, lanes),
    slope.markup,
    drawFoot({ x: MARGIN, y: foot }, sheet.scale, units),
    ...drawnNotes.lines,
  ];
  const height = foot + 5.5 + drawnNotes.height + MARGIN;
  const describes = [
    "The vehicle from its right side, nose to the right.",
    ...tellHeights(result, targets, units),
    ...notes,
  ].join(" ");
  return writeSvg({ width, height, title: `${title}, ${nameOfVehicle(result.vehicle)}`, describes, body });
}

/** A height above the floor with the place of its feature; equal heights at one end of the drawing share a lane. */
interface Height {
  readonly x: number;
  readonly height: number;
  readonly of: string;
}
interface Heights {
  readonly rear: readonly Height[];
  readonly front: readonly Height[];
}

function heightOf({ stands }: PlacedTarget): number {
  return stands.heightAboveFloor ?? stands.height;
}

function layHeights({ vehicle }: SetupResult, targets: readonly PlacedTarget[]): Heights {
  const middle = -(vehicle.wheelbase ?? 0) / 2;
  const heights = targets
    .map((target): Height => ({ x: target.stands.x, height: heightOf(target), of: target.key }))
    .filter(({ height }) => height > 0);
  const pick = (isFront: boolean): readonly Height[] =>
    heights
      .filter(({ x }) => x >= middle === isFront)
      .filter(
        (each, index, all) => all.findIndex(({ height }) => Math.abs(height - each.height) < 0.05) === index,
      )
      .sort((a, b) => a.height - b.height);
  return { front: pick(true), rear: pick(false) };
}

function layOut(
  { vehicle }: SetupResult,
  targets: readonly PlacedTarget[],
  lanes: Heights,
  width: number,
  units: Units,
): SideSheet {
  const rearAxle = -(vehicle.wheelbase ?? 0);
  const xs = [
    vehicle.frontOverhang ?? UNKNOWN.wheel / 2,
    rearAxle - (vehicle.rearOverhang ?? UNKNOWN.wheel / 2),
    ...targets.map(({ stands }) => stands.x),
  ];
  const [rear, front] = [Math.min(...xs), Math.max(...xs)];
  const top = Math.max(vehicle.height ?? UNKNOWN.height, ...targets.map(heightOf));
  const left = MARGIN + lanes.rear.length * LANE + 6;
  const right = width - MARGIN - lanes.front.length * LANE - 6;
  const scale = chooseScale([
    { length: front - rear, room: right - left },
    { length: top, room: 60 },
  ]);
  const floor = HEAD_HEIGHT + 10 + top / scale;
  const shift = (right + left) / 2 + ((front + rear) / 2) * (-1 / scale);
  return {
    scale,
    units,
    left,
    right,
    floor,
    toPaper: (x, z) => ({ x: shift + x / scale, y: floor - z / scale }),
  };
}

/** A plain block on wheels: it shows where the vehicle is and claims no shape. */
function drawVehicle(sheet: SideSheet, { vehicle, attitude }: SetupResult): Markup {
  const { wheelbase, frontOverhang, rearOverhang, height } = vehicle;
  const rearAxle = -(wheelbase ?? 0);
  const tyres = attitude?.tyres ?? null;
  const axles = [
    { x: 0, diameter: tyres?.front.diameter ?? UNKNOWN.wheel },
    ...(wheelbase === null ? [] : [{ x: rearAxle, diameter: tyres?.rear.diameter ?? UNKNOWN.wheel }]),
  ];
  const isWhole = [wheelbase, frontOverhang, rearOverhang, height].every((each) => each !== null);
  const corner = sheet.toPaper(rearAxle - (rearOverhang ?? 0), height ?? UNKNOWN.height);
  const end = sheet.toPaper(frontOverhang ?? 0, UNKNOWN.wheel / 2);
  const body = { x: corner.x, y: corner.y, width: end.x - corner.x, height: end.y - corner.y };
  const wheels = axles.map(({ x, diameter }) =>
    drawCircle(
      sheet.toPaper(x, diameter / 2),
      diameter / 2 / sheet.scale,
      tyres === null ? "doubtful" : "outline",
    ),
  );
  const isThere = wheelbase !== null || frontOverhang !== null;
  return markup`<g class="vehicle">${isThere ? drawBox(body, isWhole ? "outline" : "doubtful", PAPER) : null}${wheels}</g>`;
}

/** A stand with a cross at the height of the target's middle; what lies on the floor is a dot there. */
function drawTarget(sheet: SideSheet, target: PlacedTarget): Markup {
  const { x } = target.stands;
  const [foot, middle] = [sheet.toPaper(x, 0), sheet.toPaper(x, heightOf(target))];
  const cross = [
    drawLine(
      [
        { x: middle.x - 1.6, y: middle.y },
        { x: middle.x + 1.6, y: middle.y },
      ],
      "target",
    ),
    drawLine([{ x: middle.x, y: middle.y - 1.6 }, middle], "thin"),
  ];
  const isOnFloor = heightOf(target) <= 0;
  return markup`<g class="target" data-target="${target.key}">${drawLine([foot, middle], "thin")}${isOnFloor ? drawDot(foot, 0.9) : [drawCircle(middle, 0.9, "thin"), cross]}</g>`;
}

/** The targets' numbers above the scene, spread so that none stands on another. */
function drawBalloons(
  result: SetupResult,
  sheet: SideSheet,
  targets: readonly PlacedTarget[],
): readonly Markup[] {
  const level = HEAD_HEIGHT + 2.5;
  const size = BALLOON * 2 + 0.4;
  const wishes = targets.map(({ stands }) => ({ wanted: sheet.toPaper(stands.x, 0).x, size }));
  const places = spread(wishes, MARGIN, sheet.right + 6, 0.6);
  return targets.map((target, index) => {
    const middle = { x: places[index] ?? 0, y: level };
    const head = sheet.toPaper(target.stands.x, heightOf(target));
    const leader = [
      { x: middle.x, y: middle.y + BALLOON },
      { x: head.x, y: level + 6 },
      { x: head.x, y: head.y - 1 },
    ];
    return markup`${drawLine(leader, "thin")}${drawLabel(boxAround(middle, size, size), drawNumbered(numberOf(result, target), middle))}`;
  });
}

/** The heights of the targets' middles at both ends of the drawing, from the floor up. */
function drawHeights(sheet: SideSheet, lanes: Heights): readonly Markup[] {
  const occupancy = new Occupancy();
  const draw = (height: Height, x: number, toRight: 1 | -1): Markup => {
    const feature = sheet.toPaper(height.x, height.height);
    const [top, bottom] = [
      { x, y: feature.y },
      { x, y: sheet.floor },
    ];
    const text = writeDimension(height.height, sheet.units);
    const length = widthOfText(text) + 0.6;
    const isTight = bottom.y - top.y < length + 2;
    const middle = isTight ? top.y - length / 2 - 1 : (top.y + bottom.y) / 2;
    const box = { x: x - 3.4, y: middle - length / 2, width: 3.1, height: length };
    occupancy.take(box);
    const witness = [
      { x: feature.x + toRight * 2.4, y: feature.y },
      { x: x + toRight, y: feature.y },
    ];
    return markup`<g class="dimension" data-of="${height.of}">${drawLine([top, bottom], "thin")}${drawArrowhead(top, bottom)}${drawArrowhead(bottom, top)}${drawLine(witness, "thin")}</g>${drawLabel(box, [drawText(text, { x: x - 0.8, y: middle }, { anchor: "middle", upwards: true, cleared: true })])}`;
  };
  return [
    ...lanes.front.map((height, index) => draw(height, sheet.right + 6 + index * LANE, 1)),
    ...lanes.rear.map((height, index) => draw(height, sheet.left - 3 - index * LANE, -1)),
  ];
}

function tellHeights(result: SetupResult, targets: readonly PlacedTarget[], units: Units): readonly string[] {
  return targets.map((target) => {
    const height = heightOf(target);
    const where =
      height <= 0
        ? "on the floor"
        : `its middle ${writeStated(Math.round(height * 10) / 10, units)} above the floor`;
    return `${numberOf(result, target)}, ${target.name}: ${where}.`;
  });
}

function notesOf(result: SetupResult, view: SetUpView, units: Units): readonly string[] {
  const { vehicle, attitude, floor } = result;
  const unknown = [
    ...(vehicle.height === null ? ["the vehicle's height"] : []),
    ...(vehicle.frontOverhang === null || vehicle.rearOverhang === null ? ["its overhangs"] : []),
    ...((attitude?.tyres ?? null) === null ? ["its tyres"] : []),
  ];
  const isSurveyed = view.targets.some(({ stands }) => stands !== null && stands.heightAboveFloor !== null);
  return [
    `${DIMENSIONS_IN[units]} The block shows where the vehicle is and claims no shape.`,
    attitude === null
      ? "How the vehicle stands on its springs was not measured."
      : `The vehicle stands: ${attitude.says}.`,
    ...(isSurveyed ? [] : ["Heights are those above a level floor: no floor was surveyed."]),
    ...(floor === null ? ["No slope of the floor is known."] : []),
    ...(unknown.length === 0 ? [] : [`Not known, and drawn broken: ${unknown.join(", ")}.`]),
  ];
}
