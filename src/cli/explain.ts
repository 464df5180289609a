import type { Command } from "commander";
import { explain, renderExplanation } from "../index.js";
import { argument, command, pageOf, wordOption, type Context } from "./command.js";
import { JOB_ARGUMENT, proceduresOption, readGiven, rulesOption } from "./documents.js";

interface ExplainFlags {
  readonly procedures: readonly string[];
  readonly rules: readonly string[];
  readonly format: "text" | "json";
}

/** `explain JOB.json SENSOR[:POSITION]`: every reason behind one sensor's standing. */
export function explainCommand({ terminal }: Context): Command {
  return command(
    "explain",
    "Tell the reasons behind one sensor",
    "Tell every reason behind one sensor's standing, or, where nothing is indicated, what was looked at and what would change that. SENSOR is a sensor id, with its position after a colon where only one is meant.",
    ["explain job.json forward-camera", "explain job.json rear-corner-radar:left --format json"],
  )
    .addArgument(JOB_ARGUMENT)
    .addArgument(argument("<SENSOR>", "A sensor, such as front-radar or rear-corner-radar:left"))
    .addOption(proceduresOption())
    .addOption(rulesOption())
    .addOption(wordOption("--format <FORMAT>", "Form of the result", ["text", "json"]).default("text"))
    .action(async (path: string, sensor: string, flags: ExplainFlags) => {
      const { job, options, plan } = await readGiven(path, flags, terminal);
      const explanation = explain(plan, sensor, { ...options, job });
      terminal.writeOut(
        flags.format === "json"
          ? `${JSON.stringify(explanation, null, 2)}\n`
          : renderExplanation(explanation, pageOf(terminal)),
      );
    });
}
