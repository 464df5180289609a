import { findSetUp, nameOfVehicle, numberOf, writeThrust, type SetUpView } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import { drawKey, heightOfKey, listKey, setKey } from "./floor-plan-key.js";
import { LANE, drawLanes, layLanes } from "./floor-plan-lanes.js";
import {
  drawBalloon,
  drawBay,
  drawClearAreas,
  drawLateral,
  drawObstacles,
  drawTarget,
  drawThrustLine,
  drawVehicle,
  drawWidth,
  type FloorSheet,
} from "./floor-plan-parts.js";
import { readFloorScene, type FloorBox, type FloorScene } from "./floor-plan-scene.js";
import { markup, type Markup } from "./markup.js";
import {
  DIMENSIONS_IN,
  Occupancy,
  chooseFactor,
  chooseScale,
  sheetWidth,
  type DrawingOptions,
  type Units,
} from "./sheet.js";
import { drawFoot, drawHead, drawNotes, HEAD_HEIGHT } from "./sheet-frame.js";
import { drawLine, writeSvg, type Spot } from "./svg.js";

const LEAST_KEY = 55;
const MARGIN = 3;
/** Where leaders run from the edge of the scene to their text. */
const GUTTER = 8;
/** Free paper around the scene, where balloons and dimensions may stand. */
const APRON = 6;
/** Of the scene, so that the drawing and the words above it share a page of A4 or Letter. */
const MOST_HEIGHT = 162;
const LEAST_FIELD = 45;
const EMPTY: FloorBox = { front: 1000, rear: -1000, left: 1000, right: -1000 };

/**
 * Draws a set-up from above, to scale, nose up: vehicle, reference lines, targets, clear areas and bay as far as they
 * are known, and says what is not. A whole SVG document without ids, styles or anything to load; an `InputError`
 * (unknown-reference) for a set-up that the result does not hold.
 */
export function renderFloorPlan(result: SetupResult, options: DrawingOptions = {}): string {
  return drawFloorPlan(result, findSetUp(result, options.setUp), options).markup;
}

/** The drawing as part of a page. */
export function drawFloorPlan(result: SetupResult, view: SetUpView, options: DrawingOptions): Markup {
  const width = sheetWidth(options.width);
  const units = options.units ?? "mm";
  const scene = readFloorScene(result, view);
  const lanes = layLanes(scene);
  const sheet = layOut(scene, width, lanes.length, units);
  const thrust = layThrustLine(sheet, scene);
  const top = (scene.extent ?? EMPTY).front;
  const entries = listKey(result, scene, { ...thrust, units, top });
  const column = {
    x: sheet.field.x + sheet.field.width + GUTTER,
    width: width - MARGIN - GUTTER - sheet.field.x - sheet.field.width,
    top: sheet.field.y,
    bottom: sheet.field.y + sheet.field.height,
  };
  const blocks = setKey(entries, column.width);
  const bottom = Math.max(column.bottom, column.top + heightOfKey(blocks));
  const title = `${view.title} from above`;
  const notes = notesOf(scene, thrust.factor, units);
  const drawnNotes = drawNotes(notes, { x: MARGIN, y: bottom + 9.5 }, width - 2 * MARGIN);
  const height = bottom + 9.5 + drawnNotes.height + MARGIN;
  const body = [
    drawHead({ title, about: `${nameOfVehicle(result.vehicle)}; nose up`, scale: sheet.scale, width }),
    ...drawScene(result, scene, sheet, thrust),
    ...drawLanes(sheet, lanes),
    ...drawKey(sheet, blocks, column),
    drawFoot({ x: MARGIN, y: bottom + 4 }, sheet.scale, units),
    ...drawnNotes.lines,
  ];
  const describes = [describe(result, scene), ...notes].join(" ");
  return writeSvg({ width, height, title: `${title}, ${nameOfVehicle(result.vehicle)}`, describes, body });
}

/** Finds the scale and the place of the scene between the lanes of dimensions on its left and the key on its right. */
function layOut(scene: FloorScene, width: number, lanes: number, units: Units): FloorSheet {
  const extent = scene.extent ?? EMPTY;
  const left = MARGIN + lanes * LANE + 1;
  const room = width - left - LEAST_KEY - MARGIN - GUTTER;
  const [long, wide] = [extent.front - extent.rear, extent.left - extent.right];
  const scale = chooseScale([
    { length: wide, room: room - 2 * APRON },
    { length: long, room: MOST_HEIGHT - 2 * APRON },
  ]);
  const field = {
    x: left,
    y: HEAD_HEIGHT,
    width: Math.min(room, Math.max(LEAST_FIELD, wide / scale + 2 * APRON)),
    height: Math.max(LEAST_FIELD, long / scale + 2 * APRON),
  };
  const middle = { x: (extent.front + extent.rear) / 2, y: (extent.left + extent.right) / 2 };
  return {
    scale,
    units,
    field,
    occupancy: new Occupancy(),
    toPaper: ({ x, y }) => ({
      x: field.x + field.width / 2 - (y - middle.y) / scale,
      y: field.y + field.height / 2 - (x - middle.x) / scale,
    }),
  };
}

