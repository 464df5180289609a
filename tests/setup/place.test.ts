import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { degrees, mm } from "../../src/measure/index.js";
import { compareBumpers, findDatum, findLine } from "../../src/setup/targets/datum.js";
import { endOf, makeBar, placeTarget, type DatumPoint } from "../../src/setup/targets/place.js";
import type { Place } from "../../src/setup/scene.js";
import { check } from "../properties.js";
import { askedOf, placingOf, sceneOf, thrustOf } from "./targets-kit.js";

const exactly = (nominal: number) => ({ nominal, tolerance: 5 });
const at = (x: number, away: 1 | -1): DatumPoint => ({ x: mm(x), away });
const line = (heading: number) => ({ heading: degrees(heading), wheelbase: mm(2700) });

describe("the place of a target", () => {
  it("counts from the foot of the datum on the thrust line, along it, then square to it", () => {
    // tan 0.25° = 0.00436335, (900 + 2700) · that = 15.708 to the right; then 1500 along and 100 to the left.
    const placed = placeTarget(
      placingOf({ distance: exactly(1500), lateral: exactly(100), yaw: exactly(0) }),
      {
        datumPoint: at(900, 1),
        ...line(-0.25),
      },
    );
    expect(placed.x).toBeCloseTo(2400.42, 2);
    expect(placed.y).toBeCloseTo(77.75, 2);
    expect(placed.foot).toBeCloseTo(-15.708, 3);
    expect(placed.yaw).toBe(-0.25);
  });

  it("lies on the axes themselves where the line is the centre line", () => {
    const placing = placingOf({ distance: exactly(2000), lateral: exactly(-120), yaw: exactly(3) });
    expect(placeTarget(placing, { datumPoint: at(900, 1), ...line(0) })).toEqual({
      x: 2900,
      y: -120,
      yaw: 3,
      foot: 0,
    });
  });

  it("runs backwards from a datum at the rear", () => {
    const placing = placingOf({ distance: exactly(2350), lateral: exactly(1480), yaw: exactly(32) });
    const placed = placeTarget(placing, { datumPoint: at(-2700, -1), ...line(0) });
    expect(placed).toMatchObject({ x: -5050, y: 1480, yaw: 32 });
    // On a thrust line to the left the line lies to the right behind the rear axle: 2350 · sin 0.2° = 8.203.
    const onThrust = placeTarget(placing, { datumPoint: at(-2700, -1), ...line(0.2) });
    expect(onThrust.y).toBeCloseTo(1480 * Math.cos((0.2 * Math.PI) / 180) - 8.203, 3);
  });

  it("lies on the thrust line wherever its lateral is nothing", () => {
    check(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: -4000, max: 1500, noNaN: true }),
        fc.double({ min: -500, max: 8000, noNaN: true }),
        fc.constantFrom<1 | -1>(1, -1),
        (heading, x, distance, away) => {
          const placing = placingOf({ distance: exactly(distance), lateral: exactly(0) });
          const placed = placeTarget(placing, { datumPoint: at(x, away), ...line(heading) });
          const slope = Math.tan((heading * Math.PI) / 180);
          expect(placed.y).toBeCloseTo((placed.x + 2700) * slope, 6);
        },
      ),
    );
  });

  it("is mirrored with its line, its lateral and its yaw", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(number(3), number(4000), number(2000), number(180), (heading, distance, lateral, yaw) => {
        const place = (side: 1 | -1) =>
          placeTarget(
            placingOf({
              distance: exactly(distance),
              lateral: exactly(side * lateral),
              yaw: exactly(side * yaw),
            }),
            { datumPoint: at(900, 1), ...line(side * heading) },
          );
        const [one, other] = [place(1), place(-1)];
        expect(other.x).toBeCloseTo(one.x, 9);
        expect(other.y).toBeCloseTo(-1 * one.y, 9);
        expect(other.yaw).toBeCloseTo(-1 * one.yaw, 9);
      }),
    );
  });
});

