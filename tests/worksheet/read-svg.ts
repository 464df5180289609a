/** What the tests read back from a drawing: numbers only, by the attributes that the drawing itself carries. */
export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function numbersOf(text: string): number[] {
  return (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
}

export function viewBoxOf(svg: string): Rectangle {
  const [x = NaN, y = NaN, width = NaN, height = NaN] = numbersOf(/viewBox="([^"]*)"/.exec(svg)?.[1] ?? "");
  return { x, y, width, height };
}

export function scaleOf(svg: string): number {
  return Number(/Scale 1 : (\d+)/.exec(svg)?.[1]);
}

/** The boxes of all lettering. */
export function labelsOf(svg: string): Rectangle[] {
  return [...svg.matchAll(/data-box="([^"]*)"/g)].map(([, text = ""]) => {
    const [x = NaN, y = NaN, width = NaN, height = NaN] = numbersOf(text);
    return { x, y, width, height };
  });
}

/** The inside of the group of a class, as far as its own end: groups of these classes hold no others. */
export function groupOf(svg: string, name: string): string {
  return new RegExp(`<g class="${name}"[^>]*>(.*?)</g>`).exec(svg)?.[1] ?? "";
}

export function rectanglesOf(svg: string): Rectangle[] {
  return [...svg.matchAll(/<rect x="([^"]*)" y="([^"]*)" width="([^"]*)" height="([^"]*)"/g)].map((match) => {
    const [x = NaN, y = NaN, width = NaN, height = NaN] = match.slice(1).map(Number);
    return { x, y, width, height };
  });
}

/** The spots of every path. */
export function pathsOf(svg: string): { x: number; y: number }[][] {
  return [...svg.matchAll(/<path d="([^"]*)"/g)].map(([, path = ""]) =>
    path
      .split(/[MLZ]/)
      .filter((each) => each !== "")
      .map((each) => {
        const [x = NaN, y = NaN] = numbersOf(each);
        return { x, y };
      }),
  );
}

/** The middles of the drawn targets by their keys. */
export function targetsOf(svg: string): Map<string, { x: number; y: number }> {
  const found = [...svg.matchAll(/data-target="([^"]*)" data-middle="(\S+) (\S+)"/g)];
  return new Map(found.map(([, key = "", x, y]) => [key, { x: Number(x), y: Number(y) }]));
}

export function overlaps(boxes: readonly Rectangle[]): string[] {
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter(
        (b) =>
          a.x + 0.02 < b.x + b.width &&
          b.x + 0.02 < a.x + a.width &&
          a.y + 0.02 < b.y + b.height &&
          b.y + 0.02 < a.y + a.height,
      )
      .map((b) => `${JSON.stringify(a)} meets ${JSON.stringify(b)}`),
  );
}

/** Everything that sticks out of the sheet: lettering, lines, rectangles. */
export function outside(svg: string): string[] {
  const sheet = viewBoxOf(svg);
  const isOut = (x: number, y: number): boolean =>
    !(x >= -0.01 && y >= -0.01 && x <= sheet.width + 0.01 && y <= sheet.height + 0.01);
  const corners = [...labelsOf(svg), ...rectanglesOf(svg)].flatMap(({ x, y, width, height }) => [
    { x, y },
    { x: x + width, y: y + height },
  ]);
  return [...corners, ...pathsOf(svg).flat()]
    .filter(({ x, y }) => isOut(x, y))
    .map((spot) => JSON.stringify(spot));
}

/** Tags that were opened and not closed in order, or the other way round. */
export function unbalancedTags(markup: string): string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  for (const [, end, name = "", closed] of markup.matchAll(/<(\/?)([a-z][a-zA-Z0-9]*)[^>]*?(\/?)>/g)) {
    if (closed === "/") continue;
    if (end !== "/") open.push(name);
    else if (open.pop() !== name) wrong.push(name);
  }
  return [...wrong, ...open];
}
