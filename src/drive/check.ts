import { InputError } from "../errors.js";
import type { DriveWindow } from "../procedures/index.js";
import { CLOCK, GAP, Interruptions, TimeByReason } from "./interruptions.js";
import { NOTHING, Runs, addAmounts, microseconds, seconds, type Amount, type Microseconds } from "./runs.js";
import { checkSample, type DriveSample } from "./sample.js";
import type { DriveFindings } from "./shape.js";
import { judgeDrive } from "./verdict.js";
import { judgeMoments, type Reasons, type Standing } from "./window.js";

/** Neighbouring samples further apart than this are a gap, if nobody says; seconds. */
export const DEFAULT_MAX_GAP = 3;
const DEFAULT_INTERRUPTIONS = 50;
/** A clock is set back now and then; a log whose time goes back more often is in no order. */
const MOST_BACKWARD_STEPS = 5;

/** How a log is judged. */
export interface DriveCheckOptions {
  /** Neighbouring samples further apart than this are a gap, and no time is counted there; seconds, 3 if left out. */
  readonly maxGap?: number | undefined;
  /** How many interruptions are listed before the others are only counted; 50 if left out. */
  readonly interruptions?: number | undefined;
}

/** Takes samples one by one, in the order of the log, in memory that does not grow with them. */
export interface DriveCheck {
  /** Throws `InputError` for a value that cannot be true, and where the time goes back again and again. */
  readonly add: (sample: DriveSample) => void;
  /** To be called once, after the last sample. Throws `InputError` where there was none. */
  readonly finish: () => DriveFindings;
}

/**
 * Makes a check of a log against a drive window. A stretch between two neighbouring samples counts for certain if both
 * fulfil the window, possibly if nothing speaks against either, otherwise not; distances are trapezoids of the speed.
 */
export function createDriveCheck(window: DriveWindow, options: DriveCheckOptions = {}): DriveCheck {
  return new Check(window, options);
}

/** Checks a whole log at once: {@link createDriveCheck} for samples that are all there. */
export function checkDrive(
  samples: Iterable<DriveSample>,
  window: DriveWindow,
  options: DriveCheckOptions = {},
): DriveFindings {
  const check = createDriveCheck(window, options);
  for (const sample of samples) check.add(sample);
  return check.finish();
}

/** A sample with its judgement. */
interface Moment extends Standing {
  readonly time: Microseconds;
  readonly speed: number;
}

class Check implements DriveCheck {
  readonly #window: DriveWindow;
  readonly #judge: (sample: DriveSample) => Standing;
  readonly #maxGap: Microseconds;
  readonly #interruptions: Interruptions;
  readonly #certainRuns: Runs;
  readonly #possibleRuns: Runs;
  readonly #notCounted = new TimeByReason();
  readonly #notRecorded = new TimeByReason();
  readonly #backwardSteps: { from: number; to: number }[] = [];
  #samples = 0;
  /** Times are counted from the first sample; null before it. */
  #origin: Microseconds | null = null;
  #last: Moment | null = null;
  /** The latest time that the clock has shown. */
  #shown: Microseconds = 0;
  #whole: Amount = NOTHING;
  #certain: Amount = NOTHING;
  #possible: Amount = NOTHING;
  #standstills = 0;
  #repeated: Microseconds = 0;
  #gaps = 0;
  #gapTime: Microseconds = 0;
  #longestGap: { readonly begin: Microseconds; readonly end: Microseconds } | null = null;

  constructor(window: DriveWindow, { maxGap = DEFAULT_MAX_GAP, interruptions }: DriveCheckOptions) {
    if (!(maxGap > 0 && maxGap <= 3600)) refuseGap(maxGap);
    this.#window = window;
    this.#judge = judgeMoments(window);
    this.#maxGap = microseconds(maxGap);
    this.#interruptions = new Interruptions(interruptions ?? DEFAULT_INTERRUPTIONS);
    this.#certainRuns = new Runs(window);
    this.#possibleRuns = new Runs(window);
  }

