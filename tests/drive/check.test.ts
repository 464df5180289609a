import { describe, expect, it } from "vitest";
import { checkDrive, createDriveCheck, type DriveSample } from "../../src/drive/index.js";
import { InputError } from "../../src/errors.js";
import type { DriveWindow } from "../../src/procedures/index.js";
import { TEN_MINUTES, every } from "./logs.js";

const at = (time: number, speed: number, rest: Partial<DriveSample> = {}): DriveSample => ({
  time,
  speed,
  ...rest,
});

describe("what counts", () => {
  it("is time between samples that both fulfil the window, and distance as the trapezoid of the speed", () => {
    // 0–10 s at 72 km/h: 200 m. 10–11 s from 72 to 108: 25 m. Together 11 s, 225 m.
    const { certain, possible, whole } = checkDrive(
      [...every(1, 0, 10, { speed: 72 }), at(11, 108)],
      TEN_MINUTES,
    );
    expect(certain).toEqual({ seconds: 11, km: 0.225 });
    expect(possible).toEqual({ seconds: 0, km: 0 });
    expect(whole).toEqual(certain);
  });

  it("leaves out the seconds before and after a moment outside the window", () => {
    // Slow at 5 s only: 4–5 and 5–6 do not count, 8 of 10 seconds do.
    const samples = every(1, 0, 10, { speed: 90 }).map((each) => (each.time === 5 ? at(5, 59.9) : each));
    const { certain, interruptions, notCounted, longestRun } = checkDrive(samples, TEN_MINUTES);
    expect(certain.seconds).toBe(8);
    expect(interruptions).toEqual([{ begin: 4, end: 6, seconds: 2, why: ["too-slow"] }]);
    expect(notCounted).toEqual([{ why: "too-slow", seconds: 2 }]);
    // Two runs of four seconds at 90 km/h, 100 m each: the first is told.
    expect(longestRun.certain).toEqual({ begin: 0, end: 4, seconds: 4, km: 0.1 });
  });

  it.each([
    [60, 2],
    [59.999, 0],
    [120, 2],
    [120.001, 0],
  ])("at %d km/h, on or beside the edge of 60 to 120, is %d s of 2", (speed, seconds) => {
    expect(checkDrive(every(1, 0, 2, { speed }), TEN_MINUTES).certain.seconds).toBe(seconds);
  });

  it.each([
    [40 * 1.609344, 1],
    [64.3737, 0],
    [70 * 1.609344, 1],
    [112.6541, 0],
  ])("of a window of 40 to 70 mph is %d km/h: %d s", (speed, seconds) => {
    // 40 mph are 64.37376 km/h, 70 mph are 112.65408 km/h.
    const window: DriveWindow = { speed: { low: 40, high: 70, unit: "mph" }, minutes: 1 };
    expect(checkDrive(every(1, 0, 1, { speed }), window).certain.seconds).toBe(seconds);
  });

  it("does not depend on the origin of the time", () => {
    const near = checkDrive(every(0.1, 0.1, 600.1, { speed: 100 }), TEN_MINUTES);
    const far = checkDrive(every(0.1, 1_776_171_900.1, 1_776_172_500.1, { speed: 100 }), TEN_MINUTES);
    expect(near.certain.seconds).toBe(600);
    expect(far).toEqual(near);
    expect(far.verdict).toBe("met");
  });
});

