import { randomBytes } from "node:crypto";
import { existsSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../errors.js";
import type { Terminal } from "./terminal.js";

/**
 * Writes a finished result to a file, or to standard output where none is named. A file appears whole or not at all: it
 * is written beside its place and then moved there.
 */
export function writeResult(text: string, out: string | undefined, terminal: Terminal): void {
  if (out === undefined || out === "-") {
    terminal.writeOut(text);
    return;
  }
  if (isDevice(out)) {
    writeThrough(text, out);
    return;
  }
  // Where the name is a link, the file that it leads to is replaced, and the link stays.
  const target = followLink(out);
  const passing = join(dirname(target), `.${basename(target)}.${randomBytes(6).toString("hex")}.tmp`);
  try {
    if (isFolder(target)) throw new NotWritable("this is a folder");
    writeFileSync(passing, text, { flag: "wx" });
    renameSync(passing, target);
  } catch (error) {
    rmSync(passing, { force: true });
    throw new InputError("input", [
      { code: "unwritable-file", file: out, pointer: "", message: describeFailure(error) },
    ]);
  }
}

/** Throws `InputError` where the result would take the place of one of the documents that it is made from. */
export function refuseOverwriting(out: string | undefined, inputs: readonly string[]): void {
  if (out === undefined || out === "-") return;
  const target = followLink(out);
  const input = inputs.find((each) => each !== "-" && followLink(each) === target);
  if (input === undefined || !existsSync(target)) return;
  throw new InputError("input", [
    {
      code: "unwritable-file",
      file: out,
      pointer: "",
      message: "the result would replace the document that it is made from",
      expected: "another file",
    },
  ]);
}

/** A pipe or a device, such as /dev/stdout, cannot be replaced by a file, and is written to as it is. */
function isDevice(path: string): boolean {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat !== undefined && !stat.isFile() && !stat.isDirectory();
}

function writeThrough(text: string, out: string): void {
  try {
    writeFileSync(out, text);
  } catch (error) {
    throw new InputError("input", [
      { code: "unwritable-file", file: out, pointer: "", message: describeFailure(error) },
    ]);
  }
}

class NotWritable extends Error {}

function followLink(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return resolve(path);
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() === true;
}

function describeFailure(error: unknown): string {
  if (error instanceof NotWritable) return error.message;
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  switch (code) {
    case "ENOENT":
    case "ENOTDIR":
      return "the folder does not exist";
    case "EACCES":
    case "EPERM":
    case "EROFS":
      return "the folder may not be written to";
    case "ENOSPC":
      return "there is no room left";
    default:
      return `this could not be written (${String(code ?? error)})`;
  }
}
