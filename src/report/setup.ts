import type { SetupResult } from "../setup/index.js";
import { EMPTY_LINE, joinLines, pageWidth, paragraph, type Line, type Styler } from "./layout.js";
import { LABEL } from "./page.js";
import {
  isField,
  isStrong,
  isTick,
  joinWords,
  type Block,
  type Cell,
  type SetupSection,
} from "./setup-content.js";
import { tellSetup, tellSetupHead } from "./tell-setup.js";
import type { LengthUnits } from "./units.js";

/** How the report of a set-up is to look. */
export interface SetupTextOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  readonly styler?: Styler | undefined;
  /** Of lengths; mm if left out. Tapes are read in sixteenths of an inch, with the decimals beside them. */
  readonly units?: LengthUnits | undefined;
}

/**
 * Writes what a set-up comes to as text: what is missing or contradicts itself first, then every set-up with its marks,
 * tapes and decisions, then alignment, floor, attitude, bay and headlamps, cautions last. No line is wider than `width`
 * columns, and characters of the input that could steer a terminal are written out.
 */
export function renderSetup(result: SetupResult, options: SetupTextOptions = {}): string {
  const width = pageWidth(options.width);
  const lines = [
    ...paragraph("Set-up of targets", { width, role: "title" }),
    ...tellSetupHead(result).flatMap(([label, text]) => writeFact(label, joinWords(text), width, 0)),
    ...tellSetup(result, options.units ?? "mm").flatMap((section) => [
      EMPTY_LINE,
      ...writeSection(section, width),
    ]),
  ];
  return joinLines(lines, options.styler);
}

function writeSection({ title, blocks }: SetupSection, width: number): readonly Line[] {
  const body = blocks.flatMap((block) => writeBlock(block, width));
  return [
    ...paragraph(title.toUpperCase(), { width, role: "heading" }),
    ...(body[0] === EMPTY_LINE ? body.slice(1) : body),
  ];
}

/** Labels of a set-up are longer than those of a plan's requirement. */
const WIDE_LABEL = LABEL + 4;

function writeFact(label: string, text: string, width: number, indent: number): readonly Line[] {
  return paragraph(text, { width, indent, lead: `${label} `.padEnd(indent === 0 ? LABEL : WIDE_LABEL) });
}

function writeBlock(block: Block, width: number): readonly Line[] {
  switch (block.kind) {
    case "heading":
      return [EMPTY_LINE, ...paragraph(joinWords(block.text), { width, indent: 2, role: "strong" })];
    case "says":
      return [
        ...(block.role === "strong" ? [EMPTY_LINE] : []),
        ...paragraph(joinWords(block.text), { width, indent: 4, role: block.role ?? "plain" }),
      ];
    case "facts":
      return block.facts.flatMap(([label, text]) => writeFact(label, joinWords(text), width, 4));
    case "list":
      return block.items.flatMap((item) =>
        paragraph(joinWords(item), { width, indent: 2, lead: "- ", role: block.role ?? "plain" }),
      );
    case "ticks":
      return block.items.flatMap((item) => paragraph(joinWords(item), { width, indent: 4, lead: "[ ] " }));
    case "table":
      return writeTable(block, width);
    case "drawing":
      return [];
  }
}

type Table = Extract<Block, { readonly kind: "table" }>;

const FIELD = "________";
const GAP = 2;
const INDENT = 4;
/** Wider than this a column of words is set below its row's name instead. */
const MOST_WIDTH = 34;

/**
 * A table in columns where they fit, if need be with its last column below the others; otherwise each row as labels
 * with what they say.
 */
function writeTable(table: Table, width: number): readonly Line[] {
  const caption = paragraph(joinWords(table.caption), { width, indent: INDENT, role: "strong" });
  return [
    EMPTY_LINE,
    ...caption,
    ...writeBody(
      table,
      table.rows.map((row) => row.map(textOf)),
      width,
    ),
  ];
}

function writeBody(
  { columns }: Table,
  cells: readonly (readonly string[])[],
  width: number,
): readonly Line[] {
  const widths = columns.map(({ head }, at) =>
    Math.max(head.length, ...cells.map((row) => (row[at] ?? "").length)),
  );
  const fits = (count: number): boolean => {
    const inRow = widths.slice(0, count);
    const whole = inRow.reduce((sum, each) => sum + each + GAP, INDENT - GAP);
    return whole <= width && inRow.every((each) => each <= MOST_WIDTH);
  };
  const most = columns.length;
  if (!isPlain(cells) || !fits(most - 1)) return cells.flatMap((row) => writeRow(columns, row, width));
  return writeColumns(columns, cells, fits(most) ? widths : widths.slice(0, -1), width);
}

function textOf(cell: Cell): string {
  if (isField(cell)) return FIELD;
  if (isTick(cell)) return `[ ] ${joinWords(cell.tick)}`;
  return joinWords(isStrong(cell) ? cell.strong : cell);
}

/** Whether every character takes one column, so that padding lines the columns up. */
function isPlain(cells: readonly (readonly string[])[]): boolean {
  return cells.every((row) => row.every((cell) => /^[\u0020-\u007e\u00a1-\u024f°±′×]*$/.test(cell)));
}

function writeColumns(
  columns: Table["columns"],
  cells: readonly (readonly string[])[],
  widths: readonly number[],
  width: number,
): readonly Line[] {
  const setRow = (row: readonly string[], role: "plain" | "faint"): Line => {
    const set = widths.map((room, at) =>
      columns[at]?.isNumber === true ? (row[at] ?? "").padStart(room) : (row[at] ?? "").padEnd(room),
    );
    const text = `${" ".repeat(INDENT)}${set.join(" ".repeat(GAP))}`.trimEnd();
    return { text: text.slice(0, width), role };
  };
  const indent = INDENT + GAP + (widths[0] ?? 0);
  const writeBelow = (text: string): readonly Line[] =>
    text === "" ? [] : paragraph(text, { width, indent });
  return [
    setRow(
      columns.map(({ head }) => head),
      "faint",
    ),
    ...cells.flatMap((row) => [setRow(row, "plain"), ...row.slice(widths.length).flatMap(writeBelow)]),
  ];
}

function writeRow(columns: Table["columns"], row: readonly string[], width: number): readonly Line[] {
  const [name = "", ...rest] = row;
  return [
    ...paragraph(name, { width, indent: INDENT, lead: "- " }),
    ...rest.flatMap((cell, at) =>
      cell === "" ? [] : paragraph(`${columns[at + 1]?.head ?? ""}: ${cell}`, { width, indent: INDENT + 2 }),
    ),
  ];
}
