import { markup, type Markup } from "./markup.js";
import { STYLE } from "./style.js";

/** What a sheet consists of. */
export interface SheetParts {
  /** In the window's title and at the foot of every printed page. */
  readonly title: string;
  /** BCP 47 tag of our own words; English if left out. */
  readonly lang?: string;
  /** What stands above everything, with the one `h1`; the title as a heading if left out. */
  readonly head?: Markup;
  /** Sections of the sheet, each with an `h2`. */
  readonly body: readonly Markup[];
  /** What stands at the very end: signatures. */
  readonly foot?: Markup;
}

// Nothing is fetched and nothing runs, whatever a sheet might come to hold.
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none'; base-uri 'none'";

/** Writes a sheet as one HTML document that needs no network and no script, for the screen and for A4 and Letter. */
export function writePage({ title, lang = "en", head, body, foot }: SheetParts): string {
  const style: Markup = { markup: `<style>\n${STYLE}\n${styleFoot(title)}\n</style>` };
  const page = markup`<!doctype html>
<html lang="${lang}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
${style}
</head>
<body>
<a class="skip" href="#content">To the content</a>
<header>${head ?? markup`<h1 dir="auto">${title}</h1>`}</header>
<main id="content">
${body.map((part) => markup`${part}\n`)}</main>
${foot === undefined ? null : markup`<footer>${foot}</footer>\n`}</body>
</html>
`;
  return page.markup;
}

/** Longer titles would run out of the margin of a page. */
const MOST_IN_MARGIN = 60;

/** The running foot of printed pages; browsers that know no margin boxes leave it out. */
function styleFoot(title: string): string {
  const characters = [...title];
  const short =
    characters.length > MOST_IN_MARGIN ? `${characters.slice(0, MOST_IN_MARGIN - 1).join("")}…` : title;
  const font = "font: 8pt system-ui, Arial, sans-serif; color: #444;";
  return `@page { @bottom-left { content: ${quoteForStyle(short)}; ${font} } @bottom-right { content: "Page " counter(page) " of " counter(pages); ${font} } }`;
}

/** A text as a string of CSS in which nothing can end the string or the style element. */
function quoteForStyle(text: string): string {
  const escaped = text.replace(
    /[^A-Za-z0-9 ]/gu,
    (character) => `\\${(character.codePointAt(0) ?? 0).toString(16)} `,
  );
  return `"${escaped}"`;
}
