import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readLog } from "../../src/cli/drive-log.js";
import type { DriveResult, DriveSample } from "../../src/drive/index.js";
import { driveResultShape } from "../../src/drive/index.js";
import { InputError, formatIssue } from "../../src/errors.js";
import { checkLater } from "../properties.js";
import { makeFolder, runCli } from "./run-cli.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const folder = makeFolder();

const procedures = folder.write("procedures.json", {
  schema: "repair-calibration/procedures@1",
  id: "alcora-tresk",
  version: "2.1.0",
  title: "Alcora Tresk (invented)",
  invented: true,
  appliesTo: { make: "Alcora", models: ["Tresk"], modelYears: { from: 2022, to: 2026 } },
  issued: "2026-01-12",
  cite: "Alcora workshop literature (invented)",
  doesNotCover: ["Everything but cameras and radars"],
  procedures: [
    {
      id: "tresk-camera",
      sensor: "forward-camera",
      task: "calibration",
      method: "dynamic",
      section: "4.2",
      driveWindow: {
        speed: { low: 60, high: 120, unit: "km/h" },
        minutes: 1,
        laneMarkings: "both-sides",
        run: "in-pieces",
      },
      afterwards: ["Ignition off for a minute"],
    },
    ...["left", "right"].map((position) => ({
      id: `tresk-corner-${position}`,
      sensor: "rear-corner-radar",
      position,
      task: "calibration",
      method: "dynamic",
      section: "5.1",
      driveWindow: { speed: { low: 30, high: 90, unit: "km/h" }, minutes: 2 },
    })),
    { id: "tresk-radar", sensor: "front-radar", task: "calibration", method: "static", section: "6" },
  ],
});

/** 61 samples of 90 km/h, a minute in all. */
const MINUTE = [
  "time (s),speed (km/h),lanes",
  ...Array.from({ length: 61 }, (_, t) => `${t},90,both`),
  "",
].join("\n");

const drive = (log: string, ...more: readonly string[]): readonly string[] => [
  "drive",
  log,
  "--procedures",
  procedures,
  "--sensor",
  "forward-camera",
  ...more,
];

async function judge(text: string | Uint8Array, pieces?: number): Promise<DriveResult> {
  const around = pieces === undefined ? { input: text } : { input: text, pieces };
  const { status, out, err } = await runCli(drive("-", "--format", "json"), around);
  expect({ status, err }).toEqual({ status: 0, err: "" });
  return JSON.parse(out) as DriveResult;
}

async function refusal(text: string | Uint8Array): Promise<string> {
  const { status, out, err } = await runCli(drive("-"), { input: text });
  expect({ status, out }).toEqual({ status: 2, out: "" });
  return err.split("\n")[0] ?? "";
}

