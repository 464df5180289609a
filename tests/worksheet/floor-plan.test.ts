import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import type { SetupResult } from "../../src/setup/index.js";
import { renderFloorPlan } from "../../src/worksheet/floor-plan.js";
import {
  groupOf,
  labelsOf,
  outside,
  overlaps,
  pathsOf,
  rectanglesOf,
  scaleOf,
  targetsOf,
  unbalancedTags,
  viewBoxOf,
} from "./read-svg.js";
import { FULL, HOSTILE, HOSTILE_NAMES, POOR } from "./setup-results.js";

const AHEAD = renderFloorPlan(FULL);
const AROUND = renderFloorPlan(FULL, { setUp: "S2" });
const DRAWINGS = [
  ["full, ahead", AHEAD],
  ["full, around, in inches", renderFloorPlan(FULL, { setUp: "S2", units: "in" })],
  ["poor", renderFloorPlan(POOR)],
  ["hostile, ahead", renderFloorPlan(HOSTILE)],
  ["hostile, around", renderFloorPlan(HOSTILE, { setUp: "S2" })],
  ["narrow", renderFloorPlan(FULL, { setUp: "S2", width: 130 })],
  ["wide", renderFloorPlan(FULL, { width: 400 })],
] as const;

/** A hundredth of a mm on paper, rounded at both ends. */
const within = (scale: number): number => scale * 0.011;

describe("the floor plan, to scale", () => {
  it("draws the outline as long and as wide as the vehicle", () => {
    const [body] = rectanglesOf(groupOf(AHEAD, "vehicle"));
    const scale = scaleOf(AHEAD);
    expect(Math.abs(body!.width * scale - 1860)).toBeLessThan(within(scale));
    // 905 + 2850 + 1020
    expect(Math.abs(body!.height * scale - 4775)).toBeLessThan(within(scale));
  });

  it("draws every target at its place: forward is up, left is left", () => {
    const scale = scaleOf(AROUND);
    const drawn = targetsOf(AROUND);
    const [left, right] = ["left", "right"].map((side) =>
      drawn.get(`rear-corner-radar:${side}/simulator-n6-${side}`)!,
    );
    const front = drawn.get("surround-camera/mat-s-front")!;
    // They stand at x -5200, y 1484.9 and -1475.1; the mat at x 1700, y 0.
    expect(Math.abs((right!.x - left!.x) * scale - 2960)).toBeLessThan(within(scale));
    expect(Math.abs((front.x - left!.x) * scale - 1484.9)).toBeLessThan(within(scale));
    expect(Math.abs((left!.y - front.y) * scale - 6900)).toBeLessThan(within(scale));
  });

  it("puts the front bumper 905 mm above the front axle, from which the board is 2650 mm away", () => {
    const scale = scaleOf(AHEAD);
    const [body] = rectanglesOf(groupOf(AHEAD, "vehicle"));
    const board = targetsOf(AHEAD).get("forward-camera/board-n1")!;
    expect(Math.abs((body!.y - board.y) * scale - (2649.99 - 905))).toBeLessThan(within(scale));
    // It stands 11.52 mm right of the middle.
    const middle = body!.x + body!.width / 2;
    expect(Math.abs((board.x - middle) * scale - 11.52)).toBeLessThan(within(scale));
  });

  it("draws a bar as wide as it is, turned by its yaw", () => {
    const scale = scaleOf(AHEAD);
    const [bar = []] = pathsOf(groupOf(AHEAD, "target"));
    const [left, right] = bar;
    const width = Math.hypot(right!.x - left!.x, right!.y - left!.y) * scale;
    expect(Math.abs(width - 2400)).toBeLessThan(2 * within(scale));
    // 0.12° clockwise: its left end stands 5 mm further forward than its right end, which is up.
    expect(Math.abs((right!.y - left!.y) * scale - 5.03)).toBeLessThan(within(scale));
  });

  it("has a scale bar of the length that it names", () => {
    const bars = rectanglesOf(groupOf(AHEAD, "scale-bar"));
    const length = bars.reduce((sum, { width }) => sum + width, 0) * scaleOf(AHEAD);
    expect(Math.abs(length - 2000)).toBeLessThan(2 * within(scaleOf(AHEAD)));
    expect(AHEAD).toContain(">2000 mm</text>");
  });

  it("keeps its scale on paper: a unit of the view box is a millimetre", () => {
    const { width, height } = viewBoxOf(AHEAD);
    expect(AHEAD).toContain(`width="${width}mm" height="${height}mm"`);
    expect(width).toBe(180);
  });
});

