import type { Command } from "commander";
import { checkSetup, renderHtml, renderMermaid, renderText, type Setup, type SetupResult } from "../index.js";
import { command, pageOf, refuseUsage, wordOption, type Context } from "./command.js";
import {
  JOB_ARGUMENT,
  planOf,
  proceduresOption,
  readSetupFile,
  refuseInches,
  rulesOption,
  unitsOption,
  type Given,
  type Units,
} from "./documents.js";
import { assembleRulebook, readProcedures } from "./packs.js";
import { createReader } from "./read-input.js";
import { refuseOverwriting, writeResult } from "./write-output.js";

interface PlanFlags {
  readonly procedures: readonly string[];
  readonly rules: readonly string[];
  readonly format: "text" | "json" | "html" | "mermaid";
  readonly setup?: string;
  readonly units: Units;
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
      "plan job.json --procedures fjell.json --out plan.txt",
      "plan - --format json < job.json",
      "plan job.json --setup bay.json --format html --out c.html",
    ],
  )
    .addArgument(JOB_ARGUMENT)
    .addOption(proceduresOption())
    .addOption(rulesOption())
    .addOption(
      wordOption("--format <FORMAT>", "Form of the result", ["text", "json", "html", "mermaid"]).default(
        "text",
      ),
    )
    .option(
      "--setup <SETUP.json>",
      "What was measured in the bay; its drawings and tables join the job card (html)",
    )
    .addOption(unitsOption())
    .option("--out <FILE>", "Write the result to a file, which appears whole or not at all")
    .option("--cross-check", "Decide a second time by other means; exit with 1 and no plan if the two differ")
    .action(async (path: string, flags: PlanFlags) => {
      refuseInches(flags.format, flags.units);
      refuseSetupWithout(flags);
      const inputs = [path, ...flags.procedures, ...(flags.setup === undefined ? [] : [flags.setup])];
      refuseOverwriting(flags.out, inputs);
      const reader = createReader(context.terminal, inputs);
      const rulebook = assembleRulebook(flags.rules);
      const procedures = await readProcedures(flags.procedures, reader);
      const given = await planOf(path, { rulebook, procedures }, reader);
      const { plan } = given;
      const setup =
        flags.setup === undefined ? null : await readSetupFile(flags.setup, { procedures, plan }, reader);
      if (flags.crossCheck === true && !(await agrees(given, context))) return;
      writeResult(render(given, setup, flags, context), flags.out, context.terminal);
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

function refuseSetupWithout({ setup, format }: PlanFlags): void {
  if (setup === undefined || format === "html") return;
  refuseUsage(
    `a plan as ${format} has no place for a set-up`,
    "--format html, or the command setup with --job",
  );
}

function render(
  { plan, job, options }: Given,
  setup: SetupResult | null,
  flags: PlanFlags,
  { terminal }: Context,
): string {
  const { operations, findings } = job;
  switch (flags.format) {
    case "html": {
      // Where nothing was measured yet, the vehicle's own dimensions still say where the targets are to stand.
      const nominal = (): SetupResult =>
        checkSetup(
          { schema: "repair-calibration/setup@1", vehicle: vehicleOf(job) },
          { procedures: options.procedures, plan },
        );
      return renderHtml(plan, { operations, findings, setup: setup ?? nominal(), units: flags.units });
    }
    case "json":
      return `${JSON.stringify(plan, null, 2)}\n`;
    case "mermaid":
      return renderMermaid(plan, { operations, findings });
    case "text":
      return renderText(plan, {
        ...pageOf(terminal, flags.out),
        operations,
        findings,
        units: flags.units,
      });
  }
}

function vehicleOf({
  vehicle: { make, model, modelYear, dimensions },
}: Given["job"]): NonNullable<Setup["vehicle"]> {
  return {
    ...(make === undefined ? {} : { make }),
    ...(model === undefined ? {} : { model }),
    ...(modelYear === undefined ? {} : { modelYear }),
    ...(dimensions === undefined ? {} : { dimensions }),
  };
}
