import { spawn, spawnSync } from "node:child_process";
import { closeSync, existsSync, openSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { WINDSHIELD_JOB, makeFolder } from "./run-cli.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const command = ["--import", "tsx", "src/cli/main.ts"];
const folder = makeFolder();
const job = folder.write("job.json", WINDSHIELD_JOB);

function start(
  argv: readonly string[],
  input = "",
): { status: number | null; stdout: string; stderr: string } {
  return spawnSync(process.execPath, [...command, ...argv], { cwd: root, encoding: "utf8", input });
}

describe("the program as a process", () => {
  it("reads a job from a pipe and writes all of the plan into one", () => {
    const { status, stdout, stderr } = start(
      ["plan", "-", "--format", "json"],
      JSON.stringify(WINDSHIELD_JOB),
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(JSON.parse(stdout)).toMatchObject({ reference: "RO-7001", outcome: "complete" });
  });

  it("refuses with exit status 2 on standard error", () => {
    const { status, stdout, stderr } = start(["plan", "-"], "{");
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr.split("\n")[0]).toBe("standard input:1: column 2: the object is not closed by }");
  });

  it("refuses a pack with exit status 3", () => {
    const { status, stdout } = start(["rules", "check", folder.path]);
    expect({ status, stdout }).toEqual({ status: 3, stdout: "" });
  });

  it.runIf(existsSync("/dev/full"))("says in one line that the result could not be written", () => {
    const full = openSync("/dev/full", "w");
    const { status, stderr } = spawnSync(process.execPath, [...command, "plan", job], {
      cwd: root,
      encoding: "utf8",
      stdio: ["ignore", full, "pipe"],
    });
    closeSync(full);
    expect({ status, stderr }).toEqual({
      status: 2,
      stderr: "standard output: the result could not be written whole: there is no room left\n",
    });
  });

  it("writes into a pipe that --out names", () => {
    const line = [process.execPath, ...command, "plan", job, "--out", "/dev/stdout"]
      .map((word) => `'${word}'`)
      .join(" ");
    const { stdout, stderr } = spawnSync("sh", ["-c", `${line} | cat`], { cwd: root, encoding: "utf8" });
    expect(stderr).toBe("");
    expect(stdout.split("\n")[0]).toBe("Calibration plan");
  });

  it("ends quietly when its reader goes away", async () => {
    const child = spawn(process.execPath, [...command, "plan", job], { cwd: root });
    child.stdout.destroy();
    let stderr = "";
    child.stderr.on("data", (chunk: Buffer) => {
      stderr += chunk.toString();
    });
    const status = await new Promise((resolve) => child.on("close", resolve));
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  });
});
