import type { Command } from "commander";
import { InputError } from "../errors.js";
import {
  planCalibrations,
  renderMermaid,
  renderText,
  type Job,
  type Plan,
  type PlanOptions,
} from "../index.js";
import { argument, command, listOption, pageOf, wordOption, type Context } from "./command.js";
import { assembleRulebook, readProcedures } from "./packs.js";
import { createReader, type Reader } from "./read-input.js";
import type { Terminal } from "./terminal.js";
import { refuseOverwriting, writeResult } from "./write-output.js";

/** What plan and explain both read. */
export interface Given {
  readonly job: Job;
  readonly options: PlanOptions;
  readonly plan: Plan;
}

export const JOB_ARGUMENT = argument(
  "<JOB.json>",
  "The work order (repair-calibration/job@1); - reads standard input",
);
export const proceduresOption = () =>
  listOption("--procedures <FILE...>", "Procedure packs of the vehicle's maker; write them after JOB.json");
export const rulesOption = () =>
  listOption("--rules <DIR...>", "Rule packs to add; one with a bundled pack's id takes its place");

/** Reads job and packs, and plans; what is refused names its file. */
export async function readGiven(
  path: string,
  packs: { readonly procedures: readonly string[]; readonly rules: readonly string[] },
  terminal: Terminal,
): Promise<Given> {
  const reader = createReader(terminal, [path, ...packs.procedures]);
  const rulebook = assembleRulebook(packs.rules);
  const procedures = await readProcedures(packs.procedures, reader);
  // The library checks the shape, and says what is wrong with it.
  const job = (await reader.readDocument(path, "input")) as Job;
  const options = { rulebook, procedures };
  try {
    return { job, options, plan: planCalibrations(job, options) };
  } catch (error) {
    throw ofJob(error, path, reader);
  }
}

/** Only what is wrong with the job stands in the job's file. */
export function ofJob(error: unknown, path: string, reader: Reader): unknown {
  return error instanceof InputError && error.kind === "input" ? reader.locate(error, path) : error;
}

interface PlanFlags {
  readonly procedures: readonly string[];
  readonly rules: readonly string[];
  readonly format: "text" | "json" | "mermaid";
  readonly out?: string;
  readonly crossCheck?: true;
}

/** `plan JOB.json`: what is due, why, and in what order. */
export function planCommand(context: Context): Command {
  return command(
    "plan",
    "Say what a repair makes due, and why",
    "Say what a repair makes due, why, before what, and in what order; open questions come first.",
    [
      "plan job.json",
      "plan job.json --procedures fjell-2024.json --out plan.txt",
      "plan - --format json < job.json",
    ],
  )
    .addArgument(JOB_ARGUMENT)
    .addOption(proceduresOption())
    .addOption(rulesOption())
    .addOption(
      wordOption("--format <FORMAT>", "Form of the result", ["text", "json", "mermaid"]).default("text"),
    )
    .option("--out <FILE>", "Write the result to a file, which appears whole or not at all")
    .option("--cross-check", "Decide a second time by other means; exit with 1 and no plan if the two differ")
    .action(async (path: string, flags: PlanFlags) => {
      refuseOverwriting(flags.out, [path, ...flags.procedures]);
      const given = await readGiven(path, flags, context.terminal);
      if (flags.crossCheck === true && !(await agrees(given, context))) return;
      writeResult(render(given, flags, context), flags.out, context.terminal);
    });
}

async function agrees({ job, options }: Given, { terminal, setStatus }: Context): Promise<boolean> {
  // Loaded only here: nobody else needs the second engine.
  const { crossCheck } = await import("../reference/index.js");
  const { agrees: isAgreed, differences } = await crossCheck(job, options);
  if (isAgreed) return true;
  terminal.writeError(
    [
      "The two ways of deciding do not agree, so no plan is written:",
      ...differences.map((each) => `- ${each}`),
      "",
    ].join("\n"),
  );
  setStatus(1);
  return false;
}

function render({ plan, job }: Given, flags: PlanFlags, { terminal }: Context): string {
  switch (flags.format) {
    case "json":
      return `${JSON.stringify(plan, null, 2)}\n`;
    case "mermaid":
      return renderMermaid(plan, { operations: job.operations, findings: job.findings });
    case "text":
      return renderText(plan, {
        ...pageOf(terminal, flags.out),
        operations: job.operations,
        findings: job.findings,
      });
  }
}