describe("the thrust line", () => {
  it("is enlarged by the factor that the sheet states, to the right, and named with its true angle", () => {
    const [[rear, front] = []] = pathsOf(groupOf(AHEAD, "thrust-line"));
    const drawn = (Math.atan2(front!.x - rear!.x, rear!.y - front!.y) * 180) / Math.PI;
    const factor = Number(/angle is drawn (\d+) times enlarged/.exec(AHEAD)?.[1]);
    expect(factor).toBeGreaterThan(1);
    expect(drawn).toBeCloseTo(0.12 * factor, 1);
    expect(AHEAD).toContain("0.12° to the vehicle&#39;s right");
    expect(AHEAD).toContain("targets stand at their true places");
  });

  it("passes through the middle of the rear axle", () => {
    const scale = scaleOf(AHEAD);
    const [body] = rectanglesOf(groupOf(AHEAD, "vehicle"));
    const axle = { x: body!.x + body!.width / 2, y: body!.y + (905 + 2850) / scale };
    const [[rear, front] = []] = pathsOf(groupOf(AHEAD, "thrust-line"));
    const share = (axle.y - rear!.y) / (front!.y - rear!.y);
    expect(rear!.x + share * (front!.x - rear!.x)).toBeCloseTo(axle.x, 1);
  });

  it("is not drawn where nobody knows it, and the sheet says so", () => {
    const poor = renderFloorPlan(POOR);
    expect(groupOf(poor, "thrust-line")).toBe("");
    expect(poor).toContain("No thrust line is drawn: its angle is not known.");
  });
});

describe("the bay", () => {
  it("has its door behind a vehicle that stands nose in, and ahead of one that stands nose out", () => {
    const doorOf = (svg: string): number => pathsOf(groupOf(svg, "bay"))[1]![0]!.y;
    const bumperOf = (svg: string): number => rectanglesOf(groupOf(svg, "vehicle"))[0]!.y;
    expect(doorOf(AHEAD)).toBeGreaterThan(bumperOf(AHEAD));
    expect(doorOf(AROUND)).toBeLessThan(bumperOf(AROUND));
  });

  it("has the column at its place, mirrored twice for a vehicle that stands nose out", () => {
    const scale = scaleOf(AROUND);
    const [column] = rectanglesOf(groupOf(AROUND, "obstacle"));
    const [body] = rectanglesOf(groupOf(AROUND, "vehicle"));
    // In the bay x 8000 to 8400, y 2300 to 2750; the front axle at x 4200, y 0, the nose to the door: the column
    // reaches from 3800 to 4200 mm behind the front axle and from 2300 to 2750 mm to the vehicle's right.
    expect(Math.abs((column!.y - body!.y) * scale - (905 + 3800))).toBeLessThan(within(scale));
    expect(Math.abs((column!.x - body!.x - body!.width / 2) * scale - 2300)).toBeLessThan(within(scale));
    expect(Math.abs(column!.width * scale - 450)).toBeLessThan(within(scale));
  });
});

describe("dimensions", () => {
  it("stand along the vehicle and aside, in mm or in inches", () => {
    for (const figure of ["905", "2850", "1020", "2650", "2000", "1860"])
      expect(AHEAD).toContain(`>${figure}</text>`);
    const inches = renderFloorPlan(FULL, { units: "in" });
    // 2650 / 25.4 and 1860 / 25.4
    for (const figure of ["104.33", "73.23"]) expect(inches).toContain(`>${figure}</text>`);
    expect(AROUND).toContain(">1484.9</text>");
    expect(AHEAD).toContain("Dimensions in millimetres.");
    expect(inches).toContain("Dimensions in inches.");
    expect(inches).not.toMatch(/>(Asked|Mark|Yaw)[^<]* mm/);
  });

  it("shares one lane between the two places that are equally far", () => {
    expect(AROUND.match(/>2350<\/text>/g)).toHaveLength(1);
  });
});