describe("drive", () => {
  it("judges a log in a file, as text, with exit status 0 whatever the verdict", async () => {
    const log = folder.write("minute.csv", MINUTE);
    const { status, out, err } = await runCli(drive(log));
    expect({ status, err }).toEqual({ status: 0, err: "" });
    expect(out).toContain("For        Forward camera: calibration\n");
    expect(out.replace(/\s+/g, " ")).toContain(
      "The log shows the drive that the procedure asks for: 1 min 0 s between 60 and 120 km/h, where 1 min are asked.",
    );
    const short = folder.write("short.csv", MINUTE.split("\n").slice(0, 50).join("\n"));
    const less = await runCli(drive(short));
    expect(less.status).toBe(0);
    // 49 samples are 48 seconds.
    expect(less.out).toContain("12 s more between 60 and 120 km/h");
  });

  it("writes a result of its published shape, with the pack it rests on and what follows", async () => {
    const result = await judge(MINUTE);
    expect(driveResultShape.parse(result)).toEqual(result);
    expect(result).toMatchObject({
      requirement: "forward-camera/calibration",
      verdict: "met",
      procedure: {
        pack: "alcora-tresk",
        version: "2.1.0",
        id: "tresk-camera",
        section: "4.2",
        invented: true,
      },
      certain: { seconds: 60, km: 1.5 },
      afterwards: ["Ignition off for a minute"],
    });
    expect(result.procedure.digest).toMatch(/^sha256:[0-9a-f]{64}$/);
    expect(result.cautions[0]).toMatch(/Traffic law and road conditions outrank the speed/);
  });

  it("writes the result into a file, and never over the log", async () => {
    const log = folder.write("own.csv", MINUTE);
    const out = join(folder.path, "result.json");
    expect(await runCli(drive(log, "--format", "json", "--out", out))).toEqual({
      status: 0,
      out: "",
      err: "",
    });
    expect(JSON.parse(readFileSync(out, "utf8"))).toMatchObject({ verdict: "met" });
    expect((await runCli(drive(log, "--out", log))).status).toBe(2);
    expect(readFileSync(log, "utf8")).toBe(MINUTE);
  });

  it("keeps to 80 columns, and to fewer where asked", async () => {
    for (const columns of ["80", "50"]) {
      const { out } = await runCli(drive("-"), {
        input: MINUTE.replace(/both/g, ""),
        env: { COLUMNS: columns },
      });
      expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(Number(columns));
    }
  });

  it("has help on 80 columns", async () => {
    const { status, out } = await runCli(["drive", "--help"]);
    expect(status).toBe(0);
    expect(out).toContain("Examples:\n  $ repair-calibration drive log.csv");
    expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
  });

  it("takes another longest gap", async () => {
    const sparse = ["time (s),speed (km/h),lanes", "0,90,both", "60,90,both"].join("\n");
    const seconds = async (...more: readonly string[]): Promise<number> => {
      const { out } = await runCli(drive("-", "--format", "json", ...more), { input: sparse });
      return (JSON.parse(out) as DriveResult).certain.seconds;
    };
    expect([await seconds(), await seconds("--max-gap", "60")]).toEqual([0, 60]);
    for (const wrong of ["0", "-1", "x", "3601"]) {
      expect((await runCli(drive("-", `--max-gap=${wrong}`), { input: sparse })).status).toBe(2);
    }
  });

  it("tells somebody who watches how far it has come", async () => {
    const rows = Array.from({ length: 200_001 }, (_, index) => `${index / 10},90,both`);
    const input = ["time (s),speed (km/h),lanes", ...rows].join("\n");
    const { err } = await runCli(drive("-"), { input, isErrorScreen: true });
    expect(err).toBe("\rstandard input: 200000 samples read\r\u001b[K");
  });
});

describe("the sensor of a drive", () => {
  const of = (sensor: string) =>
    runCli(["drive", "-", "--procedures", procedures, "--sensor", sensor], { input: MINUTE });

  it("is found with its position and its task", async () => {
    for (const name of ["rear-corner-radar:left", "rear-corner-radar:left/calibration"]) {
      const { status, out } = await of(name);
      expect(status).toBe(0);
      expect(out).toContain("For        Left rear corner radar: calibration\n");
    }
  });

  it.each([
    ["forward-camra", 'did you mean "forward-camera"?'],
    ["forward-camera:left", 'a forward-camera has no position "left"'],
    ["front-radar", "no procedure given asks for a drive"],
    ["rear-corner-radar", "one of rear-corner-radar:left/calibration, rear-corner-radar:right/calibration"],
    ["forward-camera/aim", "no procedure given asks for a drive"],
  ])("is refused: %s", async (name, message) => {
    const { status, out, err } = await of(name);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err).toContain(message);
  });

  it("is refused where two vehicles' procedures are given", async () => {
    const other = folder.write(
      "other.json",
      readFileSync(procedures, "utf8").replace("alcora-tresk", "alcora-other").replaceAll("tresk-", "other-"),
    );
    const { status, err } = await runCli(drive("-", "--procedures", other), { input: MINUTE });
    expect(status).toBe(2);
    expect(err).toContain('"tresk-camera" of alcora-tresk and "other-camera" of alcora-other');
  });
});

