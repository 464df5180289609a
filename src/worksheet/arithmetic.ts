import { formatTrimmed } from "../measure/index.js";
import { tellConforming } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import { section } from "./form.js";
import { markup, quoted, type Markup } from "./markup.js";

type Working = SetupResult["workings"][number];

const UNITS: Readonly<Record<string, string>> = { deg: "°", "1": "" };

/** Decimals after which nothing that was measured is left. */
const DIGITS = 4;

/** Every computed number: each formula once, with its uses below, gathered by what they are about. */
export function arithmeticAppendix(result: SetupResult): Markup {
  const { workings, targets } = result;
  const names = targets.map(({ name }) => name);
  const parts = groupBy(workings, ({ about }) => about).map(
    ([about, its]) => markup`<section><h3>${quoted(about)}</h3>${writeFormulas(its, names)}</section>`,
  );
  const conforming = tellConforming(result);
  const body =
    parts.length + conforming.length === 0
      ? markup`<p>Nothing was computed.</p>`
      : markup`<div class="fine">${parts}${writeConforming(conforming)}</div>`;
  const legend = names.map((name, index) => markup`; ${index + 1} ${quoted(name)}`);
  return section(
    "setup-arithmetic",
    "Arithmetic",
    markup`<p class="small">Each formula, then every number that it gave and from what: each can be computed again by hand. Angles in degrees, lengths in millimetres${names.length === 0 ? null : legend}.</p>`,
    body,
  );
}

function writeFormulas(workings: readonly Working[], names: readonly string[]): readonly Markup[] {
  return groupBy(workings, ({ formula }) => formula).map(
    ([formula, uses]) => markup`<p class="formula code">${formula}</p>
<ul class="uses">${uses.map((use) => writeUse(use, names))}</ul>`,
  );
}

function writeUse({ gives, inputs, value, unit }: Working, names: readonly string[]): Markup {
  const from = inputs.map((input) => `${input.name} = ${write(input.value, input.unit)}`).join(", ");
  return markup`<li>${quoted(shorten(gives, names))}: ${from} → <strong>${write(value, unit)}</strong></li>\n`;
}

/** A target's number instead of its name: "1 tape, front left wheel to left end". */
function shorten(gives: string, names: readonly string[]): string {
  const at = names.findIndex((name) => gives.startsWith(`${name}: `));
  const name = names[at];
  return name === undefined ? gives : `${at + 1} ${gives.slice(name.length + 2)}`;
}

/** The reasons of what conforms: the tables give the numbers alone. */
function writeConforming(sentences: readonly string[]): Markup | null {
  if (sentences.length === 0) return null;
  return markup`<section><h3>What conforms, and why</h3>
<ul class="uses">${sentences.map((each) => markup`<li>${quoted(each)}</li>\n`)}</ul></section>`;
}

function write(value: number, unit: string): string {
  const text = Number.isFinite(value) ? formatTrimmed(value, DIGITS) : String(value);
  const name = UNITS[unit] ?? ` ${unit}`;
  return `${text}${name}`;
}

function groupBy<T>(
  entries: readonly T[],
  keyOf: (entry: T) => string,
): readonly (readonly [string, readonly T[]])[] {
  const groups = new Map<string, T[]>();
  for (const entry of entries) groups.set(keyOf(entry), [...(groups.get(keyOf(entry)) ?? []), entry]);
  return [...groups];
}
