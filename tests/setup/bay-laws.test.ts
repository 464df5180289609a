import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { answerBay } from "../../src/setup/bay/bay.js";
import { leastBay } from "../../src/setup/bay/least.js";
import type { BayResult } from "../../src/setup/result.js";
import { check } from "../properties.js";
import { bodiesOf, caseArbitrary, playAt, type Case } from "./bay-cases.js";

function ask(given: Case): BayResult {
  const { value } = answerBay(given);
  if (value === null) throw new Error("no answer");
  return value;
}

const withBay = (given: Case, bay: Partial<Case["bay"]>): Case => ({
  ...given,
  bay: { ...given.bay, ...bay },
});

describe("the least bay", () => {
  it("always fits, and nothing a millimetre shorter, narrower or lower does", () => {
    check(
      fc.property(caseArbitrary, (given) => {
        const { length, width, height } = leastBay(given).value!.oneByOne;
        const bay = { length, width, height: height!, obstacles: [], noseIn: given.bay.noseIn };
        expect(ask({ ...given, bay }).verdict).toBe("fits");
        for (const less of [{ length: length - 1 }, { width: width - 1 }, { height: height! - 1 }]) {
          expect(ask({ ...given, bay: { ...bay, ...less } }).verdict).toBe("does-not-fit");
        }
      }),
    );
  });

  it("takes everything at once where it is large enough for that", () => {
    check(
      fc.property(caseArbitrary, (given) => {
        const { length, width } = leastBay(given).value!.atOnce;
        expect(ask(withBay(given, { length, width, obstacles: [] })).setUps).toHaveLength(1);
      }),
    );
  });
});

describe("the places found", () => {
  it("touch nothing, and cover every step of the set-up", () => {
    let placed = 0;
    check(
      fc.property(caseArbitrary, (given) => {
        for (const { requirements, vehicleAt, noseIn, fits } of ask(given).setUps) {
          expect(vehicleAt === null).toBe(fits !== true);
          if (vehicleAt === null) continue;
          placed += 1;
          const bodies = given.steps
            .filter(({ requirement }) => requirements.includes(requirement))
            .flatMap((step) => bodiesOf(given, step));
          expect(playAt(given, bodies, vehicleAt, noseIn)).toBeGreaterThanOrEqual(-1e-5);
        }
      }),
      400,
    );
    expect(placed).toBeGreaterThan(200);
  });

  it("leave as much play as any place of a fine grid", () => {
    let compared = 0;
    check(
      fc.property(caseArbitrary, (given) => {
        const [setUp] = ask(given).setUps;
        if (given.steps.length > 1 || !setUp?.vehicleAt) return;
        compared += 1;
        const bodies = bodiesOf(given, given.steps[0]!);
        const best = playAt(given, bodies, setUp.vehicleAt, setUp.noseIn);
        const directions = typeof given.bay.noseIn === "boolean" ? [given.bay.noseIn] : [true, false];
        for (const noseIn of directions) {
          const plays = gridOf(given).map((at) => playAt(given, bodies, at, noseIn));
          expect(Math.max(...plays)).toBeLessThanOrEqual(best + 1e-5);
        }
      }),
      400,
    );
    expect(compared).toBeGreaterThan(20);
  });

  it("are missed by no grid where there is said to be none", () => {
    let refused = 0;
    check(
      fc.property(caseArbitrary, (given) => {
        if (ask(given).verdict !== "does-not-fit") return;
        refused += 1;
        const directions = typeof given.bay.noseIn === "boolean" ? [given.bay.noseIn] : [true, false];
        const grid = gridOf(given);
        const all = given.steps.every((step) => {
          const bodies = bodiesOf(given, step);
          return directions.some((noseIn) => grid.some((at) => playAt(given, bodies, at, noseIn) > 0));
        });
        expect(all).toBe(false);
      }),
      200,
    );
    expect(refused).toBeGreaterThan(50);
  });

  it("have every step once, each after those that it waits for", () => {
    check(
      fc.property(caseArbitrary, (given) => {
        const { setUps } = ask(given);
        const at = (requirement: string): number =>
          setUps.findIndex(({ requirements }) => requirements.includes(requirement));
        expect(setUps.flatMap(({ requirements }) => requirements).sort()).toEqual(
          given.steps.map(({ requirement }) => requirement).sort(),
        );
        for (const { requirement, after } of given.steps) {
          for (const before of after) expect(at(before)).toBeLessThanOrEqual(at(requirement));
        }
      }),
    );
  });
});

