import { InputError, nearestOf, type Issue } from "../errors.js";
import { kilometresPerHour, type DriveSample } from "./sample.js";
import { LANES_SEEN, ROADS_SEEN, type SpeedUnit } from "./shape.js";
import { readTime } from "./time.js";

export const DELIMITERS = [",", ";", "\t"] as const;
/** What stands between two cells of a row. */
export type Delimiter = (typeof DELIMITERS)[number];

/** A sample in the making. */
type Draft = { -readonly [K in keyof DriveSample]: DriveSample[K] };

/** Where a cell stands, for messages and for what its comma means. */
interface Place {
  readonly line: number;
  readonly delimiter: Delimiter;
}

interface Column {
  readonly field: keyof DriveSample;
  readonly read: (draft: Draft, cell: string, place: Place) => void;
}

/** Every column that is read, by its name in small letters. */
const COLUMNS: Readonly<Record<string, Column>> = {
  "time (s)": {
    field: "time",
    read: (draft, cell, place) => {
      draft.time = readNumber(cell, "time", place);
    },
  },
  time: {
    field: "time",
    read: (draft, cell, place) => {
      draft.time = readClock(cell, place);
    },
  },
  "speed (km/h)": speedIn("km/h"),
  "speed (mph)": speedIn("mph"),
  road: {
    field: "road",
    read: (draft, cell, place) => {
      draft.road = readWord(cell, "road", ROADS_SEEN, place);
    },
  },
  lanes: {
    field: "lanes",
    read: (draft, cell, place) => {
      draft.lanes = readWord(cell, "lanes", LANES_SEEN, place);
    },
  },
  "steering (deg)": {
    field: "steering",
    read: (draft, cell, place) => {
      draft.steering = readNumber(cell, "steering", place);
    },
  },
  "gradient (%)": {
    field: "gradient",
    read: (draft, cell, place) => {
      draft.gradient = readNumber(cell, "gradient", place);
    },
  },
};

function speedIn(unit: SpeedUnit): Column {
  return {
    field: "speed",
    read: (draft, cell, place) => {
      draft.speed = kilometresPerHour(readNumber(cell, "speed", place), unit);
    },
  };
}

const NAMES = Object.keys(COLUMNS);

/** How a quantity is spelt with its unit, for those who left the unit out or the whole column. */
const SPELLINGS: Readonly<Record<"time" | "speed" | "steering" | "gradient", string>> = {
  time: '"time (s)", or "time" with ISO 8601 times',
  speed: '"speed (km/h)" or "speed (mph)"',
  steering: '"steering (deg)"',
  gradient: '"gradient (%)"',
};

/** Units that such quantities come in and that are not read; anything else is taken as a slip of the pen. */
const OTHER_UNITS: ReadonlySet<string> = new Set(
  "ms us ns min h m/s ft/s kn knots rad mrad grad min-1 m/m mm/m deg % °".split(" "),
);

