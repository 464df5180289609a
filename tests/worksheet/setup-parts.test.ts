import { describe, expect, it } from "vitest";
import type { SetupResult } from "../../src/setup/index.js";
import { arithmeticAppendix } from "../../src/worksheet/arithmetic.js";
import { setupSections } from "../../src/worksheet/setup-parts.js";
import { renderSetupHtml } from "../../src/worksheet/setup-sheet.js";
import { FULL, HOSTILE, HOSTILE_NAMES, POOR } from "./setup-results.js";

const SECTIONS = setupSections(FULL).map(({ markup }) => markup);
const SHEET = renderSetupHtml(FULL);
const SHEETS = [
  ["full", SHEET],
  ["full, in inches", renderSetupHtml(FULL, { units: "in" })],
  ["poor", renderSetupHtml(POOR)],
  ["hostile", renderSetupHtml(HOSTILE)],
] as const;

function titleOf(section: string): string {
  return /<h2[^>]*>(.*?)<\/h2>/.exec(section)?.[1] ?? "";
}

function sectionOf(title: string): string {
  return SECTIONS.find((section) => titleOf(section).startsWith(title)) ?? "";
}

/** Rows of the table of a caption, cell by cell, without markup. */
function rowsOf(section: string, caption: string): string[][] {
  const start = section.indexOf(`<caption>${caption}`);
  const table = section.slice(start, section.indexOf("</table>", start));
  return [...table.slice(table.indexOf("<tbody>")).matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row = ""]) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = ""]) => cell.replace(/<\/?bdi>/g, "")),
  );
}

describe("the sections of a set-up", () => {
  it("put what is missing first and cautions last", () => {
    const titles = SECTIONS.map(titleOf);
    expect(titles.slice(0, 5)).toEqual([
      "Measurements that contradict each other (1)",
      "Missing (1)",
      "To watch (1)",
      "Set-up S1",
      "Set-up S2",
    ]);
    expect(titles.at(-1)).toBe("Cautions for the set-up");
  });

  it("draw each set-up from above and from the side, as large as its scale asks", () => {
    for (const [title, id] of [
      ["Set-up S1", "S1"],
      ["Set-up S2", "S2"],
    ] as const) {
      const section = sectionOf(title);
      expect(section.match(/<figure style="max-width:180mm">/g)).toHaveLength(2);
      expect(section).toContain(`<title>Set-up ${id} from above, Norrvik Fjell</title>`);
      expect(section).toContain(`<title>Set-up ${id} from the right, Norrvik Fjell</title>`);
    }
  });

  it("draw nothing where nothing has a place", () => {
    const figures = (result: SetupResult): number =>
      setupSections(result)
        .map(({ markup }) => markup)
        .join("")
        .split("<figure").length - 1;
    const targets = FULL.targets.slice(0, 1).map((each) => ({ ...each, stands: null, bar: null }));
    const unknown = { ...FULL, bay: null, targets, vehicle: { ...FULL.vehicle, wheelbase: null } };
    expect(figures(unknown)).toBe(0);
    expect(figures({ ...unknown, vehicle: FULL.vehicle })).toBe(2);
    expect(figures({ ...unknown, targets: FULL.targets.slice(0, 1) })).toBe(2);
  });

  it("give every target its mark, its height and its yaw", () => {
    // The ends of the board lie 1200 mm from its middle, turned by 0.12°: 2.5 mm ahead or back.
    expect(rowsOf(sectionOf("Set-up S1"), "Marks on the floor").slice(0, 4)).toEqual([
      [
        "1  Board N1, chequered field 1200 by 800 mm",
        "2650.0 mm ahead of the front axle",
        "11.5 mm right of the centre line",
        "1464.2 mm above the floor there",
        "-0.12°",
      ],
      ["its left end", "2652.5 mm ahead of the front axle", "1188.5 mm left of the centre line", "", ""],
      ["its right end", "2647.5 mm ahead of the front axle", "1211.5 mm right of the centre line", "", ""],
      [
        "2  Corner reflector N4, edge 150 mm",
        "2905.0 mm ahead of the front axle",
        "12.1 mm right of the centre line",
        "516.7 mm above the floor there",
        "-0.12°",
      ],
    ]);
  });

  it("leave a named field for every reading that is still to be taken", () => {
    const tapes = rowsOf(sectionOf("Set-up S1"), "What the tapes have to show");
    expect(tapes.map(([tape, front, , rear]) => [tape, front, rear])).toEqual([
      ["Left wheel to left end", "2680.1 mm", "5514.3 mm"],
      ["Right wheel to right end", "2683.4 mm", "5517.6 mm"],
      ["Left wheel to right end", "3330.2 mm", "5854.1 mm"],
      ["Right wheel to left end", "3316.4 mm", "5846.2 mm"],
    ]);
    for (const [tape = "", , front = "", , rear = ""] of tapes) {
      expect(front).toContain(`aria-label="${tape}, from the front axle, Board N1`);
      expect(rear).toContain(`aria-label="${tape}, from the rear axle, Board N1`);
    }
  });

  it("set asked, measured, verdict and what to do side by side, in the order in which it is done", () => {
    const rows = rowsOf(sectionOf("Set-up S1"), "Asked, measured, and what to do");
    const words = rows.map((row) => row.map((cell) => cell.replace(/<[^>]*>/g, "")));
    expect(words).toEqual([
      [
        "Lateral",
        "0 ±3 mm",
        "-2.7 ±1.0 mm",
        "Cannot be decided, 73.0 %",
        "Move it 2.7 mm to the vehicle&#39;s left.",
      ],
      ["Distance", "2650 ±5 mm", "2652.1 ±1.2 mm", "Conforms, 99.9 %", "May stay."],
      ["Yaw", "0 ±0.3°", "-0.21 ±0.04°", "Not decided", "Turn it 0.21° counter-clockwise seen from above."],
      ["Pitch", "0 ±0.5°", "", "", ""],
      ["Roll", "0 ±0.3°", "", "", ""],
      ["Height", "1464.2 ±5 mm", "1285.0 mm, U not known", "Not decided", "Raise it by 179.2 mm."],
    ]);
    const boxes = rows.map((row) => row.at(-1)?.includes('type="checkbox"'));
    expect(boxes).toEqual([true, false, true, false, false, true]);
    expect(rows[3]![2]).toContain('aria-label="Pitch of Board N1');
  });

  it("let a verdict stand out that does not conform", () => {
    const [board] = FULL.targets;
    const decisions = board!.decisions.map((each) => ({ ...each, verdict: "does-not-conform" as const }));
    const sections = setupSections({ ...FULL, targets: [{ ...board!, decisions }] });
    expect(sections.map(({ markup }) => markup).join("")).toContain(
      "<strong>Does not conform, 73.0 %</strong>",
    );
  });

  it("read tapes in sixteenths of an inch where inches are asked for", () => {
    const [, , , setUp] = setupSections(FULL, { units: "in" }).map(({ markup }) => markup);
    // 5514.3 / 25.4 = 217.098: 217 and 1.57 sixteenths.
    expect(rowsOf(setUp!, "What the tapes have to show")[0]![3]).toBe("217 1/8 in (217.10 in)");
    expect(setUp).toContain("Dimensions in inches.");
  });
});