describe("logs as lines of cells", () => {
  const expected = { certain: { seconds: 2, km: 0.05 } };

  it.each([
    ["commas", "time (s),speed (km/h),lanes\n0,90,both\n1,90,both\n2,90,both\n"],
    ["semicolons and decimal commas", "time (s);speed (km/h);lanes\n0,0;90,0;both\n1,0;90;both\n2;90;both"],
    ["tabs", "time (s)\tspeed (km/h)\tlanes\n0\t90\tboth\n1\t90\tboth\n2\t90\tboth"],
    ["Windows line ends", "time (s),speed (km/h),lanes\r\n0,90,both\r\n1,90,both\r\n2,90,both\r\n"],
    ["old line ends", "time (s),speed (km/h),lanes\r0,90,both\r1,90,both\r2,90,both"],
    ["line ends that change", "time (s),speed (km/h),lanes\n0,90,both\r\n1,90,both\n2,90,both\r\n"],
    ["a byte-order mark", "\ufefftime (s),speed (km/h),lanes\n0,90,both\n1,90,both\n2,90,both"],
    ["quotation marks", '"time (s)","speed (km/h)",lanes\n"0","90","both"\n1,90,both\n2,90,"both"'],
    [
      "empty lines and blanks",
      "\n\ntime (s), speed (km/h) ,lanes\n 0 ,90, both\n\n1,90,both\n  \n2,90,both\n\n\n",
    ],
    [
      "columns passed over",
      'x-place,time (s),speed (km/h),lanes\n"Ærøvej, ""north""",0,90,both\n,1,90,both\n"a\nb",2,90,both',
    ],
    [
      "times of the day",
      "time,speed (km/h),lanes\n2026-04-14T23:59:59+02:00,90,both\n2026-04-14T22:00:00Z,90,both\n2026-04-14T22:00:01Z,90,both",
    ],
    [
      "miles an hour",
      // 90 / 1.609344
      `time (s),speed (mph),lanes\n0,55.92340730136006,both\n1,55.92340730136006,both\n2,55.92340730136006,both`,
    ],
  ])("may have %s", async (_, text) => {
    expect(await judge(text)).toMatchObject(expected);
  });

  it.each([
    [
      "a bad number",
      MINUTE.replace("\n41,90,", "\n41,9o,"),
      'standard input:43: the speed "9o" is not a number',
    ],
    ["a speed below nothing", MINUTE.replace("\n41,90,", "\n41,-1,"), "standard input:43: the speed -1 km/h"],
    [
      "a cell too few",
      MINUTE.replace("\n41,90,", "\n41,"),
      "standard input:43: the line has 2 cells, and the first line 3",
    ],
    [
      "a quotation mark inside",
      MINUTE.replace("\n41,90,", '\n41,9"0,'),
      "standard input:43: a quotation mark stands inside",
    ],
    [
      "a quotation mark left open",
      MINUTE.replace("\n41,90,", '\n41,"90,'),
      "a quotation mark that opens a cell is never closed",
    ],
    ["no unit", "time (s),speed\n1,2", 'standard input:1: the column "speed" does not name its unit'],
    ["no samples", "time (s),speed (km/h)\n", "standard input: the log holds no sample"],
    ["nothing", "", "standard input: the log holds nothing but white space"],
    ["blanks", " \n\n", "standard input: the log holds nothing but white space"],
  ])("are refused with %s", async (_, text, message) => {
    expect(await refusal(text)).toContain(message);
  });

  it("are refused in line 12,345 by name and line", async () => {
    const rows = Array.from({ length: 20_000 }, (_, index) =>
      index === 12_343 ? `${index},x,both` : `${index},90,both`,
    );
    const log = folder.write("long.csv", ["time (s),speed (km/h),lanes", ...rows].join("\n"));
    const { status, out, err } = await runCli(drive(log));
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err.split("\n")[0]).toBe(
      `${log}:12345: the speed "x" is not a number; expected a number such as 64.5; a decimal comma only where semicolons or tabs separate the cells`,
    );
  });

  it("are refused where time goes back again and again, at the line of the sixth step", async () => {
    const lines = MINUTE.trimEnd().split("\n");
    const backwards = [lines[0], ...lines.slice(1).reverse()].join("\n");
    // Line 2 is the first sample, line 3 the first step back, line 8 the sixth.
    expect(await refusal(backwards)).toContain("standard input:8: the log is not sorted by time");
  });

  it("are refused where a line has no end", async () => {
    expect(await refusal(`time (s),speed (km/h),x-note\n0,1,"${"a".repeat(70_000)}"`)).toContain(
      "more than 65536",
    );
  });

  it("are refused where they are no UTF-8, at the line", async () => {
    const bytes = Buffer.from(MINUTE);
    bytes[MINUTE.indexOf("\n41,") + 4] = 0xe6;
    expect(await refusal(bytes)).toContain("standard input:43: the line holds bytes that are not UTF-8");
    expect(await refusal(Buffer.from(MINUTE, "utf16le"))).toContain("the bytes are UTF-16");
  });

  it("are refused where there is no file", async () => {
    const { status, err } = await runCli(drive(join(folder.path, "none.csv")));
    expect(status).toBe(2);
    expect(err).toContain("none.csv: there is no such file");
    expect((await runCli(drive(folder.path))).err).toContain("this is a folder");
  });
});

