import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { degrees, makeDecisionRule, mm, type DecisionRule } from "../../src/measure/index.js";
import { fitTapes, listReadings } from "../../src/setup/targets/fit-tapes.js";
import { makeBar, placeTarget } from "../../src/setup/targets/place.js";
import { setupResultShape, type TargetResult } from "../../src/setup/result.js";
import type { AskedTarget } from "../../src/setup/scene.js";
import type { SetupTarget, Tapes } from "../../src/setup/shape.js";
import { answerTargets, checkTargets, type TargetInputs } from "../../src/setup/targets/targets.js";
import { findLine } from "../../src/setup/targets/datum.js";
import { check } from "../properties.js";
import {
  askedOf,
  EMPTY_SETUP,
  type FourTapes,
  FJELL,
  floorOf,
  layByHand,
  placingOf,
  sceneOf,
  thrustOf,
  wheelsAt,
} from "./targets-kit.js";

const GUARDED = makeDecisionRule();
const SIMPLE: DecisionRule = { kind: "simple" };
const WHEELS = wheelsAt(FJELL);

function ask(asked: AskedTarget | readonly AskedTarget[], given: Partial<TargetInputs> = {}) {
  const all = Array.isArray(asked) ? (asked as readonly AskedTarget[]) : [asked as AskedTarget];
  const found = answerTargets(all, {
    setup: EMPTY_SETUP,
    scene: sceneOf(),
    alignment: null,
    floor: null,
    rule: GUARDED,
    ...given,
  });
  for (const each of found.value ?? []) setupResultShape.shape.targets.element.parse(each);
  return { ...found, target: found.value![0]! };
}

const measuring = (measured: SetupTarget["measured"], U?: SetupTarget["U"]): Partial<SetupTarget> => ({
  measured,
  ...(U === undefined ? {} : { U, k: 2 }),
});

const tapesAt = (x: number, y: number, yaw: number, u?: number): FourTapes & { readonly u?: number } => ({
  ...layByHand({ x, y, yaw, width: 2400 }, WHEELS, "front-axle"),
  ...(u === undefined ? {} : { u }),
});

const says = ({ corrections }: TargetResult) => corrections.map((each) => each.says);
const exactly = (nominal: number) => ({ nominal, tolerance: 5 });

