import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mm } from "../../src/measure/index.js";
import type { Answer } from "../../src/setup/answer.js";
import { answerAttitude, checkAttitude } from "../../src/setup/attitude/attitude.js";
import type { AttitudeResult } from "../../src/setup/result.js";
import type { Scene } from "../../src/setup/scene.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { check } from "../properties.js";

const SCENE: Scene = {
  wheelbase: mm(2700),
  trackFront: mm(1500),
  trackRear: mm(1500),
  frontOverhang: null,
  rearOverhang: null,
  width: null,
  height: null,
  wheels: null,
  places: [],
  toVehicle: null,
};

type Corner = NonNullable<Setup["rideHeight"]>["corners"][number];
type Datum = NonNullable<Setup["rideHeight"]>["datum"];

const PLACES = [
  ["front", "left"],
  ["front", "right"],
  ["rear", "left"],
  ["rear", "right"],
] as const;

/** Corners that stand so much higher than 400 mm: front left, front right, rear left, rear right; null not measured. */
function corners(deviations: readonly (number | null)[], u?: number): Corner[] {
  return PLACES.flatMap(([axle, side], index): Corner[] => {
    const deviation = deviations[index] ?? null;
    if (deviation === null) return [];
    return [{ axle, side, specified: 400, measured: 400 + deviation, ...(u === undefined ? {} : { u }) }];
  });
}

function setupOf(
  deviations: readonly (number | null)[],
  more: { readonly datum?: Datum; readonly tyres?: Setup["tyres"]; readonly u?: number } = {},
): Setup {
  return setupShape.parse({
    schema: "repair-calibration/setup@1",
    rideHeight: { datum: more.datum ?? "ground-to-body", corners: corners(deviations, more.u) },
    ...(more.tyres === undefined ? {} : { tyres: more.tyres }),
  });
}

function stand(
  deviations: readonly (number | null)[],
  more: Parameters<typeof setupOf>[1] = {},
  scene = SCENE,
): Answer<AttitudeResult> {
  return answerAttitude(setupOf(deviations, more), scene);
}

/** 225/60R17 is 701.8 mm, 215/65R17 711.3 mm: the front axle is lifted by 4.75 mm. */
const LARGER_IN_FRONT = {
  front: "215/65R17",
  rear: "225/60R17",
  specified: { front: "225/60R17", rear: "225/60R17" },
};

describe("how the body stands", () => {
  it("pitches nose up where the rear has sunk", () => {
    const { value, missing, warnings } = stand([0, 0, -10, -10]);
    // atan(-10/2700)
    expect(value?.pitch).toBeCloseTo(-0.21221, 5);
    expect(value).toMatchObject({ front: 0, rear: -10, rollFront: 0, rollRear: 0 });
    expect(value?.says).toBe("nose up 0.21°, sides level at the front, sides level at the rear");
    expect({ missing, warnings }).toEqual({ missing: [], warnings: [] });
  });

  it("moves a sensor's axis up with its nose: 10 mm on 2.7 m is 370 mm on 100 m", () => {
    const { value } = stand([0, 0, -10, -10]);
    expect(value?.aim.map(({ range }) => range)).toEqual([25_000, 50_000, 100_000]);
    const [near, middle, far] = value?.aim.map(({ vertical }) => vertical) ?? [];
    expect(near).toBeCloseTo(25_000 / 270, 6);
    expect(middle).toBeCloseTo(50_000 / 270, 6);
    expect(far).toBeCloseTo(100_000 / 270, 6);
  });

  it("says nose down, and which side stands high at which axle", () => {
    // Front: left 4 high on 1500: 0.1528°. Rear: right 4 high. Mean of either axle: front -10, rear 0.
    const { value } = stand([-8, -12, -2, 2]);
    expect(value?.pitch).toBeCloseTo(0.21221, 5);
    expect(value?.rollFront).toBeCloseTo(0.15279, 5);
    expect(value?.rollRear).toBeCloseTo(-0.15279, 5);
    expect(value?.says).toBe(
      "nose down 0.21°, left side high 0.15° at the front, right side high 0.15° at the rear",
    );
  });

  it("calls level what rounds to it", () => {
    expect(stand([0, 0, 0, 0.2]).value?.says).toBe(
      "nose level, sides level at the front, right side high 0.01° at the rear",
    );
  });

  it("prints no negative nothing", () => {
    const { value } = stand([0, 0, 0, 0]);
    expect(Object.is(value?.pitch, 0)).toBe(true);
    expect(value?.aim.every(({ vertical }) => Object.is(vertical, 0))).toBe(true);
  });
});

