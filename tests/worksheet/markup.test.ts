import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { namedField, section, table, tickBox } from "../../src/worksheet/form.js";
import { escapeMarkup, markup, quoted, type Piece } from "../../src/worksheet/markup.js";
import { writePage } from "../../src/worksheet/page.js";
import { check } from "../properties.js";
import { HOSTILE_TEXTS } from "./hostile.js";
import { readTags } from "./read-html.js";

describe("markup", () => {
  it("escapes what stands between the braces, in text and in attributes", () => {
    expect(markup`<p title="${`"a'`}">${"<b> & co"}</p>`.markup).toBe(
      '<p title="&quot;a&#39;">&lt;b&gt; &amp; co</p>',
    );
  });

  it("takes markup as it is, joins lists, writes numbers, and leaves out null and false", () => {
    const pieces: Piece = [markup`<b>1</b>`, [2, null, false, [" <"]]];
    expect(markup`<p>${pieces}</p>`.markup).toBe("<p><b>1</b>2 &lt;</p>");
  });

  it("does not escape twice what was made here", () => {
    expect(markup`${markup`${"&"}`}`.markup).toBe("&amp;");
  });

  it("shows characters that hide or turn text by their code", () => {
    expect(escapeMarkup("a\u202eb\u0000c\ud800")).toBe("a\\u202eb\\u0000c\\ud800");
  });

  it("keeps line breaks and tabs, letters of every script, and joined pictographs", () => {
    const text = "a\n\tb é ש ع 👩‍🔧";
    expect(escapeMarkup(text)).toBe(text);
  });

  it("leaves no raw mark of any text", () => {
    check(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(escapeMarkup(text)).not.toMatch(/[<>"']/);
        expect(escapeMarkup(text).replace(/&(amp|lt|gt|quot|#39);/g, "")).not.toContain("&");
      }),
      200,
    );
  });

  it("gives text from outside its own direction", () => {
    expect(quoted("שלום <").markup).toBe("<bdi>שלום &lt;</bdi>");
  });
});

describe("forms", () => {
  it("name every box and every line to write on", () => {
    expect(tickBox("Done").markup).toBe('<label><input type="checkbox"><span>Done</span></label>');
    expect(namedField('Height "A"', "mm").markup).toContain('aria-label="Height &quot;A&quot;, mm"');
  });

  it("name rows and columns of a table", () => {
    const html = table("Heights", [{ head: "Spot" }, { head: "z", isNumber: true }], [["1", 2]]).markup;
    expect(html).toContain('<th scope="col">Spot</th><th scope="col" class="number">z</th>');
    expect(html).toContain('<th scope="row">1</th><td data-head="z" class="number">2</td>');
    expect(html).toContain("<caption>Heights</caption>");
  });
});

describe("the page", () => {
  const write = (title: string) => writePage({ title, body: [section("a", "A", "x")] });

  it("forbids everything but its own style", () => {
    const policy = readTags(write("T"))
      .find(({ attributes }) => attributes.get("http-equiv") === "Content-Security-Policy")
      ?.attributes.get("content");
    expect(policy?.split("; ")).toEqual(
      expect.arrayContaining(["default-src 'none'", "style-src 'unsafe-inline'", "img-src data:"]),
    );
    expect(policy).not.toContain("script-src");
  });

  it("has one heading, one main part, and a way past the head", () => {
    const tags = readTags(write("T"))
      .filter(({ isEnd }) => !isEnd)
      .map(({ name }) => name);
    for (const name of ["h1", "main", "header", "title", "style"])
      expect(tags.filter((each) => each === name)).toEqual([name]);
    expect(write("T")).toContain('<a class="skip" href="#content">');
    expect(write("T")).toMatch(/^<!doctype html>\n<html lang="en">/);
  });

  it("puts the title at the foot of printed pages, so written that nothing can end the style", () => {
    expect(write("Card A-1")).toContain('content: "Card A\\2d 1";');
    for (const text of Object.values(HOSTILE_TEXTS)) {
      const html = write(text);
      const style = html.slice(html.indexOf("<style>") + 7, html.indexOf("</style>"));
      expect(style).not.toContain("<");
      expect(html.split("</style>")).toHaveLength(2);
      expect(style).toMatch(/@bottom-left \{ content: "(?:[A-Za-z0-9 ]|\\[0-9a-f]+ )*";/);
    }
  });

  it("cuts a long title for the foot of the page only", () => {
    const html = write("x".repeat(200));
    expect(html).toContain(`<title>${"x".repeat(200)}</title>`);
    expect(html).toContain(`content: "${"x".repeat(59)}\\2026 "`);
  });
});