describe("what is asked of a target", () => {
  it("comes out as marks, ends and tapes, with the arithmetic of each number", () => {
    const { target, workings, missing, warnings } = ask(askedOf());
    expect(target.stands).toEqual({
      x: 1500,
      y: 0,
      height: 1350,
      heightAboveFloor: null,
      yaw: 0,
      pitch: 0,
      roll: 0,
    });
    expect(target.bar).toEqual({ width: 2400, left: { x: 1500, y: 1200 }, right: { x: 1500, y: -1200 } });
    expect(target.tapes.map(({ from }) => from)).toEqual(["front-axle", "rear-axle"]);
    expect(target.tapes[0]?.left).toBeCloseTo(1560.42, 2);
    expect(target.measured).toBeNull();
    expect(target.corrections).toEqual([]);
    expect(target.decisions).toEqual([]);
    expect([...missing, ...warnings]).toEqual([]);
    for (const value of [1500, 1200, -1200, target.tapes[1]!.right, target.tapes[1]!.straightsPerDegree]) {
      expect(workings.map((each) => each.value)).toContain(value);
    }
  });

  it("has no bar without a width, and no tapes without wheels", () => {
    const bare = ask(askedOf({}, null, null));
    expect(bare.target.bar).toBeNull();
    expect(bare.target.tapes).toEqual([]);
    expect(bare.missing).toEqual([]);
    const wheelless = ask(askedOf(), { scene: sceneOf({ wheels: null }) });
    expect(wheelless.target.bar).not.toBeNull();
    expect(wheelless.missing).toEqual([
      {
        for: "tapes for Board N1",
        needs: "wheelbase and tracks, or the four wheel centres",
        pointer: "/vehicle/dimensions",
      },
    ]);
  });

  it("has no tapes from an axle on whose wheel centres the bar would stand", () => {
    const asked = askedOf({ distance: exactly(0) }, null, 1540);
    expect(ask(asked).target.tapes.map(({ from }) => from)).toEqual(["rear-axle"]);
  });

  it("prints no wheelbase that nobody stated", () => {
    const scene = sceneOf({ wheelbase: null });
    const tapes = tapesAt(1500, 0, 0, 1);
    const { workings } = ask(askedOf({}, measuring({ tapes })), { scene });
    expect(workings.some(({ id }) => id === "lateral-uncertainty")).toBe(true);
    expect(workings.flatMap(({ inputs }) => inputs.map(({ name }) => name))).not.toContain("wheelbase");
  });

  it("waits for the thrust line and for the datum, and names both", () => {
    const asked = askedOf({ referenceLine: "thrust-line", datum: "front-bumper" });
    const { target, missing } = ask(asked, { scene: sceneOf({ frontOverhang: null }) });
    expect(target.stands).toBeNull();
    expect(target.tapes).toEqual([]);
    expect(missing.map(({ for: what, pointer }) => [what, pointer])).toEqual([
      ["marks for Board N1", "/vehicle/dimensions/frontOverhang"],
      ["marks for Board N1", "/rearToe"],
    ]);
  });

  it("stands on the thrust line where that is known", () => {
    const asked = askedOf({
      referenceLine: "thrust-line",
      datum: "front-bumper",
      distance: exactly(1500),
      lateral: exactly(100),
    });
    const { target } = ask(asked, { alignment: thrustOf(-0.25) });
    expect(target.stands?.x).toBeCloseTo(2400.42, 2);
    expect(target.stands?.y).toBeCloseTo(77.75, 2);
    expect(target.stands?.yaw).toBe(-0.25);
  });

  it("is named with its sensor where two targets share a name", () => {
    const asked = [
      askedOf({ datum: "emblem" }),
      { ...askedOf({ datum: "emblem" }), key: "front-radar/board-n1" },
    ];
    expect(ask(asked).missing.map((each) => each.for)).toEqual([
      "marks for Board N1 (forward-camera)",
      "marks for Board N1 (front-radar)",
    ]);
  });
});

describe("the height of a target", () => {
  const LEVEL = { along: 0, across: 0, atOrigin: 0 };

  it("grows where the floor falls away before the wheels", () => {
    // 1.5 m ahead at 3 mm/m downwards the floor lies 4.5 mm below the plane of the wheels.
    const { target, workings } = ask(askedOf(), { floor: floorOf({ ...LEVEL, along: -3 }, LEVEL) });
    expect(target.stands?.height).toBe(1350);
    expect(target.stands?.heightAboveFloor).toBeCloseTo(1354.5, 9);
    expect(workings.map(({ id }) => id)).toContain("height-above-floor");
  });

  it("is the nominal one on any floor that is one plane with the wheels, but a spirit level shows its tilt", () => {
    const slope = { along: 8, across: -5, atOrigin: 12 };
    const { target, warnings } = ask(askedOf(), { floor: floorOf(slope, slope) });
    expect(target.stands?.heightAboveFloor).toBeCloseTo(1350, 9);
    // Nose up: atan 0.008 = 0.46°, the top towards the vehicle; right side up: atan 0.005 = 0.29°, the left end down.
    expect(warnings).toEqual([
      {
        about: "Board N1",
        says: "The wheels do not stand level: square to their plane, a spirit level on the target shows a pitch of -0.46° and a roll of -0.29°. For each metre of height a point lies, in the vehicle's own axes, 8.0 mm ahead of and 5.0 mm right of the one plumbed below it; places and tapes count at the floor.",
      },
    ]);
  });

  it("turns the tilt with a target that looks to the side", () => {
    // To the left of the vehicle the target's x axis is the vehicle's y: across is its pitch, along its roll.
    const slope = { along: 0, across: 10, atOrigin: 0 };
    const asked = askedOf({ yaw: exactly(90), lateral: exactly(2600), distance: exactly(400) });
    const { workings } = ask(asked, { floor: floorOf(slope, slope) });
    const value = (id: string) => workings.find((each) => each.id === id)?.value;
    expect(value("level-pitch")).toBeCloseTo(-0.573, 3);
    expect(value("level-roll")).toBeCloseTo(0, 9);
  });

  it("waits for the heights under the wheels where only the floor was surveyed", () => {
    const { target, missing } = ask(askedOf(), { floor: floorOf(LEVEL, null) });
    expect(target.stands?.heightAboveFloor).toBeNull();
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/wheelCentres"]);
  });

  it("is held against the floor where the target stands", () => {
    const floor = floorOf({ ...LEVEL, along: -3 }, LEVEL);
    const { target } = ask(askedOf({}, measuring({ height: 1350 }, { height: 1 })), { floor });
    expect(target.corrections[0]?.amount).toBeCloseTo(4.5, 9);
    // How well the floor is known is not stated, so that nothing is decided.
    expect(target.decisions[0]).toMatchObject({
      of: "height of Board N1",
      u: null,
      verdict: "cannot-be-decided",
    });
    expect(target.decisions[0]?.low).toBeCloseTo(1349.5, 9);
    expect(target.decisions[0]?.high).toBeCloseTo(1359.5, 9);
  });

  it("says that it takes the floor for flat where nobody surveyed it", () => {
    const heights = (warnings: readonly { about: string }[]) =>
      warnings.filter(({ about }) => about === "heights of the targets");
    expect(heights(ask(askedOf({}, measuring({ height: 1350 }))).warnings)).toHaveLength(1);
    expect(heights(ask(askedOf({}, measuring({ lateral: 1 }))).warnings)).toEqual([]);
    const floor = floorOf(LEVEL, LEVEL);
    expect(heights(ask(askedOf({}, measuring({ height: 1350 })), { floor }).warnings)).toEqual([]);
  });

  it("warns of a place beyond the survey", () => {
    const { warnings } = ask(askedOf({ distance: exactly(7000) }), { floor: floorOf(LEVEL, LEVEL) });
    expect(warnings.map(({ about }) => about)).toEqual(["Board N1"]);
  });
});

