import { formatSlope, millimetresPerMetre } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { drawLabel } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import { chooseFactor } from "./sheet.js";
import { drawLine, drawText } from "./svg.js";

/** Where the strip runs on the paper: below the floor line, between two edges. */
interface SlopeStrip {
  readonly left: number;
  readonly right: number;
  readonly floor: number;
}

interface DrawnSlope {
  readonly markup: Markup;
  readonly height: number;
}

/** The floor's slope along the vehicle, enlarged, in a strip of its own under the floor line. */
export function drawSlope(strip: SlopeStrip, floor: SetupResult["floor"]): DrawnSlope {
  if (floor === null) return { markup: markup``, height: 2 };
  const run = strip.right - strip.left;
  const rise = (floor.plane.along * run) / 1000;
  const factor = chooseFactor(rise, 5);
  const half = (rise * factor) / 2;
  const y = strip.floor + 6.5;
  const [rear, front] = [strip.left, strip.right];
  const level = drawLine(
    [
      { x: rear, y },
      { x: front, y },
    ],
    "chain",
  );
  const line = drawLine(
    [
      { x: rear, y: y + half },
      { x: front, y: y - half },
    ],
    "outline",
  );
  const text = tellSlope(floor.plane.along);
  const box = { x: rear, y: y + 4.2, width: run, height: 3.4 };
  const label = drawLabel(box, [
    drawText(`${text}; drawn ${factor} times enlarged against a level line`, { x: rear, y: y + 6.8 }),
  ]);
  return {
    markup: markup`<g class="slope" data-factor="${factor}">${level}${line}</g>${label}`,
    height: 14,
  };
}

function tellSlope(along: number): string {
  const slope = formatSlope(millimetresPerMetre(Math.abs(along)));
  if (slope === formatSlope(millimetresPerMetre(0))) return "The floor is level along the vehicle";
  return `The floor ${along > 0 ? "rises" : "falls"} ${slope} towards the front`;
}
