import type { DecisionRule } from "./decision-rule.js";
import type { Decision, Measurement, Room, Verdict } from "./decision.js";
import { normalCdf, normalQuantile, normalTail } from "./distribution.js";
import { sayDecision } from "./say-decision.js";

/** Differences and ratios this close count as none: the rounding of arithmetic, far below what any instrument reads. */
const ROUNDING = 1e-9;
/** How closely a changeover is found, as a share of the number at which it no longer holds. */
const CLOSENESS = 1e-12;
const LOOKS = 100;

/**
 * Holds a measured value against its tolerance.
 *
 * Guarded: conforms where the probability of conformity reaches that of the rule; does not conform where the value lies
 * beyond a limit by the rule's part of its uncertainty; otherwise it cannot be decided. A small probability alone proves
 * nothing: a huge uncertainty has it too. Simple: the limits alone decide, and belong to the tolerance.
 * A negative uncertainty or a lower limit above the upper one is a RangeError.
 * Source: JCGM 106:2012, 7 and 8; ISO 14253-1:2017; both known second-hand.
 */
export function decide(measurement: Measurement, rule: DecisionRule): Decision {
  const { of, value, unit, low, high, u } = measurement;
  if (u !== null && !(u >= 0)) throw new RangeError(`${u} is no uncertainty`);
  if (low !== null && high !== null && low > high) throw new RangeError(`${low} lies above ${high}`);
  const limited = low !== null || high !== null;
  const room = value === null || !limited ? null : findRoom(value, low, high);
  const z = rule.kind === "guarded" ? 2 * rule.guardFactor : null;
  const found = {
    ...{ of, value, unit, low, high, u },
    verdict: room === null ? ("cannot-be-decided" as const) : judge(room, u, z),
    probability: room === null || u === null ? null : findProbability(room, u),
    guardBand: z === null || u === null || !limited ? null : findGuardBand(low, high, u, z),
    largestU: room === null || z === null ? null : findLargestU(room, z),
  };
  return { ...found, says: sayDecision(found, room, rule) };
}

function findRoom(value: number, low: number | null, high: number | null): Room {
  const size = Math.max(Math.abs(value), Math.abs(low ?? 0), Math.abs(high ?? 0));
  const settle = (distance: number): number => (Math.abs(distance) <= ROUNDING * size ? 0 : distance);
  return {
    low: low === null ? Infinity : settle(value - low),
    high: high === null ? Infinity : settle(high - value),
  };
}

function judge(room: Room, u: number | null, z: number | null): Verdict {
  const inside = Math.min(room.low, room.high);
  if (z === null || u === 0) return inside >= 0 ? "conforms" : "does-not-conform";
  if (u === null) return "cannot-be-decided";
  if (isProven(findRisk(room, u), z)) return "conforms";
  return -inside / u >= z * (1 - ROUNDING) ? "does-not-conform" : "cannot-be-decided";
}

/** The probability that the true value lies outside. Kept as such: near 1, its complement has no digits left. */
function findRisk(room: Room, u: number): number {
  return normalTail(room.low / u) + normalTail(room.high / u);
}

function isProven(risk: number, z: number): boolean {
  return risk <= normalTail(z) * (1 + ROUNDING);
}

function findProbability(room: Room, u: number): number {
  if (u === 0) return Math.min(room.low, room.high) >= 0 ? 1 : 0;
  return Math.max(0, normalCdf(room.high / u) - normalCdf(-room.low / u));
}

/** With one limit z·u; with two a little more, where the uncertainty is large enough to reach both. */
function findGuardBand(low: number | null, high: number | null, u: number, z: number): number | null {
  if (low === null || high === null || u === 0) return z * u;
  const width = high - low;
  const riskAt = (distance: number): number => findRisk({ low: distance, high: width - distance }, u);
  if (!isProven(riskAt(width / 2), z)) return null;
  if (isProven(riskAt(z * u), z)) return z * u;
  const most = normalTail(z);
  const safe = Math.min(width / 2, halfRisk(z) * u);
  return findPassage(safe, z * u, (distance) => riskAt(distance) - most);
}

function findLargestU(room: Room, z: number): number | null {
  const inside = Math.min(room.low, room.high);
  if (inside === 0) return null;
  const forOneLimit = Math.abs(inside) / z;
  if (inside < 0 || isProven(findRisk(room, forOneLimit), z)) return 2 * forOneLimit;
  const most = normalTail(z);
  return 2 * findPassage(inside / halfRisk(z), forOneLimit, (u) => findRisk(room, u) - most);
}

/** The z beyond which half the risk lies: two limits, neither nearer than that, risk no more than one alone at z. */
function halfRisk(z: number): number {
  return normalQuantile(1 - normalTail(z) / 2) * (1 + ROUNDING);
}

/**
 * Where a risk that grows from one number to another passes a bound, on the side where it is below. By the rule of false
 * position; an end that stays twice running is halved in weight (the Illinois way): a dozen looks at most, as a rule.
 */
function findPassage(below: number, above: number, excessAt: (at: number) => number): number {
  let [yes, no] = [below, above];
  let [atYes, atNo] = [excessAt(yes), excessAt(no)];
  let wasBelow: boolean | null = null;
  for (let look = 0; look < LOOKS && Math.abs(no - yes) > CLOSENESS * Math.abs(above); look += 1) {
    const isLate = look >= LOOKS / 2;
    const next = isLate ? (yes + no) / 2 : no - (atNo * (no - yes)) / (atNo - atYes);
    const found = excessAt(next);
    const isBelow = found <= 0;
    if (isBelow) {
      [yes, atYes] = [next, found];
      if (wasBelow === true) atNo /= 2;
    } else {
      [no, atNo] = [next, found];
      if (wasBelow === false) atYes /= 2;
    }
    if (found === 0) break;
    wasBelow = isBelow;
  }
  return yes;
}
