import { describe, expect, it } from "vitest";
import { renderSideView } from "../../src/worksheet/side-view.js";
import {
  groupOf,
  labelsOf,
  outside,
  overlaps,
  pathsOf,
  rectanglesOf,
  scaleOf,
  unbalancedTags,
} from "./read-svg.js";
import { FULL, HOSTILE, POOR } from "./setup-results.js";

const AHEAD = renderSideView(FULL);
const DRAWINGS = [
  ["full, ahead", AHEAD],
  ["full, around, in inches", renderSideView(FULL, { setUp: "S2", units: "in" })],
  ["poor", renderSideView(POOR)],
  ["hostile", renderSideView(HOSTILE, { setUp: "S2" })],
] as const;

/** Foot and middle of the target that a drawing names first. */
function standOf(svg: string): { readonly foot: number; readonly middle: number } {
  const [[foot, middle] = []] = pathsOf(groupOf(svg, "target"));
  return { foot: foot!.y, middle: middle!.y };
}

describe("the side view, to scale", () => {
  it("draws a target's middle at its height above the floor where it stands", () => {
    const { foot, middle } = standOf(AHEAD);
    expect(Math.abs((foot - middle) * scaleOf(AHEAD) - 1464.2)).toBeLessThan(scaleOf(AHEAD) * 0.011);
    expect(AHEAD).toContain(">1464.2</text>");
    // 1464.2 / 25.4
    expect(renderSideView(FULL, { units: "in" })).toContain(">57.65</text>");
  });

  it("takes the height above a level floor where none was surveyed, and says so", () => {
    const poor = renderSideView(POOR);
    const { foot, middle } = standOf(poor);
    expect(Math.abs((foot - middle) * scaleOf(poor) - 512)).toBeLessThan(scaleOf(poor) * 0.011);
    expect(poor).toContain("Heights are those above a level floor: no floor was surveyed.");
  });

  it("draws the vehicle as a block of its length and height", () => {
    const [block] = rectanglesOf(groupOf(AHEAD, "vehicle"));
    expect(Math.abs(block!.width * scaleOf(AHEAD) - 4775)).toBeLessThan(scaleOf(AHEAD) * 0.011);
    const { foot } = standOf(AHEAD);
    expect(Math.abs((foot - block!.y) * scaleOf(AHEAD) - 1650)).toBeLessThan(scaleOf(AHEAD) * 0.011);
  });

  it("draws the floor's slope by the factor that it states, falling to the front", () => {
    const [, [rear, front] = []] = pathsOf(groupOf(AHEAD, "slope"));
    const factor = Number(/drawn (\d+) times enlarged/.exec(AHEAD)?.[1]);
    const drawn = ((front!.y - rear!.y) / (front!.x - rear!.x)) * 1000;
    expect(factor).toBeGreaterThan(1);
    expect(drawn).toBeCloseTo(1.6 * factor, 0);
    expect(AHEAD).toContain("The floor falls 1.6 mm/m towards the front");
  });

  it("says in words how the vehicle stands, and what is not known", () => {
    expect(AHEAD).toContain("The vehicle stands: nose up 0.21°, left side high 0.05° at the front.");
    expect(renderSideView(POOR)).toContain(
      "drawn broken: the vehicle&#39;s height, its overhangs, its tyres.",
    );
  });

  it("shows what lies on the floor there, without a height", () => {
    const around = renderSideView(FULL, { setUp: "S2" });
    expect(around).toContain("5, Mat S, front: on the floor.");
    expect(around.match(/class="dimension"/g)).toHaveLength(1);
  });
});

describe("every sheet", () => {
  it.each(DRAWINGS)("has no lettering on other lettering and nothing beyond its edge: %s", (_, drawing) => {
    expect(overlaps(labelsOf(drawing))).toEqual([]);
    expect(outside(drawing)).toEqual([]);
    expect(unbalancedTags(drawing)).toEqual([]);
    expect(drawing).not.toMatch(/ id=|<script|href|url\(/);
  });
});
