import { beforeEach, describe, expect, it, vi } from "vitest";
import { WINDSHIELD_JOB, makeFolder, runCli } from "./run-cli.js";

const crossCheck = vi.hoisted(() => vi.fn<() => Promise<unknown>>());
vi.mock("../../src/reference/index.js", () => ({ crossCheck }));

const folder = makeFolder();
const job = folder.write("job.json", WINDSHIELD_JOB);

beforeEach(() => {
  crossCheck.mockReset();
});

describe("--cross-check", () => {
  it("exits with 1, without a plan, where the two ways of deciding differ", async () => {
    crossCheck.mockResolvedValue({ agrees: false, differences: ["one says a", "the other says b"] });
    expect(await runCli(["plan", job, "--cross-check"])).toEqual({
      status: 1,
      out: "",
      err: "The two ways of deciding do not agree, so no plan is written:\n- one says a\n- the other says b\n",
    });
  });

  it("is asked about the very job, and does not get in the way where the two agree", async () => {
    crossCheck.mockResolvedValue({ agrees: true, differences: [] });
    const { status, out } = await runCli(["plan", job, "--cross-check"]);
    expect(status).toBe(0);
    expect(out).toContain("RO-7001");
    expect(crossCheck).toHaveBeenCalledWith(WINDSHIELD_JOB, expect.anything());
  });

  it("is left out unless asked for", async () => {
    await runCli(["plan", job]);
    expect(crossCheck).not.toHaveBeenCalled();
  });
});

describe("a defect of the program", () => {
  it("has an exit status of its own, and is not called a fault of the input", async () => {
    crossCheck.mockRejectedValue(new TypeError("nothing is not a function"));
    const { status, out, err } = await runCli(["plan", job, "--cross-check"]);
    expect({ status, out }).toEqual({ status: 70, out: "" });
    expect(err).toContain(
      "This is a defect of the program, not of the input:\nTypeError: nothing is not a function",
    );
  });
});
