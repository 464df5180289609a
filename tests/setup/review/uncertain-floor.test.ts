import { describe, expect, it } from "vitest";
import { checkSetup } from "../../../src/setup/index.js";
import type { Setup, SetupTarget } from "../../../src/setup/shape.js";

type Measured = NonNullable<SetupTarget["measured"]>;
type Wheels = NonNullable<Setup["wheelCentres"]>;

/** Wheels at the corners of a rectangle of 3000 by 1600 mm, so that the sums below stay short. */
function wheelsAt(
  heights: Readonly<Record<"frontLeft" | "frontRight" | "rearLeft" | "rearRight", number>>,
  u: { readonly u?: number; readonly uZ?: number } = { u: 1, uZ: 0.4 },
): Wheels {
  return [
    { axle: "front", side: "left", x: 0, y: 800, z: heights.frontLeft, ...u },
    { axle: "front", side: "right", x: 0, y: -800, z: heights.frontRight, ...u },
    { axle: "rear", side: "left", x: -3000, y: 800, z: heights.rearLeft, ...u },
    { axle: "rear", side: "right", x: -3000, y: -800, z: heights.rearRight, ...u },
  ];
}

const LEVEL = { frontLeft: 0, frontRight: 0, rearLeft: 0, rearRight: 0 };
/** Rises 6 mm on a metre to the front: 18 mm over the wheelbase. */
const NOSE_UP = { frontLeft: 0, frontRight: 0, rearLeft: -18, rearRight: -18 };

function floorOf(heightAt: (x: number, y: number) => number, u?: number): NonNullable<Setup["floor"]> {
  return [-3000, 0, 3000].flatMap((x) =>
    [-1000, 0, 1000].map((y) => ({ x, y, z: heightAt(x, y), ...(u === undefined ? {} : { u }) })),
  );
}

interface Parts {
  readonly measured: Measured;
  readonly U?: SetupTarget["U"];
  readonly setup?: Partial<Setup>;
}

function decide({ measured, U, setup }: Parts) {
  const within = (nominal: number, tolerance: number) => ({ nominal, tolerance });
  const result = checkSetup({
    schema: "repair-calibration/setup@1",
    target: {
      sensor: "forward-camera",
      id: "board",
      placing: {
        name: "Board",
        datum: "front-axle",
        referenceLine: "centre-line",
        distance: within(3000, 5),
        lateral: within(0, 3),
        height: within(1200, 5),
        yaw: within(0, 0.3),
        pitch: within(0, 0.3),
        roll: within(0, 0.3),
      },
      measured,
      ...(U === undefined ? {} : { U, k: 2 }),
    },
    ...setup,
  });
  return {
    ...result,
    decided: (quantity: string) => result.targets[0]!.decisions.find((each) => each.quantity === quantity)!,
  };
}

