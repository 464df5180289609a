import { askedBy, type Asked } from "./window.js";
import type { DriveWindow } from "../procedures/index.js";

/** Times are whole microseconds, so that sums of them are exact and do not depend on how a log is cut. */
export type Microseconds = number;

export function microseconds(seconds: number): Microseconds {
  return Math.round(seconds * 1e6);
}

export function seconds(time: Microseconds): number {
  return time / 1e6;
}

/** Time and distance gathered so far. */
export interface Amount {
  readonly time: Microseconds;
  readonly km: number;
}

export const NOTHING: Amount = { time: 0, km: 0 };

export function addAmounts(a: Amount, b: Amount): Amount {
  return { time: a.time + b.time, km: a.km + b.km };
}

/** Sums of distances are off by their last digits; a metre in a million kilometres decides no drive. */
const ROUNDING = 1e-9;

/** Whether time and distance both come up to what is asked. */
export function isEnough(amount: Amount, { seconds: asked, km }: Asked): boolean {
  const hasTime = asked === null || amount.time >= microseconds(asked);
  return hasTime && (km === null || amount.km >= km * (1 - ROUNDING));
}

/** Time without an interruption. */
export interface Run extends Amount {
  readonly begin: Microseconds;
  readonly end: Microseconds;
}

/** The runs of a log as they come; keeps only the longest, the farthest, and the first that is enough. */
export class Runs {
  #current: Run | null = null;
  #longest: Run | null = null;
  #farthest: Run | null = null;
  #enough: Run | null = null;
  readonly #asked: Asked;

  constructor(window: DriveWindow) {
    this.#asked = askedBy(window);
  }

  extend(begin: Microseconds, end: Microseconds, amount: Amount): void {
    const { begin: from, ...before } = this.#current ?? { begin, ...NOTHING };
    this.#current = { begin: from, end, ...addAmounts(before, amount) };
  }

  cut(): void {
    const run = this.#current;
    this.#current = null;
    if (run === null) return;
    if (run.time > (this.#longest?.time ?? 0)) this.#longest = run;
    if (run.km > (this.#farthest?.km ?? 0)) this.#farthest = run;
    if (this.#enough === null && isEnough(run, this.#asked)) this.#enough = run;
  }

  get longest(): Run | null {
    return this.#longest;
  }

  get farthest(): Run | null {
    return this.#farthest;
  }

  /** The first that has all that is asked. */
  get enough(): Run | null {
    return this.#enough;
  }
}