const DOCUMENT = {
  schema: "repair-calibration/drive@1",
  reference: "RO-77",
  units: { speed: "km/h" },
  samples: Array.from({ length: 61 }, (_, time) => ({ time, speed: 90, lanes: "both" })),
};

describe("logs as documents", () => {
  it.each([
    ["as one line", JSON.stringify(DOCUMENT)],
    ["indented", JSON.stringify(DOCUMENT, null, 2)],
    ["behind a byte-order mark", `\ufeff  ${JSON.stringify(DOCUMENT)}\n`],
  ])("are judged %s", async (_, text) => {
    expect(await judge(text)).toMatchObject({ verdict: "met", reference: "RO-77", certain: { seconds: 60 } });
  });

  const with41 = (change: object): string =>
    JSON.stringify({
      ...DOCUMENT,
      samples: DOCUMENT.samples.map((each) => (each.time === 41 ? { ...each, ...change } : each)),
    })
      // One sample a line, the first on line 2.
      .replaceAll('{"time"', '\n{"time"');

  it.each([
    [
      "a wrong value",
      with41({ speed: "90" }),
      'standard input:43: /samples/41/speed: this is "90"; expected a number',
    ],
    [
      "a value beyond all speeds",
      with41({ speed: 500 }),
      "standard input:43: /samples/41/speed: 500 is too large",
    ],
    [
      "a wrong key",
      with41({ sped: 1 }),
      'standard input:43: /samples/41/sped: the key "sped" has no meaning here',
    ],
    [
      "a time told in another way",
      with41({ time: "1970-01-01T00:00:41Z" }),
      "standard input:43: /samples/41/time: some times",
    ],
    [
      "a clock that goes back",
      JSON.stringify({ ...DOCUMENT, samples: [...DOCUMENT.samples].reverse() }),
      "standard input:1: /samples/6/time: the log is not sorted",
    ],
    [
      "a key twice",
      with41({}).replace('"time":41', '"time":41,"time":42'),
      'standard input:43: the key "time" stands here twice',
    ],
    [
      "a reserved key",
      with41({}).replace('"time":41', '"__proto__":41'),
      'standard input:43: the key "__proto__" is reserved',
    ],
    ["no JSON", with41({}).replace('"time":41', '"time":4x1'), "standard input:43: the text is no JSON here"],
    ["an end too early", with41({}).slice(0, -20), "the document ends before its last bracket is closed"],
    ["something behind it", `${with41({})} {}`, "something follows the document"],
    ["a literal behind it", `${with41({})} nul`, "the text is no JSON here"],
    [
      "units behind the samples",
      JSON.stringify({ schema: DOCUMENT.schema, samples: [], units: DOCUMENT.units }),
      "the unit of the speed is not named before the samples",
    ],
    [
      "a reference behind the samples",
      JSON.stringify({ ...DOCUMENT, reference: undefined, samples: [], ...{ $schema: "" } }).replace(
        ',"$schema":""}',
        ',"reference":"R"}',
      ),
      '/reference: "reference" stands behind the samples',
    ],
    ["no samples", JSON.stringify({ ...DOCUMENT, samples: undefined }), "/samples: this is missing"],
    [
      "samples that are no list",
      JSON.stringify({ ...DOCUMENT, samples: { a: 1 } }),
      "/samples: the samples are not a list",
    ],
    ["an empty list", JSON.stringify({ ...DOCUMENT, samples: [] }), "the log holds no sample"],
    [
      "a key nobody knows",
      JSON.stringify({ schema: DOCUMENT.schema, unit: {} }),
      '/unit: the key "unit" has no meaning here; did you mean "units"?',
    ],
    ["another schema", JSON.stringify({ ...DOCUMENT, schema: "repair-calibration/job@1" }), "/schema: "],
    ["a list", "[1]", "a log in JSON is an object"],
    ["nesting without end", `{"schema":${"[".repeat(50)}`, "nested deeper than in any log"],
  ])("are refused with %s", async (_, text, message) => {
    expect(await refusal(text)).toContain(message);
  });

  it("are refused where one sample never ends, before it fills the memory", async () => {
    const text = `${JSON.stringify({ ...DOCUMENT, samples: undefined }).slice(0, -1)},"samples":[{"road":"`;
    const { err } = await runCli(drive("-"), { input: text + "a".repeat(3_000_000), pieces: 65_536 });
    expect(err).toContain("one sample has more than 1048576 bytes");
  });
});

