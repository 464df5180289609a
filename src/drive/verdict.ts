import type { DriveWindow } from "../procedures/index.js";
import { NOTHING, addAmounts, isEnough, seconds, type Amount, type Runs } from "./runs.js";
import type { DriveFindings, DriveReason, DriveVerdict } from "./shape.js";
import { askedBy, type Asked } from "./window.js";
import { distanceUnitOf, writeDistance, writeDuration, writeSpeeds } from "./words.js";

/** What the verdict rests on. */
export interface Gathered {
  readonly certain: Amount;
  readonly possible: Amount;
  readonly certainRuns: Runs;
  readonly possibleRuns: Runs;
  readonly notRecorded: DriveFindings["notRecorded"];
}

type Verdict = Pick<DriveFindings, "verdict" | "says" | "missing" | "lookUp" | "confirmByHand">;
type Answer = "yes" | "no" | "open";

/** Says whether what was gathered is the drive that a window asks for, and what it would still take. */
export function judgeDrive(window: DriveWindow, gathered: Gathered): Verdict {
  const asked = askedBy(window);
  const names = asked.seconds !== null || asked.km !== null;
  const inPieces = answerInPieces(asked, gathered);
  const inOneRun = answerInOneRun(gathered);
  const verdict = names ? verdictOf(window, inPieces, inOneRun) : verdictWithoutAmount(gathered);
  if (verdict === "met") {
    return {
      verdict,
      says: sayMet(window, gathered),
      missing: [],
      lookUp: [],
      confirmByHand: byHand(window),
    };
  }
  const missing = names ? findMissing(window, gathered, inPieces) : missSpeed(window, verdict);
  const lookUp = verdict === "not-met" ? [] : findOpen(window, gathered, { names, inPieces, inOneRun });
  const [first = "nothing is counted"] = verdict === "not-met" ? missing : lookUp;
  const says =
    verdict === "not-met"
      ? `The log does not show the drive that the procedure asks for. Missing: ${first}.`
      : `It cannot be told from this log whether the drive was done. Open: ${first}.`;
  return { verdict, says, missing, lookUp, confirmByHand: byHand(window) };
}

function answerInPieces(asked: Asked, { certain, possible }: Gathered): Answer {
  if (isEnough(certain, asked)) return "yes";
  return isEnough(addAmounts(certain, possible), asked) ? "open" : "no";
}

function answerInOneRun({ certainRuns, possibleRuns }: Gathered): Answer {
  if (certainRuns.enough !== null) return "yes";
  return possibleRuns.enough === null ? "no" : "open";
}

/** Where the procedure does not say whether pieces may be added, only what holds either way is told. */
function verdictOf({ run }: DriveWindow, inPieces: Answer, inOneRun: Answer): DriveVerdict {
  const answers = {
    "in-pieces": [inPieces],
    "in-one-run": [inOneRun],
    open: [inPieces, inOneRun],
  }[run ?? "open"];
  if (answers.every((each) => each === "yes")) return "met";
  return answers.every((each) => each === "no") ? "not-met" : "cannot-be-told";
}

/** A window that names neither time nor distance is never known to be fulfilled, only known not to be begun. */
function verdictWithoutAmount({ certain, possible }: Gathered): DriveVerdict {
  return certain.time + possible.time > 0 ? "cannot-be-told" : "not-met";
}

function sayMet(window: DriveWindow, { certain, certainRuns }: Gathered): string {
  const { minutes, distance, run } = window;
  const unit = distanceUnitOf(window);
  const { time, km } = (run === "in-one-run" ? certainRuns.enough : null) ?? certain;
  const driven = [
    ...(minutes === undefined ? [] : [writeDuration(seconds(time), "down")]),
    ...(distance === undefined ? [] : [writeDistance(km, unit, "down")]),
  ];
  const asked = [
    ...(minutes === undefined ? [] : [`${minutes} min`]),
    ...(distance === undefined ? [] : [`${distance.value} ${unit}`]),
  ];
  return `The log shows the drive that the procedure asks for: ${driven.join(" and ")} ${writeSpeeds(window)}, where ${asked.join(" and ")} are asked.`;
}

