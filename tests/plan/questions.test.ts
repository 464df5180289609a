import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";

const rulebook = loadRulebook();
const NOTHING_FOUND = {
  impactZones: [],
  impactWheels: [],
  faultCodes: [],
  airbagsDeployed: false,
  structuralDamage: false,
  rideHeightChange: { front: 0, rear: 0 },
} satisfies Job["findings"];

function plan(operations: Job["operations"], vehicle: Job["vehicle"] = {}) {
  const job: Job = {
    schema: "repair-calibration/job@1",
    reference: "RO-1",
    vehicle,
    operations,
    findings: NOTHING_FOUND,
  };
  return planCalibrations(job, { rulebook });
}

const asked = (...given: Parameters<typeof plan>): readonly string[] =>
  plan(...given).questions.map(({ ask }) => ask);

describe("the questions of a plan", () => {
  const mirrorCamera: Job["vehicle"] = {
    equipment: [{ sensor: "surround-camera", position: "left", fitted: "yes" }],
    equipmentComplete: true,
  };
  const filled = {
    id: "L1",
    action: "repair",
    component: "front-door",
    side: "left",
    atMounting: "no",
  } as const;
  const painted = { id: "L2", action: "refinish", component: "front-door", side: "left" } as const;
  const mirrorStays = [{ action: "remove-install", component: "door-mirror", done: "no" }] as const;

  it("ask once for work that two lines may bring", () => {
    const questions = asked([filled, painted], mirrorCamera);
    expect(questions.filter((each) => each.includes("left door mirror"))).toHaveLength(1);
  });

  it("take the answer at one line for the part, whichever line says so", () => {
    const answered = plan([filled, { ...painted, dependentWork: [...mirrorStays] }], mirrorCamera);
    expect(answered.questions).toEqual([]);
    const camera = answered.requirements.find(({ id }) => id === "surround-camera:left/calibration");
    // The door was filled, which asks for a look at the picture; that the mirror came off can no longer be.
    expect([camera?.standing, camera?.couldRiseTo]).toEqual(["inspect-first", null]);
  });

  it("do not take the answer at the left door for the mirror on the right", () => {
    const both: Job["vehicle"] = {
      equipment: [{ sensor: "surround-camera", fitted: "yes" }],
      equipmentComplete: true,
    };
    const right = { id: "L3", action: "refinish", component: "front-door", side: "right" } as const;
    const questions = asked([{ ...painted, dependentWork: [...mirrorStays] }, right], both);
    expect(questions.filter((each) => each.includes("right door mirror"))).toHaveLength(1);
  });

  it("ask where a sensor sits only once it is known to be there", () => {
    const cover = { id: "L1", action: "remove-install", component: "front-bumper-cover" } as const;
    expect(asked([cover]).filter((each) => each.startsWith("What carries"))).toEqual([]);
    const fitted: Job["vehicle"] = {
      equipment: [{ sensor: "front-radar", fitted: "yes" }],
      equipmentComplete: true,
    };
    expect(asked([cover], fitted)).toContain("What carries the front radar?");
  });

  it("ask for the headliner before the mirror that it may take off", () => {
    const dent = { id: "L1", action: "paintless-repair", component: "roof-panel" } as const;
    const camera: Job["vehicle"] = {
      equipment: [{ sensor: "forward-camera", fitted: "yes", mount: "interior-mirror" }],
      equipmentComplete: true,
    };
    expect(asked([dent], camera)).toEqual([
      "Does the repair include removing and installing the headliner? (Paintless repair of the roof may take the headliner down.)",
    ]);
    const down = [{ action: "remove-install", component: "headliner", done: "yes" }] as const;
    expect(asked([{ ...dent, dependentWork: [...down] }], camera)).toEqual([
      expect.stringContaining("removing and installing the interior mirror?"),
    ]);
  });

  it("ask whether the alignment was measured before what it adjusted", () => {
    const bearing = {
      id: "L1",
      action: "replace",
      component: "wheel-bearing",
      axle: "rear",
      side: "right",
    } as const;
    const camera: Job["vehicle"] = {
      equipment: [{ sensor: "forward-camera", fitted: "yes", mount: "windshield" }],
      equipmentComplete: true,
    };
    expect(asked([bearing], camera)).toEqual([
      expect.stringContaining("measuring or inspecting the wheel alignment?"),
    ]);
  });

  it("ask for stability control, which everybody knows of, not for the sensor that it brings", () => {
    const toe = {
      id: "L1",
      action: "adjust",
      component: "wheel-alignment",
      adjusted: ["front-toe"],
    } as const;
    const operations = [{ ...toe, adjusted: [...toe.adjusted] }];
    expect(asked(operations)).toContain("Is electronic stability control standard on this vehicle?");
    const known: Job["vehicle"] = { features: { "electronic-stability-control": "standard" } };
    const reset = plan(operations, known).requirements.find(({ task }) => task === "zero-point-reset");
    expect(reset?.standing).toBe("required");
    const without: Job["vehicle"] = { features: { "electronic-stability-control": "not-available" } };
    expect(asked(operations, without)).toContain("Does the vehicle have a steering-angle sensor?");
  });

  it("put what decides over a sensor that looks ahead before comfort", () => {
    const glass = { id: "L1", action: "replace", component: "windshield" } as const;
    const sensors = asked([glass]);
    expect(sensors.indexOf("Does the vehicle have a forward camera?")).toBeLessThan(
      sensors.indexOf("Does the vehicle have a rain and light sensor?"),
    );
  });

  it("ask nothing of a line that only claims a scan", () => {
    const scanned = plan([{ id: "L1", action: "scan", component: "other", text: "Pre-repair scan" }]);
    expect(scanned.questions).toEqual([]);
    expect(scanned.unread).toEqual([]);
    expect(scanned.claimed.map(({ operation }) => operation)).toEqual(["L1"]);
  });
});

