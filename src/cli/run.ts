import { readFileSync } from "node:fs";
import { CommanderError, type Command } from "commander";
import { ERROR_CODES, InputError, formatIssue, type ErrorCode, type Issue } from "../errors.js";
import { command, type Context } from "./command.js";
import { driveCommand } from "./drive.js";
import { explainCommand } from "./explain.js";
import { planCommand } from "./plan.js";
import { rulesCommand } from "./rules.js";
import { setupCommand } from "./setup.js";
import type { Terminal } from "./terminal.js";

/** How many issues are printed before the rest is only counted. */
const MOST_ISSUES = 20;

/**
 * Carries out one command line, without the program's own name, and gives the exit status: 0 done, 1 something to
 * object to, 2 input or usage refused, 3 a pack refused, 70 a defect of the program.
 */
export async function run(argv: readonly string[], terminal: Terminal): Promise<number> {
  let status = 0;
  const program = makeProgram({
    terminal,
    setStatus: (next) => {
      status = next;
    },
  });
  try {
    await program.parseAsync([...argv], { from: "user" });
    return status;
  } catch (error) {
    return report(error, terminal);
  }
}

function makeProgram(context: Context): Command {
  const program = command(
    "repair-calibration",
    "Which calibrations a repair makes due, and why",
    "Which driver-assistance sensors must be calibrated after a vehicle repair, in what order, and why.",
    ["plan job.json", "explain job.json front-radar", "rules show windshield-replaced-renews-optical-path"],
  )
    .version(readVersion(), "-V, --version", "Show the version")
    .addCommand(planCommand(context))
    .addCommand(explainCommand(context))
    .addCommand(setupCommand(context))
    .addCommand(driveCommand(context))
    .addCommand(rulesCommand(context))
    .helpCommand("help [COMMAND]", "Show the help of a command");
  settle(program, context.terminal);
  return program;
}

/** What has mostly become of an argument that seems to be missing. */
const ABOUT_LISTS =
  "An option that takes several files takes every word up to the next option: write it last.";

/** Commands that were made apart inherit nothing, so each is told where to write and not to end the process. */
function settle(one: Command, terminal: Terminal): void {
  const takesLists = one.options.some(({ variadic }) => variadic);
  one
    .exitOverride()
    .showHelpAfterError("See --help for how the command is written.")
    .configureOutput({
      outputError: (message, write) => {
        write(message);
        if (takesLists && message.includes("missing required argument")) write(`${ABOUT_LISTS}\n`);
      },
      writeOut: terminal.writeOut,
      writeErr: terminal.writeError,
      getOutHelpWidth: () => 80,
      getErrHelpWidth: () => 80,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    });
  for (const each of one.commands) settle(each, terminal);
}

function readVersion(): string {
  const manifest: unknown = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
  const hasVersion = manifest !== null && typeof manifest === "object" && "version" in manifest;
  return hasVersion ? String(manifest.version) : "unknown";
}

function report(error: unknown, terminal: Terminal): number {
  // Commander has already written its message; help and version end here as well, with status 0.
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof InputError) {
    terminal.writeError(describeRefusal(error));
    return error.kind === "input" ? 2 : 3;
  }
  const about = error instanceof Error ? (error.stack ?? error.message) : String(error);
  terminal.writeError(`This is a defect of the program, not of the input:\n${about}\n`);
  return 70;
}

/** Codes whose hint, which has to fit every case, adds nothing to what was expected in the case at hand. */
const SAYS_LESS: ReadonlySet<ErrorCode> = new Set([
  "empty-file",
  "invalid-value",
  "missing-key",
  "missing-measurement",
  "not-utf8",
  "pack-unreadable",
  "unknown-key",
  "unknown-reference",
  "unknown-schema",
  "unwritable-file",
  "usage",
]);

function needsHint({ code, expected, nearest }: Issue): boolean {
  return !SAYS_LESS.has(code) || (expected === undefined && nearest === undefined);
}

function describeRefusal({ issues }: InputError): string {
  const shown = issues.slice(0, MOST_ISSUES);
  const more = issues.length - shown.length;
  const codes = [...new Set(shown.filter(needsHint).map(({ code }) => code))];
  return [
    ...shown.map(formatIssue),
    ...(more === 0 ? [] : [`and ${more} more`]),
    ...codes.slice(0, 3).map((code) => `${code}: ${ERROR_CODES[code].hint}`),
    "",
  ].join("\n");
}
