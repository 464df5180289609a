import { createReadStream, statSync } from "node:fs";
import { InputError } from "../errors.js";
import { describeSystemError } from "./read-input.js";
import type { Terminal } from "./terminal.js";

const NEW_LINE = 0x0a;
const PIECE = 256 * 1024;

/** The bytes of a log, piece by piece; `-` is standard input. Throws `InputError`. */
export async function* openLog(path: string, terminal: Terminal): AsyncIterable<Uint8Array> {
  if (path === "-") {
    yield* terminal.streamInput();
    return;
  }
  try {
    if (statSync(path).isDirectory()) {
      throw new InputError("input", [
        { code: "not-a-file", pointer: "", message: "this is a folder", expected: "a file" },
      ]);
    }
    yield* createReadStream(path, { highWaterMark: PIECE }) as AsyncIterable<Uint8Array>;
  } catch (error) {
    throw describeSystemError(error);
  }
}

/** Bytes as far as they are UTF-8, and what is wrong with those behind them. */
interface Checked {
  readonly good: Uint8Array;
  readonly refusal: InputError | null;
}

/** Lets bytes through up to the first that is not UTF-8, however the text is cut into pieces. */
export class Utf8Gate {
  readonly #decoder = new TextDecoder("utf-8", { fatal: true });
  #lines = 0;
  /** The last bytes before the next piece: a character may have begun there. */
  #tail: Uint8Array = new Uint8Array();

  check(piece: Uint8Array): Checked {
    try {
      this.#decoder.decode(piece, { stream: true });
    } catch {
      const good = piece.subarray(0, findStranger(piece, this.#tail));
      return { good, refusal: refusalOf(this.#lines + countLines(good) + 1) };
    }
    this.#lines += countLines(piece);
    this.#tail = Buffer.concat([this.#tail, piece.subarray(-3)]).subarray(-3);
    return { good: piece, refusal: null };
  }

  /** What is wrong with the end of the text, where it ends in the middle of a character. */
  end(): InputError | null {
    try {
      this.#decoder.decode();
      return null;
    } catch {
      return refusalOf(this.#lines + 1);
    }
  }
}

/** The place of the first byte with which a piece stops being UTF-8; `tail` is what came before. */
function findStranger(piece: Uint8Array, tail: Uint8Array): number {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  const begin = tail.findIndex((byte) => (byte & 0xc0) !== 0x80);
  if (begin >= 0) decoder.decode(tail.subarray(begin), { stream: true });
  return piece.findIndex((_, at) => {
    try {
      decoder.decode(piece.subarray(at, at + 1), { stream: true });
      return false;
    } catch {
      return true;
    }
  });
}

function countLines(bytes: Uint8Array): number {
  let lines = 0;
  for (let at = bytes.indexOf(NEW_LINE); at >= 0; at = bytes.indexOf(NEW_LINE, at + 1)) lines += 1;
  return lines;
}

function refusalOf(line: number): InputError {
  return new InputError("input", [
    {
      code: "not-utf8",
      pointer: "",
      line,
      message: "the line holds bytes that are not UTF-8",
      expected: "UTF-8",
    },
  ]);
}
