import { describe, expect, it } from "vitest";
import {
  InputError,
  SENSOR_IDS,
  explain,
  loadRulebook,
  planCalibrations,
  renderExplanation,
  type Explanation,
  type Issue,
  type Job,
} from "../../src/index.js";

const rulebook = loadRulebook();

function explainIn(job: Job, sensor: string): Explanation {
  return explain(planCalibrations(job, { rulebook }), sensor, { job, rulebook });
}

/** The text with its line breaks undone, so that a sentence can be looked for whole. */
function read(explanation: Explanation): string {
  return renderExplanation(explanation).replace(/\s+/g, " ");
}

const FRONT: Job = {
  schema: "repair-calibration/job@1",
  reference: "RO-4401",
  vehicle: {
    make: "Norrvik",
    model: "Fjell",
    equipment: [
      { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
      { sensor: "front-radar", fitted: "yes", mount: "unknown", looksThrough: "grille-emblem" },
      { sensor: "steering-angle-sensor", fitted: "yes", mount: "steering-column" },
    ],
    equipmentComplete: true,
  },
  operations: [
    { id: "L1", action: "replace", component: "front-bumper-cover", text: "Rpl cover" },
    { id: "L2", action: "replace", component: "headlamp", side: "left" },
    { id: "L3", action: "refinish", component: "front-bumper-cover" },
  ],
  findings: {
    impactZones: ["front"],
    glassOrHeaderHit: "no",
    faultCodes: [{ sensor: "steering-angle-sensor", means: "other", read: "pre-repair" }],
  },
};

const GLASS: Job = {
  ...FRONT,
  operations: [{ id: "L1", action: "replace", component: "windshield" }],
  findings: { impactZones: [], faultCodes: [] },
};

describe("what nothing asks for", () => {
  const camera = explainIn(FRONT, "forward-camera").places[0];

  it("names each line and finding that was looked at, findings in words", () => {
    expect(camera?.indicated).toBe(false);
    expect(camera?.notIndicated?.considered.map(({ says }) => says)).toEqual([
      "Finding: fault code of the steering-angle sensor (another fault, read before the repair)",
      "Finding: impact at the front",
      'remove and replace (R&R) front bumper cover ("Rpl cover")',
      "remove and replace (R&R) left headlamp",
      "refinish front bumper cover",
    ]);
  });

  it("calls no rule near that could not speak of this cause, or of this sensor, whatever else was true", () => {
    const misses = SENSOR_IDS.flatMap((sensor) => explainIn(FRONT, sensor).places)
      .flatMap(({ notIndicated }) => notIndicated?.considered ?? [])
      .flatMap(({ operation, nearest }) =>
        nearest.flatMap((near) => near.misses.map((miss) => ({ operation, miss }))),
      );
    expect(misses.length).toBeGreaterThan(20);
    for (const { operation, miss } of misses) {
      expect(miss.found).not.toMatch(/^(cause|sensor|position|disturbance): /);
      // A finding has neither action nor part, so no rule about work is near it.
      if (operation.startsWith("/")) expect(miss.found).not.toMatch(/^(action|component): /);
    }
  });

  it("tells for an exchanged part elsewhere that the camera's mount was not it", () => {
    const cover = camera?.notIndicated?.considered.find(({ operation }) => operation === "L1");
    expect(cover?.nearest.map(({ rule }) => rule)).toContain(
      "mount-or-carrier-replaced-renews-the-sensor-seat",
    );
  });

  it("tells the rules of lines that are alike once", () => {
    const text = read(explainIn(FRONT, "forward-camera"));
    expect(text.split("[mount-or-carrier-replaced-renews-the-sensor-seat]")).toHaveLength(2);
    expect(text).toMatch(/- L1: .*"Rpl cover"\) - L2: remove and replace \(R&R\) left headlamp \[/);
  });
});

describe("a sensor that counts as not fitted", () => {
  it("is told with what the order would ask for if it were there", () => {
    const rain = explainIn(GLASS, "rain-light-sensor");
    expect(rain.places[0]?.notIndicated).toMatchObject({
      reason: "not-fitted",
      considered: [],
      ifFitted: [
        { task: "function-check", standing: "required" },
        { task: "initialisation", standing: "presumed" },
      ],
    });
    expect(read(rain)).toContain(
      "If the rain and light sensor were fitted after all: the same order would ask for function check (required), initialisation (presumed).",
    );
  });

  it("is told where that would change nothing", () => {
    const rear = explainIn(GLASS, "rear-corner-radar:left");
    expect(rear.places[0]?.notIndicated?.ifFitted).toEqual([]);
    expect(read(rear)).toContain("no rule would ask for anything after the work as stated.");
  });
});

describe("what hangs on a question", () => {
  it("is told with the question itself and the place of its answer", () => {
    const text = read(explainIn(FRONT, "front-radar"));
    expect(text).toMatch(/Q\d+ +What carries the front radar\?/);
    expect(text).toContain("Belongs at /vehicle/equipment/1/mount");
  });
});

describe("what is on hold", () => {
  it("is told with the rule, the line that brought it and what clears it", () => {
    const lifted: Job = {
      ...GLASS,
      operations: [{ id: "L7", action: "modify", component: "ride-height", amount: { front: 50, rear: 50 } }],
    };
    const [place] = explainIn(lifted, "forward-camera").places;
    const holds = place?.requirements.flatMap((each) => each.holds) ?? [];
    expect(holds.map(({ rule, from }) => [rule, from])).toEqual([
      ["ride-height-modified-holds-forward-calibration", "L7: modify ride height"],
    ]);
    expect(read(explainIn(lifted, "forward-camera"))).toMatch(
      /On hold: .*L7: modify ride height\. Cleared by: /,
    );
  });
});

describe("a word that is no sensor", () => {
  function refusal(word: string): Issue | undefined {
    try {
      explainIn(FRONT, word);
    } catch (error) {
      if (error instanceof InputError) return error.issues[0];
      throw error;
    }
    return undefined;
  }

  it.each([
    ["front-rader", 'there is no sensor "front-rader"', undefined, "front-radar"],
    ["FRONT-RADAR", 'there is no sensor "FRONT-RADAR"', undefined, "front-radar"],
    [
      "radar",
      'there is no sensor "radar"',
      "one of front-radar, front-corner-radar, rear-corner-radar",
      undefined,
    ],
    ["front-radar:left", 'the front radar has no position "left"', "front-radar alone", undefined],
    [
      "rear-corner-radar:lfet",
      'the rear corner radar has no position "lfet"',
      "rear-corner-radar alone, or with one of left, right",
      "left",
    ],
  ])("%s", (word, message, expected, nearest) => {
    const { code, ...rest } = refusal(word) ?? { code: "none" };
    expect({ expected: undefined, nearest: undefined, ...rest }).toEqual({
      pointer: "",
      message,
      expected,
      nearest,
    });
    expect(code).toBe("unknown-id");
  });

  it("is met with all sensors where no name is like it", () => {
    expect(refusal("zzz")?.expected).toBe(`one of ${SENSOR_IDS.join(", ")}`);
  });
});
