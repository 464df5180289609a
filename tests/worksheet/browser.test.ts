import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderHtml, renderSetupHtml } from "../../src/index.js";
import { LINES, aPlan } from "../report/a-plan.js";
import { aBigPlan } from "./browser/big-plan.js";
import { findChromium } from "./browser/find-chromium.js";
import { findBarriers, findOverflow, findSpills, openSheet, readPdf } from "./browser/open-card.js";
import { readDemoCards } from "./demo-cards.js";
import { HOSTILE_TEXTS, withTexts } from "./hostile.js";
import { FULL, HOSTILE, POOR } from "./setup-results.js";

const CHROMIUM = findChromium();
const IS_REQUIRED = (process.env["CI"] ?? "") !== "";
const HINT = "no Chromium found: install one or name it by CHROMIUM_PATH (sh .ci/browser.sh says how)";

interface Sheet {
  readonly name: string;
  readonly html: string;
  /** A sheet of paper for each of these at the most. */
  readonly mostPages: number;
}

/** Pages of A4 or Letter on which a card, and the sheet of its set-up alone, have to fit; with little to spare. */
const MOST_PAGES: Readonly<Record<string, readonly [card: number, setup: number]>> = {
  "front-collision": [22, 11],
  glass: [16, 9],
  "lift-kit": [18, 8],
  "rear-quarter": [22, 4],
};

const demos: readonly Sheet[] = readDemoCards().flatMap(({ name, job, plan, setup }) => {
  const { operations, findings } = job;
  const [card = 0, alone = 0] = MOST_PAGES[name] ?? [];
  return (["mm", "in"] as const).flatMap((units) => [
    {
      name: `${name}, set up, in ${units}`,
      html: renderHtml(plan, { operations, findings, setup, units }),
      mostPages: card,
    },
    {
      name: `${name}, the set-up alone, in ${units}`,
      html: renderSetupHtml(setup, { units }),
      mostPages: alone,
    },
  ]);
});

const hostile: readonly Sheet[] = [
  ...Object.entries(HOSTILE_TEXTS).map(([name, text]) => ({
    name,
    html: renderHtml(withTexts(aPlan(), text), { operations: LINES.map((line) => ({ ...line, text })) }),
    mostPages: 30,
  })),
  { name: "a set-up with hostile names", html: renderSetupHtml(HOSTILE, { units: "in" }), mostPages: 30 },
  { name: "a set-up of which little is known", html: renderSetupHtml(POOR), mostPages: 12 },
  {
    name: "a plan with a full set-up",
    html: renderHtml(aPlan(), { operations: LINES, setup: FULL }),
    mostPages: 40,
  },
  { name: "40 requirements", html: renderHtml(aBigPlan(), { operations: LINES }), mostPages: 60 },
];

const SHEETS = [...demos, ...hostile];

if (CHROMIUM === null) withoutBrowser();
else withBrowser(CHROMIUM);

function withoutBrowser(): void {
  if (IS_REQUIRED)
    it("looks at the sheets in a browser", () => {
      expect.fail(HINT);
    });
  else it.skip(`looks at the sheets in a browser: ${HINT}`);
}

function withBrowser(executablePath: string): void {
  describe("sheets in a browser", { timeout: 120_000 }, () => {
    checkSheets(executablePath);
  });
}

function checkSheets(executablePath: string): void {
  let browser: Browser;
  const folder = mkdtempSync(join(tmpdir(), "sheets-"));

  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath,
      args: ["--no-sandbox", "--disable-background-networking"],
    });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
  });

  describe.each(SHEETS)("$name", ({ name, html, mostPages }) => {
    const file = (rest: string): string => join(folder, `${name.replace(/[^a-z0-9]+/gi, "-")}-${rest}`);

    it("fits phone, tablet and desk, asks for nothing and has nothing to complain of", async () => {
      const { page, requests, complaints } = await openSheet(browser, html, 360);
      for (const width of [360, 800, 1280]) {
        await page.setViewportSize({ width, height: 1000 });
        expect(await findOverflow(page), `at ${width} px`).toEqual([]);
        expect(await findSpills(page), `at ${width} px`).toEqual([]);
        writeFileSync(file(`${width}.png`), await page.screenshot());
      }
      expect([requests, complaints]).toEqual([[], []]);
      await page.context().close();
    });

    it("has no barrier that axe-core knows of, on the phone and on the desk", async () => {
      const { page } = await openSheet(browser, html, 360, { bypassCSP: true });
      expect(await findBarriers(page)).toEqual([]);
      await page.setViewportSize({ width: 1280, height: 1000 });
      expect(await findBarriers(page)).toEqual([]);
      await page.context().close();
    });

    it("prints on A4 and Letter", async () => {
      // The paper's width less the margins at the sides, in pixels of 1/96 inch.
      const { page } = await openSheet(browser, html, Math.floor(((210 - 30) / 25.4) * 96));
      await page.emulateMedia({ media: "print" });
      expect(await findOverflow(page)).toEqual([]);
      expect(await findSpills(page)).toEqual([]);
      for (const [format, width, height] of [
        ["A4", 595, 842],
        ["Letter", 612, 792],
      ] as const) {
        const pdf = await page.pdf({ format });
        writeFileSync(file(`${format}.pdf`), pdf);
        const read = readPdf(pdf);
        expect(read.pages, format).toBeGreaterThan(0);
        expect(read.pages, format).toBeLessThanOrEqual(mostPages);
        expect(Math.abs(read.width - width), format).toBeLessThan(2);
        expect(Math.abs(read.height - height), format).toBeLessThan(2);
      }
      await page.context().close();
    });
  });

  it("would be found out", async () => {
    const bad = `<!doctype html><html lang="en"><body style="margin:0"><h1>T</h1><input>
      <p style="width:50px">${"x".repeat(80)}</p><div style="width:2000px">wide</div>
      <img src="http://elsewhere.test/a.png" alt=""></body></html>`;
    const { page, requests, complaints } = await openSheet(browser, bad, 800);
    expect((await findBarriers(page)).join()).toContain("label: ");
    expect((await findOverflow(page)).join()).toContain("2000px");
    expect((await findSpills(page)).join()).toContain("xxx");
    expect(requests).toEqual(["http://elsewhere.test/a.png"]);
    expect(complaints.join()).toContain("Failed to load");
    await page.context().close();
  });

  it("can be filled in without any script", async () => {
    const { page } = await openSheet(browser, renderHtml(aPlan(), { operations: LINES }), 800);
    const box = page.getByLabel("Cleared", { exact: true });
    await box.check();
    expect(await box.isChecked()).toBe(true);
    await page.getByLabel("Record that shows it").fill("Cure sheet 12");
    expect(await page.getByLabel("Record that shows it").inputValue()).toBe("Cure sheet 12");
    expect(await page.getByRole("table").first().getByRole("columnheader").count()).toBeGreaterThan(0);
    await page.context().close();
  });

  it("runs nothing that found its way into a sheet", async () => {
    const smuggled = renderHtml(aPlan()).replace("</main>", "<script>document.title = 'run'</script></main>");
    const { page, complaints } = await openSheet(browser, smuggled, 800);
    expect(await page.title()).toBe("Job card RO-9001");
    expect(complaints.join()).toContain("Content Security Policy");
    await page.context().close();
  });
}
