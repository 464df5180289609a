import type { DecidedUnit, Decision, Room } from "./decision.js";
import type { DecisionRule } from "./decision-rule.js";
import { formatNumber, formatNumberDown, formatTrimmed } from "./format.js";

/** Decimals with which a value of a unit is written, where nothing asks for more. */
const DIGITS: Readonly<Record<DecidedUnit, number>> = { mm: 1, deg: 2, "%": 2, "mm/m": 1 };
const MOST_DIGITS = 6;

type Found = Omit<Decision, "says">;

/** Says in one sentence what was decided and why; `room` is null where there is no value or no limit. */
export function sayDecision(found: Found, room: Room | null, rule: DecisionRule): string {
  if (found.value === null) return `${found.of} was not measured: cannot be decided.`;
  if (room === null) return `${found.of} has no limit to be held against: cannot be decided.`;
  const digits = chooseDigits(found, found.value, room);
  const value = withUnit(formatNumber(found.value, digits), found.unit);
  const subject = `${value} ${sayPlace(found, room, digits)}`;
  if (rule.kind === "simple") {
    return `${subject}, and under simple acceptance its uncertainty does not count: ${sayVerdict(found)}.`;
  }
  if (found.u === 0) return `${subject} and counts as exact: ${sayVerdict(found)}.`;
  if (found.largestU === null) {
    return `${subject}: cannot be decided, since no instrument is good enough for a value on a limit.`;
  }
  const remedy = sayRemedy(found.largestU, found.unit);
  if (found.u === null) {
    return `${subject}, but its uncertainty is not known and is needed: cannot be decided; ${remedy}`;
  }
  const uncertainty = `${sayU(found.u * 2, found.unit)} (k = 2)`;
  switch (found.verdict) {
    case "conforms":
      return `${subject} with room for its uncertainty of ${uncertainty}: conforms.`;
    case "does-not-conform":
      return `${subject} by more than its uncertainty of ${uncertainty} explains: does not conform.`;
    case "cannot-be-decided":
      return `${subject}, but ${sayObstacle(found, room)} of ${uncertainty}: cannot be decided with this instrument; ${remedy}`;
  }
}

function sayVerdict({ verdict }: Found): string {
  return verdict.replaceAll("-", " ");
}

function sayObstacle({ guardBand }: Found, room: Room): string {
  const isInside = Math.min(room.low, room.high) > 0;
  return isInside && guardBand === null
    ? "the whole tolerance is too narrow for its uncertainty"
    : "too close to a limit for its uncertainty";
}

/** What would decide it, rounded down so that it does. */
function sayRemedy(largestU: number, unit: DecidedUnit): string {
  const most = withUnit(formatNumberDown(largestU, digitsOf(largestU)), unit);
  return `an uncertainty of at most ${most} (k = 2) would decide it.`;
}

function sayPlace(found: Found, room: Room, digits: number): string {
  const inside = Math.min(room.low, room.high);
  const how = inside === 0 ? "lies on the edge of" : inside > 0 ? "lies within" : "lies outside";
  return `${how} ${sayTolerance(found, digits)}`;
}

function sayTolerance({ low, high, unit }: Found, digits: number): string {
  const say = (limit: number): string => withUnit(writeLimit(limit, unit, digits), unit);
  if (low === null) return high === null ? "no limits" : `the limit of at most ${say(high)}`;
  if (high === null) return `the limit of at least ${say(low)}`;
  return high === -low ? `±${say(high)}` : `${say(low)} to ${say(high)}`;
}

/** As it was stated; one that was worked out, such as a height over a sloping floor, with a decimal more than values. */
function writeLimit(limit: number, unit: DecidedUnit, digits: number): string {
  const stated = formatTrimmed(limit, MOST_DIGITS);
  return Number(stated) === limit ? stated : formatTrimmed(limit, Math.max(DIGITS[unit] + 1, digits));
}

/** As many decimals as the uncertainty has, and enough that in writing, too, the value lies where it does. */
function chooseDigits({ unit, low, high, u }: Found, value: number, room: Room): number {
  const misleads = (limit: number | null, beyond: number, digits: number): boolean => {
    // Further away than the last digit it cannot.
    if (limit === null || Math.abs(beyond) > 10 ** -DIGITS[unit]) return false;
    const written = Number(formatNumber(value, digits)) - Number(writeLimit(limit, unit, digits));
    return Math.sign(written) !== Math.sign(beyond);
  };
  const least = Math.max(DIGITS[unit], u === null || u === 0 ? 0 : digitsOf(u * 2));
  let digits = Math.min(least, MOST_DIGITS);
  while (digits < MOST_DIGITS && (misleads(low, room.low, digits) || misleads(high, -room.high, digits)))
    digits += 1;
  return digits;
}

function sayU(expanded: number, unit: DecidedUnit): string {
  return withUnit(formatNumber(expanded, digitsOf(expanded)), unit);
}

/** Decimals that leave two significant figures. */
function digitsOf(size: number): number {
  return Math.max(0, 1 - Math.floor(Math.log10(size)));
}

function withUnit(text: string, unit: DecidedUnit): string {
  return unit === "deg" ? `${text}°` : `${text} ${unit}`;
}