describe("another bay", () => {
  it("that is larger never takes a fit away", () => {
    let fitted = 0;
    check(
      fc.property(caseArbitrary, fc.nat(2000), fc.nat(2000), (given, longer, wider) => {
        if (ask(given).verdict !== "fits") return;
        fitted += 1;
        const larger = withBay(given, { length: given.bay.length + longer, width: given.bay.width + wider });
        expect(ask(larger).verdict).toBe("fits");
        expect(ask(larger).setUps.length).toBeLessThanOrEqual(ask(given).setUps.length);
      }),
    );
    expect(fitted).toBeGreaterThan(10);
  });

  it("without one of the obstacles never takes a fit away", () => {
    let fitted = 0;
    check(
      fc.property(caseArbitrary, fc.nat(), (given, which) => {
        const obstacles = given.bay.obstacles ?? [];
        if (obstacles.length === 0 || ask(given).verdict !== "fits") return;
        fitted += 1;
        const fewer = obstacles.filter((_, index) => index !== which % obstacles.length);
        expect(ask(withBay(given, { obstacles: fewer })).verdict).toBe("fits");
      }),
    );
    expect(fitted).toBeGreaterThan(10);
  });

  it("that is its mirror image gives the mirrored answer", () => {
    check(
      fc.property(caseArbitrary, (given) => {
        const mirrored: Case = {
          ...withBay(given, {
            obstacles: (given.bay.obstacles ?? []).map((each) => ({ ...each, y: -each.y - each.width })),
          }),
          targets: given.targets.map((target) => ({
            ...target,
            stands: target.stands && { ...target.stands, y: -target.stands.y },
            bar: target.bar && {
              width: target.bar.width,
              left: { ...target.bar.right, y: -target.bar.right.y },
              right: { ...target.bar.left, y: -target.bar.left.y },
            },
          })),
        };
        const [one, other] = [ask(given), ask(mirrored)];
        expect(other.verdict).toBe(one.verdict);
        expect(other.least).toEqual(one.least);
        const pick = ({ setUps }: BayResult): unknown =>
          setUps.map(({ requirements, fits, noseIn, spare, vehicleAt, inTheWay }) => ({
            requirements,
            fits,
            noseIn,
            spare,
            x: vehicleAt?.x,
            y: vehicleAt && Math.abs(vehicleAt.y),
            moved: inTheWay.reduce((sum, { move }) => sum + move, 0).toFixed(3),
          }));
        expect(pick(other)).toEqual(pick(one));
      }),
    );
  });

  // Where one obstacle alone is in the way, moving it as said makes room, whatever the wall says about it.
  it("with the one obstacle moved as said has room", () => {
    let moved = 0;
    check(
      fc.property(caseArbitrary, (given) => {
        const [step] = given.steps;
        if (step === undefined || given.bay.obstacles?.length !== 1) return;
        const alone = { ...given, steps: [{ ...step, after: [] }] };
        const [setUp] = ask(alone).setUps;
        const [way] = setUp?.inTheWay ?? [];
        if (way === undefined || way.says.includes("beyond the wall")) return;
        moved += 1;
        const by = (way.says.includes("further in") || way.says.includes("to the left") ? 1 : -1) * way.move;
        const isAlong = way.says.includes("further in") || way.says.includes("towards the door");
        const at = (share: number): Case =>
          withBay(alone, {
            obstacles: given.bay.obstacles!.map((each) =>
              isAlong ? { ...each, x: each.x + by * share } : { ...each, y: each.y + by * share },
            ),
          });
        expect(ask(at(1)).verdict).toBe("fits");
        expect(ask(at(1 - 1 / Math.max(2, way.move))).verdict).toBe("does-not-fit");
      }),
      2000,
    );
    expect(moved).toBeGreaterThan(10);
  });
});

describe("a dimension less", () => {
  it("never makes a fit, and makes a refusal only where there was one", () => {
    const verdicts = new Set<string>();
    check(
      fc.property(
        caseArbitrary,
        fc.constantFrom("wheelbase", "frontOverhang", "rearOverhang", "width", "height"),
        (given, dimension) => {
          const known = ask(withBay(given, { height: 2100 })).verdict;
          const less = ask({
            ...withBay(given, { height: 2100 }),
            scene: { ...given.scene, trackFront: null, trackRear: null, [dimension]: null },
          }).verdict;
          verdicts.add(less);
          expect(less).not.toBe("fits");
          if (less === "does-not-fit") expect(known).toBe("does-not-fit");
        },
      ),
      400,
    );
    expect([...verdicts].sort()).toEqual(["cannot-be-told", "does-not-fit"]);
  });
});

/** Places for the front axle, every 100 mm over the whole bay. */
function gridOf({ bay }: Case): readonly { readonly x: number; readonly y: number }[] {
  const places: { x: number; y: number }[] = [];
  for (let x = 0; x <= bay.length; x += 100) {
    for (let y = -bay.width / 2; y <= bay.width / 2; y += 100) places.push({ x, y });
  }
  return places;
}
