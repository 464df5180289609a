import { joinWords, tellSetupHead } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import { arithmeticAppendix } from "./arithmetic.js";
import { facts, field, fields } from "./form.js";
import { markup } from "./markup.js";
import { writePage } from "./page.js";
import { setupSections, writeWords, type SetupSheetOptions } from "./setup-parts.js";

/**
 * Writes a set-up as one HTML document for screen and paper: what is missing first, every set-up with its drawings,
 * marks, tapes and decisions, the arithmetic in an appendix. It needs no network and no script.
 */
export function renderSetupHtml(result: SetupResult, options: SetupSheetOptions = {}): string {
  const told = tellSetupHead(result);
  const order = joinWords(told[0]?.[1] ?? "");
  const head = markup`<h1>Set-up of targets</h1>${facts(told.map(([label, text]) => [label, writeWords(text)]))}`;
  return writePage({
    title: result.reference === null ? "Set-up of targets" : `Set-up of targets, ${order}`,
    head,
    body: [...setupSections(result, options), arithmeticAppendix(result)],
    foot: fields(field("Set up by"), field("Checked by"), field("Date")),
  });
}
