import { existsSync, mkdirSync, readFileSync, readdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { WINDSHIELD_JOB, makeFolder, runCli } from "./run-cli.js";

const folder = makeFolder();
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A job text with one thing changed. */
function jobWith(change: (job: typeof WINDSHIELD_JOB & Record<string, unknown>) => void): string {
  const job = structuredClone(WINDSHIELD_JOB) as typeof WINDSHIELD_JOB & Record<string, unknown>;
  change(job);
  return JSON.stringify(job);
}

const JOB_TEXT = JSON.stringify(WINDSHIELD_JOB);

/** What is given, and the first line of standard error: the file's name, the line if one is known, and this. */
const REFUSED: readonly (readonly [string, string | Uint8Array, string])[] = [
  ["an empty file", "", "the document is empty; expected a document in JSON"],
  ["white space only", " \n\t\n", "the document holds nothing but white space; expected a document in JSON"],
  [
    "bytes that are not UTF-8",
    new Uint8Array([...bytes('{\n"reference": "RO-'), 0xe9, ...bytes('"}')]),
    "2: the line holds bytes that are not UTF-8; expected UTF-8",
  ],
  ["UTF-16", new Uint8Array([0xff, 0xfe, 0x7b, 0x00, 0x7d, 0x00]), "the bytes are UTF-16; expected UTF-8"],
  [
    "UTF-16 without a byte-order mark",
    new Uint8Array([0x7b, 0x00, 0x7d, 0x00]),
    "the bytes are UTF-16; expected UTF-8",
  ],
  [
    "JSON Lines",
    `${JOB_TEXT}\n${JOB_TEXT}\n`,
    "2: column 1: a second document begins here, and one file holds one",
  ],
  [
    "a missing comma",
    '{\n  "schema": "x"\n  "reference": 1\n}',
    "3: column 3: a comma is missing between two entries",
  ],
  ["a missing colon", '{"schema" "x"}', "1: column 11: a colon is missing between key and value"],
  [
    "a comma too many in an object",
    '{"schema": "x",\n}',
    "2: column 1: a comma stands before this bracket, and nothing follows it",
  ],
  [
    "a comma too many in a list",
    '{"operations": [1, 2, ]}',
    "1: column 23: a comma stands before this bracket, and nothing follows it",
  ],
  ["a comment", '{ // the order\n"schema": "x"}', "1: column 3: JSON has no comments"],
  ["single quotation marks", "{'schema': 1}", "1: column 2: texts and keys stand in double quotation marks"],
  ["an object that is not closed", '{"schema": "x"', "1: column 15: the object is not closed by }"],
  [
    "a text that is not closed",
    '{"schema": "x}',
    "1: column 12: the text is not closed by a quotation mark on its line",
  ],
  [
    "a line break inside a text",
    '{"a": "b\nc"}',
    "1: column 7: the text is not closed by a quotation mark on its line",
  ],
  ["an escape that is none", '{"a": "\\x41"}', "1: column 7: JSON has no such escape"],
  ["two documents", "{} {}", "1: column 4: a second document begins here, and one file holds one"],
  [
    "a column after a wide character",
    '{"a": "\u{1f697}" "b": 1}',
    "1: column 11: a comma is missing between two entries",
  ],
  ["a list instead of a job", "[]", "this is a list; expected an object"],
  [
    "a number instead of a text",
    jobWith((job) => {
      job["reference"] = 2209 as never;
    }),
    "1: /reference: this is 2209; expected a text",
  ],
  [
    "a text instead of a number",
    jobWith((job) => {
      job.vehicle.modelYear = "2024" as never;
    }),
    '1: /vehicle/modelYear: this is "2024"; expected a number',
  ],
  [
    "a misspelt key",
    jobWith((job) => {
      (job.vehicle as Record<string, unknown>)["equipmentComplet"] = true;
    }),
    '1: /vehicle/equipmentComplet: the key "equipmentComplet" has no meaning here; did you mean "equipmentComplete"?',
  ],
  [
    "a key that is missing",
    jobWith((job) => {
      delete (job as Record<string, unknown>)["operations"];
    }),
    "1: /operations: this is missing; expected a list",
  ],
  [
    "a misspelt sensor",
    jobWith((job) => {
      job.vehicle.equipment.splice(0, 1, { ...job.vehicle.equipment[0], sensor: "forward-camra" } as never);
    }),
    '1: /vehicle/equipment/0/sensor: "forward-camra" is not in the list; expected one of the 22 words of this list; did you mean "forward-camera"?',
  ],
  [
    "a position that the sensor does not have",
    jobWith((job) => {
      job.vehicle.equipment.splice(1, 1, { ...job.vehicle.equipment[1], position: "left" } as never);
    }),
    '1: /vehicle/equipment/1/position: the front radar has no position "left"; expected null, since there is only one',
  ],
  [
    "two operations with one id",
    jobWith((job) => {
      job.operations.push({ ...job.operations[0] } as never);
    }),
    '1: /operations/1/id: the id "L1" is taken by /operations/0; expected an id of its own for each operation',
  ],
  [
    "a key that stands twice",
    JOB_TEXT.replace('"make":', '"make": "Alcora",\n"make":'),
    '/vehicle/make: the key "make" stands on line 1 and again on line 2',
  ],
  [
    "a key that stands twice, written in two ways",
    '{"a": {"b/c": [0, {"d": 1, "\\u0064": 2}]}}',
    '/a/b~1c/1/d: the key "d" stands twice on line 1',
  ],
  [
    "__proto__ as a key",
    JOB_TEXT.replace('"make":', '"__proto__": {"polluted": true}, "make":'),
    '/vehicle/__proto__: the key "__proto__" is reserved and never read from input',
  ],
  [
    "100 levels of nesting",
    `{"extensions": ${'{"a":'.repeat(100)}1${"}".repeat(100)}}`,
    "/extensions/a/a: objects and lists are nested more than 40 levels deep below this",
  ],
  [
    "a million levels of nesting, and no end",
    "[".repeat(1_000_000),
    "/0/0/0: objects and lists are nested more than 40 levels deep below this",
  ],
  [
    "10 MB",
    `{"schema": "${"x".repeat(10 * 1024 * 1024)}"}`,
    "the document has 10.0 MiB; expected at most 8 MiB",
  ],
];

describe("a job that cannot be read is refused", () => {
  it.each(REFUSED)("%s", async (name, content, message) => {
    const file = folder.write(`${name.replace(/[^a-z0-9]+/g, "-")}.json`, content);
    const out = join(folder.path, "never.txt");
    const { status, out: stdout, err } = await runCli(["plan", file, "--out", out]);
    expect(err.split("\n")[0]).toBe(`${file}:${/^\d/.test(message) ? "" : " "}${message}`);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(existsSync(out)).toBe(false);
  });

  it("a file that is not there", async () => {
    const file = join(folder.path, "nowhere.json");
    expect(await runCli(["plan", file])).toEqual({
      status: 2,
      out: "",
      err: `${file}: there is no such file\nnot-a-file: Check the spelling of the path, or give - to read standard input.\n`,
    });
  });

  it("a folder", async () => {
    const { status, err } = await runCli(["plan", folder.path]);
    expect(err.split("\n")[0]).toBe(`${folder.path}: this is a folder; expected a file`);
    expect(status).toBe(2);
  });

  it("a link that leads back to itself", async () => {
    const link = join(folder.path, "loop.json");
    symlinkSync(link, link);
    const { status, err } = await runCli(["plan", link]);
    expect(err.split("\n")[0]).toBe(`${link}: this could not be read (ELOOP)`);
    expect(status).toBe(2);
  });

  it("standard input that is empty, and names it so", async () => {
    const { status, err } = await runCli(["plan", "-"]);
    expect(err.split("\n")[0]).toBe("standard input: the document is empty; expected a document in JSON");
    expect(status).toBe(2);
  });

  it("standard input asked for twice", async () => {
    const { status, err } = await runCli(["plan", "-", "--procedures", "-"], { input: JOB_TEXT });
    expect(err.split("\n")[0]).toBe("standard input can be read only once, but - stands for two documents");
    expect(status).toBe(2);
  });

  it("with every issue, up to twenty, and the number of the others", async () => {
    const text = jobWith((job) => {
      job.operations = Array.from({ length: 25 }, (_, index) => ({
        ...WINDSHIELD_JOB.operations[0],
        id: `L${index}`,
        action: "rplace",
      })) as never;
    });
    const file = folder.write("many.json", text);
    const { status, err } = await runCli(["plan", file]);
    const lines = err.trimEnd().split("\n");
    expect(lines).toHaveLength(22);
    expect(lines[0]).toBe(
      `${file}:1: /operations/0/action: "rplace" is not in the list; expected one of the 18 words of this list; did you mean "replace"?`,
    );
    expect(lines[20]).toBe("and 5 more");
    expect(lines[21]).toMatch(/^unknown-id: Choose a word from the list/);
    expect(status).toBe(2);
  });

  it("with everything at once, as it comes in the file, each with its line", async () => {
    const file = folder.write(
      "lines.json",
      [
        '{ "schema": "repair-calibration/job@1",',
        '  "refrence": "RO-1",',
        '  "vehicle": {',
        '    "market": "us", "vin": "1G4AH59H55G118341",',
        '    "equipment": [',
        '      { "sensor": "front-radar",',
        '        "position": "left", "fitted": "yes" },',
        '      { "sensor": "FORWARD-CAMERA", "fitted": "maybe" } ],',
        '    "features": { "lane-keeping": "standard" } },',
        '  "operations": [',
        '    { "id": "L1", "action": "replace", "component": "other" },',
        '    { "id": "L1", "action": "mend", "component": "windsheild" } ] }',
      ].join("\n"),
    );
    const { status, err } = await runCli(["plan", file]);
    const told = err
      .split("\n")
      .filter((line) => line.startsWith(file))
      .map((line) => line.slice(file.length + 1));
    expect(told.map((line) => line.split(": ").slice(0, 2).join(" "))).toEqual([
      "2 /refrence",
      "4 /vehicle/vin",
      "7 /vehicle/equipment/0/position",
      "8 /vehicle/equipment/1/sensor",
      "8 /vehicle/equipment/1/fitted",
      "9 /vehicle/features/lane-keeping",
      "11 /operations/0/text",
      "12 /operations/1/id",
      "12 /operations/1/action",
      "12 /operations/1/component",
      "1 /reference",
    ]);
    expect(told[3]).toContain('did you mean "forward-camera"?');
    expect(told[5]).toContain('did you mean "lane-keeping-assistance"?');
    // No word is near "mend", so the person is shown all of them.
    expect(told[8]).toContain("expected one of replace, remove-install, overhaul, repair, paintless-repair,");
    expect(status).toBe(2);
  });

  it("with the kind of document alone, where it is another one", async () => {
    const file = folder.write("plan.json", '{"schema": "repair-calibration/plan@1", "outcome": "complete"}');
    const { err } = await runCli(["plan", file]);
    expect(err.split("\n").filter((line) => line.startsWith(file))).toEqual([
      `${file}:1: /schema: "repair-calibration/plan@1" is no schema that this release reads here; expected "repair-calibration/job@1"`,
    ]);
  });

  it("without letting the input forge a line of the message", async () => {
    const file = folder.write(
      "forged.json",
      jobWith((job) => {
        (job as Record<string, unknown>)["x\u001b[2J\nall is well"] = 1;
      }),
    );
    const { err } = await runCli(["plan", file]);
    expect(err.split("\n")[0]).toContain("\\u001b");
    expect(err).not.toContain("\u001b");
    expect(err).not.toMatch(/^all is well/m);
  });
});

describe("what is odd but not wrong is read", () => {
  it("a byte-order mark", async () => {
    const file = folder.write("bom.json", `\ufeff${JOB_TEXT}`);
    expect((await runCli(["plan", file])).status).toBe(0);
  });

  it("the same key in two objects, and in a text", async () => {
    const file = folder.write(
      "same.json",
      jobWith((job) => {
        (job as Record<string, unknown>)["extensions"] = { a: { k: 1 }, b: { k: 2 }, c: '{"k":1,"k":2}' };
      }),
    );
    expect((await runCli(["plan", file])).status).toBe(0);
  });

  it("39 levels of nesting", async () => {
    const deep = `${'{"a":'.repeat(38)}1${"}".repeat(38)}`;
    const file = folder.write("deep.json", JOB_TEXT.replace(/}$/, `,"extensions":${deep}}`));
    expect((await runCli(["plan", file])).status).toBe(0);
  });

  it("standard input", async () => {
    const { status, out } = await runCli(["plan", "-", "--format", "json"], { input: JOB_TEXT });
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ schema: "repair-calibration/plan@1", reference: "RO-7001" });
  });

  it("a job without operations, and says so", async () => {
    const file = folder.write(
      "nothing.json",
      jobWith((job) => {
        job.operations = [];
      }),
    );
    const { status, out } = await runCli(["plan", file]);
    expect(status).toBe(0);
    expect(out).toContain("The order lists no operation, so nothing on it disturbs a sensor.");
    expect(out).toContain("Due        Nothing, as far as rules and stated facts go.");
  });
});