/** What reading some bytes comes to: all samples, or the refusal. */
async function outcomeOf(pieces: readonly Uint8Array[]): Promise<unknown> {
  const samples: DriveSample[] = [];
  const terminal = {
    streamInput: async function* () {
      for (const piece of pieces) yield await Promise.resolve(piece);
    },
  };
  try {
    const { reference } = await readLog("-", terminal as never, (sample) => samples.push(sample));
    return { reference, samples };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { samples, issues: error.issues.map(formatIssue) };
  }
}

function cut(bytes: Uint8Array, places: readonly number[]): readonly Uint8Array[] {
  const sorted = [
    0,
    ...[...places].map((place) => place % (bytes.length + 1)).sort((a, b) => a - b),
    bytes.length,
  ];
  return sorted.slice(1).map((end, index) => bytes.subarray(sorted[index], end));
}

const CELLS =
  '\ufeffx-note;time (s);speed (km/h);lanes\r\n"Ærø; ""✓"" 🚗";0,5;90;both\r\n;1;91,25;"one"\n\n"two\r\nlines";2;92;\r\n🚗;3;93;none';
const OBJECT =
  '\ufeff{ "schema": "repair-calibration/drive@1", "reference": "Ærø ✓ 🚗 \\ud83d\\ude97",\r\n"units": {"speed": "mph"},\n"samples": [{"time": 0.5, "speed": 1e1},\n\n{"time": 1, "speed": 20.25,\n"lanes": "both"}]}\n';

/** The same logs, and what goes wrong with them, each to be told in the same way however it is cut. */
const TEXTS: readonly (readonly [string, Uint8Array])[] = [
  ["cells", Buffer.from(CELLS)],
  ["a bad cell", Buffer.from(CELLS.replace("92", "9x"))],
  [
    "bad bytes behind a good line",
    Buffer.concat([Buffer.from(CELLS.slice(0, 60)), Buffer.from([0xf0, 0x9f, 0x0a, 0x41])]),
  ],
  [
    "bad bytes behind a bad line",
    Buffer.concat([Buffer.from(`${CELLS.replace("92", "9x")}\n`), Buffer.from([0xc3])]),
  ],
  ["a quotation mark left open", Buffer.from(`${CELLS}\n"`)],
  ["a document", Buffer.from(OBJECT)],
  ["a bad sample", Buffer.from(OBJECT.replace("20.25", "-1"))],
  ["a bad token", Buffer.from(OBJECT.replace("20.25", "20.25.1"))],
  ["bad bytes in a document", Buffer.concat([Buffer.from(OBJECT.slice(0, 150)), Buffer.from([0xe2, 0x28])])],
  ["a document cut short", Buffer.from(OBJECT.slice(0, 160))],
  ["a key nobody knows", Buffer.from(OBJECT.replace('"lanes"', '"✓"'))],
];

describe("the pieces in which a log comes", () => {
  it.each(TEXTS)("never matter: %s", async (_, bytes) => {
    const whole = await outcomeOf([bytes]);
    expect(await outcomeOf(cut(bytes, Array.from(bytes.keys())))).toEqual(whole);
    await checkLater(
      fc.asyncProperty(fc.array(fc.nat(1000), { maxLength: 12 }), async (places) => {
        expect(await outcomeOf(cut(bytes, places))).toEqual(whole);
      }),
      100,
    );
  });

  it("give what they hold", async () => {
    expect(await outcomeOf([Buffer.from(CELLS)])).toEqual({
      reference: null,
      samples: [
        { time: 0.5, speed: 90, lanes: "both" },
        { time: 1, speed: 91.25, lanes: "one" },
        { time: 2, speed: 92 },
        { time: 3, speed: 93, lanes: "none" },
      ],
    });
    // 10 and 20.25 times 1.609344
    expect(await outcomeOf([Buffer.from(OBJECT)])).toEqual({
      reference: "Ærø ✓ 🚗 🚗",
      samples: [
        { time: 0.5, speed: 16.09344 },
        { time: 1, speed: 32.589216, lanes: "both" },
      ],
    });
  });
});