interface DrawnThrust {
  readonly factor: number;
  readonly line: Parameters<typeof drawThrustLine>[1] | null;
  readonly thrustEnd: { readonly x: number; readonly y: number } | null;
}

/** Enlarges the thrust angle until its line stands off the centre line by some millimetres on the paper. */
function layThrustLine(sheet: FloorSheet, { heading, vehicle, extent }: FloorScene): DrawnThrust {
  const { wheelbase } = vehicle;
  if (heading === null || wheelbase === null || extent === null) {
    return { factor: 1, line: null, thrustEnd: null };
  }
  const run = extent.front + wheelbase;
  const rise = (run * Math.tan((heading * Math.PI) / 180)) / sheet.scale;
  const factor = Math.min(100, chooseFactor(rise, 9));
  const drawnHeading = heading * factor;
  const x = extent.front - 400;
  const y = (x + wheelbase) * Math.tan((drawnHeading * Math.PI) / 180);
  const line = { wheelbase, drawnHeading, front: extent.front, rear: -wheelbase - sheet.scale * 8 };
  return { factor, line, thrustEnd: { x, y } };
}

function drawScene(
  result: SetupResult,
  scene: FloorScene,
  sheet: FloorSheet,
  { line }: DrawnThrust,
): readonly Markup[] {
  const extent = scene.extent;
  const { wheelbase, width } = scene.vehicle;
  const vehicleMiddle = wheelbase === null ? 0 : -wheelbase / 2;
  const centreLine =
    extent === null
      ? []
      : [extent.front + sheet.scale * 3, extent.rear - sheet.scale * 3].map((x) =>
          sheet.toPaper({ x, y: 0 }),
        );
  const targets = scene.targets.map((target) => drawTarget(sheet, target, vehicleMiddle));
  return [
    ...drawClearAreas(sheet, scene),
    ...drawBay(sheet, scene),
    drawVehicle(sheet, scene, result.attitude?.tyres?.front.diameter ?? null),
    ...drawObstacles(sheet, scene),
    centreLine.length === 0 ? markup`` : markup`<g class="centre-line">${drawLine(centreLine, "chain")}</g>`,
    ...(line === null ? [] : [drawThrustLine(sheet, line)]),
    ...targets,
    ...(width === null ? [] : [drawWidth(sheet, vehicleMiddle, width)]),
    ...scene.targets.map((target) => drawLateral(sheet, target)),
    ...scene.targets.map((target) => drawBalloon(sheet, numberOf(result, target), pointFor(sheet, target))),
  ];
}

/** Where a balloon's leader touches its target: on the right half of the bar, off the centre line. */
function pointFor(sheet: FloorSheet, { stands, bar }: FloorScene["targets"][number]): Spot {
  if (bar === null) return sheet.toPaper(stands);
  const share = 0.35;
  return sheet.toPaper({
    x: stands.x + (bar.right.x - stands.x) * share,
    y: stands.y + (bar.right.y - stands.y) * share,
  });
}

function notesOf(scene: FloorScene, factor: number, units: Units): readonly string[] {
  const thrust =
    factor === 1
      ? []
      : [`The thrust line's angle is drawn ${factor} times enlarged; targets stand at their true places.`];
  return [
    `${DIMENSIONS_IN[units]} Work by the figures: the scale holds for a print at 100 % only.`,
    ...thrust,
    ...scene.notDrawn,
  ];
}

function describe(result: SetupResult, scene: FloorScene): string {
  const thrust = result.alignment?.thrust ?? null;
  const line = thrust === null ? "" : ` The thrust line runs ${writeThrust(thrust)}.`;
  const names = scene.targets.map((target) => `${numberOf(result, target)}, ${target.name}`);
  const targets = names.length === 0 ? "No target is drawn." : `Targets: ${names.join("; ")}.`;
  return `The vehicle from above, nose up. ${targets}${line} The tables give every number.`;
}
