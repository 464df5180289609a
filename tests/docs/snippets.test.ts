import { describe, expect, it } from "vitest";
import { SNIPPETS, objectionsTo, printedBy, shownBy } from "./snippets.js";

describe("the snippets of the pages", () => {
  it("compile under the settings of the project", { timeout: 120_000 }, () => {
    expect(SNIPPETS.length).toBeGreaterThan(5);
    expect(objectionsTo(SNIPPETS)).toEqual([]);
  });

  it.each(SNIPPETS.map(({ name, code }) => [name, code] as const))(
    "%s prints what it says",
    async (_name, code) => {
      expect(await printedBy(code)).toEqual(shownBy(code));
    },
  );
});

describe("the reading of snippets", () => {
  it("finds what does not compile", { timeout: 120_000 }, () => {
    const code = `import { loadRulebook } from "repair-calibration";\nconst rules: string = loadRulebook();`;
    expect(objectionsTo([{ name: "here", code }])).toEqual([
      `here: Type 'Rulebook' is not assignable to type 'string'.`,
    ]);
  });

  it("finds what prints something else", async () => {
    const code = `import { SENSOR_IDS } from "repair-calibration";\nconsole.log(SENSOR_IDS[0]); // → lidar`;
    expect(shownBy(code)).toEqual(["lidar"]);
    expect(await printedBy(code)).toEqual(["forward-camera"]);
  });
});
