import { Argument, Command, InvalidArgumentError, Option } from "commander";
import pico from "picocolors";
import { InputError, nearestOf } from "../errors.js";
import type { Role, Styler } from "../index.js";
import type { Terminal } from "./terminal.js";

/** How wide a page is on paper and on any screen that has room for it. */
const PAGE_WIDTH = 80;

/** What every command gets beside its own arguments. */
export interface Context {
  readonly terminal: Terminal;
  /** The exit status, where a command is carried out and still has something to object to. */
  readonly setStatus: (status: number) => void;
}

/**
 * How text is to be laid out: as wide as the screen, or elsewhere as COLUMNS asks, at most as wide as paper; in colour on
 * a screen only.
 */
export function pageOf(
  terminal: Terminal,
  out?: string,
): { readonly width: number; readonly styler: Styler | undefined } {
  const toScreen = terminal.isScreen && (out === undefined || out === "-");
  const asked = Number.parseInt(terminal.env["COLUMNS"] ?? "", 10);
  const columns = (toScreen ? terminal.columns : undefined) ?? (asked > 0 ? asked : PAGE_WIDTH);
  const width = Math.min(PAGE_WIDTH, columns);
  const noColour = terminal.env["NO_COLOR"];
  const hasColour = toScreen && (noColour === undefined || noColour === "");
  return { width, styler: hasColour ? colourLine : undefined };
}

const colours = pico.createColors(true);

const colourLine: Styler = (role: Role, text: string): string => {
  switch (role) {
    case "title":
    case "strong":
      return colours.bold(text);
    case "heading":
      return colours.bold(colours.cyan(text));
    case "alert":
      return colours.yellow(text);
    case "faint":
      return colours.dim(text);
    case "plain":
      return text;
  }
};

/** A list option that may be given several times, and with several values each time. */
export function listOption(flags: string, description: string): Option {
  return new Option(flags, description)
    .argParser((value: string, before: readonly string[] | undefined) => [...(before ?? []), value])
    .default([], "none");
}

/** An option with a closed list of words; a misspelt one is answered with the nearest. */
export function wordOption(flags: string, description: string, words: readonly string[]): Option {
  const option = new Option(flags, `${description}: ${words.join(", ")}`);
  return option.argParser((value: string) => {
    if (words.includes(value)) return value;
    const nearest = nearestOf(value, words);
    const hint = nearest === undefined ? "" : `; did you mean "${nearest}"?`;
    throw new InvalidArgumentError(`Expected one of ${words.join(", ")}${hint}`);
  });
}

/** Refuses a command line that cannot be carried out as written; `expected` says how it could be. */
export function refuseUsage(message: string, expected?: string): never {
  const hint = expected === undefined ? {} : { expected };
  throw new InputError("input", [{ code: "usage", pointer: "", message, ...hint }]);
}

export function argument(name: string, description: string): Argument {
  return new Argument(name, description);
}

/** A command with its help set the way all are. */
export function command(
  name: string,
  summary: string,
  description: string,
  examples: readonly string[],
): Command {
  return new Command(name)
    .description(description)
    .summary(summary)
    .helpOption("-h, --help", "Show this help")
    .addHelpText(
      "after",
      `\nExamples:\n${examples.map((each) => `  $ repair-calibration ${each}`).join("\n")}`,
    )
    .addHelpText("after", `\n${EXIT_STATUSES}`);
}

const EXIT_STATUSES = `Exit status:
  0  done
  1  done, and there is something to object to (plan --cross-check disagrees)
  2  the input or the command was refused; standard error says where and why
  3  a rule pack or a procedure pack was refused
  70 a defect of this program`;