describe("tyres are counted once", () => {
  it("adds them where the height was taken from hub to arch", () => {
    const { value } = stand([0, 0, 0, 0], { datum: "hub-to-arch", tyres: LARGER_IN_FRONT });
    expect(value?.front).toBeCloseTo(4.75, 9);
    expect(value?.rear).toBe(0);
    // atan(-4.75/2700)
    expect(value?.pitch).toBeCloseTo(-0.1008, 5);
    expect(value?.tyres?.counted).toBe(true);
    expect(value?.tyres?.front.diameter).toBeCloseTo(711.3, 9);
    expect(value?.tyres?.front.specified).toBeCloseTo(701.8, 9);
    expect(value?.tyres?.front.raises).toBeCloseTo(4.75, 9);
    expect(value?.tyres?.rear.raises).toBe(0);
  });

  it("does not add them to a height from the ground, which has them in", () => {
    const { value } = stand([4.75, 4.75, 0, 0], { datum: "ground-to-body", tyres: LARGER_IN_FRONT });
    expect(value?.front).toBeCloseTo(4.75, 9);
    expect(value?.tyres?.counted).toBe(false);
    expect(value?.tyres?.front.raises).toBeCloseTo(4.75, 9);
  });

  it("lifts without pitch where both axles carry the same other size", () => {
    const { value } = stand([0, 0, 0, 0], {
      datum: "hub-to-arch",
      tyres: { ...LARGER_IN_FRONT, rear: "215/65R17" },
    });
    expect(value?.rear).toBeCloseTo(4.75, 9);
    expect(value?.pitch).toBeCloseTo(0, 9);
  });

  it("warns where hub to arch leaves tyres out that nobody stated", () => {
    expect(stand([0, 0, 0, 0], { datum: "hub-to-arch" }).warnings[0]?.says).toContain("leaves the tyres out");
    expect(stand([0, 0, 0, 0], { datum: "ground-to-body" }).warnings).toEqual([]);
  });

  it("does not take an unmeasured ride height for the specified one", () => {
    const setup = setupShape.parse({ schema: "repair-calibration/setup@1", tyres: LARGER_IN_FRONT });
    const { value, missing, workings } = answerAttitude(setup, SCENE);
    expect(value).toBeNull();
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/rideHeight"]);
    expect(
      workings.some(({ id, value: raises }) => id === "tyre-raises" && Math.abs(raises - 4.75) < 1e-9),
    ).toBe(true);
  });
});

