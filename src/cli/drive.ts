import { InvalidArgumentError, type Command } from "commander";
import {
  DEFAULT_MAX_GAP,
  createDriveCheck,
  findDriveProcedure,
  joinDriveResult,
  renderDrive,
  type DriveCheck,
  type DriveResult,
} from "../index.js";
import { argument, command, listOption, pageOf, refuseUsage, wordOption, type Context } from "./command.js";
import { readLog } from "./drive-log.js";
import { readProcedures } from "./packs.js";
import { createReader, inFile, nameOfInput } from "./read-input.js";
import type { Terminal } from "./terminal.js";
import { refuseOverwriting, writeResult } from "./write-output.js";

/** After every so many samples a line on the screen says how far the reading has come. */
const SAMPLES_PER_NOTICE = 200_000;

interface DriveFlags {
  readonly procedures: readonly string[];
  readonly sensor: string;
  readonly format: "text" | "json";
  readonly out?: string;
  readonly maxGap: number;
}

/** `drive LOG`: whether a log shows the drive that a procedure asks for. */
export function driveCommand(context: Context): Command {
  return command(
    "drive",
    "Judge a drive log by its procedure",
    "Hold the log of a drive against the drive that the procedure of a sensor asks for: how much of it counts, what interrupted it, what is missing.",
    [
      "drive log.csv --procedures fjell.json --sensor lidar",
      "drive log.json --procedures fjell.json --sensor lidar",
      "drive - --procedures fjell.json --sensor lidar < log.csv",
    ],
  )
    .addArgument(
      argument(
        "<LOG>",
        "The log: lines of cells (CSV) or a document (repair-calibration/drive@1), of any length; - reads standard input",
      ),
    )
    .addOption(
      listOption("--procedures <FILE...>", "Procedure packs of the vehicle's maker; write them last"),
    )
    .requiredOption("--sensor <SENSOR[:POSITION]>", "The sensor, with its position where it has several")
    .addOption(wordOption("--format <FORMAT>", "Form of the result", ["text", "json"]).default("text"))
    .option("--out <FILE>", "Write the result to a file, which appears whole or not at all")
    .option(
      "--max-gap <SECONDS>",
      "Samples further apart are a gap, and nothing is counted there",
      readSeconds,
      DEFAULT_MAX_GAP,
    )
    .action(async (path: string, flags: DriveFlags) => {
      if (flags.procedures.length === 0) {
        refuseUsage("a drive is judged by what a procedure asks for, and none is given", "--procedures FILE");
      }
      refuseOverwriting(flags.out, [path, ...flags.procedures]);
      const result = await checkLog(path, flags, context.terminal);
      writeResult(render(result, flags, context), flags.out, context.terminal);
    });
}

function readSeconds(text: string): number {
  const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
  if (value > 0 && value <= 3600) return value;
  throw new InvalidArgumentError("Expected seconds, more than 0 and at most 3600");
}

async function checkLog(path: string, flags: DriveFlags, terminal: Terminal): Promise<DriveResult> {
  const reader = createReader(terminal, [path, ...flags.procedures]);
  const packs = await readProcedures(flags.procedures, reader);
  const found = findDriveProcedure(packs, flags.sensor);
  const check = createDriveCheck(found.procedure.driveWindow, { maxGap: flags.maxGap });
  const progress = showProgress(check, nameOfInput(path), terminal);
  try {
    const { reference } = await readLog(path, terminal, progress.add);
    return joinDriveResult(found, check.finish(), reference);
  } catch (error) {
    throw inFile(error, nameOfInput(path));
  } finally {
    progress.end();
  }
}

/** Tells somebody who watches how far the reading has come, on one line that goes away in the end. */
function showProgress(
  check: DriveCheck,
  name: string,
  terminal: Terminal,
): { readonly add: DriveCheck["add"]; readonly end: () => void } {
  let samples = 0;
  return {
    add: (sample) => {
      check.add(sample);
      samples += 1;
      if (!terminal.isErrorScreen || samples % SAMPLES_PER_NOTICE !== 0) return;
      terminal.writeError(`\r${name}: ${samples} samples read`);
    },
    end: () => {
      if (terminal.isErrorScreen && samples >= SAMPLES_PER_NOTICE) terminal.writeError("\r\u001b[K");
    },
  };
}

function render(result: DriveResult, flags: DriveFlags, { terminal }: Context): string {
  switch (flags.format) {
    case "json":
      return `${JSON.stringify(result, null, 2)}\n`;
    case "text":
      return renderDrive(result, pageOf(terminal, flags.out));
  }
}