describe("the arithmetic", () => {
  const appendix = arithmeticAppendix(FULL).markup;

  it("tells each formula once, with its uses below: inputs with units, and value", () => {
    const uses = (formula: string): string[] => {
      const start = appendix.indexOf(`<p class="formula code">${formula}</p>`);
      expect(start, formula).toBeGreaterThan(0);
      expect(appendix.indexOf(`>${formula}<`, start + 30), formula).toBe(-1);
      const list = appendix.slice(start, appendix.indexOf("</ul>", start));
      return [...list.matchAll(/<li>(.*?)<\/li>/g)].map(([, use = ""]) => use.replace(/<[^>]*>/g, ""));
    };
    expect(uses("(right - left) / 2")).toEqual([
      "heading of the thrust line, left positive: left = 0.24°, right = 0° → -0.12°",
    ]);
    expect(uses("left + right")).toEqual(["total rear toe: left = 0.24°, right = 0° → 0.24°"]);
    expect(uses("datum + distance * cos(heading) - lateral * sin(heading)")).toEqual([
      "its middle along the vehicle: datum = 0 mm, distance = 2650 mm, heading = -0.12°, lateral = 0 mm → 2649.9942 mm",
    ]);
  });

  it("repeats no formula that is used again for the same", () => {
    const [working] = FULL.workings;
    const { markup } = arithmeticAppendix({
      ...FULL,
      workings: [working!, { ...working!, gives: "the other way" }],
    });
    expect(markup.split(working!.formula)).toHaveLength(2);
    expect(markup).toContain("<bdi>the other way</bdi>: ");
  });

  it("calls a target by its number, and says which it is", () => {
    const [working] = FULL.workings;
    const gives = `${FULL.targets[1]!.name}: correction, lateral`;
    const { markup } = arithmeticAppendix({ ...FULL, workings: [{ ...working!, gives }] });
    expect(markup).toContain("<bdi>2 correction, lateral</bdi>: ");
    expect(markup).toContain("2 <bdi>Corner reflector N4, edge 150 mm</bdi>");
  });

  it("has the reasons of what conforms, which the tables leave to their numbers", () => {
    expect(appendix).toContain("Distance of Board N1: 2652.1 mm lies within 2645 to 2655 mm");
    expect(appendix).not.toContain("-2.7 mm lies within");
  });

  it("says so where nothing was computed", () => {
    expect(arithmeticAppendix(POOR).markup).toContain("Nothing was computed.");
  });
});

describe("the sheet of a set-up", () => {
  it("says whose it is, and that the procedures are invented", () => {
    expect(SHEET).toContain("<h1>Set-up of targets</h1>");
    expect(SHEET).toContain("<dt>Order</dt><dd><bdi>RO-4711</bdi></dd>");
    expect(SHEET).toContain("INVENTED for demonstration");
    expect(SHEET.indexOf("Arithmetic</h2>")).toBeGreaterThan(SHEET.indexOf("Cautions for the set-up</h2>"));
  });

  it.each(SHEETS)("has ids that are unique, fields that are named, and nothing to load: %s", (_, sheet) => {
    const ids = [...sheet.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [input] of sheet.matchAll(/<input type="text"[^>]*>/g)) {
      const isLabelled = sheet.includes(`</span>${input}</label>`);
      expect(isLabelled || /aria-label="[^"]+"/.test(input)).toBe(true);
    }
    expect(sheet).not.toMatch(/<script|href="(?!#)|src=|url\(/);
  });

  it("shows names from outside as text, each in its own direction of writing", () => {
    const hostile = renderSetupHtml(HOSTILE);
    expect(hostile).not.toContain("<script");
    expect(hostile).not.toMatch(/[\u0007\u202a-\u202e]/);
    expect(hostile).toContain(`<bdi>${HOSTILE_NAMES[1]}</bdi>`);
    expect(hostile).toContain(
      "<bdi>&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &quot;quoted&quot; &#39;names&#39; ]]&gt;</bdi>",
    );
  });

  it("is the same each time", () => {
    expect(renderSetupHtml(structuredClone(FULL))).toBe(SHEET);
  });
});