describe("what it takes", () => {
  it("says nothing where nobody measured", () => {
    const setup = setupShape.parse({ schema: "repair-calibration/setup@1" });
    expect(answerAttitude(setup, SCENE)).toMatchObject({ value: null, missing: [], warnings: [] });
  });

  it("asks for the other axle", () => {
    const { value, missing } = stand([3, 3, null, null]);
    expect(value).toBeNull();
    expect(missing.map(({ needs }) => needs)).toEqual([
      "the ride height at the rear axle, specified and measured",
    ]);
  });

  it("asks for the wheelbase, and for a track", () => {
    expect(stand([0, 0, 0, 0], {}, { ...SCENE, wheelbase: null })).toMatchObject({
      value: null,
      missing: [{ pointer: "/vehicle/dimensions/wheelbase" }],
    });
    const { value, missing } = stand([1, 0, 0, 0], {}, { ...SCENE, trackFront: null });
    expect(value?.rollFront).toBeNull();
    expect(value?.rollRear).toBe(0);
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/vehicle/dimensions/trackFront"]);
  });

  it("takes one side for the axle, without a roll and with a warning", () => {
    const { value, missing, warnings } = stand([null, -10, 0, 0]);
    expect(value).toMatchObject({ front: -10, rollFront: null, rollRear: 0 });
    expect(value?.says).toBe("nose down 0.21°, sides level at the rear");
    expect(missing).toEqual([]);
    expect(warnings.map(({ says }) => says).join(" ")).toContain("At the front axle the right side alone");
  });

  it("has a body that would be twisted measured again", () => {
    // Left side 8 high in front, level behind: 8 mm, above the 5 allowed without uncertainties.
    expect(stand([4, -4, 0, 0]).warnings[0]?.says).toContain("twisted by 8.0 mm");
    expect(stand([2, -2, 0, 0]).warnings).toEqual([]);
    // Leaning alike at both axles is no twist.
    expect(stand([20, -20, 20, -20]).warnings).toEqual([]);
  });

  it("allows a twist of three times what the four readings' uncertainties make together", () => {
    // 3 · √4 · u: with u = 1 it is 6 mm, with u = 2 it is 12 mm.
    expect(stand([4, -4, 0, 0], { u: 1 }).warnings).toHaveLength(1);
    expect(stand([4, -4, 0, 0], { u: 2 }).warnings).toEqual([]);
  });
});

describe("what is refused", () => {
  it("takes each corner once, within what a vehicle can stand", () => {
    const setup = setupOf([0, 0, 0, -301]);
    const twice: Setup = {
      ...setup,
      rideHeight: { datum: "hub-to-arch", corners: [...corners([0, 0]), ...corners([5])] },
    };
    expect(checkAttitude(setupOf([0, 0, 0, -300]))).toEqual([]);
    expect(checkAttitude(setup).map(({ code, pointer }) => [code, pointer])).toEqual([
      ["out-of-range", "/rideHeight/corners/3/measured"],
    ]);
    expect(checkAttitude(twice).map(({ code, pointer }) => [code, pointer])).toEqual([
      ["invalid-value", "/rideHeight/corners/2"],
    ]);
  });

  it("names the place of a tyre size that is none", () => {
    const setup = setupOf([0, 0, 0, 0], {
      tyres: { front: "225/60R17", rear: "225", specified: { front: "225/60R17", rear: "17 inch" } },
    });
    expect(checkAttitude(setup).map(({ code, pointer }) => [code, pointer])).toEqual([
      ["invalid-value", "/tyres/rear"],
      ["invalid-value", "/tyres/specified/rear"],
    ]);
  });
});

describe("laws of the attitude", () => {
  const deviation = fc.integer({ min: -100, max: 100 });

  it("mirrors with the vehicle, and turns with the axles", () => {
    check(
      fc.property(deviation, deviation, deviation, deviation, (fl, fr, rl, rr) => {
        const plain = stand([fl, fr, rl, rr]).value;
        const mirrored = stand([fr, fl, rr, rl]).value;
        const turned = stand([rl, rr, fl, fr]).value;
        expect(mirrored?.pitch).toBe(plain?.pitch);
        expect(mirrored?.rollFront).toBeCloseTo(-(plain?.rollFront ?? NaN), 12);
        expect(mirrored?.rollRear).toBeCloseTo(-(plain?.rollRear ?? NaN), 12);
        expect(turned?.pitch).toBeCloseTo(-(plain?.pitch ?? NaN), 12);
      }),
    );
  });

  it("is not changed by lifting the whole body, but for the heights", () => {
    check(
      fc.property(deviation, deviation, deviation, deviation, deviation, (fl, fr, rl, rr, lift) => {
        const low = stand([fl, fr, rl, rr]).value;
        const high = stand([fl + lift, fr + lift, rl + lift, rr + lift]).value;
        expect(high?.pitch).toBeCloseTo(low?.pitch ?? NaN, 9);
        expect(high?.rollFront).toBeCloseTo(low?.rollFront ?? NaN, 9);
        expect((high?.front ?? NaN) - (low?.front ?? NaN)).toBeCloseTo(lift, 9);
      }),
    );
  });
});