describe("what is to be done about a target", () => {
  it("comes in the order of the work, the height last", () => {
    const measured = { height: 1175, yaw: 0.2, lateral: -4, roll: 0.1, distance: 1506, pitch: -0.3 };
    expect(says(ask(askedOf({}, measuring(measured))).target)).toEqual([
      "move it 4 mm to the vehicle's left",
      "move it 6 mm towards the vehicle",
      "turn it 0.2° clockwise seen from above",
      "tilt its top 0.3° away from the vehicle",
      "tilt it 0.1°, its right end up",
      "raise it by 175 mm",
    ]);
  });

  it("says the opposite of the opposite", () => {
    const measured = { height: 1350.5, yaw: -0.25, lateral: 4.4, roll: -0.1, distance: 1494, pitch: 0.3 };
    expect(says(ask(askedOf({}, measuring(measured))).target)).toEqual([
      "move it 4.4 mm to the vehicle's right",
      "move it 6 mm away from the vehicle",
      "turn it 0.25° counter-clockwise seen from above",
      "tilt its top 0.3° towards the vehicle",
      "tilt it 0.1°, its left end up",
      "lower it by 0.5 mm",
    ]);
  });

  it("holds behind the vehicle, where away is backwards and the target looks the other way", () => {
    // A target turned by 180° whose x axis points backwards: its top goes away from the vehicle with a positive pitch,
    // and the end that a positive roll raises is on the vehicle's right.
    const asked = (measured: SetupTarget["measured"]) =>
      askedOf({ datum: "rear-axle", yaw: exactly(180) }, measuring(measured));
    const { target } = ask(asked({ distance: 1490, lateral: 2, yaw: -179.5, pitch: -0.3, roll: -0.2 }));
    expect(target.measured?.yaw).toEqual({ value: 180.5, u: null });
    expect(says(target)).toEqual([
      "move it 2 mm to the vehicle's right",
      "move it 10 mm away from the vehicle",
      "turn it 0.5° clockwise seen from above",
      "tilt its top 0.3° away from the vehicle",
      "tilt it 0.2°, its right end up",
    ]);
    // Not turned about, its x axis points forwards, towards the vehicle.
    const plain = ask(askedOf({ datum: "rear-axle" }, measuring({ pitch: -0.3, roll: -0.2 })));
    expect(says(plain.target)).toEqual([
      "tilt its top 0.3° towards the vehicle",
      "tilt it 0.2°, its left end up",
    ]);
  });

  it("tilts the top of a panel beside the vehicle away from the vehicle's middle", () => {
    // From the middle of the wheelbase it stands 400 + 1350 ahead and 2600 to the right; its x axis, at −120°, has
    // 1750 · (−0.5) + 2600 · 0.866 = 1377 in that direction: it points away from the vehicle.
    const placing = { distance: exactly(400), lateral: exactly(-2600), yaw: exactly(-120) };
    expect(says(ask(askedOf(placing, measuring({ pitch: -0.3 }))).target)).toEqual([
      "tilt its top 0.3° away from the vehicle",
    ]);
  });

  it("tells forwards from backwards beside the vehicle, where neither leads away from it", () => {
    // A place 700 mm ahead of the front axle, beside a bumper that reaches further than that, if one is known to.
    const asked = askedOf({ distance: exactly(700) }, measuring({ distance: 706 }));
    const overhang = (value: number | null) => ({
      scene: { ...sceneOf(), frontOverhang: value === null ? null : mm(value) },
    });
    expect(says(ask(asked, overhang(905)).target)).toEqual(["move it 6 mm backwards, as the vehicle faces"]);
    expect(says(ask(asked, overhang(600)).target)).toEqual(["move it 6 mm towards the vehicle"]);
    expect(says(ask(asked, overhang(null)).target)).toEqual(["move it 6 mm towards the vehicle"]);
  });

  it("is nothing where nothing would show in print", () => {
    const measured = { lateral: 0.04, yaw: 0.004, height: 1350 };
    expect(says(ask(askedOf({}, measuring(measured))).target)).toEqual([]);
    expect(says(ask(askedOf({}, measuring({ lateral: 0.06, yaw: 0.006 }))).target)).toEqual([
      "move it 0.1 mm to the vehicle's right",
      "turn it 0.01° clockwise seen from above",
    ]);
  });

  it("is said for what was stated even where the target's place is not known", () => {
    const asked = askedOf(
      { referenceLine: "thrust-line" },
      measuring({ distance: 1490, pitch: 0.2, roll: -0.1 }, { distance: 2 }),
    );
    const { target } = ask(asked);
    expect(target.stands).toBeNull();
    expect(says(target)).toEqual([
      "move it 10 mm further from its datum",
      "tilt it by -0.2° of pitch",
      "tilt it by 0.1° of roll",
    ]);
    expect(target.decisions[0]?.verdict).toBe("does-not-conform");
  });
});

