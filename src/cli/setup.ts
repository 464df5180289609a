import type { Command } from "commander";
import { renderFloorPlan, renderSetup, renderSetupHtml, renderSideView, type SetupResult } from "../index.js";
import { argument, command, pageOf, refuseUsage, wordOption, type Context } from "./command.js";
import { assembleRulebook, readProcedures } from "./packs.js";
import {
  planOf,
  proceduresOption,
  readSetupFile,
  refuseInches,
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
  readonly drawing?: "floor-plan" | "side-view";
  readonly setUp?: string;
  readonly units: Units;
  readonly out?: string;
}

/** `setup SETUP.json`: where the targets stand, what the tape has to show, and whether what was measured will do. */
export function setupCommand(context: Context): Command {
  return command(
    "setup",
    "Say where targets stand; judge the bay",
    "Say where the targets stand and what the tape has to show, whether bay and floor do, and which measured values lie within tolerance once their uncertainty is counted.",
    [
      "setup bay.json --procedures fjell.json",
      "setup bay.json --job job.json --procedures fjell.json",
      "setup bay.json --format svg --drawing side-view",
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
      wordOption("--drawing <DRAWING>", "With --format svg, which drawing instead of the floor plan", [
        "floor-plan",
        "side-view",
      ]),
    )
    .option("--set-up <ID>", "With --format svg, which set-up instead of the first, such as S2")
    .addOption(unitsOption())
    .option("--out <FILE>", "Write the result to a file, which appears whole or not at all")
    .action(async (path: string, flags: SetupFlags) => {
      refuseInches(flags.format, flags.units);
      refuseIdleOptions(flags);
      const inputs = [path, ...flags.procedures, ...(flags.job === undefined ? [] : [flags.job])];
      refuseOverwriting(flags.out, inputs);
      const result = await readAndCheck(path, flags, context.terminal, inputs);
      writeResult(render(result, flags, context), flags.out, context.terminal);
    });
}

/** An option that changes nothing was meant to change something. */
function refuseIdleOptions({ format, drawing, setUp, job, rules }: SetupFlags): void {
  const isDrawing = format === "svg";
  if (drawing !== undefined && !isDrawing)
    refuseUsage(`${format} is no single drawing`, "--format svg beside --drawing");
  if (setUp !== undefined && !isDrawing)
    refuseUsage(`${format} holds every set-up`, "--format svg beside --set-up");
  if (rules.length > 0 && job === undefined) {
    refuseUsage("rules make the plan of a work order, and none is given", "--job JOB.json beside --rules");
  }
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
