import { bitOf, listReasons, type Reasons } from "./window.js";
import { DRIVE_REASONS, type DriveFindings, type DriveReason } from "./shape.js";
import { seconds, type Microseconds } from "./runs.js";

/** Time by the reasons that it is counted under. */
export class TimeByReason {
  readonly #times = new Map<DriveReason, Microseconds>();

  add(reasons: Reasons, time: Microseconds): void {
    for (const reason of listReasons(reasons)) {
      this.#times.set(reason, (this.#times.get(reason) ?? 0) + time);
    }
  }

  list(): { readonly why: DriveReason; readonly seconds: number }[] {
    return DRIVE_REASONS.flatMap((why) => {
      const time = this.#times.get(why) ?? 0;
      return time === 0 ? [] : [{ why, seconds: seconds(time) }];
    });
  }
}

interface Open {
  readonly begin: Microseconds;
  why: Reasons;
  time: Microseconds;
}

/** What lies between stretches that fulfil the window; keeps the first ones whole and counts the others. */
export class Interruptions {
  readonly #most: number;
  readonly #kept: DriveFindings["interruptions"] = [];
  readonly #further = new Map<DriveReason, number>();
  #total = 0;
  #open: Open | null = null;
  /** Before the first stretch that fulfils the window there is nothing to interrupt. */
  #hasBegun = false;

  constructor(most: number) {
    this.#most = most;
  }

  lasts(begin: Microseconds, time: Microseconds, why: Reasons): void {
    if (!this.#hasBegun) return;
    this.#open ??= { begin, why: 0, time: 0 };
    this.#open.why |= why;
    this.#open.time += time;
  }

  isOver(end: Microseconds): void {
    this.#hasBegun = true;
    const open = this.#open;
    if (open === null) return;
    this.#open = null;
    this.#total += 1;
    const why = listReasons(open.why);
    if (this.#kept.length < this.#most) {
      this.#kept.push({ begin: seconds(open.begin), end: seconds(end), seconds: seconds(open.time), why });
      return;
    }
    for (const each of why) this.#further.set(each, (this.#further.get(each) ?? 0) + 1);
  }

  get kept(): DriveFindings["interruptions"] {
    return this.#kept;
  }

  get further(): DriveFindings["furtherInterruptions"] {
    return {
      total: this.#total - this.#kept.length,
      byReason: DRIVE_REASONS.flatMap((why) => {
        const interruptions = this.#further.get(why) ?? 0;
        return interruptions === 0 ? [] : [{ why, interruptions }];
      }),
    };
  }
}

export const GAP = bitOf("gap");
export const CLOCK = bitOf("clock");