function missSpeed(window: DriveWindow, verdict: DriveVerdict): string[] {
  return verdict === "not-met" ? [`any driving ${writeSpeeds(window)} as the procedure asks for it`] : [];
}

/** What more it takes: in all, or in one run where that is asked or might be. */
function findMissing(window: DriveWindow, gathered: Gathered, inPieces: Answer): string[] {
  const { certain, possible, certainRuns, possibleRuns } = gathered;
  if (window.run === "in-pieces" || (window.run === undefined && inPieces !== "yes")) {
    const atMost = addAmounts(certain, possible);
    return shortOf(window, { time: certain, km: certain }, { time: atMost, km: atMost });
  }
  const condition = window.run === undefined ? "if it has to be one run: " : "in one run: ";
  const short = shortOf(
    window,
    { time: certainRuns.longest ?? NOTHING, km: certainRuns.farthest ?? NOTHING },
    { time: possibleRuns.longest ?? NOTHING, km: possibleRuns.farthest ?? NOTHING },
  );
  const both = "the time and the distance together, which now are in two runs";
  return (short.length === 0 ? [both] : short).map((each) => condition + each);
}

/** From which amount the time is taken, and from which the distance. */
interface Reached {
  readonly time: Amount;
  readonly km: Amount;
}

function shortOf(window: DriveWindow, certain: Reached, possible: Reached): string[] {
  const asked = askedBy(window);
  const unit = distanceUnitOf(window);
  const inTime = { ...asked, km: null };
  const inDistance = { ...asked, seconds: null };
  const time = (has: Amount): string => writeDuration((asked.seconds ?? 0) - seconds(has.time), "up");
  const km = (has: Amount): string => writeDistance((asked.km ?? 0) - has.km, unit, "up");
  return [
    ...writeShort(certain.time, possible.time, (has) => (isEnough(has, inTime) ? null : time(has)), window),
    ...writeShort(certain.km, possible.km, (has) => (isEnough(has, inDistance) ? null : km(has)), window),
  ];
}

function writeShort(
  certain: Amount,
  possible: Amount,
  shortfall: (has: Amount) => string | null,
  window: DriveWindow,
): string[] {
  const most = shortfall(certain);
  const least = shortfall(possible);
  if (most === null) return [];
  const speeds = writeSpeeds(window);
  return least === null || least === most
    ? [`${most} more ${speeds}`]
    : [`at least ${least} more ${speeds}, and ${most} if nothing counts that is only possible`];
}

const QUANTITY: Readonly<Partial<Record<DriveReason, string>>> = {
  road: "the class of the road",
  lanes: "the lane markings",
  steering: "the steering angle",
  gradient: "the gradient",
};

function findOpen(
  { run }: DriveWindow,
  { notRecorded }: Gathered,
  { names, inPieces, inOneRun }: { names: boolean; inPieces: Answer; inOneRun: Answer },
): string[] {
  if (!names) {
    return [
      "when the drive is over: the procedure names neither minutes nor a distance",
      ...list(notRecorded),
    ];
  }
  const isOpen = inPieces === "open" || inOneRun === "open";
  const forCertain = inOneRun === "open" ? " for certain" : "";
  const pieces = `whether the procedure lets pieces be added: one run alone is not enough${forCertain}`;
  return [
    // Where the amounts are certain, what was not recorded has nothing to add.
    ...(isOpen ? list(notRecorded) : []),
    ...(run === undefined ? [pieces] : []),
  ];
}

function list(notRecorded: DriveFindings["notRecorded"]): string[] {
  return notRecorded.map(
    ({ why, seconds: time }) =>
      `${QUANTITY[why] ?? why}, not recorded for ${writeDuration(time, "up")} that may count`,
  );
}

/** What no log of this kind shows. */
function byHand({ roads = [], weather }: DriveWindow): string[] {
  return [
    ...roads.map((road) => `Road: ${road}`),
    ...(weather === undefined ? [] : [`Weather and light: ${weather}`]),
    "The log was recorded in this vehicle, on this drive",
    "A licensed driver drove, and a second person worked the tool",
    "The vehicle itself reports the calibration as done",
  ];
}