describe("the steps of a plan", () => {
  const lamps: Job["vehicle"] = {
    equipment: [
      { sensor: "adaptive-headlamp", fitted: "yes" },
      {
        sensor: "front-radar",
        fitted: "yes",
        mount: "front-bumper-reinforcement",
        looksThrough: "grille-emblem",
      },
    ],
    equipmentComplete: true,
  };
  const stagesOf = (...given: Parameters<typeof plan>): readonly string[] =>
    plan(...given).steps.map(({ id }) => id);

  it("aim an adaptive lamp once, and a plain one as a step of the job", () => {
    const lamp = { id: "L1", action: "replace", component: "headlamp", side: "left" } as const;
    expect(stagesOf([lamp], lamps)).not.toContain("headlamp-aim");
    expect(stagesOf([lamp], lamps)).toContain("adaptive-headlamp:left/aim");
    expect(stagesOf([lamp], { equipment: [], equipmentComplete: true })).toContain("headlamp-aim");
  });

  it("prepare no calibration where none is due", () => {
    const trim = { id: "L1", action: "remove-install", component: "door-trim", side: "left" } as const;
    expect(stagesOf([trim], lamps)).toEqual([
      "pre-repair-scan",
      "fitting",
      "road-test",
      "post-repair-scan",
      "record-and-release",
    ]);
    const brakes = {
      id: "L1",
      action: "inspect",
      component: "wheel-alignment",
      adjusted: ["nothing"],
    } as const;
    expect(stagesOf([{ ...brakes, adjusted: ["nothing"] }], lamps)).toContain("tyres-and-pressures");
  });

  it("read no paint over a radar that looks past the painted cover", () => {
    const paint = { id: "L1", action: "refinish", component: "front-bumper-cover" } as const;
    expect(plan([paint], lamps).steps.map(({ stage }) => stage)).not.toContain("film-thickness-reading");
    const behind: Job["vehicle"] = {
      equipment: [
        {
          sensor: "front-radar",
          fitted: "yes",
          mount: "front-structure",
          looksThrough: "front-bumper-cover",
        },
      ],
      equipmentComplete: true,
    };
    expect(plan([paint], behind).steps.map(({ stage }) => stage)).toContain("film-thickness-reading");
  });
});

describe("questions about the whole job", () => {
  it("come after those that settle something, the finding that could add most first", () => {
    const job: Job = {
      schema: "repair-calibration/job@1",
      reference: "RO-1",
      vehicle: {},
      operations: [{ id: "L1", action: "replace", component: "windshield" }],
    };
    const { questions } = planCalibrations(job, { rulebook });
    const settling = questions.map(({ settles }) => settles.length > 0);
    expect(settling).toEqual([...settling].sort((a, b) => Number(b) - Number(a)));
    const adding = questions
      .filter(({ settles }) => settles.length === 0)
      .map(({ about, couldAdd }) => ({ about, adds: couldAdd.length }));
    expect(adding.length).toBeGreaterThan(1);
    const counts = adding.map(({ adds }) => adds);
    expect(counts).toEqual([...counts].sort((a, b) => b - a));
    // Any sensor can have a fault code, while a wheel that was hit concerns the thrust line only.
    const places = ["/findings/faultCodes", "/findings/impactWheels"].map((about) =>
      adding.findIndex((each) => each.about === about),
    );
    expect(places[0]).toBeGreaterThanOrEqual(0);
    expect(places[1]).toBeGreaterThan(places[0] ?? -1);
  });
});

describe("a plan", () => {
  it("shares nothing with the next one that its reader could change", () => {
    const job: Job = {
      schema: "repair-calibration/job@1",
      reference: "RO-1",
      vehicle: {},
      operations: [{ id: "L1", action: "replace", component: "windshield" }],
    };
    const first = planCalibrations(job, { rulebook });
    const source = first.requirements[0]?.because[0]?.source;
    expect(source).toBeDefined();
    expect(() => Object.assign(source ?? {}, { cite: "Changed." })).toThrow(TypeError);
    expect(planCalibrations(job, { rulebook })).toEqual(first);
  });
});