describe("the verdict on minutes and distance", () => {
  it("is met from the very second", () => {
    expect(checkDrive(every(1, 0, 600, { speed: 90 }), TEN_MINUTES).verdict).toBe("met");
  });

  it("is not missed by the last digit of a number of minutes", () => {
    // 8.3 × 60 is 498.00000000000006 in binary.
    expect(checkDrive(every(1, 0, 498, { speed: 90 }), { ...TEN_MINUTES, minutes: 8.3 }).verdict).toBe("met");
    expect(checkDrive(every(1, 0, 497, { speed: 90 }), { ...TEN_MINUTES, minutes: 8.3 }).verdict).toBe(
      "not-met",
    );
  });

  it("says how much is missing, rounded up to the second", () => {
    const { verdict, missing, says } = checkDrive(every(0.5, 0, 469.5, { speed: 90 }), TEN_MINUTES);
    // 600 − 469.5 = 130.5 s.
    expect(verdict).toBe("not-met");
    expect(missing).toEqual(["2 min 11 s more between 60 and 120 km/h"]);
    expect(says).toContain("Missing: 2 min 11 s more");
  });

  it("takes both where both are asked, in the units of the window", () => {
    const window: DriveWindow = {
      speed: { low: 40, high: 70, unit: "mph" },
      minutes: 10,
      distance: { value: 10, unit: "mi" },
      run: "in-pieces",
    };
    // Ten minutes at 50 mph are 8 1/3 mi: the time is there, 1.67 mi are not.
    const slow = checkDrive(every(1, 0, 600, { speed: 50 * 1.609344 }), window);
    expect(slow.verdict).toBe("not-met");
    expect(slow.missing).toEqual(["1.67 mi more between 40 and 70 mph"]);
    // Ten minutes at 60 mph are ten miles to the last digit.
    expect(checkDrive(every(1, 0, 600, { speed: 60 * 1.609344 }), window).verdict).toBe("met");
    // Nine minutes at 70 mph are 10.5 mi: the distance is there, a minute is not.
    const short = checkDrive(every(1, 0, 540, { speed: 70 * 1.609344 }), window);
    expect(short.missing).toEqual(["1 min 0 s more between 40 and 70 mph"]);
  });

  it("cannot be told where the window names neither, once anything counts", () => {
    const window: DriveWindow = { speed: { low: 60, high: 120, unit: "km/h" } };
    const driven = checkDrive(every(1, 0, 5, { speed: 90 }), window);
    expect(driven.verdict).toBe("cannot-be-told");
    expect(driven.lookUp).toEqual([
      "when the drive is over: the procedure names neither minutes nor a distance",
    ]);
    const parked = checkDrive(every(1, 0, 5, { speed: 0 }), window);
    expect(parked.verdict).toBe("not-met");
    expect(parked.missing).toEqual(["any driving between 60 and 120 km/h as the procedure asks for it"]);
  });
});

describe("one run or pieces", () => {
  // Six minutes and five minutes with a stop of 20 s between them: 660 s in all, 360 s in the longest.
  const twoPieces = [
    ...every(1, 0, 360, { speed: 90 }),
    ...every(1, 361, 379, { speed: 0 }),
    ...every(1, 380, 680, { speed: 90 }),
  ];

  it("adds pieces where the procedure says so", () => {
    expect(checkDrive(twoPieces, { ...TEN_MINUTES, run: "in-pieces" }).verdict).toBe("met");
  });

  it("takes the longest run where the procedure wants one", () => {
    const { verdict, missing } = checkDrive(twoPieces, { ...TEN_MINUTES, run: "in-one-run" });
    expect(verdict).toBe("not-met");
    expect(missing).toEqual(["in one run: 4 min 0 s more between 60 and 120 km/h"]);
  });

  it("cannot tell where the procedure does not say, and says what to look up", () => {
    const { run: _, ...open } = TEN_MINUTES;
    const { verdict, missing, lookUp } = checkDrive(twoPieces, open);
    expect(verdict).toBe("cannot-be-told");
    expect(lookUp).toEqual(["whether the procedure lets pieces be added: one run alone is not enough"]);
    expect(missing).toEqual(["if it has to be one run: 4 min 0 s more between 60 and 120 km/h"]);
  });

  it("needs no look-up where one run is enough, or where all pieces are not", () => {
    const { run: _, ...open } = TEN_MINUTES;
    expect(checkDrive(every(1, 0, 600, { speed: 90 }), open).verdict).toBe("met");
    expect(checkDrive(twoPieces.slice(0, 500), open).verdict).toBe("not-met");
  });

  it("tells of the first run that is enough", () => {
    const samples = [...every(1, 0, 600, { speed: 90 }), at(601, 0), ...every(1, 602, 1402, { speed: 90 })];
    const { says } = checkDrive(samples, { ...TEN_MINUTES, run: "in-one-run" });
    expect(says).toContain("10 min 0 s between 60 and 120 km/h, where 10 min are asked");
  });

  it("wants time and distance in the same run", () => {
    // Ten minutes at 60 km/h (10 km), a stop, six minutes at 120 km/h (12 km).
    const samples = [...every(1, 0, 600, { speed: 60 }), at(601, 0), ...every(1, 602, 962, { speed: 120 })];
    const window: DriveWindow = { ...TEN_MINUTES, run: "in-one-run", distance: { value: 12, unit: "km" } };
    const { verdict, missing } = checkDrive(samples, window);
    expect(verdict).toBe("not-met");
    expect(missing).toEqual(["in one run: the time and the distance together, which now are in two runs"]);
  });
});

