import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mm } from "../../src/measure/index.js";
import { endOf } from "../../src/setup/targets/place.js";
import { tapesOf, wheelsOf, workTapes } from "../../src/setup/targets/tapes.js";
import { check } from "../properties.js";
import { barAt, FJELL, layByHand, wheelsAt } from "./targets-kit.js";

const WHEELS = wheelsAt(FJELL);
const front = wheelsOf(WHEELS, "front-axle")!;
const rear = wheelsOf(WHEELS, "rear-axle")!;

describe("the tapes to a bar", () => {
  it("are equal on both sides where it stands square and centred", () => {
    // Straight: √(1500² + 430²) = 1560.42; diagonal: √(1500² + 1970²) = 2476.07.
    const tapes = tapesOf(barAt(1500, 0, 0), front, "front-axle");
    expect(tapes.left).toBeCloseTo(1560.42, 2);
    expect(tapes.right).toBe(tapes.left);
    expect(tapes.diagonals.fromLeft).toBeCloseTo(2476.07, 2);
    expect(tapes.diagonals.fromRight).toBe(tapes.diagonals.fromLeft);
  });

  it("start from the rear wheels as well", () => {
    // √(4200² + 425²) = 4221.45; √(4200² + 1975²) = 4641.19.
    const tapes = tapesOf(barAt(1500, 0, 0), rear, "rear-axle");
    expect(tapes.left).toBeCloseTo(4221.45, 2);
    expect(tapes.diagonals.fromRight).toBeCloseTo(4641.19, 2);
  });

  it("are blind in their diagonals alone: a yaw and an offset can cancel there", () => {
    const { left, right, diagonals } = tapesOf(barAt(1500, 7.97, 0.5), front, "front-axle");
    expect(Math.abs(diagonals.fromLeft - diagonals.fromRight)).toBeLessThan(0.01);
    expect(Math.abs(left - right)).toBeCloseTo(15.7, 1);
    // The left end has come nearer.
    expect(left).toBeLessThan(right);
  });

  it("say what their differences mean", () => {
    // An end moves 1200 · π/180 = 20.944 for a degree; of that 1500/1560.42 lie along each straight tape, in opposite
    // directions: −2 · 20.944 · 0.961279 = −40.266. A millimetre to the left changes the diagonals by −1970/2476.07
    // and +1970/2476.07: −1.5912.
    const tapes = tapesOf(barAt(1500, 0, 0), front, "front-axle");
    expect(tapes.straightsPerDegree).toBeCloseTo(-40.266, 3);
    expect(tapes.diagonalsPerMillimetre).toBeCloseTo(-1.5912, 4);
  });

  it("change as they say", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(number(400), number(20), fc.constantFrom(front, rear), (y, yaw, wheels) => {
        const lay = (dy: number, turn: number) =>
          tapesOf(barAt(2000, y + dy, yaw + turn), wheels, "front-axle");
        const here = lay(0, 0);
        const straights = ({ left, right }: typeof here) => left - right;
        const diagonals = ({ diagonals: { fromLeft, fromRight } }: typeof here) => fromLeft - fromRight;
        const perDegree = (straights(lay(0, 0.005)) - straights(lay(0, -0.005))) / 0.01;
        expect(here.straightsPerDegree).toBeCloseTo(perDegree, 3);
        const perMillimetre = (diagonals(lay(0.05, 0)) - diagonals(lay(-0.05, 0))) / 0.1;
        expect(here.diagonalsPerMillimetre).toBeCloseTo(perMillimetre, 6);
      }),
    );
  });

  it("agree with plane geometry, and stay the same wherever vehicle and bar are moved and turned together", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(
        number(300),
        number(30),
        number(20000),
        number(20000),
        number(180),
        (y, yaw, dx, dy, turn) => {
          const bar = barAt(1800, y, yaw);
          const tapes = tapesOf(bar, front, "front-axle");
          expect(tapes).toMatchObject({ from: "front-axle" });
          const byHand = layByHand(bar, WHEELS, "front-axle");
          expect(tapes.left).toBeCloseTo(byHand.left, 6);
          expect(tapes.right).toBeCloseTo(byHand.right, 6);
          expect(tapes.diagonals.fromLeft).toBeCloseTo(byHand.diagonals.fromLeft, 6);
          const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
          const move = ({ x, y: v }: { x: number; y: number }) => ({
            x: dx + c * x - s * v,
            y: dy + s * x + c * v,
          });
          const apart = (one: { x: number; y: number }, other: { x: number; y: number }) => {
            const [a, b] = [move(one), move(other)];
            return Math.hypot(a.x - b.x, a.y - b.y);
          };
          expect(tapes.right).toBeCloseTo(apart(front.right, endOf(bar, "right")), 6);
          expect(tapes.diagonals.fromRight).toBeCloseTo(apart(front.right, endOf(bar, "left")), 6);
        },
      ),
    );
  });

  it("are mirrored with the bar", () => {
    const number = (size: number) => fc.double({ min: -size, max: size, noNaN: true });
    check(
      fc.property(number(3000), number(2500), number(180), (x, y, yaw) => {
        fc.pre(y !== 0);
        const one = tapesOf(barAt(x, y, yaw), front, "front-axle");
        const other = tapesOf(barAt(x, -y, -yaw), front, "front-axle");
        expect(other.left).toBeCloseTo(one.right, 6);
        expect(other.diagonals.fromLeft).toBeCloseTo(one.diagonals.fromRight, 6);
        expect(other.straightsPerDegree).toBeCloseTo(one.straightsPerDegree, 6);
        expect(other.diagonalsPerMillimetre).toBeCloseTo(one.diagonalsPerMillimetre, 6);
      }),
    );
  });

  it("print the arithmetic of every number in them", () => {
    const bar = barAt(1500, 3, 0.4);
    const tapes = tapesOf(bar, front, "front-axle");
    const printed = workTapes(bar, front, "front-axle", "Board N1").map(({ value }) => value);
    for (const value of [
      tapes.left,
      tapes.right,
      tapes.diagonals.fromLeft,
      tapes.diagonals.fromRight,
      tapes.straightsPerDegree,
      tapes.diagonalsPerMillimetre,
    ]) {
      expect(printed).toContain(value);
    }
  });
});

