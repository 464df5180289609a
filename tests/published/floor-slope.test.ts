import { describe, expect, it } from "vitest";
import { millimetresPerMetre } from "../../src/measure/index.js";
import { slopeAngle, slopePercent } from "../../src/setup/floor/floor.js";

// Test place for headlamps in Germany: slope of at most 1.5 %, unevenness under the tester of at most 1 mm on 1 m. Read in
// reports of VkBl. 23/2018 (autoservicepraxis.de, repmaster.de); the gazette itself was not read. The angles follow by
// arithmetic. 10 cm on 10 m is 1 %.
describe("units of slope", () => {
  it("1 mm/m is 0.057°", () => {
    expect(slopeAngle({ slope: millimetresPerMetre(1) })).toBeCloseTo(0.057, 3);
  });

  it("1.5 % is 15 mm/m and 0.859°", () => {
    expect(slopePercent({ slope: millimetresPerMetre(15) })).toBe(1.5);
    expect(slopeAngle({ slope: millimetresPerMetre(15) })).toBeCloseTo(0.859, 3);
  });

  it("10 cm on 10 m is 1 %", () => {
    expect(slopePercent({ slope: millimetresPerMetre(100 / 10) })).toBe(1);
  });
});
