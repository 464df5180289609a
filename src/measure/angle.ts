import type { ReadingProblem } from "./problem.js";
import { degrees, minutesOfArc, type Degrees } from "./quantity.js";

/** Why something is no angle, and what would be one. */
export type AngleProblem = ReadingProblem;

const EXPECTED = 'a text with its unit, such as "0.20°", "0°12′", "-0°06\'" or "0.20 deg"';

const NUMBER = String.raw`(\d+(?:\.\d+)?|\.\d+)`;
/** Degrees, minutes and seconds, any of which may be left out; printouts use several signs for each. */
const PARTS = new RegExp(
  // Blanks stand inside the parts: side by side, two runs of them would make a hostile text slow.
  String.raw`^([-+−–])?(?:\s*${NUMBER}\s*(?:°|º|deg))?(?:\s*${NUMBER}\s*(?:′|'|’|min))?(?:\s*${NUMBER}\s*(?:″|"|”|''|′′|’’))?$`,
);

/**
 * Reads an angle as measuring equipment prints it: decimal degrees, or degrees, minutes and seconds of arc.
 * A text names its own unit, whatever `unit` says; a number needs `unit`. The sign counts for the whole ("-0°06'" is
 * −0.1°). Minutes and seconds below degrees or minutes stay under 60. Gives a problem, and throws nothing.
 */
export function readAngle(given: number | string, unit: "deg" | "min" | undefined): Degrees | AngleProblem {
  return typeof given === "number" ? readNumber(given, unit) : readText(given.trim());
}

function readNumber(given: number, unit: "deg" | "min" | undefined): Degrees | AngleProblem {
  if (!Number.isFinite(given)) return { problem: "the angle is not a finite number", expected: EXPECTED };
  switch (unit) {
    case "deg":
      return degrees(given + 0);
    case "min":
      return minutesOfArc(given + 0);
    case undefined:
      return {
        problem: `the angle ${given} has no unit`,
        expected: `the unit beside it, "deg" or "min", or ${EXPECTED}`,
      };
  }
}

function readText(given: string): Degrees | AngleProblem {
  if (/\d,\d/.test(given)) {
    return { problem: `"${given}" has a decimal comma`, expected: "a decimal point, as in 0.20°" };
  }
  // 0.12 could be decimal degrees, or a badly copied 0°12′, which is 0.20°: nobody can tell.
  if (/^[-+−–]?\s*(\d+(\.\d*)?|\.\d+)$/.test(given)) {
    return { problem: `"${given}" has no unit`, expected: EXPECTED };
  }
  const [, sign, whole, minutes, seconds] = PARTS.exec(given) ?? [];
  const parts = [whole, minutes, seconds];
  const stated = parts.filter((part) => part !== undefined);
  const smallest = stated.at(-1);
  if (smallest === undefined) return { problem: `"${given}" is not an angle`, expected: EXPECTED };
  if (stated.slice(0, -1).some((part) => part.includes("."))) {
    return { problem: `"${given}" has decimals before a smaller unit`, expected: EXPECTED };
  }
  if (stated.slice(1).some((part) => Number(part) >= 60)) {
    return {
      problem: `"${given}" has 60 or more minutes or seconds beside a larger unit`,
      expected: "minutes and seconds below 60",
    };
  }
  const size = Number(whole ?? 0) + Number(minutes ?? 0) / 60 + Number(seconds ?? 0) / 3600;
  // Adding zero turns −0 into 0.
  return degrees((sign === undefined || sign === "+" ? size : -size) + 0);
}
