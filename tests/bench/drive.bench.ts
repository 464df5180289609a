// Judging a log of ten hours at 10 Hz, against merely taking its lines apart with the same CSV parser, as a ratio within
// one run; and how the peak of memory grows from one hour to ten. `npm run bench:drive` (half a minute). Each figure comes
// from a process of its own, because a peak of memory never goes down.
import { spawnSync } from "node:child_process";
import { createReadStream, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parse } from "csv-parse";
import { run } from "../../src/cli/run.js";
import { processTerminal } from "../../src/cli/terminal.js";

const PROCEDURES = fileURLToPath(new URL("../../docs/demo/procedures/norrvik-fjell.json", import.meta.url));
const ROUNDS = 3;

interface Figures {
  readonly milliseconds: number;
  /** MiB. */
  readonly peak: number;
  readonly answer: string;
}

/** A log of some hours at 10 Hz, with every column, in and out of the window. */
function writeLog(path: string, hours: number): number {
  const lines = Array.from({ length: hours * 36_000 }, (_, index) => {
    const time = index / 10;
    const speed = 85 + 40 * Math.sin(time / 97);
    const lanes = index % 4000 < 30 ? "one" : "both";
    return `${time},${speed.toFixed(1)},motorway,${lanes},${(4 * Math.sin(time / 11)).toFixed(1)},0.5`;
  });
  writeFileSync(path, `time (s),speed (km/h),road,lanes,steering (deg),gradient (%)\n${lines.join("\n")}\n`);
  return lines.length;
}

/** The command as it is called, from arguments to the text that it writes. */
async function judge(log: string): Promise<string> {
  let out = "";
  const status = await run(
    ["drive", log, "--procedures", PROCEDURES, "--sensor", "forward-camera", "--format", "json"],
    { ...processTerminal(), isErrorScreen: false, writeOut: (text) => (out += text) },
  );
  const { samples, verdict } = JSON.parse(out) as { samples: number; verdict: string };
  return `${status} ${samples} ${verdict}`;
}

/** As little as can be done with a log: its lines as lists of cells, thrown away. */
async function takeApart(log: string): Promise<string> {
  let lines = 0;
  const parser = createReadStream(log, { highWaterMark: 256 * 1024 }).pipe(
    parse({
      on_record: () => {
        lines += 1;
        return null;
      },
    }),
  );
  parser.resume();
  await new Promise((resolve, reject) => parser.on("end", resolve).on("error", reject));
  return `${lines} lines`;
}

async function measure(kind: string, log: string): Promise<Figures> {
  const start = performance.now();
  const answer = await (kind === "judge" ? judge(log) : takeApart(log));
  const milliseconds = performance.now() - start;
  return { milliseconds, peak: process.resourceUsage().maxRSS / 1024, answer };
}

function measureApart(kind: string, log: string): Figures {
  const self = fileURLToPath(import.meta.url);
  const { stdout, stderr } = spawnSync(process.execPath, ["--import", "tsx", self, kind, log], {
    encoding: "utf8",
  });
  if (stdout === "") throw new Error(stderr);
  return JSON.parse(stdout) as Figures;
}

function median(figures: readonly number[]): number {
  return [...figures].sort((a, b) => a - b)[Math.floor(figures.length / 2)] ?? NaN;
}

function compare(): void {
  const folder = mkdtempSync(join(tmpdir(), "drive-bench-"));
  try {
    const [hour, tenHours] = [join(folder, "1.csv"), join(folder, "10.csv")];
    writeLog(hour, 1);
    const lines = writeLog(tenHours, 10);
    const rounds = Array.from({ length: ROUNDS }, () => ({
      hour: measureApart("judge", hour),
      tenHours: measureApart("judge", tenHours),
      parsedHour: measureApart("parse", hour),
      parsed: measureApart("parse", tenHours),
    }));
    const expected = [`0 ${lines} met`, `${lines + 1} lines`];
    const answers = [rounds[0]?.tenHours.answer, rounds[0]?.parsed.answer];
    if (answers.join() !== expected.join()) throw new Error(`unexpected answers: ${answers.join()}`);
    const ratio = median(rounds.map((each) => each.tenHours.milliseconds / each.parsed.milliseconds));
    const growth = median(rounds.map((each) => each.tenHours.peak - each.hour.peak));
    // What the parser leaves behind for the garbage collector grows as well, up to where it is collected.
    const ofParser = median(rounds.map((each) => each.parsed.peak - each.parsedHour.peak));
    const time = median(rounds.map((each) => each.tenHours.milliseconds));
    const size = (statSync(tenHours).size / 1024 / 1024).toFixed(1);
    process.stdout.write(
      [
        `${lines} lines, ${size} MiB: ${time.toFixed(0)} ms for the whole command`,
        `against parsing alone: ${ratio.toFixed(2)} times`,
        `peak of memory, ten hours over one: ${growth.toFixed(0)} MiB more; of the parser alone ${ofParser.toFixed(0)} MiB more`,
        "",
      ].join("\n"),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const [kind, log] = process.argv.slice(2);
if (kind !== undefined && log !== undefined) {
  process.stdout.write(JSON.stringify(await measure(kind, log)));
} else {
  compare();
}
