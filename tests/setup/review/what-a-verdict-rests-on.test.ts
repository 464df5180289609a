import { describe, expect, it } from "vitest";
import { loadProcedures } from "../../../src/procedures/index.js";
import { checkSetup, type Setup } from "../../../src/setup/index.js";
import { layByHand } from "../targets-kit.js";

const within = (nominal: number, tolerance: number) => ({ nominal, tolerance });
const CORNERS = [
  { axle: "front", side: "left", x: 0, y: 770 },
  { axle: "front", side: "right", x: 0, y: -770 },
  { axle: "rear", side: "left", x: -2700, y: 770 },
  { axle: "rear", side: "right", x: -2700, y: -770 },
] as const;

function tape(
  { uTape, uWheel, uToe }: { readonly uTape: number; readonly uWheel?: number; readonly uToe: number },
  parts: Partial<Setup> = {},
) {
  // 2 mm right of a thrust line that runs straight ahead.
  const bar = { x: 2400, y: -2, yaw: 0, width: 2400 };
  const result = checkSetup({
    schema: "repair-calibration/setup@1",
    wheelCentres: CORNERS.map((each) => (uWheel === undefined ? each : { ...each, u: uWheel })),
    rearToe: { left: 0.1, right: 0.1, unit: "deg", u: uToe },
    ...parts,
    target: {
      sensor: "forward-camera",
      id: "board",
      placing: {
        name: "Board",
        datum: "front-axle",
        referenceLine: "thrust-line",
        distance: within(2400, 5),
        lateral: within(0, 3),
        height: within(1200, 5),
        yaw: within(0, 0.3),
        pitch: within(0, 0.5),
        roll: within(0, 0.5),
      },
      barWidth: 2400,
      measured: {
        tapes: (["front-axle", "rear-axle"] as const).map((from) => ({
          ...layByHand(bar, CORNERS, from),
          u: uTape,
        })),
      },
    },
  });
  return { ...result, lateral: result.targets[0]!.decisions.find(({ quantity }) => quantity === "lateral")! };
}

describe("what cannot be decided says what to measure better", () => {
  it("the thrust line", () => {
    // The line turns about the rear axle: 5100 mm · 0.05°/√2 = 3.147 mm; eight tapes of 0.2 mm add next to nothing.
    const { lateral, workings } = tape({ uTape: 0.2, uWheel: 0.1, uToe: 0.05 });
    expect(lateral.verdict).toBe("cannot-be-decided");
    expect(lateral.says).toContain("Most of the uncertainty comes from the thrust line");
    const share = workings.find(({ id }) => id === "share-of-variance")!;
    expect(share.inputs.find(({ name }) => name === "part")?.value).toBeCloseTo(3.1471, 3);
    expect(share.value).toBeGreaterThan(95);
  });

  it("the wheel centres", () => {
    const { lateral } = tape({ uTape: 0.2, uWheel: 1.5, uToe: 0.001 });
    expect(lateral.verdict).toBe("cannot-be-decided");
    expect(lateral.says).toContain("Most of the uncertainty comes from the wheel centres");
  });

  it("the tapes", () => {
    const { lateral } = tape({ uTape: 3, uWheel: 0.1, uToe: 0.001 });
    expect(lateral.verdict).toBe("cannot-be-decided");
    expect(lateral.says).toContain("Most of the uncertainty comes from the tapes");
  });

  it("nothing where it is decided", () => {
    const { lateral, workings } = tape({ uTape: 0.05, uWheel: 0.05, uToe: 0.001 });
    expect(lateral.verdict).toBe("conforms");
    expect(lateral.says).not.toContain("Most of");
    expect(workings.map(({ id }) => id)).not.toContain("share-of-variance");
  });
});

describe("tapes from wheels of which nobody says how well they are known", () => {
  const words = "The wheel centres count as exact";

  it("say so in their verdicts, and ask for it where the wheels were measured", () => {
    const { lateral, missing } = tape({ uTape: 0.2, uToe: 0.001 });
    expect(lateral.says).toContain(words);
    expect(missing.map(({ pointer }) => pointer)).toContain("/wheelCentres");
    const known = tape({ uTape: 0.2, uWheel: 0.1, uToe: 0.001 });
    expect(known.lateral.says).not.toContain(words);
    expect(known.missing).toEqual([]);
  });
});

describe("a thrust angle with the sign of the other side", () => {
  const stated = (left: number, right: number, sign: "right-positive" | "left-positive") =>
    checkSetup({
      schema: "repair-calibration/setup@1",
      rearToe: { left, right, unit: "deg" },
      thrustAngle: { value: 0.1, unit: "deg", sign },
    }).contradictions.map(({ says }) => says);

  it("is a contradiction that names the likely slip", () => {
    // Toe-in 0.3° left, 0.1° right: the axle steers 0.1° to the right.
    expect(stated(0.3, 0.1, "right-positive")).toEqual([]);
    expect(stated(0.3, 0.1, "left-positive")[0]).toContain("With the other sign");
    // 0.4° apart from 0.1° and from −0.1° alike: no slip of sign.
    expect(stated(1.1, 0.1, "left-positive")[0]).not.toContain("With the other sign");
  });
});

describe("limits of a procedure", () => {
  function limit(condition: object, setup: Partial<Setup>) {
    const pack = loadProcedures(
      {
        schema: "repair-calibration/procedures@1",
        id: "alcora-tresk",
        version: "1.0.0",
        title: "Alcora Tresk (invented)",
        invented: true,
        appliesTo: { make: "Alcora", models: ["Tresk"], modelYears: { from: 2020, to: 2030 } },
        issued: "2026-03-02",
        cite: "Alcora repair manual AR-118 (invented)",
        procedures: [
          {
            id: "tresk-forward-camera",
            sensor: "forward-camera",
            task: "calibration",
            method: "static",
            section: "4.2",
            conditions: [condition],
          },
        ],
        doesNotCover: ["Everything else."],
      },
      "alcora-tresk.json",
    );
    const vehicle = { make: "Alcora", model: "Tresk", modelYear: 2024 };
    return checkSetup({ schema: "repair-calibration/setup@1", vehicle, ...setup }, { procedures: [pack] });
  }

  it("of a thrust angle count to the right, as the trade prints it, lopsided ones too", () => {
    const condition = {
      precondition: "thrust-angle-in-range",
      limit: { low: -0.05, high: 0.15, unit: "deg" },
    };
    const verdict = (sign: "right-positive" | "left-positive") =>
      limit(condition, { thrustAngle: { value: 0.1, unit: "deg", sign, u: 0.01 } }).conditions[0]?.decision
        .verdict;
    expect(verdict("right-positive")).toBe("conforms");
    expect(verdict("left-positive")).toBe("does-not-conform");
  });

  it("of a ride height stand beside the datum and the procedure's own words", () => {
    const rideHeight: Setup["rideHeight"] = {
      datum: "ground-to-body",
      corners: [{ axle: "front", side: "left", specified: 700, measured: 690, u: 0.5 }],
    };
    const bare = { precondition: "ride-height-in-range", limit: { low: -8, high: 8, unit: "mm" } };
    const note = "Hub centre to arch edge.";
    const found = limit({ ...bare, note }, { rideHeight });
    expect(found.conditions[0]?.decision.of).toContain("ground to body");
    expect(found.warnings.map(({ says }) => says).join()).toContain(
      `ground to body. From what the procedure's limit counts, its own words have to say: "${note}"`,
    );
    const silent = limit(bare, { rideHeight }).warnings.map(({ says }) => says);
    expect(silent.join()).toContain("does not say beside its limit from what that counts");
  });
});
