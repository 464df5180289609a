import { markup, type Markup, type Piece } from "./markup.js";

/** A box to tick, with what is ticked. */
export function tickBox(label: Piece): Markup {
  return markup`<label><input type="checkbox"><span>${label}</span></label>`;
}

/** A box to tick whose name stands elsewhere, as in a cell of a table. */
export function namedTickBox(name: string): Markup {
  return markup`<label><input type="checkbox" aria-label="${name}"></label>`;
}

/** A line to write on, below its label. */
export function field(label: Piece): Markup {
  return markup`<label class="field"><span>${label}</span><input type="text" autocomplete="off"></label>`;
}

/** A line to write on whose name stands elsewhere, as in a cell of a table; with the unit of what is to be written. */
export function namedField(name: string, unit: string | null = null): Markup {
  const input = markup`<input type="text" autocomplete="off" aria-label="${unit === null ? name : `${name}, ${unit}`}">`;
  return unit === null
    ? input
    : markup`<span class="measure">${input}<span class="small">${unit}</span></span>`;
}

/** Lines to write on, side by side as far as there is room. */
export function fields(...content: readonly Markup[]): Markup {
  return markup`<div class="fields keep">${content}</div>`;
}

/** The same for what takes more words. */
export function roomyFields(...content: readonly Markup[]): Markup {
  return markup`<div class="fields roomy keep">${content}</div>`;
}

/** Boxes to tick, side by side as far as there is room, or one below the other. */
export function tickList(labels: readonly Piece[], isDown = false): Markup {
  const items = labels.map((label) => markup`<li>${tickBox(label)}</li>`);
  return markup`<ul class="ticks${isDown ? " down" : ""}">${items}</ul>`;
}

/** A section of the sheet under an `h2`; the heading carries the id, so that a link leads to it. */
export function section(id: string, title: Piece, ...content: readonly Piece[]): Markup {
  return markup`<section aria-labelledby="${id}"><h2 id="${id}">${title}</h2>${content}</section>`;
}

/** A section that starts a page of its own on paper. */
export function pageSection(id: string, title: Piece, ...content: readonly Piece[]): Markup {
  return markup`<section class="new-page" aria-labelledby="${id}"><h2 id="${id}">${title}</h2>${content}</section>`;
}

/** A column of a table. */
export interface Column {
  readonly head: string;
  /** Numbers stand at the right of their column. */
  readonly isNumber?: boolean;
  /** Of the room that the columns share; a narrow one holds a box to tick, a slim one a short word. */
  readonly width?: "wide" | "half" | "third" | "quarter" | "fifth" | "sixth" | "slim" | "narrow";
}

type Row = readonly Piece[];

/** Rows that belong together, under a heading of their own. */
export interface RowGroup {
  readonly head: Piece;
  readonly rows: readonly Row[];
}

/** A table with its caption; the first cell of each row names the row. On a phone the cells stand below each other. */
export function table(caption: Piece, columns: readonly Column[], rows: readonly Row[]): Markup {
  return writeTable(caption, columns, markup`<tbody>${writeRows(columns, rows)}</tbody>`);
}

/** A table whose rows stand in groups. */
export function groupedTable(
  caption: Piece,
  columns: readonly Column[],
  groups: readonly RowGroup[],
): Markup {
  const bodies = groups.map(
    ({ head, rows }) =>
      markup`<tbody><tr class="group"><th scope="rowgroup" colspan="${columns.length}">${head}</th></tr>${writeRows(columns, rows)}</tbody>`,
  );
  return writeTable(caption, columns, bodies);
}

function writeTable(caption: Piece, columns: readonly Column[], bodies: Piece): Markup {
  const heads = columns.map((column) => markup`<th scope="col"${writeClass(column)}>${column.head}</th>`);
  return markup`<table><caption>${caption}</caption><thead><tr>${heads}</tr></thead>${bodies}</table>`;
}

function writeRows(columns: readonly Column[], rows: readonly Row[]): readonly Markup[] {
  return rows.map((cells) => {
    const written = cells.map((cell, at) => writeCell(columns[at] ?? { head: "" }, cell, at === 0));
    return markup`<tr>${written}</tr>\n`;
  });
}

function writeCell(column: Column, cell: Piece, isFirst: boolean): Markup {
  return isFirst
    ? markup`<th scope="row"${writeClass(column)}>${cell}</th>`
    : markup`<td data-head="${column.head}"${writeClass(column)}>${cell}</td>`;
}

function writeClass({ isNumber, width }: Column): Markup | null {
  const classes = [...(isNumber === true ? ["number"] : []), ...(width === undefined ? [] : [width])];
  return classes.length === 0 ? null : markup` class="${classes.join(" ")}"`;
}

/** Labels with what they say, side by side; pairs without content are left out. */
export function facts(pairs: readonly (readonly [label: string, content: Piece])[]): Markup {
  const told = pairs.filter(([, content]) => content !== null && content !== false);
  return markup`<dl class="facts">${told.map(([label, content]) => markup`<dt>${label}</dt><dd>${content}</dd>`)}</dl>`;
}