describe("the datum of a target", () => {
  const place = (parts: Partial<Place>): Place => ({
    datum: "sensor",
    sensor: "forward-camera",
    position: null,
    x: mm(0),
    y: mm(0),
    z: null,
    ...parts,
  });
  const find = (datum: Parameters<typeof placingOf>[0], scene: Parameters<typeof sceneOf>[0] = {}) =>
    findDatum(askedOf(datum), sceneOf(scene));

  it("is an axle of the scene", () => {
    expect(find({ datum: "front-axle" })).toEqual({ x: 0, away: 1 });
    expect(find({ datum: "rear-axle" })).toEqual({ x: -2700, away: -1 });
    expect(find({ datum: "front-axle" }, { wheelbase: null })).toEqual({ x: 0, away: 1 });
    expect(find({ datum: "rear-axle" }, { wheelbase: null })).toEqual({
      needs: "the wheelbase",
      pointer: "/vehicle/dimensions/wheelbase",
    });
  });

  it("is a bumper by its overhang, or where it was measured", () => {
    expect(find({ datum: "front-bumper" })).toEqual({ x: 900, away: 1 });
    expect(find({ datum: "rear-bumper" })).toEqual({ x: -3650, away: -1 });
    const measured = [
      place({ datum: "front-bumper", sensor: null, x: mm(893) }),
      place({ datum: "rear-bumper", sensor: null, x: mm(-3641) }),
    ];
    expect(find({ datum: "front-bumper" }, { places: measured })).toEqual({ x: 893, away: 1 });
    expect(find({ datum: "rear-bumper" }, { places: measured, wheelbase: null })).toEqual({
      x: -3641,
      away: -1,
    });
  });

  it("says what it takes where neither is stated", () => {
    expect(find({ datum: "front-bumper" }, { frontOverhang: null })).toEqual({
      needs: "the front overhang, or the place of the front bumper",
      pointer: "/vehicle/dimensions/frontOverhang",
    });
    expect(find({ datum: "rear-bumper" }, { rearOverhang: null })).toMatchObject({
      pointer: "/vehicle/dimensions/rearOverhang",
    });
    expect(find({ datum: "rear-bumper" }, { wheelbase: null })).toMatchObject({ needs: "the wheelbase" });
    expect(find({ datum: "emblem" })).toEqual({ needs: "the place of the emblem", pointer: "/places" });
  });

  it("is that sensor's place and no other's, forwards where it is ahead of the middle", () => {
    const places = [
      place({ sensor: "front-radar", x: mm(800) }),
      place({ sensor: "forward-camera", position: "left", x: mm(700) }),
      place({ x: mm(-1200), y: mm(40) }),
    ];
    expect(find({ datum: "sensor" }, { places })).toEqual({ x: -1200, away: 1 });
    expect(find({ datum: "sensor" }, { places: [place({ x: mm(-1400) })] })).toEqual({ x: -1400, away: -1 });
    expect(find({ datum: "sensor" }, { places: places.slice(0, 2) })).toEqual({
      needs: "the place of the sensor's lens or face",
      pointer: "/places",
    });
  });

  it("needs the wheelbase to tell front from rear only behind the front axle", () => {
    const scene = (x: number) => ({ wheelbase: null, places: [place({ x: mm(x) })] });
    expect(find({ datum: "sensor" }, scene(820))).toEqual({ x: 820, away: 1 });
    expect(find({ datum: "sensor" }, scene(-300))).toMatchObject({ needs: "the wheelbase" });
  });

  it("lists a bumper that was measured elsewhere than its overhang has it", () => {
    const places = [
      place({ datum: "front-bumper", sensor: null, x: mm(905) }),
      place({ datum: "rear-bumper", sensor: null, x: mm(-3690) }),
    ];
    const found = compareBumpers(sceneOf({ places }));
    expect(found.map(({ about }) => about)).toEqual([["/vehicle/dimensions/rearOverhang", "/places"]]);
    expect(found[0]?.says).toContain("950 mm");
    expect(found[0]?.says).toContain("990 mm");
  });
});

describe("the reference line of a target", () => {
  it("is the centre line with or without a wheelbase", () => {
    expect(findLine("centre-line", sceneOf({ wheelbase: null }), null)).toMatchObject({
      heading: 0,
      uHeading: 0,
    });
  });

  it("is the thrust line only where thrust and wheelbase are known", () => {
    expect(findLine("thrust-line", sceneOf(), thrustOf(-0.1))).toMatchObject({
      heading: -0.1,
      wheelbase: 2700,
      uHeading: 0.02,
      headingPointer: "/rearToe/u",
    });
    expect(findLine("thrust-line", sceneOf(), { ...thrustOf(0), thrust: null })).toMatchObject({
      pointer: "/rearToe",
    });
    expect(findLine("thrust-line", sceneOf({ wheelbase: null }), thrustOf(0))).toMatchObject({
      pointer: "/vehicle/dimensions/wheelbase",
    });
  });
});

describe("the ends of a bar", () => {
  const ends = (x: number, y: number, yaw: number) => {
    const bar = makeBar({ x: mm(x), y: mm(y), yaw: degrees(yaw) }, mm(1000));
    return { left: endOf(bar, "left"), right: endOf(bar, "right") };
  };

  it.each([
    ["ahead", 3000, 0],
    ["behind, turned about", -5000, 180],
    ["behind, not turned", -5000, 0],
  ])("are the vehicle's left and right where it lies across, %s", (_what, x, yaw) => {
    const { left, right } = ends(x, 20, yaw);
    expect(left.y).toBeCloseTo(520, 9);
    expect(right.y).toBeCloseTo(-480, 9);
    expect(left.x).toBeCloseTo(x, 9);
  });

  it("are those of somebody looking out where it lies along the vehicle", () => {
    // Looking left, the rear is on the left hand; looking right, the front is.
    expect(ends(400, 2600, 90).left.x).toBeCloseTo(-100, 9);
    expect(ends(400, 2600, -90).left.x).toBeCloseTo(-100, 9);
    expect(ends(400, -2600, -90).left.x).toBeCloseTo(900, 9);
    expect(ends(400, -2600, 90).right.x).toBeCloseTo(-100, 9);
  });

  it("turn counter-clockwise with a positive yaw: the left end comes nearer in front", () => {
    // 500 · sin 2° = 17.450, 500 · cos 2° = 499.695.
    const { left, right } = ends(3000, 0, 2);
    expect(left.x).toBeCloseTo(2982.55, 2);
    expect(left.y).toBeCloseTo(499.695, 3);
    expect(right.x).toBeCloseTo(3017.45, 2);
  });

  it("are mirrored with the bar", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(number(6000), fc.double({ min: 1, max: 4000, noNaN: true }), number(180), (x, y, yaw) => {
        const [one, other] = [ends(x, y, yaw), ends(x, -y, -yaw)];
        expect(other.left.x).toBeCloseTo(one.right.x, 6);
        expect(other.left.y).toBeCloseTo(-1 * one.right.y, 6);
      }),
    );
  });
});