describe("whether a target stands within its tolerances", () => {
  it("is decided with the uncertainty as stated, U over k", () => {
    // ±3 mm and u = 0.5: 1 mm lies 4 u inside; 2.8 mm 0.4 u; 5 mm 4 u outside.
    const verdict = (lateral: number, U: number) => {
      const { decisions } = ask(askedOf({}, measuring({ lateral }, { lateral: U }))).target;
      expect(decisions).toHaveLength(1);
      expect(decisions[0]).toMatchObject({ of: "lateral place of Board N1", unit: "mm", u: U / 2 });
      expect([decisions[0]?.low, decisions[0]?.high]).toEqual([-3, 3]);
      return decisions[0]?.verdict;
    };
    expect(verdict(1, 1)).toBe("conforms");
    expect(verdict(2.8, 1)).toBe("cannot-be-decided");
    expect(verdict(-5, 1)).toBe("does-not-conform");
    expect(verdict(1, 6)).toBe("cannot-be-decided");
  });

  it("says of a tilt what it presumes, unless the floor tells how the wheels stand", () => {
    const asked = askedOf({}, measuring({ pitch: 0.1 }, { pitch: 0.1 }));
    const words = "It presumes a reading against the plane of the wheels, or wheels that stand level.";
    expect(ask(asked).target.decisions[0]?.says).toContain(words);
    const level = { along: 0, across: 0, atOrigin: 0 };
    const floor = floorOf(level, level);
    expect(ask(asked, { floor }).target.decisions[0]?.says).not.toContain(words);
  });

  it.each([
    [-179.8, 180.2],
    [179.8, 179.8],
    [539.9, 179.9],
  ])("takes a yaw of %d° for the turn nearest to a nominal 180°", (yaw, meant) => {
    const asked = askedOf({ datum: "rear-axle", yaw: { nominal: 180, tolerance: 0.3 } }, measuring({ yaw }));
    expect(ask(asked).target.measured?.yaw?.value).toBeCloseTo(meant, 9);
  });

  it("cannot be decided without an uncertainty, except where the shop accepts simply", () => {
    const asked = askedOf({}, measuring({ yaw: 0.1 }));
    expect(ask(asked).target.decisions[0]?.verdict).toBe("cannot-be-decided");
    expect(ask(asked, { rule: SIMPLE }).target.decisions[0]?.verdict).toBe("conforms");
  });
});

