import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  checkSetup,
  loadProcedures,
  loadRulebook,
  planCalibrations,
  type Job,
  type Plan,
  type Setup,
  type SetupResult,
} from "../../src/index.js";

const DEMO = fileURLToPath(new URL("../../docs/demo/", import.meta.url));

function readFolder(folder: string): readonly { readonly name: string; readonly document: unknown }[] {
  return readdirSync(`${DEMO}${folder}`)
    .filter((file) => file.endsWith(".json"))
    .sort()
    .map((file) => ({
      name: file.replace(/\.json$/, ""),
      document: JSON.parse(readFileSync(`${DEMO}${folder}/${file}`, "utf8")) as unknown,
    }));
}

/** An invented work order with its plan and, where it was measured, its set-up. */
export interface DemoCard {
  readonly name: string;
  readonly job: Job;
  readonly plan: Plan;
  readonly setup: SetupResult;
}

/** Every work order of the demonstration, with every procedure pack. */
export function readDemoCards(): readonly DemoCard[] {
  const rulebook = loadRulebook();
  const procedures = readFolder("procedures").map(({ name, document }) => loadProcedures(document, name));
  const setups = readFolder("setups").map(({ document }) => document as Setup);
  return readFolder("jobs").map(({ name, document }) => {
    const job = document as Job;
    const plan = planCalibrations(job, { rulebook, procedures });
    const measured = setups.find(({ reference }) => reference === job.reference);
    const setup = checkSetup(measured ?? { schema: "repair-calibration/setup@1" }, { procedures, plan });
    return { name, job, plan, setup };
  });
}
