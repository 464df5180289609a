import { closeSync, openSync, readSync, statSync } from "node:fs";
import { InputError, type InputKind, type Issue } from "../errors.js";
import { findLines, readJsonText } from "./scan-json.js";
import type { Terminal } from "./terminal.js";

/** The longest document that is read. */
const BYTE_LIMIT = 8 * 1024 * 1024;

/** Reads the documents named on the command line, each wholly checked as far as that goes without its schema. */
export interface Reader {
  /** `path` may be `-` for standard input. Throws `InputError` of the kind given; its issues name the file. */
  readonly readDocument: (path: string, kind: InputKind) => Promise<unknown>;
  /**
   * Puts the file and the lines into the issues of a refusal of a document that was read before; other errors are left
   * as they are.
   */
  readonly locate: (error: unknown, path: string) => unknown;
}

/** How messages call what a path leads to. */
export function nameOfInput(path: string): string {
  return path === "-" ? "standard input" : path;
}

/**
 * Makes a reader for the documents of one command. Throws `InputError` where `-` stands for more than one of `paths`,
 * because standard input can be read only once.
 */
export function createReader(terminal: Terminal, paths: readonly string[]): Reader {
  if (paths.filter((path) => path === "-").length > 1) {
    refuse({
      code: "usage",
      pointer: "",
      message: "standard input can be read only once, but - stands for two documents",
    });
  }
  const readBytes = async (path: string): Promise<Uint8Array> => {
    if (path !== "-") return readFileLimited(path);
    const bytes = await terminal.readInput(BYTE_LIMIT);
    if (bytes.length > BYTE_LIMIT) refuseSize(null);
    return bytes;
  };
  const texts = new Map<string, string>();
  return {
    readDocument: async (path, kind) => {
      try {
        const text = decodeText(await readBytes(path));
        texts.set(path, text);
        return readText(text);
      } catch (error) {
        throw inFile(error, nameOfInput(path), kind);
      }
    },
    locate: (error, path) => inFile(onLines(error, texts.get(path)), nameOfInput(path)),
  };
}

/** Reads a JSON file of a pack. Throws `InputError` of the kind given; its issues name the file. */
export function readJsonFile(path: string, kind: InputKind): unknown {
  try {
    return readText(decodeText(readFileLimited(path)));
  } catch (error) {
    throw inFile(error, path, kind);
  }
}

/** Puts the file's name into the issues of a refusal that does not name one yet; other errors are left as they are. */
export function inFile(error: unknown, file: string, kind?: InputKind): unknown {
  if (!(error instanceof InputError)) return error;
  return new InputError(
    kind ?? error.kind,
    error.issues.map((issue) => ({ ...issue, file: issue.file ?? file })),
  );
}

function onLines(error: unknown, text: string | undefined): unknown {
  if (!(error instanceof InputError) || text === undefined) return error;
  const lines = findLines(
    text,
    error.issues.map(({ pointer }) => pointer),
  );
  return new InputError(
    error.kind,
    error.issues.map((issue, index) => {
      const line = lines[index];
      // What the whole document is wrong with stands on no line.
      return line === undefined || issue.pointer === "" ? issue : { ...issue, line };
    }),
  );
}

function refuse(issue: Issue): never {
  throw new InputError("input", [issue]);
}

function refuseSize(bytes: number | null): never {
  const found = bytes === null ? "more" : `${(bytes / 1024 / 1024).toFixed(1)} MiB`;
  refuse({
    code: "too-large",
    pointer: "",
    message: `the document has ${found}`,
    expected: `at most ${BYTE_LIMIT / 1024 / 1024} MiB`,
  });
}

function readFileLimited(path: string): Uint8Array {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) {
      refuse({ code: "not-a-file", pointer: "", message: "this is a folder", expected: "a file" });
    }
    if (stat.isFile() && stat.size > BYTE_LIMIT) refuseSize(stat.size);
    return readAll(path);
  } catch (error) {
    throw describeSystemError(error);
  }
}

/** Reads to the end, but never more than one byte beyond the limit: a pipe does not say how long it is. */
function readAll(path: string): Uint8Array {
  const descriptor = openSync(path, "r");
  try {
    const chunks: Uint8Array[] = [];
    let size = 0;
    for (;;) {
      const chunk = new Uint8Array(65_536);
      const read = readSync(descriptor, chunk, 0, chunk.length, null);
      if (read === 0) return Buffer.concat(chunks);
      chunks.push(chunk.subarray(0, read));
      size += read;
      if (size > BYTE_LIMIT) refuseSize(null);
    }
  } finally {
    closeSync(descriptor);
  }
}

/** Turns what the system says of a file into an `InputError`; other errors are left as they are. */
export function describeSystemError(error: unknown): unknown {
  if (!(error instanceof Error) || !("code" in error)) return error;
  switch (error.code) {
    case "ENOENT":
    case "ENOTDIR":
      return new InputError("input", [{ code: "not-a-file", pointer: "", message: "there is no such file" }]);
    case "EACCES":
    case "EPERM":
      return new InputError("input", [
        { code: "unreadable-file", pointer: "", message: "this may not be read" },
      ]);
    default:
      return new InputError("input", [
        { code: "unreadable-file", pointer: "", message: `this could not be read (${String(error.code)})` },
      ]);
  }
}

function readText(text: string): unknown {
  if (text.trim() === "") {
    refuse({
      code: "empty-file",
      pointer: "",
      message: "the document holds nothing but white space",
      expected: "a document in JSON",
    });
  }
  const reading = readJsonText(text);
  if (!reading.ok) throw new InputError("input", reading.issues);
  return reading.value;
}

function decodeText(bytes: Uint8Array): string {
  if (bytes.length === 0) {
    refuse({
      code: "empty-file",
      pointer: "",
      message: "the document is empty",
      expected: "a document in JSON",
    });
  }
  if (isUtf16(bytes)) {
    refuse({ code: "not-utf8", pointer: "", message: "the bytes are UTF-16", expected: "UTF-8" });
  }
  try {
    // The decoder takes a byte-order mark off.
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    const line = lineOfFirstStranger(bytes);
    refuse({
      code: "not-utf8",
      pointer: "",
      line,
      message: "the line holds bytes that are not UTF-8",
      expected: "UTF-8",
    });
  }
}

/** By its byte-order mark or, where that is left out, by the zero byte beside the first character of any JSON text. */
function isUtf16([first, second]: Uint8Array): boolean {
  if (first === undefined || second === undefined) return false;
  const isMarked = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
  return isMarked || (first === 0) !== (second === 0);
}

/** The line on which decoding first fails; a replacement character that was written as such is no failure. */
function lineOfFirstStranger(bytes: Uint8Array): number {
  let line = 1;
  let start = 0;
  for (let at = 0; at <= bytes.length; at += 1) {
    if (at < bytes.length && bytes[at] !== 0x0a) continue;
    try {
      new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(start, at));
    } catch {
      return line;
    }
    line += 1;
    start = at + 1;
  }
  return line;
}
