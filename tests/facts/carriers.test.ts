import { describe, expect, it } from "vitest";
import { InputError, readJob } from "../../src/index.js";
import { findCarrierCircle, isCarriedBy, type StatedCarriers } from "../../src/vocabulary/index.js";

const refusal = (carriedBy: StatedCarriers): InputError | null => {
  try {
    readJob({
      schema: "repair-calibration/job@1",
      reference: "RO-3301",
      vehicle: { carriedBy },
      operations: [],
    });
    return null;
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
};

describe("stated carriers", () => {
  it("take the place of the usual ones", () => {
    expect(isCarriedBy("grille", "front-bumper-cover").surely).toBe("on-some");
    expect(isCarriedBy("grille", "front-bumper-cover", { grille: "front-bumper-cover" }).surely).toBe("yes");
    // The cover itself stands on the carrier, so the carrier is behind the grille either way.
    expect(isCarriedBy("grille", "front-end-carrier").surely).toBe("yes");
    expect(isCarriedBy("grille-emblem", "front-bumper-cover", { grille: "front-end-carrier" }).surely).toBe(
      "no",
    );
  });

  it("carry a part surely where whichever of its carriers it has stands on them", () => {
    // The grille hangs in the cover or on the front-end carrier, and both stand on the rail.
    expect(isCarriedBy("grille", "front-rail")).toEqual({ surely: "yes", open: [] });
    expect(isCarriedBy("grille", "front-bumper-cover")).toEqual({ surely: "on-some", open: ["grille"] });
    expect(isCarriedBy("grille", "liftgate")).toEqual({ surely: "no", open: [] });
  });

  it("are refused where parts would carry one another", () => {
    expect(findCarrierCircle({ grille: "grille-emblem" })).toEqual(["grille", "grille-emblem", "grille"]);
    const refused = refusal({ grille: "grille-emblem" });
    expect(refused?.issues.map(({ pointer, message }) => `${pointer}: ${message}`)).toEqual([
      "/vehicle/carriedBy: these parts would carry one another in a circle: grille → grille-emblem → grille",
    ]);
    expect(refusal({ grille: "front-bumper-cover" })).toBeNull();
  });
});