describe("what is not recorded", () => {
  const window: DriveWindow = {
    ...TEN_MINUTES,
    roadClasses: ["motorway", "divided"],
    laneMarkings: "both-sides",
    steering: 10,
    gradient: 4,
  };
  const all = { speed: 90, road: "divided", lanes: "both", steering: -10, gradient: 4 } as const;

  it("counts for certain where everything is recorded and fulfils the window, edges included", () => {
    expect(checkDrive(every(1, 0, 600, all), window)).toMatchObject({ verdict: "met", notRecorded: [] });
  });

  it.each([
    ["road", { road: undefined }],
    ["road", { road: "unknown" as const }],
    ["lanes", { lanes: undefined }],
    ["lanes", { lanes: "unknown" as const }],
    ["steering", { steering: undefined }],
    ["gradient", { gradient: undefined }],
  ] as const)("makes a stretch possible: %s %j", (why, change) => {
    const findings = checkDrive(every(1, 0, 600, { ...all, ...change }), window);
    expect(findings.verdict).toBe("cannot-be-told");
    expect(findings.certain.seconds).toBe(0);
    expect(findings.possible).toEqual({ seconds: 600, km: 15 });
    expect(findings.notRecorded).toEqual([{ why, seconds: 600 }]);
    expect(findings.lookUp).toHaveLength(1);
    expect(findings.lookUp[0]).toMatch(/not recorded for 10 min 0 s that may count$/);
  });

  it.each([
    ["road", { road: "rural" }],
    ["lanes", { lanes: "one" }],
    ["lanes", { lanes: "none" }],
    ["steering", { steering: 10.1 }],
    ["steering", { steering: -10.1 }],
    ["gradient", { gradient: -4.1 }],
  ] as const)("is no excuse for what is recorded and does not fulfil the window: %s %j", (why, change) => {
    // The lane markings are not recorded at all, and still the stretch does not count.
    const rest = { ...all, ...(why === "lanes" ? {} : { lanes: undefined }), ...change };
    const findings = checkDrive(every(1, 0, 600, rest), window);
    expect(findings).toMatchObject({ verdict: "not-met", possible: { seconds: 0, km: 0 } });
    expect(findings.notCounted).toEqual([{ why, seconds: 600 }]);
  });

  it("takes one side of lane markings where one is enough", () => {
    const one: DriveWindow = { ...TEN_MINUTES, laneMarkings: "one-side" };
    const seconds = (lanes: "both" | "one" | "none"): number =>
      checkDrive(every(1, 0, 4, { speed: 90, lanes }), one).certain.seconds;
    expect([seconds("both"), seconds("one"), seconds("none")]).toEqual([4, 4, 0]);
  });

  it("says at least how much is missing, and how much at most", () => {
    // From 300 to 360 s at least one end of each second says nothing of the lanes: 300 s certain, 60 s possible.
    const samples = [...every(1, 0, 300, all), ...every(1, 301, 360, { ...all, lanes: "unknown" })];
    const { verdict, certain, possible, missing } = checkDrive(samples, window);
    expect({ verdict, certain: certain.seconds, possible: possible.seconds }).toEqual({
      verdict: "not-met",
      certain: 300,
      possible: 60,
    });
    expect(missing).toEqual([
      "at least 4 min 0 s more between 60 and 120 km/h, and 5 min 0 s if nothing counts that is only possible",
    ]);
  });

  it("at one moment makes both its neighbouring stretches possible, and parts the certain runs", () => {
    const samples = every(1, 0, 10, all).map((each) =>
      each.time === 5 ? { ...each, lanes: undefined } : each,
    );
    const { certain, possible, longestRun, interruptions } = checkDrive(samples, window);
    expect([certain.seconds, possible.seconds]).toEqual([8, 2]);
    expect(longestRun.certain).toMatchObject({ begin: 0, end: 4 });
    expect(longestRun.possible).toMatchObject({ begin: 0, end: 10 });
    expect(interruptions).toEqual([]);
  });

  it("is nothing to look up where the certain amounts leave only the pieces open", () => {
    const { run: _, ...open } = window;
    const samples = [
      ...every(1, 0, 400, all),
      ...every(1, 401, 402, { ...all, speed: 0 }),
      ...every(1, 403, 703, all),
      ...every(1, 704, 705, { ...all, speed: 0 }),
      ...every(1, 706, 716, { ...all, lanes: "unknown" }),
    ];
    const { verdict, possible, lookUp } = checkDrive(samples, open);
    expect({ verdict, possible: possible.seconds }).toEqual({ verdict: "cannot-be-told", possible: 10 });
    expect(lookUp).toEqual(["whether the procedure lets pieces be added: one run alone is not enough"]);
  });

  it("does not matter for quantities that the window does not ask for", () => {
    expect(
      checkDrive(every(1, 0, 600, { speed: 90, lanes: "none", road: "urban" }), TEN_MINUTES).verdict,
    ).toBe("met");
  });
});

