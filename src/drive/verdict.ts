import type { DriveWindow } from "../procedures/index.js";
import { addAmounts, isEnough, seconds, type Amount, type Run, type Runs } from "./runs.js";
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
  if (certainRuns.isEnough) return "yes";
  return possibleRuns.isEnough ? "open" : "no";
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
  const { longest } = certainRuns;
  const run = window.run === "in-one-run" && longest !== null ? longest : certain;
  const unit = distanceUnitOf(window);
  const shown = [
    ...(window.minutes === undefined
      ? []
      : [`${writeDuration(seconds(run.time), "down")} of ${window.minutes} min`]),
    ...(window.distance === undefined
      ? []
      : [`${writeDistance(run.km, unit, "down")} of ${window.distance.value} ${unit}`]),
  ];
  return `The log shows the drive that the procedure asks for: ${shown.join(" and ")} ${writeSpeeds(window)}.`;
}

function missSpeed(window: DriveWindow, verdict: DriveVerdict): string[] {
  return verdict === "not-met" ? [`any driving ${writeSpeeds(window)} as the procedure asks for it`] : [];
}

/** What more it takes, first in all and then in one run, where that is asked or might be. */
function findMissing(window: DriveWindow, gathered: Gathered, inPieces: Answer): string[] {
  const { certain, certainRuns } = gathered;
  const inAll = shortOf(window, certain, certain);
  if (window.run === "in-pieces") return inAll;
  const { longest, farthest } = certainRuns;
  const inOneRun = shortOf(window, longest, farthest).map((each) => `${each}, in one run with the longest`);
  if (inPieces !== "yes") return window.run === "in-one-run" && longest !== null ? inOneRun : inAll;
  if (inOneRun.length === 0 && !certainRuns.isEnough) {
    return ["one run that has both the time and the distance: the longest and the farthest are two"];
  }
  return inOneRun;
}

function shortOf(
  window: DriveWindow,
  inTime: Amount | Run | null,
  inDistance: Amount | Run | null,
): string[] {
  const asked = askedBy(window);
  const time = (asked.seconds ?? 0) - seconds(inTime?.time ?? 0);
  const km = (asked.km ?? 0) - (inDistance?.km ?? 0);
  const isShort = {
    time: !isEnough({ time: inTime?.time ?? 0, km: 0 }, { ...asked, km: null }),
    km: !isEnough({ time: 0, km: inDistance?.km ?? 0 }, { ...asked, seconds: null }),
  };
  return [
    ...(isShort.time ? [`${writeDuration(time, "up")} more ${writeSpeeds(window)}`] : []),
    ...(isShort.km ? [`${writeDistance(km, distanceUnitOf(window), "up")} more ${writeSpeeds(window)}`] : []),
  ];
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
  const pieces =
    names && run === undefined && inPieces !== "no" && inOneRun !== "yes"
      ? [
          "whether the procedure lets pieces be added: together they may be enough, no single run is for certain",
        ]
      : [];
  const amount = names ? [] : ["when the drive is over: the procedure names neither minutes nor a distance"];
  // A certain answer has no use for what was not recorded.
  const relevant = !names || (run === "in-one-run" ? inOneRun : inPieces) === "open" || inOneRun === "open";
  const recorded = relevant
    ? notRecorded.flatMap(
        ({ why, seconds: time }) =>
          `${QUANTITY[why] ?? why}, not recorded for ${writeDuration(time, "up")} that may count`,
      )
    : [];
  return [...recorded, ...pieces, ...amount];
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
