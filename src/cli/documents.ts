import { InputError } from "../errors.js";
import {
  checkSetup,
  planCalibrations,
  type Job,
  type Plan,
  type PlanOptions,
  type Setup,
  type SetupOptions,
  type SetupResult,
} from "../index.js";
import { argument, listOption, refuseUsage, wordOption } from "./command.js";
import { assembleRulebook, readProcedures } from "./packs.js";
import { createReader, type Reader } from "./read-input.js";
import type { Terminal } from "./terminal.js";

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
  listOption("--procedures <FILE...>", "Procedure packs of the vehicle's maker; write them last");
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
  return planOf(path, { rulebook, procedures }, reader);
}

/** Reads a job and plans it; what is refused names the job's file. */
export async function planOf(path: string, options: PlanOptions, reader: Reader): Promise<Given> {
  // The library checks the shape, and says what is wrong with it.
  const job = (await reader.readDocument(path, "input")) as Job;
  try {
    return { job, options, plan: planCalibrations(job, options) };
  } catch (error) {
    throw ofDocument(error, path, reader);
  }
}

/** Only what is wrong with a document itself stands in its file. */
export function ofDocument(error: unknown, path: string, reader: Reader): unknown {
  return error instanceof InputError && error.kind === "input" ? reader.locate(error, path) : error;
}

/** In which units lengths are written. */
export type Units = "mm" | "in";
export const unitsOption = () =>
  wordOption("--units <UNITS>", "Lengths in millimetres or in inches, except in json", ["mm", "in"]).default(
    "mm",
  );

/** JSON documents hold millimetres, whoever reads them, and a chart holds no lengths: there nothing is in inches. */
export function refuseInches(format: string, units: Units): void {
  if (units === "mm") return;
  const expected = "--units in with another format";
  if (format === "json") refuseUsage("lengths in JSON are always in millimetres", expected);
  if (format === "mermaid") refuseUsage("a chart shows no lengths", expected);
}

/** Reads the document of a set-up and works it out; what is refused names its file. */
export async function readSetupFile(
  path: string,
  options: SetupOptions,
  reader: Reader,
): Promise<SetupResult> {
  // The library checks the shape, and says what is wrong with it.
  const setup = (await reader.readDocument(path, "input")) as Setup;
  try {
    return checkSetup(setup, options);
  } catch (error) {
    throw ofDocument(error, path, reader);
  }
}