describe("the uncertainty of a height over a surveyed floor", () => {
  it("is that of the tape, of the plane of the wheels there and of the floor's", () => {
    /*
     * Wheels, 0.4 mm each, about their middle (−1500, 0): u² of the height 0.4²/4 = 0.04; Σ(x − x̄)² = 4 · 1.5² = 9 m²,
     * u² of the slope 0.16/9; at x = 3000 that is 4.5 m from the middle: 0.04 + 20.25 · 0.16/9 = 0.40 mm².
     * Floor, nine spots of 0.3 mm about (0, 0): 0.09/9 = 0.01; Σx² = 6 · 9 = 54 m²: 9 · 0.09/54 = 0.015; 0.025 mm².
     * Tape, U = 2 with k = 2: 1 mm². Together √1.425 = 1.193734 mm.
     */
    const { decided, workings } = decide({
      measured: { height: 1202 },
      U: { height: 2 },
      setup: { wheelCentres: wheelsAt(LEVEL), floor: floorOf(() => 0, 0.3) },
    });
    expect(decided("height").u).toBeCloseTo(Math.sqrt(1.425), 9);
    // 3 mm inside: 0.83 · 2 · 1.1937 = 1.98 mm are asked.
    expect(decided("height").verdict).toBe("conforms");
    expect(workings.find(({ id }) => id === "height-correction-uncertainty")?.value).toBeCloseTo(
      Math.sqrt(0.425),
      9,
    );
  });

  it("grows with the unevenness of the floor, of which a target may have met any spot", () => {
    /*
     * A floor that is 0 along its middle row (y = 0) and 3 mm at both sides: the plane lies at 2, the residuals are −2
     * three times and +1 six times: 12 + 6 = 18 mm² on 9 − 3 degrees of freedom, 3 mm². The plane itself, from stated
     * 0.3 mm, has 0.025 mm² there as before, the wheels 0.40, the tape 1.
     */
    const { decided } = decide({
      measured: { height: 1200 },
      U: { height: 2 },
      setup: { wheelCentres: wheelsAt(LEVEL), floor: floorOf((_, y) => (y === 0 ? 0 : 3), 0.3) },
    });
    expect(decided("height").u).toBeCloseTo(Math.sqrt(1 + 0.4 + 0.025 + 3), 9);
  });

  it("is not known, and decides nothing, where nobody says how well the wheels or the floor were levelled", () => {
    const without = (setup: Partial<Setup>) =>
      decide({ measured: { height: 1200 }, U: { height: 2 }, setup });
    const bareWheels = without({ wheelCentres: wheelsAt(LEVEL, {}), floor: floorOf(() => 0, 0.3) });
    expect(bareWheels.decided("height")).toMatchObject({ verdict: "cannot-be-decided", u: null });
    expect(bareWheels.missing.map(({ pointer }) => pointer)).toContain("/wheelCentres");

    const bareFloor = without({ wheelCentres: wheelsAt(LEVEL), floor: floorOf(() => 0) });
    expect(bareFloor.decided("height")).toMatchObject({ verdict: "cannot-be-decided", u: null });
    expect(bareFloor.missing.map(({ pointer }) => pointer)).toContain("/floor");
  });

  it("is not known where that of the tape is not", () => {
    const { decided } = decide({
      measured: { height: 1200 },
      setup: { wheelCentres: wheelsAt(LEVEL), floor: floorOf(() => 0, 0.3) },
    });
    expect(decided("height")).toMatchObject({ verdict: "cannot-be-decided", u: null });
  });

  it("is not made up from three of four heights under the wheels", () => {
    const wheels = wheelsAt(LEVEL).map((wheel, index) => (index === 2 ? { ...wheel, z: undefined } : wheel));
    const { decided, missing, workings } = decide({
      measured: { height: 1200 },
      U: { height: 2 },
      setup: { wheelCentres: wheels, floor: floorOf(() => 0, 0.3) },
    });
    expect(missing.map(({ pointer }) => pointer)).toContain("/wheelCentres");
    expect(workings.filter(({ value }) => !Number.isFinite(value))).toEqual([]);
    expect(decided("height").says).not.toContain("NaN");
  });

  it("takes the uncertainty of a wheel centre for its height too, where no other is stated", () => {
    // 1 mm instead of 0.4: 1/4 + 20.25/9 = 2.5 mm².
    const { decided } = decide({
      measured: { height: 1200 },
      U: { height: 2 },
      setup: { wheelCentres: wheelsAt(LEVEL, { u: 1 }), floor: floorOf(() => 0, 0.3) },
    });
    expect(decided("height").u).toBeCloseTo(Math.sqrt(1 + 2.5 + 0.025), 9);
  });

  it("says where most of it comes from, as what to measure better", () => {
    // 2.5 of 2.565 mm² are the wheels': 97 %. The tape is good to 0.2 mm.
    const { decided } = decide({
      measured: { height: 1203 },
      U: { height: 0.4 },
      setup: { wheelCentres: wheelsAt(LEVEL, { u: 1 }), floor: floorOf(() => 0, 0.3) },
    });
    expect(decided("height").verdict).toBe("cannot-be-decided");
    expect(decided("height").says).toContain("the heights under the wheels (97 % of the variance)");
  });

  it("is presumed to be that of the tape alone where no floor was surveyed, and the verdict says so", () => {
    const { decided } = decide({ measured: { height: 1200 }, U: { height: 2 } });
    expect(decided("height")).toMatchObject({ verdict: "conforms", u: 1 });
    expect(decided("height").says).toContain("presumes a floor in one plane with the wheels");
  });
});

