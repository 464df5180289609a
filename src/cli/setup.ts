import type { Command } from "commander";
import { renderFloorPlan, renderSetup, renderSetupHtml, renderSideView, type SetupResult } from "../index.js";
import { argument, command, pageOf, wordOption, type Context } from "./command.js";
import { assembleRulebook, readProcedures } from "./packs.js";
import {
  planOf,
  proceduresOption,
  readSetupFile,
  refuseInchesInJson,
  rulesOption,
  unitsOption,
  type Units,
} from "./documents.js";
import { createReader } from "./read-input.js";
import type { Terminal } from "./terminal.js";
import { refuseOverwriting, writeResult } from "./write-output.js";

interface SetupFlags {
  readonly procedures: readonly string[];
  readonly rules: readonly string[];
  readonly job?: string;
  readonly format: "text" | "json" | "html" | "svg";
  readonly drawing: "floor-plan" | "side-view";
  readonly setUp?: string;
  readonly units: Units;
  readonly out?: string;
}

/** `setup SETUP.json`: where the targets stand, what the tape has to show, and whether what was measured will do. */
export function setupCommand(context: Context): Command {
  return command(
    "setup",
    "Set up targets, and judge floor, bay and placement",
    "Say where the targets stand and what the tape has to show, whether bay and floor do, and which measured values lie within tolerance once their uncertainty is counted.",
    [
      "setup bay.json --procedures fjell-2024.json",
      "setup bay.json --procedures fjell-2024.json --job job.json --format html --out bay.html",
      "setup bay.json --format svg --drawing side-view --units in > side.svg",
    ],
  )
    .addArgument(
      argument(
        "<SETUP.json>",
        "What was measured of vehicle, floor and bay (repair-calibration/setup@1); - reads standard input",
      ),
    )
    .addOption(proceduresOption())
    .option("--job <JOB.json>", "The work order: then every static calibration of its plan is set up")
    .addOption(rulesOption())
    .addOption(
      wordOption("--format <FORMAT>", "Form of the result", ["text", "json", "html", "svg"]).default("text"),
    )
    .addOption(
      wordOption("--drawing <DRAWING>", "Which drawing, with --format svg", [
        "floor-plan",
        "side-view",
      ]).default("floor-plan"),
    )
    .option("--set-up <ID>", "Which set-up to draw, with --format svg, such as S2", undefined)
    .addOption(unitsOption())
    .option("--out <FILE>", "Write the result to a file, which appears whole or not at all")
    .action(async (path: string, flags: SetupFlags) => {
      refuseInchesInJson(flags.format, flags.units);
      const inputs = [path, ...flags.procedures, ...(flags.job === undefined ? [] : [flags.job])];
      refuseOverwriting(flags.out, inputs);
      const result = await readAndCheck(path, flags, context.terminal, inputs);
      writeResult(render(result, flags, context), flags.out, context.terminal);
    });
}

async function readAndCheck(
  path: string,
  flags: SetupFlags,
  terminal: Terminal,
  inputs: readonly string[],
): Promise<SetupResult> {
  const reader = createReader(terminal, inputs);
  const procedures = await readProcedures(flags.procedures, reader);
  const plan =
    flags.job === undefined
      ? undefined
      : (await planOf(flags.job, { rulebook: assembleRulebook(flags.rules), procedures }, reader)).plan;
  return readSetupFile(path, { procedures, ...(plan === undefined ? {} : { plan }) }, reader);
}

function render(result: SetupResult, flags: SetupFlags, { terminal }: Context): string {
  const { units } = flags;
  switch (flags.format) {
    case "json":
      return `${JSON.stringify(result, null, 2)}\n`;
    case "html":
      return renderSetupHtml(result, { units });
    case "svg": {
      const options = { units, ...(flags.setUp === undefined ? {} : { setUp: flags.setUp }) };
      return flags.drawing === "side-view"
        ? renderSideView(result, options)
        : renderFloorPlan(result, options);
    }
    case "text":
      return renderSetup(result, { ...pageOf(terminal, flags.out), units });
  }
}
