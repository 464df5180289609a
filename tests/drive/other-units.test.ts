import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import { readColumns } from "../../src/drive/index.js";

describe("a column in a unit that is not read", () => {
  it.each([
    ["speed (m/s)", "speed (km/h)"],
    ["time (ms)", "time (s)"],
  ])("%s is refused without a name to write over it", (name, asked) => {
    const names = name.startsWith("speed") ? ["time (s)", name] : [name, "speed (km/h)"];
    try {
      readColumns(names, ",");
      expect.unreachable();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const issue = error.issues.find(({ message }) => message.includes(name));
      expect(issue).toMatchObject({ code: "missing-measurement" });
      expect(issue?.nearest).toBeUndefined();
      expect(issue?.expected).toContain(asked);
      expect(issue?.expected).toContain("converted");
    }
  });
});
