import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  KILOMETRES_IN_A_MILE,
  checkDrive,
  type DriveFindings,
  type DriveSample,
} from "../../src/drive/index.js";
import type { DriveWindow } from "../../src/procedures/index.js";
import { check } from "../properties.js";

/** Everything asked for, so that every quantity matters. */
const WINDOW: DriveWindow = {
  speed: { low: 60, high: 120, unit: "km/h" },
  minutes: 0.5,
  distance: { value: 0.5, unit: "km" },
  roadClasses: ["motorway", "divided"],
  laneMarkings: "both-sides",
  steering: 10,
  gradient: 4,
};

const windows = fc.constantFrom<DriveWindow>(
  WINDOW,
  { ...WINDOW, run: "in-pieces" },
  { ...WINDOW, run: "in-one-run" },
  { speed: WINDOW.speed, minutes: 0.2, laneMarkings: "one-side" },
);

/** Mostly within the window, so that there is something to lose. */
const moments = fc.record({
  step: fc.constantFrom(0.1, 1, 1, 1, 2.5, 3, 4, 30),
  speed: fc.oneof(
    { weight: 6, arbitrary: fc.integer({ min: 60, max: 120 }) },
    { weight: 1, arbitrary: fc.integer({ min: 0, max: 200 }) },
  ),
  road: fc.constantFrom("motorway", "motorway", "divided", "rural", "unknown", undefined),
  lanes: fc.constantFrom("both", "both", "both", "one", "none", "unknown", undefined),
  steering: fc.constantFrom(0, 0, 0, -10, 11, undefined),
  gradient: fc.constantFrom(0, 0, 4, -5, undefined),
}) satisfies fc.Arbitrary<Partial<DriveSample>>;

/** A log whose clock only runs forward. */
const logs = fc.array(moments, { minLength: 1, maxLength: 60 }).map((steps) => {
  let time = 0;
  return steps.map(({ step, ...rest }): DriveSample => {
    time += step;
    return { time, ...rest };
  });
});

/** A log whose clock may be set back. */
const logsSetBack = fc.tuple(logs, fc.array(fc.nat(59), { maxLength: 4 })).map(([log, places]) => {
  let back = 0;
  return log.map((sample, index): DriveSample => {
    if (places.includes(index)) back += 7;
    return { ...sample, time: sample.time - back };
  });
});

const atMost = ({ certain, possible }: DriveFindings): number => certain.seconds + possible.seconds;
const RANK = { "not-met": 0, "cannot-be-told": 1, met: 2 } as const;

