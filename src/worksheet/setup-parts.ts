import {
  isField,
  isStrong,
  isTick,
  tellSetup,
  type Block,
  type Cell,
  type LengthUnits,
  type SetupSection,
  type Words,
} from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import { drawFloorPlan } from "./floor-plan.js";
import { facts, namedField, pageSection, section, table, tickBox, tickList } from "./form.js";
import { markup, type Markup } from "./markup.js";
import { drawSideView } from "./side-view.js";

/** How the parts of a set-up are to be printed. */
export interface SetupSheetOptions {
  /** Of lengths; mm if left out. Tapes are read in sixteenths of an inch, with the decimals beside them. */
  readonly units?: LengthUnits | undefined;
}

/**
 * The sections of a sheet about a set-up, each with its own heading: what is missing first, then one section for every
 * set-up with its drawings and tables, then what was found about vehicle, floor and bay, cautions last.
 */
export function setupSections(result: SetupResult, options: SetupSheetOptions = {}): readonly Markup[] {
  const units = options.units ?? "mm";
  return tellSetup(result, units).map((part) => writeSection(result, part, units));
}

function writeSection(result: SetupResult, part: SetupSection, units: LengthUnits): Markup {
  const { id, title, blocks } = part;
  const write = part.isOnNewPage === true ? pageSection : section;
  return write(
    id,
    title,
    ...groupByHeading(blocks).map((group) => {
      const content = group.map((block) => writeBlock(result, block, units));
      return group[0]?.kind === "heading" ? markup`<article>${content}</article>` : markup`${content}`;
    }),
  );
}

/** Parts a section's blocks before each heading. */
function groupByHeading(blocks: readonly Block[]): readonly (readonly Block[])[] {
  const starts = blocks.flatMap((block, index) => (index === 0 || block.kind === "heading" ? [index] : []));
  return starts.map((start, index) => blocks.slice(start, starts[index + 1]));
}

function writeBlock(result: SetupResult, block: Block, units: LengthUnits): Markup {
  switch (block.kind) {
    case "heading":
      return markup`<h3>${writeWords(block.text)}</h3>`;
    case "says":
      return writeSaying(block);
    case "facts":
      return facts(block.facts.map(([label, text]) => [label, writeWords(text)]));
    case "list":
      return writeList(block);
    case "ticks":
      return tickList(block.items.map(writeWords), true);
    case "table": {
      const rows = block.rows.map((row) => row.map(writeCell));
      const look = block.isFine === true ? "fine" : "keep";
      return markup`<div class="${look}">${table(writeWords(block.caption), block.columns, rows)}</div>`;
    }
    case "drawing": {
      const draw = block.from === "above" ? drawFloorPlan : drawSideView;
      return writeFigure(draw(result, block.view, { units }));
    }
  }
}

const CLASSES = { strong: "strong", alert: "heavy", faint: "small" } as const;

function writeSaying({ text, role }: Extract<Block, { readonly kind: "says" }>): Markup {
  const look = role === undefined ? null : markup` class="${CLASSES[role]}"`;
  return markup`<p${look}>${writeWords(text)}</p>`;
}

function writeList({ items, role }: Extract<Block, { readonly kind: "list" }>): Markup {
  const list = markup`<ul class="list">${items.map((item) => markup`<li>${writeWords(item)}</li>`)}</ul>`;
  return role === "alert" ? markup`<div class="heavy">${list}</div>` : list;
}

/** The drawing keeps its size on paper, so that its scale holds. */
function writeFigure(drawing: Markup): Markup {
  return markup`<figure style="max-width:180mm">${drawing}</figure>`;
}

function writeCell(cell: Cell): Markup {
  if (isField(cell)) return namedField(cell.field);
  if (isTick(cell)) return tickBox(writeWords(cell.tick));
  return isStrong(cell) ? markup`<strong>${writeWords(cell.strong)}</strong>` : writeWords(cell);
}

/** Names from outside keep their direction of writing to themselves. */
export function writeWords(words: Words): Markup {
  if (typeof words === "string") return markup`${words}`;
  return markup`${words.map((part) => (typeof part === "string" ? part : markup`<bdi>${part.name}</bdi>`))}`;
}
