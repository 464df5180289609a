import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll } from "vitest";
import { run } from "../../src/cli/run.js";

export interface Outcome {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

export interface Around {
  readonly input?: Uint8Array | string;
  /** How many bytes of the input come at a time, where it is read piece by piece; all at once if left out. */
  readonly pieces?: number;
  readonly isErrorScreen?: boolean;
  readonly isScreen?: boolean;
  readonly columns?: number;
  readonly env?: Readonly<Record<string, string>>;
}

/** Carries out one command line with everything around the process given, and collects what it writes. */
export async function runCli(argv: readonly string[], around: Around = {}): Promise<Outcome> {
  let out = "";
  let err = "";
  const given = around.input ?? "";
  const input = typeof given === "string" ? new TextEncoder().encode(given) : given;
  const status = await run(argv, {
    readInput: () => Promise.resolve(input),
    streamInput: () => piecesOf(input, around.pieces ?? Math.max(1, input.length)),
    writeOut: (text) => {
      out += text;
    },
    writeError: (text) => {
      err += text;
    },
    isScreen: around.isScreen ?? false,
    isErrorScreen: around.isErrorScreen ?? false,
    columns: around.columns,
    env: around.env ?? {},
  });
  return { status, out, err };
}

async function* piecesOf(bytes: Uint8Array, size: number): AsyncIterable<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield await Promise.resolve(bytes.subarray(at, at + size));
}

/** A folder that lasts as long as the test file. */
export function makeFolder(): {
  readonly path: string;
  readonly write: (name: string, content: string | Uint8Array | object) => string;
} {
  const path = mkdtempSync(join(tmpdir(), "repair-calibration-"));
  afterAll(() => {
    rmSync(path, { recursive: true, force: true });
  });
  return {
    path,
    write: (name, content) => {
      const file = join(path, name);
      mkdirSync(dirname(file), { recursive: true });
      const isData = typeof content === "string" || content instanceof Uint8Array;
      writeFileSync(file, isData ? content : JSON.stringify(content));
      return file;
    },
  };
}

/** A windshield replaced on a vehicle of which only the forward camera is said to be fitted. */
export const WINDSHIELD_JOB = {
  schema: "repair-calibration/job@1",
  reference: "RO-7001",
  vehicle: {
    make: "Norrvik",
    model: "Fjell",
    modelYear: 2024,
    market: "eu",
    equipment: [
      { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
      { sensor: "front-radar", fitted: "yes", mount: "front-bumper-reinforcement", looksThrough: "grille" },
    ],
    equipmentComplete: true,
    features: { "lane-keeping-assistance": "standard" },
  },
  operations: [
    {
      id: "L1",
      action: "replace",
      component: "windshield",
      text: "Rpl W/S",
      part: { origin: "maker-new", variantConfirmed: "yes", bracketIncluded: "yes" },
    },
  ],
  findings: {
    impactZones: [],
    impactWheels: [],
    glassOrHeaderHit: "no",
    airbagsDeployed: false,
    structuralDamage: false,
    faultCodes: [],
    rideHeightChange: { front: 0, rear: 0 },
  },
};