describe("the arithmetic of the tapes", () => {
  it("names wheel and end of every tape", () => {
    const gives = workTapes(barAt(1500, 0, 0), rear, "rear-axle", "Board N1").map((each) => each.gives);
    expect(gives.slice(0, 4)).toEqual([
      "Board N1: tape, rear left wheel to left end",
      "Board N1: tape, rear right wheel to right end",
      "Board N1: tape, rear left wheel to right end",
      "Board N1: tape, rear right wheel to left end",
    ]);
  });
});

describe("the wheels that tapes start from", () => {
  it("are both of the axle, or none", () => {
    expect(wheelsOf(WHEELS, "rear-axle")).toMatchObject({ left: { x: -2700, y: 775 }, right: { y: -775 } });
    expect(wheelsOf(null, "front-axle")).toBeNull();
    expect(wheelsOf(WHEELS.slice(1), "front-axle")).toBeNull();
  });

  it("are where they were measured, set-back and all", () => {
    const setBack = WHEELS.map((wheel) =>
      wheel.axle === "front" && wheel.side === "right" ? { ...wheel, x: mm(-10) } : wheel,
    );
    // √(1510² + 430²) = 1570.03 instead of 1560.42.
    const tapes = tapesOf(barAt(1500, 0, 0), wheelsOf(setBack, "front-axle")!, "front-axle");
    expect(tapes.left).toBeCloseTo(1560.42, 2);
    expect(tapes.right).toBeCloseTo(1570.03, 2);
  });
});