describe("a target measured with tapes", () => {
  it("is found where it stands, with its uncertainty, and put right", () => {
    const { target, warnings, missing } = ask(
      askedOf({}, measuring({ tapes: tapesAt(1504, 7.97, 0.5, 0.5) })),
    );
    expect(target.measured?.distance?.value).toBeCloseTo(1504, 5);
    expect(target.measured?.lateral?.value).toBeCloseTo(7.97, 5);
    expect(target.measured?.yaw?.value).toBeCloseTo(0.5, 6);
    expect(target.measured?.height).toBeNull();
    expect(target.measured?.fit).toMatchObject({ readings: 4, degreesOfFreedom: 1, agree: true });
    expect(says(target)).toEqual([
      "move it 8 mm to the vehicle's right",
      "move it 4 mm towards the vehicle",
      "turn it 0.5° clockwise seen from above",
    ]);
    expect(target.decisions.map(({ unit }) => unit)).toEqual(["mm", "mm", "deg"]);
    // The distance lies 1 mm inside of ±5 mm, which is 3.2 times its uncertainty of 0.31.
    expect(target.decisions.map(({ verdict }) => verdict)).toEqual([
      "does-not-conform",
      "conforms",
      "does-not-conform",
    ]);
    expect(missing).toEqual([]);
    expect(warnings.map(({ about }) => about)).toEqual(["/wheelCentres"]);
  });

  it("carries the uncertainty of the thrust line into lateral place and yaw", () => {
    // Square and centred on a thrust line of heading nothing: u(y) = 1.3438 and u(yaw) = 0.04755° for tapes of 1 mm
    // (worked out beside the adjustment). 0.02° of heading over 2700 + 1500 mm: 4200 · 0.000349066 = 1.46608 mm.
    // √(1.3438² + 1.46608²) = 1.98877; √(0.04755² + 0.02²) = 0.05158. The distance feels nothing of it: 0.6223.
    const asked = askedOf({ referenceLine: "thrust-line" }, measuring({ tapes: tapesAt(1500, 0, 0, 1) }));
    const { measured } = ask(asked, { alignment: thrustOf(0) }).target;
    expect(measured?.distance?.u).toBeCloseTo(0.6223, 4);
    expect(measured?.lateral?.u).toBeCloseTo(1.9888, 3);
    expect(measured?.yaw?.u).toBeCloseTo(0.05158, 4);
  });

  it("turns the uncertainties along and across the vehicle, and what they share, into those of the line", () => {
    // A line 20° to the left, exactly known, to a bar 1500 mm along it and 300 to its left. Along the line, of the
    // variances in the vehicle's axes: c²·xx + s²·yy + 2cs·xy; across it s²·xx + c²·yy − 2cs·xy.
    const placing = {
      referenceLine: "thrust-line",
      distance: exactly(1500),
      lateral: exactly(300),
    } as const;
    const alignment = thrustOf(20, 0);
    const { x = 0, y = 0 } = ask(askedOf(placing), { alignment }).target.stands ?? {};
    const tapes = tapesAt(x, y, 20, 1);
    const { measured } = ask(askedOf(placing, measuring({ tapes })), { alignment }).target;
    const fit = fitTapes(
      listReadings([tapes], WHEELS),
      makeBar({ x: mm(x), y: mm(y), yaw: degrees(20) }, mm(2400)),
    );
    if (fit.kind !== "found" || fit.variance === null) throw new Error(fit.kind);
    const { xx, xy, yy } = fit.variance;
    const [c, s] = [Math.cos(Math.PI / 9), Math.sin(Math.PI / 9)];
    expect(Math.abs(2 * c * s * xy)).toBeGreaterThan(0.05);
    expect(measured?.distance?.u).toBeCloseTo(Math.sqrt(c * c * xx + s * s * yy + 2 * c * s * xy), 6);
    expect(measured?.lateral?.u).toBeCloseTo(Math.sqrt(s * s * xx + c * c * yy - 2 * c * s * xy), 6);
  });

  it("leaves lateral place and yaw undecided on a thrust line of unknown uncertainty", () => {
    const asked = askedOf({ referenceLine: "thrust-line" }, measuring({ tapes: tapesAt(1500, 0, 0, 0.5) }));
    const { target, missing } = ask(asked, { alignment: thrustOf(0, null) });
    expect(target.measured?.lateral?.u).toBeNull();
    expect(target.measured?.yaw?.u).toBeNull();
    expect(target.measured?.distance?.u).toBeCloseTo(0.31115, 4);
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/rearToe/u"]);
    // 2600 mm beside the line, a degree moves the distance by 45 mm.
    const beside = { lateral: exactly(2600), referenceLine: "thrust-line" } as const;
    const far = askedOf(beside, measuring({ tapes: tapesAt(1500, 2600, 0, 0.5) }));
    expect(ask(far, { alignment: thrustOf(0, null) }).target.measured?.distance?.u).toBeNull();
  });

  it("has nothing to correct where the tapes are those that were asked for, whatever the line", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(
        number(1),
        number(400),
        number(15),
        fc.constantFrom<1 | -1>(1, -1),
        (heading, lateral, yaw, end) => {
          const placing = placingOf({
            referenceLine: "thrust-line",
            datum: end === 1 ? "front-axle" : "rear-axle",
            distance: exactly(2000),
            lateral: exactly(lateral),
            yaw: exactly(yaw),
          });
          const alignment = thrustOf(heading);
          const line = findLine("thrust-line", sceneOf(), alignment);
          if ("needs" in line) throw new Error(line.needs);
          const at = placeTarget(placing, {
            datumPoint: { x: mm(end === 1 ? 0 : -2700), away: end },
            ...line,
          });
          const bar = makeBar(at, mm(2400));
          const from = end === 1 ? "front-axle" : "rear-axle";
          const tapes = { ...layByHand(bar, WHEELS, from), u: 1 };
          const { target } = ask(askedOf(placing, measuring({ tapes })), { alignment });
          expect(target.corrections).toEqual([]);
          expect(target.measured?.distance?.value).toBeCloseTo(2000, 4);
          expect(target.measured?.lateral?.value).toBeCloseTo(lateral, 4);
          expect(target.measured?.yaw?.value).toBeCloseTo(yaw, 5);
        },
      ),
    );
  });

  it("is mirrored with its readings", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(number(1), number(60), number(3), number(2), (heading, y, yaw, error) => {
        const run = (side: 1 | -1) => {
          const { left, right, diagonals } = tapesAt(1500, side * y, side * yaw);
          const [a, b] = side === 1 ? [error, 0] : [0, error];
          const tapes: Tapes = { from: "front-axle", left: left + a, right: right + b, diagonals, u: 1 };
          const asked = askedOf({ referenceLine: "thrust-line" }, measuring({ tapes }));
          return ask(asked, { alignment: thrustOf(side * heading) }).target;
        };
        const [one, other] = [run(1), run(-1)];
        expect(other.measured!.lateral!.value).toBeCloseTo(-one.measured!.lateral!.value, 5);
        expect(other.measured!.yaw!.value).toBeCloseTo(-one.measured!.yaw!.value, 6);
        expect(other.measured!.distance!.value).toBeCloseTo(one.measured!.distance!.value, 5);
        expect(other.measured!.lateral!.u).toBeCloseTo(one.measured!.lateral!.u!, 6);
        expect(other.decisions.map(({ verdict }) => verdict)).toEqual(
          one.decisions.map(({ verdict }) => verdict),
        );
        const mirrored = (text: string) =>
          text.replace(/left|right|counter-clockwise|clockwise/, (word) => MIRRORED[word] ?? word);
        expect(says(other)).toEqual(says(one).map(mirrored));
      }),
    );
  });

  it("is not corrected where its readings disagree, and not decided even under simple acceptance", () => {
    const good = tapesAt(1500, 2, 0.1, 1);
    const tapes = { ...good, left: good.left + 30 };
    const { target, warnings } = ask(askedOf({}, measuring({ tapes, height: 1340 }, { height: 2 })), {
      rule: SIMPLE,
    });
    expect(target.measured?.fit?.agree).toBe(false);
    expect(target.measured?.lateral?.u).toBeNull();
    expect(says(target)).toEqual(["raise it by 10 mm"]);
    expect(target.decisions.map(({ of, verdict }) => [of, verdict])).toEqual([
      ["lateral place of Board N1", "cannot-be-decided"],
      ["distance of Board N1", "cannot-be-decided"],
      ["yaw of Board N1", "cannot-be-decided"],
      ["height of Board N1", "does-not-conform"],
    ]);
    expect(warnings[0]?.says).toMatch(
      /^The readings disagree among themselves by up to [\d.]+ mm \(.*measure again/,
    );
  });

  it("claims no uncertainty where its tapes have none, and still tells a blunder", () => {
    const { target, missing, warnings } = ask(askedOf({}, measuring({ tapes: tapesAt(1500, 6, 0) })));
    expect(target.measured?.lateral?.u).toBeNull();
    expect(target.measured?.fit).toMatchObject({ chiSquared: null, limit: null, agree: null });
    expect(says(target)).toEqual(["move it 6 mm to the vehicle's right"]);
    expect(target.decisions.every(({ verdict }) => verdict === "cannot-be-decided")).toBe(true);
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/targets/0/measured/tapes/u"]);
    expect(warnings.map(({ about }) => about)).toEqual(["/wheelCentres"]);
    const good = tapesAt(1500, 6, 0);
    const blunder = ask(askedOf({}, measuring({ tapes: { ...good, right: good.right + 30 } })));
    expect(says(blunder.target)).toEqual([]);
    expect(blunder.warnings[0]?.says).toContain("measure again before correcting");
  });

  it("says what else it takes", () => {
    const { left, right } = tapesAt(1500, 0, 0);
    const pointers = (asked: AskedTarget, given: Partial<TargetInputs> = {}) =>
      ask(asked, given).missing.map(({ pointer }) => pointer);
    const tapes: Tapes = { from: "front-axle", left, right };
    expect(pointers(askedOf({}, measuring({ tapes })))).toEqual(["/targets/0/measured/tapes"]);
    expect(pointers(askedOf({}, measuring({ tapes }), null))).toEqual(["/targets/0/barWidth"]);
    expect(pointers(askedOf({}, measuring({ tapes })), { scene: sceneOf({ wheels: null }) })).toContain(
      "/wheelCentres",
    );
    // Without a place there is nothing to hold them against; that place is what is missing.
    expect(pointers(askedOf({ datum: "emblem" }, measuring({ tapes })))).toEqual(["/places"]);
  });

  it("names the readings that fit nowhere or leave it free to move", () => {
    const lone: Tapes = { from: "front-axle", left: 20, right: 1560.42, diagonals: { fromLeft: 2476.07 } };
    const impossible = ask(askedOf({}, measuring({ tapes: lone })));
    expect(impossible.target.measured).toBeNull();
    expect(impossible.warnings[0]?.says).toBe(
      "No place of the bar fits the tapes (front left wheel to left end; front right wheel to right end; front left wheel to right end): measure them again.",
    );
    const { left, diagonals } = tapesAt(1500, 0, 0);
    const rear = layByHand({ x: 1500, y: 0, yaw: 0, width: 2400 }, WHEELS, "rear-axle");
    const toLeft: Tapes[] = [
      { from: "front-axle", left, diagonals: { fromRight: diagonals.fromRight } },
      { from: "rear-axle", left: rear.left, diagonals: { fromRight: rear.diagonals.fromRight } },
    ];
    const free = ask(askedOf({}, measuring({ tapes: toLeft })));
    expect(free.target.measured).toBeNull();
    expect(free.warnings[0]?.says).toContain("leave the bar free to move");
  });
});

