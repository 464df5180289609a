import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Browser, Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const ADDRESS = "http://card.test/";

/** A sheet as a browser shows it, with what it asked for and complained about on the way. */
export interface OpenSheet {
  readonly page: Page;
  /** Requests other than that for the sheet itself. */
  readonly requests: string[];
  /** Errors and warnings of the console, and exceptions. */
  readonly complaints: string[];
}

/** Shows a sheet in a window of its own; no request leaves the machine. */
export async function openSheet(
  browser: Browser,
  html: string,
  width: number,
  { bypassCSP = false }: { readonly bypassCSP?: boolean } = {},
): Promise<OpenSheet> {
  const context = await browser.newContext({ viewport: { width, height: 1000 }, bypassCSP });
  const page = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await context.route("**/*", async (route) => {
    const url = route.request().url();
    if (url === ADDRESS) return route.fulfill({ contentType: "text/html; charset=utf-8", body: html });
    // A browser asks for an icon of its own accord, whatever the page holds.
    if (url !== `${ADDRESS}favicon.ico`) requests.push(url);
    return route.abort();
  });
  await page.goto(ADDRESS);
  return { page, requests, complaints };
}

// These run in the page. They are texts, since the types of a browser's document are no part of this project.

const RUN_AXE = `axe.run().then(({ violations }) =>
  violations.flatMap(({ id, help, nodes }) => nodes.map(({ html }) => id + ": " + help + ": " + html.slice(0, 200))))`;

const FIND_OVERFLOW = `(() => {
  const root = document.documentElement;
  const width = root.clientWidth;
  const wide = root.scrollWidth > width ? ["the page is " + root.scrollWidth + " wide in " + width] : [];
  const out = [...document.querySelectorAll("body *")].filter((element) => {
    if (element.closest(".skip, .hidden, thead, defs, pattern, clipPath") !== null) return false;
    const { left, right, width: own } = element.getBoundingClientRect();
    return own > 0 && (left < -0.5 || right > width + 0.5);
  });
  return [...wide, ...out.map((element) => element.outerHTML.slice(0, 200))];
})()`;

const FIND_SPILLS = `(() => {
  const boxes = "p, li, dd, dt, th, td, h1, h2, h3, legend, label, .frame, .heavy, .double";
  return [...document.querySelectorAll(boxes)]
    .filter(
      (element) =>
        element.closest(".hidden, thead") === null &&
        element.querySelector(".hidden") === null &&
        element.scrollWidth > element.clientWidth + 1 &&
        getComputedStyle(element).display !== "inline",
    )
    .map((element) => element.scrollWidth + " in " + element.clientWidth + ": " + element.outerHTML.slice(0, 200));
})()`;

/** What axe-core has to say against the page: rule and element. */
export async function findBarriers(page: Page): Promise<readonly string[]> {
  await page.evaluate(AXE);
  return page.evaluate<readonly string[]>(RUN_AXE);
}

/** The elements that stick out of the page to the left or right, unless they are hidden on purpose. */
export function findOverflow(page: Page): Promise<readonly string[]> {
  return page.evaluate<readonly string[]>(FIND_OVERFLOW);
}

/** The texts that run out of their own box, as an endless word does out of a narrow column. */
export function findSpills(page: Page): Promise<readonly string[]> {
  return page.evaluate<readonly string[]>(FIND_SPILLS);
}

/** Pages of a PDF as Chromium writes it, with the size of the sheet in points. */
export function readPdf(pdf: Buffer): {
  readonly pages: number;
  readonly width: number;
  readonly height: number;
} {
  const text = pdf.toString("latin1");
  const box = /\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]/.exec(text);
  return {
    pages: [...text.matchAll(/\/Type\s*\/Page(?![a-zA-Z])/g)].length,
    width: Number(box?.[1]),
    height: Number(box?.[2]),
  };
}
