import type { DriveSample } from "../index.js";
import { InputError } from "../errors.js";
import { createCsvLog } from "./drive-csv.js";
import { createJsonLog } from "./drive-json.js";
import type { LogParser } from "./drive-parser.js";
import { Utf8Gate, openLog } from "./drive-source.js";
import { inFile, nameOfInput } from "./read-input.js";
import type { Terminal } from "./terminal.js";

/** Before this many bytes a first line ends, or it is none. */
const FIRST_LINE_LIMIT = 65_536;
const MARK = [0xef, 0xbb, 0xbf];

/** Reads a log of any length and hands its samples on. Throws `InputError` that names the file and the line. */
export async function readLog(
  path: string,
  terminal: Terminal,
  add: (sample: DriveSample) => void,
): Promise<{ readonly reference: string | null }> {
  const gate = new Utf8Gate();
  let begun: LogParser | null = null;
  let beginning: Uint8Array = new Uint8Array();
  try {
    for await (const piece of openLog(path, terminal)) {
      if (begun !== null) {
        await write(begun, piece, gate);
        continue;
      }
      beginning = Buffer.concat([beginning, piece]);
      begun = await begin(beginning, false, gate, add);
    }
    begun ??= await begin(beginning, true, gate, add);
    const refusal = gate.end();
    if (refusal !== null) throw refusal;
    await begun?.end();
    return { reference: begun?.reference() ?? null };
  } catch (error) {
    throw inFile(error, nameOfInput(path));
  }
}

/** Starts the parser for what the beginning of a log is, once enough of it is there to tell; null before. */
async function begin(
  beginning: Uint8Array,
  isAll: boolean,
  gate: Utf8Gate,
  add: (sample: DriveSample) => void,
): Promise<LogParser | null> {
  if (beginning.length < MARK.length && !isAll) return null;
  refuseUtf16(beginning);
  const isMarked = MARK.every((byte, index) => beginning[index] === byte);
  const text = isMarked ? beginning.subarray(MARK.length) : beginning;
  const start = text.findIndex((byte) => !isBlank(byte));
  if (start < 0) {
    if (isAll) refuseEmpty();
    return null;
  }
  const isJson = text[start] === 0x7b || text[start] === 0x5b;
  const firstLine = isJson ? "" : findFirstLine(text.subarray(start), isAll);
  if (firstLine === null) return null;
  refuseFirstLine(firstLine);
  const parser = isJson ? createJsonLog(add) : createCsvLog(firstLine, add);
  await write(parser, text, gate);
  return parser;
}

/** What stands before bytes that cannot be read is read first, so that the first thing wrong is what is told. */
async function write(parser: LogParser, piece: Uint8Array, gate: Utf8Gate): Promise<void> {
  const { good, refusal } = gate.check(piece);
  await parser.write(good);
  if (refusal !== null) throw refusal;
}

/** Null where the line may go on. */
function findFirstLine(text: Uint8Array, isAll: boolean): string | null {
  const end = text.findIndex((byte) => byte === 0x0a || byte === 0x0d);
  if (end < 0 && !isAll && text.length < FIRST_LINE_LIMIT) return null;
  return Buffer.from(text.subarray(0, end < 0 ? FIRST_LINE_LIMIT : end)).toString("utf8");
}

/** What a spreadsheet leaves behind where its table was meant. */
function refuseFirstLine(line: string): void {
  if (/[\u0000-\u0008\u000e-\u001f]/.test(line)) {
    throw new InputError("input", [
      {
        code: "not-utf8",
        pointer: "",
        message: "the file is no text, perhaps the spreadsheet itself",
        expected: "its table, saved as CSV in UTF-8",
      },
    ]);
  }
  if (!/^"?sep=.?"?$/i.test(line.trim())) return;
  throw new InputError("input", [
    {
      code: "invalid-value",
      pointer: "",
      line: 1,
      message: "the first line only names a separator, which is found without it",
      expected: "the names of the columns in the first line",
    },
  ]);
}

function isBlank(byte: number): boolean {
  return byte === 0x20 || byte === 0x09 || byte === 0x0a || byte === 0x0d;
}

function refuseUtf16([first, second]: Uint8Array): void {
  const isMarked = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
  if (!isMarked && (first === 0) === (second === 0)) return;
  throw new InputError("input", [
    { code: "not-utf8", pointer: "", message: "the bytes are UTF-16", expected: "UTF-8" },
  ]);
}

function refuseEmpty(): never {
  throw new InputError("input", [
    {
      code: "empty-file",
      pointer: "",
      message: "the log holds nothing but white space",
      expected: "lines of cells below the names of the columns, or a document in JSON",
    },
  ]);
}
