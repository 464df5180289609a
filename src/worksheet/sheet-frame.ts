import { formatLength, mm } from "../measure/index.js";
import { LINE_HEIGHT, drawLabel, widthOfText, wrapText } from "./lettering.js";
import { markup, type Markup } from "./markup.js";
import type { Units } from "./sheet.js";
import { TYPE_SIZE, drawBox, drawLine, drawText, type Spot } from "./svg.js";

/** Height of a sheet's head with the room below it; mm on paper. */
export const HEAD_HEIGHT = 14;

/** The head of a drawing: what it shows, of which vehicle, and its scale. */
export function drawHead(head: {
  readonly title: string;
  readonly about: string;
  readonly scale: number;
  readonly width: number;
}): Markup {
  const scale = `Scale 1 : ${head.scale}`;
  const room = head.width - 12 - widthOfText(scale, 3.2);
  const [about = ""] = wrapText(head.about, room, TYPE_SIZE, 1);
  const [title = ""] = wrapText(head.title, room, 4, 1);
  return drawLabel({ x: 3, y: 1.5, width: head.width - 6, height: 10 }, [
    drawText(title, { x: 3, y: 5.2 }, { size: 3.8, bold: true }),
    drawText(about, { x: 3, y: 9.4 }),
    drawText(scale, { x: head.width - 3, y: 5.2 }, { size: 3.2, bold: true, anchor: "end" }),
    drawLine(
      [
        { x: 3, y: 11.4 },
        { x: head.width - 3, y: 11.4 },
      ],
      "thin",
    ),
  ]);
}

/** The scale bar: two fields of a round length, by which a copy of any size can still be measured. */
export function drawFoot(corner: Spot, scale: number, units: Units): Markup {
  const step = units === "mm" ? 1000 : 24 * 25.4;
  const steps = scale <= 30 ? 1 : 2;
  const length = step / scale;
  const fields = Array.from({ length: steps }, (_, index) =>
    drawBox(
      { x: corner.x + index * length, y: corner.y, width: length, height: 1.4 },
      "thin",
      index % 2 === 0 ? "#000" : "#fff",
    ),
  );
  const text = formatLength(mm(step * steps), units, "tape");
  const box = { x: corner.x, y: corner.y - 1, width: steps * length + 3 + widthOfText(text), height: 4.6 };
  return drawLabel(box, [
    markup`<g class="scale-bar">${fields}</g>`,
    drawText(text, { x: corner.x + steps * length + 2, y: corner.y + 1.8 }),
  ]);
}

/** Sentences under a drawing, with the height that they take. */
export function drawNotes(
  notes: readonly string[],
  corner: Spot,
  width: number,
): { readonly lines: readonly Markup[]; readonly height: number } {
  const lines = notes.flatMap((note) => wrapText(note, width, TYPE_SIZE, 4));
  return {
    height: lines.length * LINE_HEIGHT,
    lines: lines.map((line, index) =>
      drawLabel({ x: corner.x, y: corner.y + index * LINE_HEIGHT, width, height: LINE_HEIGHT - 0.1 }, [
        drawText(line, { x: corner.x, y: corner.y + TYPE_SIZE + index * LINE_HEIGHT }),
      ]),
    ),
  };
}
