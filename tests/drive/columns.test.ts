import { describe, expect, it } from "vitest";
import { findDelimiter, readColumns, type Delimiter } from "../../src/drive/index.js";
import { InputError, type Issue } from "../../src/errors.js";

function issuesOf(act: () => unknown): readonly Issue[] {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

function read(names: string, cells: string, delimiter: Delimiter = ","): unknown {
  return readColumns(names.split(delimiter), delimiter)(cells.split(delimiter), 7);
}

describe("names of columns", () => {
  it("give the quantities in the units of the program, in any order and with capitals", () => {
    expect(
      read("Gradient (%), SPEED (MPH),lanes,Time (s),road,steering  (deg)", "-2.5,60,both,12.5,rural,-4"),
    ).toEqual({
      gradient: -2.5,
      // 60 × 1.609344
      speed: 96.56064,
      lanes: "both",
      time: 12.5,
      road: "rural",
      steering: -4,
    });
  });

  it("that begin with x- are passed over, whatever their cells hold", () => {
    expect(read("time (s),x-rpm,speed (km/h)", "1,n/a,50")).toEqual({ time: 1, speed: 50 });
  });

  it.each([
    ["time (s),speed", "missing-measurement", '"speed (km/h)" or "speed (mph)"'],
    ["time (s),speed (km/h),steering", "missing-measurement", '"steering (deg)"'],
    ["time (s),speed (km/h),gradient", "missing-measurement", '"gradient (%)"'],
    ["time (s),lanes", "missing-measurement", '"speed (km/h)" or "speed (mph)"'],
    ["speed (km/h),lanes", "missing-measurement", '"time (s)", or "time" with ISO 8601 times'],
  ])("without a unit or a column are refused: %s", (names, code, expected) => {
    expect(issuesOf(() => readColumns(names.split(","), ","))).toMatchObject([{ code, expected, line: 1 }]);
  });

  it("that nobody knows are refused with the nearest", () => {
    const issues = issuesOf(() => readColumns(["time (s)", "speed (kmh)", "lane"], ","));
    expect(issues).toMatchObject([
      { code: "unknown-key", nearest: "speed (km/h)" },
      { code: "unknown-key", nearest: "lanes" },
      { code: "missing-measurement" },
    ]);
  });

  it("that give a quantity twice are refused", () => {
    expect(
      issuesOf(() => readColumns(["time", "time (s)", "speed (mph)", "speed (km/h)"], ",")),
    ).toMatchObject([
      { code: "duplicate-key", message: "two columns give the time" },
      { code: "duplicate-key", message: "two columns give the speed" },
    ]);
  });
});

describe("cells", () => {
  it("that are empty are not recorded", () => {
    expect(read("time (s),speed (km/h),lanes,steering (deg)", "1,50,,")).toEqual({ time: 1, speed: 50 });
  });

  it.each(["12", "+12", "12.0", "1.2e1", "012"])("hold numbers: %s", (cell) => {
    expect(read("time (s),speed (km/h)", `1,${cell}`)).toEqual({ time: 1, speed: 12 });
  });

  it.each(["12,5", "12.5"])("hold a decimal comma or point where a semicolon separates them: %s", (cell) => {
    expect(read("time (s);speed (km/h)", `1;${cell}`, ";")).toEqual({ time: 1, speed: 12.5 });
  });

  it.each([
    ["1", "", "missing-measurement", "the speed is empty"],
    ["1", "fast", "invalid-value", 'the speed "fast" is not a number'],
    ["1", "0x20", "invalid-value", 'the speed "0x20" is not a number'],
    ["1", "Infinity", "invalid-value", 'the speed "Infinity" is not a number'],
    ["1", "NaN", "invalid-value", 'the speed "NaN" is not a number'],
    ["1", "1 200", "invalid-value", 'the speed "1 200" is not a number'],
    ["1", "1.200,5", "invalid-value", 'the speed "1.200,5" is not a number'],
    ["", "50", "missing-measurement", "the time is empty"],
  ])("are refused with their line: %j %j", (time, speed, code, message) => {
    expect(issuesOf(() => read("time (s);speed (km/h)", `${time};${speed}`, ";"))).toMatchObject([
      { code, message, line: 7, pointer: "" },
    ]);
  });

  it("have no decimal comma where the comma separates them", () => {
    const row = readColumns(["time (s)", "speed (km/h)"], ",");
    expect(issuesOf(() => row(["1", "12,5"], 3))).toMatchObject([
      {
        code: "invalid-value",
        line: 3,
        expected: expect.stringContaining("decimal comma only where") as string,
      },
    ]);
  });

  it("hold a word of their column, and no other", () => {
    expect(issuesOf(() => read("time (s),speed (km/h),road", "1,50,motorways"))).toMatchObject([
      { code: "unknown-id", nearest: "motorway", line: 7 },
    ]);
    expect(issuesOf(() => read("time (s),speed (km/h),lanes", "1,50,yes"))).toMatchObject([
      { code: "unknown-id", expected: "one of both, one, none, unknown, or nothing" },
    ]);
  });

  it("are as many as there are columns", () => {
    expect(issuesOf(() => read("time (s),speed (km/h)", "1"))).toMatchObject([
      { code: "invalid-value", message: "the line has 1 cell, and the first line 2", line: 7 },
    ]);
  });

  it("of a column of times are times with an offset, not bare numbers", () => {
    expect(read("time,speed (km/h)", "1970-01-01T01:00:01+01:00,5")).toEqual({ time: 1, speed: 5 });
    expect(issuesOf(() => read("time,speed (km/h)", "12,5"))).toMatchObject([
      {
        code: "missing-measurement",
        line: 7,
        expected: 'the column name "time (s)", or "time" with ISO 8601 times',
      },
    ]);
    expect(issuesOf(() => read("time,speed (km/h)", "12:30,5"))).toMatchObject([
      { code: "invalid-value", line: 7, pointer: "" },
    ]);
  });
});

describe("what separates the cells", () => {
  it.each([
    ["time (s),speed (km/h)", ","],
    ["time (s);speed (km/h)", ";"],
    ["time (s)\tspeed (km/h)", "\t"],
    ['"time, as told (s)";speed (km/h)', ";"],
    ["time (s)", ","],
  ])("%j", (line, delimiter) => {
    expect(findDelimiter(line)).toBe(delimiter);
  });
});