describe("a VIN whose check digit is wrong", () => {
  // 49 CFR 565.15, sample table: 1G4AH59H45G118341 is right, and its ninth character follows from the others.
  const withVin = (market: string): string =>
    jobWith((job) => {
      Object.assign(job.vehicle, { vin: "1G4AH59H55G118341", market });
      delete (job.vehicle as Record<string, unknown>)["modelYear"];
    });

  it("is refused where the law binds it", async () => {
    const file = folder.write("vin-us.json", withVin("us"));
    const { status, err } = await runCli(["plan", file]);
    expect(status).toBe(2);
    expect(err.split("\n")[0]).toBe(
      `${file}:1: /vehicle/vin: the VIN has "5" in position 9, but its other characters give "4"; expected the VIN as it stands on the vehicle`,
    );
    expect(err).toContain("vin-check-digit: ");
  });

  it("is a remark where it does not", async () => {
    const file = folder.write("vin-eu.json", withVin("eu"));
    const { status, out, err } = await runCli(["plan", file]);
    expect(status).toBe(0);
    expect(err).toBe("");
    expect(out).toMatch(/REMARKS\n(.*\n)*?.*\(\/vehicle\/vin\)/);
  });
});

describe("--out", () => {
  const job = folder.write("good.json", JOB_TEXT);

  it("writes the file whole, leaves nothing beside it and nothing on standard output", async () => {
    const out = join(folder.path, "results", "plan.json");
    mkdirSync(join(folder.path, "results"));
    const { status, out: stdout } = await runCli(["plan", job, "--format", "json", "--out", out]);
    expect({ status, stdout }).toEqual({ status: 0, stdout: "" });
    expect(readdirSync(join(folder.path, "results"))).toEqual(["plan.json"]);
  });

  it("refuses a folder that does not exist", async () => {
    const out = join(folder.path, "no", "plan.txt");
    const { status, err } = await runCli(["plan", job, "--out", out]);
    expect(status).toBe(2);
    expect(err.split("\n")[0]).toBe(`${out}: the folder does not exist`);
  });

  it("refuses to replace the order that the plan is made from, under any of its names", async () => {
    const order = folder.write("order.json", JOB_TEXT);
    const link = join(folder.path, "link-to-order.json");
    symlinkSync(order, link);
    for (const out of [order, link, join(folder.path, ".", "order.json")]) {
      const { status, err } = await runCli(["plan", order, "--out", out]);
      expect(status).toBe(2);
      expect(err.split("\n")[0]).toBe(
        `${out}: the result would replace the document that it is made from; expected another file`,
      );
    }
    expect(readFileSync(order, "utf8")).toBe(JOB_TEXT);
  });

  it("refuses to replace a folder", async () => {
    const { status, err } = await runCli(["plan", job, "--out", folder.path]);
    expect(status).toBe(2);
    expect(err.split("\n")[0]).toBe(`${folder.path}: this is a folder`);
  });
});