describe("gaps", () => {
  it("are longer than three seconds, and are not bridged", () => {
    const samples = [at(0, 90), at(3, 90), at(6.001, 90), at(7, 90)];
    const { certain, gaps, interruptions, whole } = checkDrive(samples, TEN_MINUTES);
    // 0–3 and 6.001–7 count.
    expect(certain.seconds).toBe(3.999);
    expect(whole.seconds).toBe(3.999);
    expect(gaps).toEqual({ longerThan: 3, total: 1, seconds: 3.001, longest: { begin: 3, end: 6.001 } });
    expect(interruptions).toEqual([{ begin: 3, end: 6.001, seconds: 3.001, why: ["gap"] }]);
  });

  it("are as long as one says", () => {
    const samples = every(10, 0, 600, { speed: 90 });
    expect(checkDrive(samples, TEN_MINUTES).certain.seconds).toBe(0);
    expect(checkDrive(samples, TEN_MINUTES, { maxGap: 10 }).certain.seconds).toBe(600);
    expect(() => checkDrive(samples, TEN_MINUTES, { maxGap: 0 })).toThrow(InputError);
  });
});

describe("a clock that is set back", () => {
  it("shows no time twice", () => {
    // 0–100 s; then back to 60 and on to 130: 60–100 was shown before, 100–101 begins in it, 30 s are new.
    const samples = [...every(1, 0, 100, { speed: 90 }), ...every(1, 60, 130, { speed: 90 })];
    const { certain, clock, whole, interruptions } = checkDrive(samples, TEN_MINUTES);
    expect(clock).toEqual({ backwardSteps: [{ from: 100, to: 60 }], standstills: 0, repeatedSeconds: 40 });
    expect(certain.seconds).toBe(130);
    expect(whole.seconds).toBe(130);
    expect(interruptions).toEqual([{ begin: 100, end: 100, seconds: 40, why: ["clock"] }]);
  });

  it("gives nothing for a stretch that begins in time shown before", () => {
    // Back from 10 to 9.5 and on: 9.5–10.5 begins before 10, so counting goes on at 10.5.
    const samples = [...every(1, 0, 10, { speed: 90 }), ...every(1, 9.5, 20.5, { speed: 90 })];
    const { certain, clock } = checkDrive(samples, TEN_MINUTES);
    expect(certain.seconds).toBe(20);
    expect(clock.repeatedSeconds).toBe(0.5);
  });

  it("finds the gap behind one bad time", () => {
    // 10 → 4 (bad) → 20: from 10 to 20 nothing was recorded.
    const { gaps, certain } = checkDrive(
      [at(8, 90), at(10, 90), at(4, 90), at(20, 90), at(21, 90)],
      TEN_MINUTES,
    );
    expect(gaps).toMatchObject({ total: 1, seconds: 10 });
    expect(certain.seconds).toBe(3);
  });

  it("may step back five times, not six", () => {
    const steps = (number: number): readonly DriveSample[] =>
      Array.from({ length: number + 1 }, (_, index) => at(100 - index, 90));
    expect(checkDrive(steps(5), TEN_MINUTES).clock.backwardSteps).toHaveLength(5);
    expect(() => checkDrive(steps(6), TEN_MINUTES)).toThrow(/not sorted by time/);
  });
});