describe("for every log", () => {
  it("what counts, what may and what does not are the whole", () => {
    check(
      fc.property(logsSetBack, windows, (log, window) => {
        const { certain, possible, whole, notCounted, longestRun } = checkDrive(log, window);
        const most = notCounted.reduce((sum, { seconds }) => sum + seconds, 0);
        const least = Math.max(0, ...notCounted.map(({ seconds }) => seconds));
        const left = whole.seconds - certain.seconds - possible.seconds;
        expect(left).toBeGreaterThanOrEqual(least - 1e-6);
        expect(left).toBeLessThanOrEqual(most + 1e-6);
        expect(longestRun.certain?.seconds ?? 0).toBeLessThanOrEqual(certain.seconds);
        expect(longestRun.possible?.seconds ?? 0).toBeLessThanOrEqual(
          certain.seconds + possible.seconds + 1e-6,
        );
        expect(longestRun.certain?.seconds ?? 0).toBeLessThanOrEqual(longestRun.possible?.seconds ?? 0);
      }),
    );
  });

  it("whole, gaps and what the clock skipped are never more than the clock has shown", () => {
    check(
      fc.property(logsSetBack, windows, (log, window) => {
        const { whole, gaps } = checkDrive(log, window);
        const times = log.map(({ time }) => time);
        const shown = Math.max(...times) - (times[0] ?? 0);
        expect(whole.seconds + gaps.seconds).toBeLessThanOrEqual(shown + 1e-6);
      }),
    );
  });

  it("two halves never have more than the whole log", () => {
    check(
      fc.property(logs, windows, fc.nat(59), (log, window, place) => {
        const cut = Math.min(place, log.length - 1);
        const whole = checkDrive(log, window);
        const halves = [log.slice(0, cut), log.slice(cut)]
          .filter((half) => half.length > 0)
          .map((half) => checkDrive(half, window));
        const sum = (of: (each: DriveFindings) => number): number =>
          halves.reduce((total, each) => total + of(each), 0);
        expect(sum((each) => each.certain.seconds)).toBeLessThanOrEqual(whole.certain.seconds + 1e-6);
        expect(sum(atMost)).toBeLessThanOrEqual(atMost(whole) + 1e-6);
        // Sharing the sample at the cut, they have exactly as much.
        const [first, second] = [log.slice(0, cut + 1), log.slice(cut)].map((half) =>
          checkDrive(half, window),
        );
        expect((first?.certain.seconds ?? 0) + (second?.certain.seconds ?? 0)).toBeCloseTo(
          whole.certain.seconds,
          5,
        );
      }),
    );
  });

  it("forgetting a value never makes more certain, and never takes away what may count", () => {
    check(
      fc.property(
        logsSetBack,
        windows,
        fc.constantFrom("road", "lanes", "steering", "gradient"),
        fc.boolean(),
        (log, window, key, asWord) => {
          const isWord = asWord && (key === "road" || key === "lanes");
          const less = log.map((sample) => ({ ...sample, [key]: isWord ? "unknown" : undefined }));
          const [knowing, forgetting] = [checkDrive(log, window), checkDrive(less, window)];
          expect(forgetting.certain.seconds).toBeLessThanOrEqual(knowing.certain.seconds);
          expect(atMost(forgetting)).toBeGreaterThanOrEqual(atMost(knowing) - 1e-6);
          // What was certain either way can become open, and nothing else.
          if (forgetting.verdict !== "cannot-be-told") expect(knowing.verdict).toBe(forgetting.verdict);
        },
      ),
    );
  });

  it("one run is never easier than pieces, and saying nothing lies between", () => {
    check(
      fc.property(logs, (log) => {
        const { run: _, ...open } = WINDOW;
        const rank = (window: DriveWindow): number => RANK[checkDrive(log, window).verdict];
        const oneRun = rank({ ...open, run: "in-one-run" });
        const pieces = rank({ ...open, run: "in-pieces" });
        expect(oneRun).toBeLessThanOrEqual(pieces);
        expect(rank(open)).toBeGreaterThanOrEqual(oneRun);
        expect(rank(open)).toBeLessThanOrEqual(pieces);
      }),
    );
  });

  it("miles and kilometres agree", () => {
    check(
      fc.property(logs, windows, (log, window) => {
        const inMiles: DriveWindow = {
          ...window,
          // Powers of two: times and divided by the same number they come out as they were.
          speed: { low: 32, high: 128, unit: "mph" },
          ...(window.distance === undefined ? {} : { distance: { value: 1, unit: "mi" } }),
        };
        const inKilometres: DriveWindow = {
          ...window,
          speed: { low: 32 * KILOMETRES_IN_A_MILE, high: 128 * KILOMETRES_IN_A_MILE, unit: "km/h" },
          ...(window.distance === undefined ? {} : { distance: { value: KILOMETRES_IN_A_MILE, unit: "km" } }),
        };
        const { says: _s, missing: _m, ...miles } = checkDrive(log, inMiles);
        const { says: _t, missing: _n, ...kilometres } = checkDrive(log, inKilometres);
        expect(miles).toEqual(kilometres);
      }),
    );
  });

  it("a piecewise linear drive sampled at 1 Hz and at 10 Hz agrees within the ends of its runs", () => {
    const corners = fc.array(
      fc.record({ seconds: fc.integer({ min: 5, max: 60 }), speed: fc.integer({ min: 0, max: 160 }) }),
      { minLength: 2, maxLength: 12 },
    );
    check(
      fc.property(corners, (points) => {
        const window: DriveWindow = { speed: WINDOW.speed, minutes: 1 };
        const slow = checkDrive(sampled(points, 1), window);
        const quick = checkDrive(sampled(points, 10), window);
        // At each crossing of an edge of the window one second at most is lost at 1 Hz, a tenth at 10 Hz.
        const crossings = 2 * points.length;
        expect(quick.certain.seconds).toBeGreaterThanOrEqual(slow.certain.seconds - 1e-6);
        expect(quick.certain.seconds - slow.certain.seconds).toBeLessThanOrEqual(crossings);
        // The trapezoid is exact for a drive whose corners are samples.
        expect(quick.whole.km).toBeCloseTo(slow.whole.km, 5);
      }),
    );
  });

  it("interruptions are told apart, in order, and their number does not depend on how many are listed", () => {
    check(
      fc.property(logsSetBack, windows, fc.nat(5), (log, window, most) => {
        const all = checkDrive(log, window, { interruptions: 1000 });
        const few = checkDrive(log, window, { interruptions: most });
        expect(few.interruptions).toEqual(all.interruptions.slice(0, most));
        expect(few.interruptions.length + few.furtherInterruptions.total).toBe(all.interruptions.length);
        const ends = all.interruptions.flatMap(({ begin, end }) => [begin, end]);
        expect(ends).toEqual([...ends].sort((a, b) => a - b));
      }),
    );
  });
});

/** A drive from corner to corner, `perSecond` times a second. */
function sampled(
  points: readonly { readonly seconds: number; readonly speed: number }[],
  perSecond: number,
): readonly DriveSample[] {
  const samples: DriveSample[] = [];
  let begin = 0;
  points.forEach(({ seconds, speed }, index) => {
    const from = points[index - 1]?.speed ?? 0;
    for (let step = index === 0 ? 0 : 1; step <= seconds * perSecond; step += 1) {
      const part = step / (seconds * perSecond);
      samples.push({ time: begin + step / perSecond, speed: from + (speed - from) * part });
    }
    begin += seconds;
  });
  return samples;
}