describe("what is not known", () => {
  const poor = renderFloorPlan(POOR);

  it("is named, and what is known is drawn", () => {
    expect(targetsOf(poor).size).toBe(1);
    expect(poor).toContain(
      "Not drawn, since its place is not known: Board N1, chequered field 1200 by 800\u00a0mm.",
    );
    expect(poor).toContain("Drawn as a point, since its width is not known: Corner reflector N4");
    expect(poor).toMatch(/broken or left out: the front track, the rear track, the front overhang/);
    expect(poor).toContain(">2700</text>");
  });

  it("keeps clear of the words below it where no dimension of the vehicle is known, but the place of a target is", () => {
    const nothing = { wheelbase: null, trackFront: null, trackRear: null, width: null, height: null };
    const vehicle = { ...FULL.vehicle, ...nothing, frontOverhang: null, rearOverhang: null };
    const mat = FULL.targets.filter(({ id }) => id === "mat-s-front");
    const svg = renderFloorPlan({ ...FULL, vehicle, targets: mat, bay: null, alignment: null });
    // The scale bar stands below the whole scene, and the axle 1700 mm below the mat: 42.5 mm on paper at 1 : 40.
    const lowest = Math.max(...pathsOf(groupOf(svg, "vehicle")).flatMap((path) => path.map(({ y }) => y)));
    const [middle] = [...targetsOf(svg).values()];
    expect(lowest - middle!.y).toBeCloseTo(1700 / scaleOf(svg), 1);
    expect(rectanglesOf(groupOf(svg, "scale-bar"))[0]!.y).toBeGreaterThan(lowest);
  });

  it("leaves an empty sheet that says so where nothing is known at all", () => {
    const nothing = {
      ...POOR,
      vehicle: { ...POOR.vehicle, wheelbase: null },
      targets: POOR.targets.slice(1),
    };
    const drawing = renderFloorPlan(nothing);
    expect(targetsOf(drawing).size).toBe(0);
    expect(drawing).toContain("Not known, and broken or left out: the wheelbase");
    expect(outside(drawing)).toEqual([]);
  });
});

describe("every sheet", () => {
  it.each(DRAWINGS)("has no lettering on other lettering and nothing beyond its edge: %s", (_, drawing) => {
    expect(labelsOf(drawing).length).toBeGreaterThan(5);
    expect(overlaps(labelsOf(drawing))).toEqual([]);
    expect(outside(drawing)).toEqual([]);
  });

  it.each(DRAWINGS)("is sound markup that loads nothing: %s", (_, drawing) => {
    expect(unbalancedTags(drawing)).toEqual([]);
    expect(drawing).not.toMatch(/ id=|<script|href|url\(|[\u0007\u202a-\u202e]/);
  });

  it("keeps so for any places of targets", () => {
    const place = fc.record({
      x: fc.double({ min: -9000, max: 9000, noNaN: true }),
      y: fc.double({ min: -4000, max: 4000, noNaN: true }),
      yaw: fc.double({ min: -180, max: 180, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 7 }),
        fc.constantFrom("mm", "in"),
        (places, units) => {
          const [first] = FULL.targets;
          const targets = places.map((stands, index): SetupResult["targets"][number] => ({
            ...first!,
            key: `forward-camera/board-${index}`,
            datum: index % 2 === 0 ? "front-axle" : "sensor",
            stands: { ...first!.stands!, ...stands },
            bar: null,
          }));
          const drawing = renderFloorPlan({ ...FULL, bay: null, targets }, { units });
          expect(targetsOf(drawing).size).toBe(places.length);
          expect(overlaps(labelsOf(drawing))).toEqual([]);
          expect(outside(drawing)).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("keeps so with forty targets, and with lanes for as many distances as there is room", () => {
    const [first] = FULL.targets;
    const targets = Array.from({ length: 40 }, (_, index) => ({
      ...first!,
      key: `forward-camera/board-${index}`,
      stands: { ...first!.stands!, x: 1500 + 97 * index, y: (index % 5) * 400 - 800 },
      bar: null,
    }));
    const drawing = renderFloorPlan({ ...FULL, bay: null, targets });
    expect(targetsOf(drawing).size).toBe(40);
    expect(overlaps(labelsOf(drawing))).toEqual([]);
    expect(outside(drawing)).toEqual([]);
    expect(drawing.match(/>Mark: /g)).toHaveLength(40);
  });

  it("is the same each time, and leaves the result as it was", () => {
    const before = JSON.stringify(FULL);
    expect(renderFloorPlan(structuredClone(FULL), { setUp: "S2" })).toBe(AROUND);
    expect(JSON.stringify(FULL)).toBe(before);
  });

  it("shows names from outside as text", () => {
    const hostile = renderFloorPlan(HOSTILE);
    expect(hostile).toContain("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;");
    expect(hostile).toContain(HOSTILE_NAMES[1].split(" ")[0]);
  });

  it("refuses a set-up that there is not, with the nearest one", () => {
    const draw = (): string => renderFloorPlan(FULL, { setUp: "S3" });
    expect(draw).toThrow(InputError);
    expect(draw).toThrow(/no set-up is called "S3"; expected S1, S2/);
  });
});