/** Finds what separates the cells of a first line: of comma, semicolon and tab the one that stands there most often. */
export function findDelimiter(firstLine: string): Delimiter {
  const bare = firstLine.replace(/"[^"]*"/g, "");
  const counts = DELIMITERS.map((each) => bare.split(each).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ",";
}

/** Reads the lines of a log below its first; `line` is named in messages. Throws `InputError`. */
export type RowReader = (cells: readonly string[], line: number) => DriveSample;

/**
 * Reads the first line of a log as the names of its columns, and gives the reader of the other lines. Columns whose
 * name begins with "x-" are passed over. Throws `InputError` for names that are unknown or stand there twice, and where
 * time or speed or one of their units is missing.
 */
export function readColumns(names: readonly string[], delimiter: Delimiter, line = 1): RowReader {
  const columns = names.map((name) => {
    const key = name.trim().replace(/\s+/g, " ").toLowerCase();
    return key.startsWith("x-") ? null : (Object.hasOwn(COLUMNS, key) && COLUMNS[key]) || key;
  });
  const issues = [
    ...columns.flatMap((column) => (typeof column === "string" ? [refuseName(column)] : [])),
    ...findMissingColumns(columns),
    ...findDuplicates(columns),
  ];
  if (issues.length > 0)
    throw new InputError(
      "input",
      issues.map((issue) => ({ ...issue, line })),
    );
  const known = columns.filter((column) => typeof column !== "string");
  return (cells, lineOfRow) => readRow(known, cells, { line: lineOfRow, delimiter });
}

type Named = Column | string | null;

function refuseName(name: string): Issue {
  if (isWithoutUnit(name)) {
    return {
      code: "missing-measurement",
      pointer: "",
      message: `the column "${name}" does not name its unit`,
      expected: SPELLINGS[name],
    };
  }
  const inOtherUnit = findOtherUnit(name);
  if (inOtherUnit !== null) {
    return {
      code: "missing-measurement",
      pointer: "",
      message: `the column ${JSON.stringify(name.slice(0, 60))} is in a unit that is not read`,
      // No nearest name: under another heading the same numbers would be wrong ones.
      expected: `${SPELLINGS[inOtherUnit]}, with the values converted`,
    };
  }
  const nearest = nearestOf(name, NAMES);
  return {
    code: "unknown-key",
    pointer: "",
    message: `there is no column ${JSON.stringify(name.slice(0, 60))}`,
    expected: `one of ${NAMES.join(", ")}; or a name that begins with x-, which is passed over`,
    ...(nearest === undefined ? {} : { nearest }),
  };
}

/** The quantity of a column whose unit is another than those read: "speed (m/s)". */
function findOtherUnit(name: string): keyof typeof SPELLINGS | null {
  const open = name.indexOf("(");
  if (open < 0 || !name.endsWith(")")) return null;
  const quantity = name.slice(0, open).trim();
  const unit = name.slice(open + 1, -1).trim();
  return OTHER_UNITS.has(unit) && isWithoutUnit(quantity) ? quantity : null;
}

function isWithoutUnit(name: string): name is keyof typeof SPELLINGS {
  return Object.hasOwn(SPELLINGS, name);
}

function findMissingColumns(columns: readonly Named[]): readonly Issue[] {
  return (["time", "speed"] as const).flatMap((field) => {
    // A name without its unit has been refused already; one that is nearly right has its own message as well.
    const isThere = columns.some((column) =>
      typeof column === "string" ? column === field : column?.field === field,
    );
    if (isThere) return [];
    return [
      {
        code: "missing-measurement" as const,
        pointer: "",
        message: `there is no column for the ${field}`,
        expected: SPELLINGS[field],
      },
    ];
  });
}

function findDuplicates(columns: readonly Named[]): readonly Issue[] {
  const fields = columns.flatMap((column) =>
    column === null || typeof column === "string" ? [] : [column.field],
  );
  const twice = fields.filter((field, index) => fields.indexOf(field) !== index);
  return [...new Set(twice)].map((field) => ({
    code: "duplicate-key",
    pointer: "",
    message: `two columns give the ${field}`,
    expected: "one of them",
  }));
}

function readRow(columns: readonly (Column | null)[], cells: readonly string[], place: Place): DriveSample {
  if (cells.length !== columns.length) {
    refuse(place, {
      code: "invalid-value",
      message: `the line has ${countCells(cells.length)}, and the first line ${columns.length}`,
      expected: "as many cells as there are columns",
    });
  }
  const draft: Draft = { time: NaN, speed: NaN };
  for (const [index, column] of columns.entries()) {
    if (column === null) continue;
    const cell = (cells[index] ?? "").trim();
    if (cell !== "") column.read(draft, cell, place);
    else if (column.field === "time" || column.field === "speed") refuseEmpty(place, column.field);
  }
  return draft;
}

function countCells(number: number): string {
  return number === 1 ? "1 cell" : `${number} cells`;
}

function readClock(cell: string, place: Place): number {
  if (NUMBER.test(cell)) {
    refuse(place, {
      code: "missing-measurement",
      message: `the time ${cell} does not name its unit`,
      expected: `the column name ${SPELLINGS.time}`,
    });
  }
  try {
    return readTime(cell);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      "input",
      error.issues.map((issue) => ({ ...issue, pointer: "", line: place.line })),
    );
  }
}

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

function readNumber(cell: string, field: string, { line, delimiter }: Place): number {
  // A comma can only be a decimal sign where it does not separate cells.
  const text = delimiter === "," ? cell : cell.replace(",", ".");
  if (NUMBER.test(text)) return Number(text);
  refuse(
    { line },
    {
      code: "invalid-value",
      message: `the ${field} ${JSON.stringify(cell.slice(0, 60))} is not a number`,
      expected:
        delimiter === ","
          ? "a number such as 64.5; a decimal comma only where semicolons or tabs separate the cells"
          : "a number such as 64.5 or 64,5",
    },
  );
}

function readWord<const W extends string>(cell: string, field: string, words: readonly W[], place: Place): W {
  const found = words.find((word) => word === cell);
  if (found !== undefined) return found;
  const nearest = nearestOf(cell, words);
  refuse(place, {
    code: "unknown-id",
    message: `${JSON.stringify(cell.slice(0, 60))} is no word of the column "${field}"`,
    expected: `one of ${words.join(", ")}, or nothing`,
    ...(nearest === undefined ? {} : { nearest }),
  });
}

function refuseEmpty(place: Place, field: "time" | "speed"): never {
  refuse(place, {
    code: "missing-measurement",
    message: `the ${field} is empty`,
    expected: "a value; a line without one is left out, and the hole then counts as a gap",
  });
}

function refuse({ line }: { readonly line: number }, issue: Omit<Issue, "pointer" | "line">): never {
  throw new InputError("input", [{ pointer: "", line, ...issue }]);
}
