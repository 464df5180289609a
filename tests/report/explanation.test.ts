import { describe, expect, it } from "vitest";
import { explain, renderExplanation } from "../../src/index.js";
import type { Explanation } from "../../src/index.js";
import { aPlan } from "./a-plan.js";

describe("an explanation as text", () => {
  it("tells every chain of what is due", () => {
    const text = renderExplanation(explain(aPlan(), "forward-camera"));
    expect(text).toContain("FORWARD CAMERA (forward-camera): 1 requirement\n  Calibration: required\n");
    expect(text).toContain("  Reason 1 of 2 (required, certain)\n");
    expect(text).toContain("  Reason 2 of 2 (required, certain)\n");
    expect(text).toContain("[camera-off]");
    expect(text).toContain("[glass-new-asks]");
    expect(text).toContain("       Source: common practice, no source\n");
  });

  it("tells a waiver with its document", () => {
    const text = renderExplanation(explain(aPlan(), "surround-camera:front"));
    expect(text).toContain(`FRONT SURROUND-VIEW CAMERA (surround-camera:front): waived
  Calibration is waived; it would have been presumed.
    The camera finds itself. [no-grille-camera; Norrvik manual 7, 7.2]
    It takes away what these rules asked: grille-off-asks
`);
  });

  it("tells both places of a sensor that has two", () => {
    const text = renderExplanation(explain(aPlan(), "rear-corner-radar"));
    expect(text).toContain("LEFT REAR CORNER RADAR (rear-corner-radar:left): nothing is indicated\n");
    expect(text).toContain("RIGHT REAR CORNER RADAR (rear-corner-radar:right): nothing is indicated\n");
    expect(text).toContain("  It is fitted, and no rule asks for anything after the work as stated.\n");
  });

  it("marks conditions met, missed and open, and keeps what input holds harmless and inside the page", () => {
    const hostile = `\u001b[2J${"x".repeat(300)} \u202e`;
    const line = (truth: "true" | "false" | "unknown", depth: number) => ({
      depth,
      says: hostile,
      truth,
      found: hostile,
    });
    const explanation: Explanation = {
      reference: hostile,
      sensor: "lidar",
      places: [
        {
          key: "lidar",
          position: null,
          name: "lidar",
          indicated: false,
          requirements: [],
          waived: [],
          notIndicated: {
            reason: "not-fitted",
            wouldChange: [hostile],
            ifFitted: null,
            considered: [
              {
                operation: "L1",
                says: hostile,
                nearest: [
                  {
                    rule: "a-rule",
                    title: "",
                    wouldConclude: hostile,
                    misses: [line("false", 0), line("unknown", 30), line("true", 1)],
                  },
                ],
              },
            ],
          },
        },
      ],
    };
    const text = renderExplanation(explanation, { width: 60 });

    expect(text).not.toMatch(/[\u001b\u202e]/);
    expect(text.split("\n").filter((each) => each.length > 60)).toEqual([]);
    expect(text).toMatch(/^ {8}no {2}\\u001b/m);
    expect(text).toMatch(/^ {8}\? {3}\\u001b/m);
    expect(text).toMatch(/^ {8}yes \\u001b/m);
  });
});