const MIRRORED: Readonly<Record<string, string>> = {
  left: "right",
  right: "left",
  clockwise: "counter-clockwise",
  "counter-clockwise": "clockwise",
};

describe("a target both stated and taped", () => {
  const both = (lateral: number, U?: number) =>
    ask(
      askedOf(
        {},
        measuring({ lateral, tapes: tapesAt(1500, 2, 0, 1) }, U === undefined ? undefined : { lateral: U }),
      ),
    );

  it("goes by the tapes where both agree", () => {
    // u = 0.5 stated and 1.3438 taped: √(0.25 + 1.8058) = 1.4338, three of them 4.30 mm.
    const { target, contradictions } = both(6.2, 1);
    expect(contradictions).toEqual([]);
    expect(target.measured?.lateral?.value).toBeCloseTo(2, 5);
  });

  it("is a contradiction where they do not, and the quantity stays unknown", () => {
    const { target, contradictions } = both(6.4, 1);
    expect(contradictions).toEqual([
      {
        about: ["/targets/0/measured/lateral", "/targets/0/measured/tapes"],
        says: "lateral of Board N1 is stated as 6.40 mm, and the tapes give 2.00 mm: neither is used.",
      },
    ]);
    expect(target.measured?.lateral).toBeNull();
    expect(target.measured?.distance).not.toBeNull();
    expect(target.decisions.map(({ of }) => of)).not.toContain("lateral place of Board N1");
  });

  it("is held against the tolerance where an uncertainty is not known", () => {
    expect(both(4.9).contradictions).toEqual([]);
    expect(both(5.1).contradictions).toHaveLength(1);
  });
});