describe("pitch and roll", () => {
  const floor = floorOf((x) => (6 * x) / 1000, 0.3);
  const wheelCentres = wheelsAt(NOSE_UP);
  // atan 0.006 = 0.3438°: square to wheels that stand nose up, a target leans back and a level shows −0.34°.
  const U = { pitch: 0.1, roll: 0.1 };

  it("read by a spirit level are held against what it has to show on these wheels", () => {
    const measured = (pitch: number): Measured => ({ pitch, countsFrom: { tilt: "plumb-line" } });
    const plumb = decide({ measured: measured(0), U, setup: { wheelCentres, floor } });
    // 0° on the level is 0.34° off the wheels, outside of ±0.3°, but not by what the uncertainty takes.
    expect(plumb.decided("pitch").low).toBeCloseTo(-0.343771 - 0.3, 5);
    expect(plumb.decided("pitch").verdict).toBe("cannot-be-decided");
    expect(plumb.targets[0]!.corrections[0]?.amount).toBeCloseTo(-0.343771, 5);

    const square = decide({ measured: measured(-0.34), U, setup: { wheelCentres, floor } });
    expect(square.decided("pitch").verdict).toBe("conforms");
  });

  it("have in them how well the wheels are levelled", () => {
    // Slope of the wheels: √(0.16/9) = 0.1333 mm/m = 0.00764°; reading 0.05°; together 0.050580°.
    const { decided } = decide({
      measured: { pitch: -0.3, countsFrom: { tilt: "plumb-line" } },
      U,
      setup: { wheelCentres, floor },
    });
    expect(decided("pitch").u).toBeCloseTo(Math.hypot(0.05, 0.0076394), 6);
  });

  it("read by a spirit level say nothing where the wheels were not surveyed", () => {
    const simple = { decisionRule: { kind: "simple" } } as const;
    for (const setup of [{}, simple]) {
      const { decided, missing, targets } = decide({
        measured: { pitch: 0.05, countsFrom: { tilt: "plumb-line" } },
        U,
        setup,
      });
      expect(decided("pitch").verdict).toBe("cannot-be-decided");
      expect(targets[0]!.corrections).toEqual([]);
      expect(missing.map(({ pointer }) => pointer)).toEqual(["/floor"]);
    }
  });

  it("of which nobody says from what they were read hold only what holds either way", () => {
    const setup = { wheelCentres, floor };
    // Against the wheels 0.5° is 0.2° outside; against the plumb line it is 0.54° outside: neither conforms.
    expect(decide({ measured: { pitch: 0.5 }, U, setup }).decided("pitch").verdict).toBe("does-not-conform");
    const open = decide({ measured: { pitch: 0.05 }, U, setup });
    expect(open.decided("pitch").verdict).toBe("cannot-be-decided");
    expect(open.decided("pitch").says).toContain("countsFrom");
    expect(open.targets[0]!.corrections).toEqual([]);
    const said = decide({ measured: { pitch: 0.05, countsFrom: { tilt: "wheels" } }, U, setup });
    expect(said.decided("pitch").verdict).toBe("conforms");
  });
});

describe("places over wheels that do not stand level", () => {
  it("count at the floor, and say what the lean comes to at the target's middle", () => {
    // 6 mm on a metre at 1200 mm: 7.2 mm forwards; nothing aside.
    const { decided, warnings } = decide({
      measured: { distance: 3000, lateral: 0 },
      U: { distance: 1, lateral: 1 },
      setup: { wheelCentres: wheelsAt(NOSE_UP), floor: floorOf((x) => (6 * x) / 1000, 0.3) },
    });
    expect(decided("distance").says).toContain("7.2 mm forwards");
    expect(decided("lateral").says).not.toContain("counts at the floor");
    expect(warnings.map(({ says }) => says).join()).toContain("6.0 mm ahead of");
  });
});

describe("four wheels on no plane", () => {
  const twisted = (frontLeft: number) =>
    decide({
      measured: { height: 1200 },
      setup: { wheelCentres: wheelsAt({ ...LEVEL, frontLeft }), floor: floorOf(() => 0, 0.3) },
    }).warnings.filter(({ says }) => says.includes("on no plane"));

  it("are named, with the pair that stands high", () => {
    // A shim of 10 mm under one wheel: half of it is twist.
    expect(twisted(10)[0]?.says).toContain("front left and rear right are high by 5.0 mm");
    expect(twisted(-10)[0]?.says).toContain("front right and rear left are high by 5.0 mm");
    expect(twisted(4)).toEqual([]);
  });
});
