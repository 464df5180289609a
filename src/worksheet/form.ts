import { markup, type Markup, type Piece } from "./markup.js";

/** A box to tick, with what is ticked. */
export function tickBox(label: Piece): Markup {
  return markup`<label><input type="checkbox"><span>${label}</span></label>`;
}

/** A box to tick whose name stands elsewhere, as in a cell of a table. */
export function namedTickBox(name: string): Markup {
  return markup`<label><input type="checkbox" aria-label="${name}"></label>`;
}

/** A line to write on, below its label; a wide one takes a row for itself. */
export function field(label: Piece, isWide = false): Markup {
  return markup`<label class="field${isWide ? " wide" : ""}"><span>${label}</span><input type="text" autocomplete="off"></label>`;
}

/** A line to write on whose name stands elsewhere, as in a cell of a table. */
export function namedField(name: string): Markup {
  return markup`<input type="text" autocomplete="off" aria-label="${name}">`;
}

/** Lines to write on, side by side as far as there is room. */
export function fields(...content: readonly Markup[]): Markup {
  return markup`<div class="fields keep">${content}</div>`;
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

/** A column of a table. */
export interface Column {
  readonly head: Piece;
  /** Numbers stand at the right of their column. */
  readonly isNumber?: boolean;
}

/** A table with its caption; the first cell of each row names the row. */
export function table(
  caption: Piece,
  columns: readonly Column[],
  rows: readonly (readonly Piece[])[],
): Markup {
  const classOf = (at: number): Markup | null =>
    columns[at]?.isNumber === true ? markup` class="number"` : null;
  const heads = columns.map(({ head }, at) => markup`<th scope="col"${classOf(at)}>${head}</th>`);
  const writeCell = (cell: Piece, at: number): Markup =>
    at === 0 ? markup`<th scope="row"${classOf(at)}>${cell}</th>` : markup`<td${classOf(at)}>${cell}</td>`;
  const body = rows.map((cells) => markup`<tr>${cells.map(writeCell)}</tr>\n`);
  return markup`<table><caption>${caption}</caption><thead><tr>${heads}</tr></thead><tbody>
${body}</tbody></table>`;
}

/** Labels with what they say, side by side; pairs without content are left out. */
export function facts(pairs: readonly (readonly [label: string, content: Piece])[]): Markup {
  const told = pairs.filter(([, content]) => content !== null && content !== false);
  return markup`<dl class="facts">${told.map(([label, content]) => markup`<dt>${label}</dt><dd>${content}</dd>`)}</dl>`;
}