describe("the two forms of a log", () => {
  it("say the same of the same drive", async () => {
    const sample = fc.record({
      speed: fc.integer({ min: 50, max: 130 }),
      lanes: fc.constantFrom("both", "one", "unknown"),
    });
    await checkLater(
      fc.asyncProperty(fc.array(sample, { minLength: 1, maxLength: 30 }), async (given) => {
        const samples = given.map((each, time) => ({ time, ...each }));
        const cells = samples.map(({ time, speed, lanes }) => `${time},${speed},${lanes}`);
        const fromCells = await judge(["time (s),speed (km/h),lanes", ...cells].join("\n"));
        const fromDocument = await judge(JSON.stringify({ ...DOCUMENT, samples }));
        expect({ ...fromDocument, reference: null }).toEqual(fromCells);
      }),
      30,
    );
  });
});

describe("the demonstrated logs", () => {
  const demo = join(root, "docs/demo");
  const judgeDemo = async (log: string, pack: string): Promise<DriveResult> => {
    const { out } = await runCli([
      "drive",
      join(demo, "logs", log),
      "--procedures",
      join(demo, "procedures", pack),
      "--sensor",
      "forward-camera",
      "--format",
      "json",
    ]);
    return JSON.parse(out) as DriveResult;
  };

  it("show Fjell's drive", async () => {
    const result = await judgeDemo("fjell-forward-camera.csv", "norrvik-fjell.json");
    expect(result.verdict).toBe("met");
    // The lane markings are told to be gone on one side from 640 s to 651 s, and nowhere else on the motorway.
    expect(result.interruptions).toEqual([{ begin: 639, end: 652, seconds: 13, why: ["lanes"] }]);
  });

  it("do not show Tind's, with a gap and a clock set back", async () => {
    const result = await judgeDemo("tind-forward-camera.json", "norrvik-tind.json");
    expect(result.verdict).toBe("not-met");
    // A sample every 2 s; none between 300 s and 346 s; from 798 s the clock goes back to 770 s.
    expect(result.gaps).toMatchObject({ total: 1, longest: { begin: 300, end: 346 } });
    expect(result.clock.backwardSteps).toEqual([{ from: 798, to: 770 }]);
  });
});

describe("the page about drive logs", () => {
  const excerpts = [
    ...readFileSync(join(root, "docs/drive-logs.md"), "utf8").matchAll(
      /```text drive of (\S+) with (\S+)\n([\s\S]*?)```/g,
    ),
  ].map(([, log = "", pack = "", text = ""]) => [log, pack, text] as const);

  it("shows what is printed", async () => {
    expect(excerpts.length).toBeGreaterThan(0);
    for (const [log, pack, text] of excerpts) {
      const { out } = await runCli([
        "drive",
        join(root, log),
        "--procedures",
        join(root, pack),
        "--sensor",
        "forward-camera",
      ]);
      expect(out).toContain(text);
    }
  });
});

describe("drive as a process", () => {
  it("reads a log from a pipe in memory that does not grow with it", () => {
    const head = '"time (s)","speed (km/h)"\n';
    const script = `
      const rows = (from) => Array.from({ length: 10000 }, (_, i) => ((from + i) / 10) + ",90").join("\\n") + "\\n";
      process.stdout.write(${JSON.stringify(head)});
      let at = 0;
      const more = () => { while (at < 300000) { at += 10000; if (!process.stdout.write(rows(at))) { process.stdout.once("drain", more); return; } } };
      more();`;
    const file = join(folder.path, "rows.mjs");
    writeFileSync(file, script);
    const { status, stdout, stderr } = spawnSync(
      "sh",
      [
        "-c",
        `'${process.execPath}' '${file}' | '${process.execPath}' --max-old-space-size=40 --import tsx src/cli/main.ts drive - --procedures '${procedures}' --sensor rear-corner-radar:left --format json`,
      ],
      { cwd: root, encoding: "utf8" },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(JSON.parse(stdout)).toMatchObject({ samples: 300_000, certain: { seconds: 29_999.9 } });
  }, 60_000);
});