describe("a clock that stands still", () => {
  it("costs nothing and gives nothing: ten samples in each second count as one", () => {
    const samples = every(0.1, 0, 20, { speed: 90 }).map((each) => ({
      ...each,
      time: Math.floor(each.time + 1e-6),
    }));
    const { certain, clock, interruptions } = checkDrive(samples, TEN_MINUTES);
    expect(certain.seconds).toBe(20);
    expect(clock.standstills).toBe(180);
    expect(interruptions).toEqual([]);
  });

  it("does not end an interruption", () => {
    const samples = [at(0, 90), at(1, 90), at(2, 10), at(3, 90), at(3, 90), at(4, 10), at(5, 90), at(6, 90)];
    expect(checkDrive(samples, TEN_MINUTES).interruptions).toEqual([
      { begin: 1, end: 5, seconds: 4, why: ["too-slow"] },
    ]);
  });

  it("still shows a moment outside the window", () => {
    const samples = [at(0, 90), at(1, 90), at(1, 10), at(1, 90), at(2, 90)];
    const { certain, longestRun, interruptions } = checkDrive(samples, TEN_MINUTES);
    expect(certain.seconds).toBe(2);
    expect(longestRun.certain).toMatchObject({ seconds: 1 });
    expect(interruptions).toEqual([{ begin: 1, end: 1, seconds: 0, why: ["too-slow"] }]);
  });
});

describe("interruptions", () => {
  it("are listed up to a number, and counted beyond it by what caused them", () => {
    // Fast for a second, then in turn slow or fast: 4 interruptions, slow, fast, slow, fast.
    const samples = Array.from({ length: 5 }, (_, index) => [
      at(index * 4, 90),
      at(index * 4 + 1, 90),
      ...(index === 4 ? [] : [at(index * 4 + 2, index % 2 === 0 ? 20 : 150)]),
    ]).flat();
    const { interruptions, furtherInterruptions } = checkDrive(samples, TEN_MINUTES, { interruptions: 1 });
    expect(interruptions).toEqual([{ begin: 1, end: 4, seconds: 3, why: ["too-slow"] }]);
    expect(furtherInterruptions).toEqual({
      total: 3,
      byReason: [
        { why: "too-slow", interruptions: 1 },
        { why: "too-fast", interruptions: 2 },
      ],
    });
  });

  it("lie between stretches that count: neither the way there nor the way back is one", () => {
    const samples = [
      ...every(1, 0, 20, { speed: 30 }),
      ...every(1, 21, 40, { speed: 90 }),
      ...every(1, 41, 60, { speed: 30 }),
    ];
    expect(checkDrive(samples, TEN_MINUTES).interruptions).toEqual([]);
  });

  it("join what follows without a pause, with all causes", () => {
    const samples = [at(0, 90), at(1, 90), at(2, 10), at(10, 10), at(11, 130), at(12, 90), at(13, 90)];
    expect(checkDrive(samples, TEN_MINUTES).interruptions).toEqual([
      { begin: 1, end: 12, seconds: 11, why: ["too-slow", "too-fast", "gap"] },
    ]);
  });
});

describe("values that cannot be true", () => {
  it.each([
    [at(0, -0.1), "/speed", "out-of-range"],
    [at(0, 400.1), "/speed", "out-of-range"],
    [at(0, NaN), "/speed", "invalid-value"],
    [at(0, Infinity), "/speed", "invalid-value"],
    [at(NaN, 50), "/time", "invalid-value"],
    [at(1_776_171_900_000, 50), "/time", "out-of-range"],
    [at(0, 50, { steering: 2001 }), "/steering", "out-of-range"],
    [at(0, 50, { gradient: NaN }), "/gradient", "invalid-value"],
  ])("are refused: %j", (sample, pointer, code) => {
    const check = createDriveCheck(TEN_MINUTES);
    let issues: unknown;
    try {
      check.add(sample);
    } catch (error) {
      issues = error instanceof InputError ? error.issues : error;
    }
    expect(issues).toMatchObject([{ pointer, code }]);
  });

  it("include a log without a sample and a window without room", () => {
    expect(() => checkDrive([], TEN_MINUTES)).toThrow(/holds no sample/);
    const window: DriveWindow = { speed: { low: 90, high: 60, unit: "km/h" } };
    expect(() => createDriveCheck(window)).toThrow(/lies above/);
  });
});

describe("what is confirmed by hand", () => {
  it("is what no log shows: roads in words, weather, who drove, and that the vehicle is done", () => {
    const window: DriveWindow = { ...TEN_MINUTES, roads: ["Few bends"], weather: "Dry" };
    const { confirmByHand } = checkDrive([at(0, 0)], window);
    expect(confirmByHand.slice(0, 2)).toEqual(["Road: Few bends", "Weather and light: Dry"]);
    expect(confirmByHand.join(" ")).toMatch(/licensed driver.*vehicle itself reports/s);
  });
});
