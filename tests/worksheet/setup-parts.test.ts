import { describe, expect, it } from "vitest";
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

  it("give every target its mark, its height and its yaw", () => {
    expect(rowsOf(sectionOf("Set-up S1"), "Marks on the floor")).toEqual([
      [
        "1  Board N1, chequered field 1200 by 800 mm",
        "2650.0 mm ahead of the front axle",
        "11.5 mm right of the centre line",
        "1464.2 mm above the floor there",
        "-0.12°",
      ],
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
    const tapes = rowsOf(sectionOf("Set-up S1"), "Tapes from the wheel centres of the rear axle");
    expect(tapes.map(([tape, show]) => [tape, show])).toEqual([
      ["Left wheel to left end", "5514.3 mm"],
      ["Right wheel to right end", "5517.6 mm"],
      ["Left wheel to right end", "5854.1 mm"],
      ["Right wheel to left end", "5846.2 mm"],
    ]);
    for (const [tape = "", , field = ""] of tapes) {
      expect(field).toContain('<input type="text"');
      expect(field).toContain(`aria-label="${tape}, from the rear axle, Board N1`);
    }
  });

  it("tick off the corrections in the order in which they are made", () => {
    const section = sectionOf("Set-up S1");
    const ticks = [
      ...section
        .slice(section.indexOf("To correct"))
        .matchAll(/<label><input type="checkbox"><span>(.*?)<\/span>/g),
    ];
    expect(ticks.map(([, text]) => text?.split(" ")[0])).toEqual(["Move", "Move", "Turn", "Raise"]);
  });

  it("say the verdicts in words with their probability", () => {
    const rows = rowsOf(sectionOf("Set-up S1"), "Decided");
    expect(rows.map(([what, verdict]) => [what, verdict])).toEqual([
      ["Lateral place of Board N1", "Cannot be decided, 73.0 %"],
      ["Distance of Board N1", "Conforms, 99.9 %"],
    ]);
  });

  it("read tapes in sixteenths of an inch where inches are asked for", () => {
    const [, , , setUp] = setupSections(FULL, { units: "in" }).map(({ markup }) => markup);
    // 5514.3 / 25.4 = 217.098: 217 and 1.57 sixteenths.
    expect(rowsOf(setUp!, "Tapes from the wheel centres of the rear axle")[0]![1]).toBe(
      "217 1/8 in (217.10 in)",
    );
    expect(setUp).toContain("Dimensions in inches.");
  });
});

describe("the arithmetic", () => {
  const appendix = arithmeticAppendix(FULL).markup;

  it("gathers every working by what it is about, with formula, inputs with units, and value", () => {
    expect(rowsOf(appendix, "<bdi>Thrust line</bdi>")).toEqual([
      [
        "heading of the thrust line, left positive",
        '<span class="code">(right - left) / 2</span><br>left = 0.24°; right = 0°',
        "-0.12°",
      ],
      ["total rear toe", '<span class="code">left + right</span><br>left = 0.24°; right = 0°', "0.24°"],
    ]);
    expect(rowsOf(appendix, "<bdi>Board N1")[0]!.slice(1)).toEqual([
      '<span class="code">datum + distance * cos(heading) - lateral * sin(heading)</span><br>datum = 0 mm; distance = 2650 mm; heading = -0.12°; lateral = 0 mm',
      "2649.9942 mm",
    ]);
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
