import { formatTrimmed } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { pageSection, table } from "./form.js";
import { markup, type Markup } from "./markup.js";

type Working = SetupResult["workings"][number];

const UNITS: Readonly<Record<string, string>> = { deg: "°", "1": "" };

/** Decimals after which nothing that was measured is left. */
const DIGITS = 4;

/** Every computed number with its formula and what went into it, gathered by what it is about. */
export function arithmeticAppendix({ workings }: SetupResult): Markup {
  const about = [...new Set(workings.map((each) => each.about))];
  const tables = about.map((what) =>
    writeWorkings(
      what,
      workings.filter((each) => each.about === what),
    ),
  );
  const body = workings.length === 0 ? markup`<p>Nothing was computed.</p>` : tables;
  return pageSection(
    "setup-arithmetic",
    "Arithmetic",
    markup`<p>Angles in degrees, lengths in millimetres. Each line can be computed again by hand.</p>`,
    body,
  );
}

function writeWorkings(about: string, workings: readonly Working[]): Markup {
  const tableOf = table(
    markup`<bdi>${about}</bdi>`,
    [{ head: "What" }, { head: "Formula, and with what", width: "wide" }, { head: "Gives", isNumber: true }],
    workings.map(({ gives, formula, inputs, value, unit }) => [
      gives,
      markup`<span class="code">${formula}</span><br>${inputs.map((input) => `${input.name} = ${write(input.value, input.unit)}`).join("; ")}`,
      write(value, unit),
    ]),
  );
  return markup`<div class="small">${tableOf}</div>`;
}

function write(value: number, unit: string): string {
  const text = Number.isFinite(value) ? formatTrimmed(value, DIGITS) : String(value);
  const name = UNITS[unit] ?? ` ${unit}`;
  return `${text}${name}`;
}
