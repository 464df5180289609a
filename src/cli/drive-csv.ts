import { CsvError, parse } from "csv-parse";
import { findDelimiter, readColumns, type Delimiter, type DriveSample, type RowReader } from "../index.js";
import { InputError, type Issue } from "../errors.js";
import type { LogParser } from "./drive-parser.js";

/** The longest line that is read: beyond it, a quotation mark was not closed or the file is no log. */
const LINE_LIMIT = 65_536;

/** Reads a log as lines of cells; what separates them is told from the first line, which has to be whole. */
export function createCsvLog(firstLine: string, add: (sample: DriveSample) => void): LogParser {
  const delimiter = findDelimiter(firstLine);
  const parser = makeParser(delimiter, add);
  return {
    reference: () => null,
    write: (piece) =>
      new Promise((resolve, reject) => {
        parser.write(piece, (error) => {
          if (error) reject(toInputError(error));
          else resolve();
        });
      }),
    end: () =>
      new Promise((resolve, reject) => {
        parser.once("error", (error) => {
          reject(toInputError(error));
        });
        parser.once("end", resolve);
        parser.resume();
        parser.end();
      }),
  };
}

function makeParser(delimiter: Delimiter, add: (sample: DriveSample) => void) {
  let readRow: RowReader | null = null;
  const parser = parse({
    delimiter,
    // Named and not discovered: the ends of lines may change within a file that was put together from several.
    record_delimiter: ["\r\n", "\n", "\r"],
    relax_column_count: true,
    skip_empty_lines: true,
    trim: true,
    max_record_size: LINE_LIMIT,
    // Nothing is handed on, so nothing piles up between the parser and a reader of its output.
    on_record: (cells: string[], { lines }) => {
      if (readRow === null) readRow = readColumns(cells, delimiter, lines);
      else addFrom(readRow(cells, lines), lines, add);
      return null;
    },
  });
  // Errors are told by the callbacks of what was written; one without a listener would end the process.
  parser.on("error", () => undefined);
  return parser;
}

function addFrom(sample: DriveSample, line: number, add: (sample: DriveSample) => void): void {
  try {
    add(sample);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      "input",
      error.issues.map((issue) => ({ ...issue, pointer: "", line })),
    );
  }
}

function toInputError(error: Error): Error {
  if (!(error instanceof CsvError)) return error;
  const line = typeof error["lines"] === "number" ? { line: error["lines"] } : {};
  return new InputError("input", [{ pointer: "", ...line, ...describe(error.code) }]);
}

function describe(code: CsvError["code"]): Omit<Issue, "pointer"> {
  switch (code) {
    case "CSV_MAX_RECORD_SIZE":
      return {
        code: "too-large",
        message: `a line has more than ${LINE_LIMIT} characters; often a quotation mark is not closed`,
      };
    case "CSV_QUOTE_NOT_CLOSED":
      return { code: "invalid-value", message: "a quotation mark that opens a cell is never closed" };
    default:
      return {
        code: "invalid-value",
        message: "a quotation mark stands inside a cell",
        expected: "quotation marks around the whole cell, or none",
      };
  }
}