describe("what a document states of its targets", () => {
  const stated = (target: Partial<SetupTarget>): SetupTarget => ({
    sensor: "forward-camera",
    id: "board-n1",
    ...target,
  });

  it("needs the coverage factor of an expanded uncertainty", () => {
    const target = stated({ measured: { lateral: 1 }, U: { lateral: 1 } });
    expect(checkTargets({ ...EMPTY_SETUP, target, targets: [{ ...target, k: 2 }, target] })).toMatchObject([
      { code: "missing-measurement", pointer: "/target/k" },
      { code: "missing-measurement", pointer: "/targets/1/k" },
    ]);
    expect(checkTargets({ ...EMPTY_SETUP, target: stated({ measured: { lateral: 1 }, U: {} }) })).toEqual([]);
  });

  it("has tapes that can meet, by the track as stated or as measured and by the bar's own width", () => {
    const tapes: Tapes[] = [
      tapesAt(1500, 0, 0),
      { from: "rear-axle", right: 1000, diagonals: { fromRight: 1380 } },
      { from: "front-axle", left: 1560, diagonals: { fromRight: 3200 } },
    ];
    const target = stated({ barWidth: 2400, measured: { tapes } });
    const dimensions = { trackFront: 1540, trackRear: 1550 };
    const found = [
      "/target/measured/tapes/1/diagonals/fromRight",
      "/target/measured/tapes/2/diagonals/fromRight",
    ];
    const pointers = (setup: Parameters<typeof checkTargets>[0]) =>
      checkTargets(setup).map(({ pointer }) => pointer);
    expect(pointers({ ...EMPTY_SETUP, target, vehicle: { dimensions } })).toEqual(found);
    const wheelCentres = WHEELS.map(({ axle, side, x, y }) => ({ axle, side, x: 5000 - y, y: 300 + x }));
    expect(pointers({ ...EMPTY_SETUP, target, wheelCentres })).toEqual(found);
    expect(pointers({ ...EMPTY_SETUP, target })).toEqual(found.slice(0, 1));
  });
});