  readonly add = (sample: DriveSample): void => {
    checkSample(sample);
    const absolute = microseconds(sample.time);
    this.#origin ??= absolute;
    const moment = { time: absolute - this.#origin, speed: sample.speed, ...this.#judge(sample) };
    const last = this.#last;
    if (last !== null) this.#pass(last, moment);
    this.#samples += 1;
    this.#shown = Math.max(this.#shown, moment.time);
    this.#last = moment;
  };

  #pass(from: Moment, to: Moment): void {
    if (to.time < from.time) this.#stepBack(from.time, to.time);
    if (to.time === from.time) this.#standstills += 1;
    const unseen = to.time - this.#shown;
    // Over time that the clock has shown before, nothing is counted a second time.
    if (from.time < this.#shown || unseen < 0) {
      const repeated = Math.max(0, Math.min(to.time, this.#shown) - from.time);
      this.#repeated += repeated;
      this.#cut(from.time, repeated, CLOCK);
    }
    if (unseen > this.#maxGap) this.#gap(this.#shown, to.time);
    else if (from.time === this.#shown && unseen >= 0) this.#count(from, to);
  }

  #stepBack(from: Microseconds, to: Microseconds): void {
    this.#backwardSteps.push({ from: seconds(from), to: seconds(to) });
    if (this.#backwardSteps.length <= MOST_BACKWARD_STEPS) return;
    throw new InputError("input", [
      {
        code: "invalid-value",
        pointer: "/time",
        message: `the log is not sorted by time: it goes back for the ${MOST_BACKWARD_STEPS + 1}th time`,
        expected: "samples in the order in which they were recorded",
      },
    ]);
  }

  #gap(begin: Microseconds, end: Microseconds): void {
    this.#gaps += 1;
    this.#gapTime += end - begin;
    const longest = this.#longestGap;
    if (longest === null || end - begin > longest.end - longest.begin) this.#longestGap = { begin, end };
    this.#cut(begin, end - begin, GAP);
  }

  #count(from: Moment, to: Moment): void {
    const time = to.time - from.time;
    const amount = { time, km: (((from.speed + to.speed) / 2) * time) / 3.6e9 };
    const against = from.against | to.against;
    const open = from.open | to.open;
    this.#whole = addAmounts(this.#whole, amount);
    if (against !== 0) {
      this.#notCounted.add(against, time);
      this.#cut(from.time, time, against);
      return;
    }
    // Two samples at the same time are no stretch: they neither begin nor end anything.
    if (time === 0) return;
    this.#interruptions.isOver(from.time);
    this.#possibleRuns.extend(from.time, to.time, amount);
    if (open === 0) {
      this.#certain = addAmounts(this.#certain, amount);
      this.#certainRuns.extend(from.time, to.time, amount);
    } else {
      this.#possible = addAmounts(this.#possible, amount);
      this.#notRecorded.add(open, time);
      this.#certainRuns.cut();
    }
  }

  #cut(begin: Microseconds, time: Microseconds, why: Reasons): void {
    this.#interruptions.lasts(begin, time, why);
    this.#certainRuns.cut();
    this.#possibleRuns.cut();
  }

  readonly finish = (): DriveFindings => {
    if (this.#samples === 0) {
      throw new InputError("input", [
        { code: "missing-measurement", pointer: "", message: "the log holds no sample" },
      ]);
    }
    this.#certainRuns.cut();
    this.#possibleRuns.cut();
    const notRecorded = this.#notRecorded.list();
    return {
      ...judgeDrive(this.#window, {
        certain: this.#certain,
        possible: this.#possible,
        certainRuns: this.#certainRuns,
        possibleRuns: this.#possibleRuns,
        notRecorded,
      }),
      samples: this.#samples,
      whole: stateAmount(this.#whole),
      certain: stateAmount(this.#certain),
      possible: stateAmount(this.#possible),
      longestRun: {
        certain: stateRun(this.#certainRuns),
        possible: stateRun(this.#possibleRuns),
      },
      interruptions: this.#interruptions.kept,
      furtherInterruptions: this.#interruptions.further,
      notCounted: this.#notCounted.list(),
      notRecorded,
      gaps: {
        longerThan: seconds(this.#maxGap),
        total: this.#gaps,
        seconds: seconds(this.#gapTime),
        longest:
          this.#longestGap === null
            ? null
            : { begin: seconds(this.#longestGap.begin), end: seconds(this.#longestGap.end) },
      },
      clock: {
        backwardSteps: this.#backwardSteps,
        standstills: this.#standstills,
        repeatedSeconds: seconds(this.#repeated),
      },
    };
  };
}

function refuseGap(maxGap: number): never {
  throw new InputError("input", [
    {
      code: "out-of-range",
      pointer: "/maxGap",
      message: `the longest distance in time between two samples cannot be ${maxGap} s`,
      expected: "more than 0 and at most 3600 s",
    },
  ]);
}

/** To the millimetre: what lies beyond is rounding. */
function stateAmount({ time, km }: Amount): { seconds: number; km: number } {
  return { seconds: seconds(time), km: Math.round(km * 1e6) / 1e6 };
}

function stateRun({ longest }: Runs): DriveFindings["longestRun"]["certain"] {
  if (longest === null) return null;
  return { begin: seconds(longest.begin), end: seconds(longest.end), ...stateAmount(longest) };
}
