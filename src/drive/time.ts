import { InputError, type Issue } from "../errors.js";

const ISO =
  /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d+))?)?(?:(Z)|([+-])(\d\d)(?::?(\d\d))?)?$/;
const DAY = 86_400;

/**
 * Reads an ISO 8601 time with its offset from UTC, such as 2026-03-02T09:10:00.5+01:00, as seconds since the beginning
 * of 1970 in UTC. Throws `InputError` where there is no such time, where the offset is missing, and for leap seconds.
 */
export function readTime(text: string): number {
  const parts = ISO.exec(text);
  if (parts === null) {
    refuse(text, "is no time", "2026-03-02T09:10:00Z, or 2026-03-02T10:10:00.5+01:00");
  }
  const [year, month, day, hour, minute] = parts.slice(1, 6).map(Number) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const second = Number(parts[6] ?? 0);
  const [, , , , , , , fraction = "", utc, sign, offsetHours = "00", offsetMinutes = "00"] = parts;
  if (utc === undefined && sign === undefined) {
    refuse(text, "does not say its offset from UTC", "Z or an offset such as +01:00 at its end");
  }
  if (month < 1 || month > 12 || day < 1 || day > daysIn(year, month)) {
    refuse(text, "is on a day that no calendar has");
  }
  if (second === 60)
    refuse(text, "is a leap second, which most clocks do not show", "the second before or after");
  if (hour > 23 || minute > 59 || second > 59 || Number(offsetHours) > 23 || Number(offsetMinutes) > 59) {
    refuse(text, "is at a time that no clock shows");
  }
  const offset = (Number(offsetHours) * 60 + Number(offsetMinutes)) * (sign === "-" ? -60 : 60);
  const whole = daysSince1970(year, month, day) * DAY + hour * 3600 + minute * 60 + second - offset;
  return fraction === "" ? whole : whole + Number(`0.${fraction}`);
}

function refuse(text: string, message: string, expected?: string): never {
  const shown = text.length > 60 ? `${text.slice(0, 57)}...` : text;
  const issue: Issue = {
    code: "invalid-value",
    pointer: "/time",
    message: `${JSON.stringify(shown)} ${message}`,
    ...(expected === undefined ? {} : { expected }),
  };
  throw new InputError("input", [issue]);
}

function daysIn(year: number, month: number): number {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** Days before each month of a year that is no leap year. */
const DAYS_BEFORE = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/** Days from 1970-01-01 in the Gregorian calendar. */
function daysSince1970(year: number, month: number, day: number): number {
  const past = year - 1;
  const leapDays = Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
  const inYear = (DAYS_BEFORE[month - 1] ?? 0) + (month > 2 && isLeap(year) ? 1 : 0) + day - 1;
  // 719,162 days from 0001-01-01 to 1970-01-01.
  return past * 365 + leapDays + inYear - 719_162;
}
