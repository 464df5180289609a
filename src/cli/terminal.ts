import { fstatSync } from "node:fs";

/** What the command line needs of the process around it; tests bring their own. */
export interface Terminal {
  /** Reads standard input, and stops once it holds more than `limit` bytes. */
  readonly readInput: (limit: number) => Promise<Uint8Array>;
  /** Standard input piece by piece, for what is too long to be held at once. */
  readonly streamInput: () => AsyncIterable<Uint8Array>;
  readonly writeOut: (text: string) => void;
  readonly writeError: (text: string) => void;
  /** Whether standard output is a screen that a person looks at. */
  readonly isScreen: boolean;
  /** Whether standard error is one. */
  readonly isErrorScreen: boolean;
  /** Columns of the screen, where there is one. */
  readonly columns: number | undefined;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** The terminal of this process. A reader that goes away before the end, such as `head`, ends it quietly. */
export function processTerminal(): Terminal {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    const why = error.code === "ENOSPC" ? "there is no room left" : error.message;
    process.stderr.write(`standard output: the result could not be written whole: ${why}\n`);
    process.exit(2);
  });
  return {
    readInput,
    streamInput,
    writeOut: (text) => void process.stdout.write(text),
    writeError: (text) => void process.stderr.write(text),
    isScreen: process.stdout.isTTY,
    isErrorScreen: process.stderr.isTTY,
    columns: process.stdout.isTTY ? process.stdout.columns : undefined,
    env: process.env,
  };
}

async function* streamInput(): AsyncIterable<Uint8Array> {
  if (!isClosed(0)) yield* process.stdin as AsyncIterable<Uint8Array>;
}

async function readInput(limit: number): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of streamInput()) {
    chunks.push(chunk);
    size += chunk.length;
    if (size > limit) break;
  }
  return Buffer.concat(chunks);
}

function isClosed(descriptor: number): boolean {
  try {
    fstatSync(descriptor);
    return false;
  } catch {
    return true;
  }
}
