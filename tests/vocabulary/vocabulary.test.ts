import { describe, expect, it } from "vitest";
import * as vocabulary from "../../src/vocabulary/index.js";
import type {
  FaultMeaning,
  FeatureTerm,
  PositionId,
  SensorId,
  SensorTerm,
  Term,
} from "../../src/vocabulary/index.js";

const {
  ACTION_IDS,
  CAUTIONS,
  CLAIM_ACTIONS,
  COMPONENTS,
  COMPONENT_ALIASES,
  COMPONENT_IDS,
  DISTURBANCE_IDS,
  EVIDENCE_IDS,
  FEATURES,
  FEATURE_IDS,
  HOLDS,
  HOLD_IDS,
  INSPECTIONS,
  LOOK_IDS,
  MOUNT_IDS,
  MOUNT_PLACES,
  MOUNT_PLACES_WITHOUT_MEANING,
  POSITION_IDS,
  PRECONDITION_IDS,
  SENSORS,
  SENSOR_IDS,
  STAGE_IDS,
  STANDING_IDS,
  TASK_IDS,
  ZONE_IDS,
  acceptsPosition,
  failureTypeOf,
  featuresServedBy,
  isStronger,
  meaningOfFailureType,
  mountsOf,
  positionsOf,
  strongest,
  zonesOf,
  zonesToAskAbout,
} = vocabulary;

const TERM_SETS: Readonly<Record<string, Readonly<Record<string, Term>>>> = {
  ACTIONS: vocabulary.ACTIONS,
  COMPONENTS,
  DISTURBANCES: vocabulary.DISTURBANCES,
  EVIDENCE: vocabulary.EVIDENCE,
  FAULT_MEANINGS: vocabulary.FAULT_MEANINGS,
  FEATURES,
  HOLDS,
  INSPECTIONS,
  MARKETS: vocabulary.MARKETS,
  METHODS: vocabulary.METHODS,
  POSITIONS: vocabulary.POSITIONS,
  PRECONDITIONS: vocabulary.PRECONDITIONS,
  SENSORS,
  STAGES: vocabulary.STAGES,
  STANDINGS: vocabulary.STANDINGS,
  TASKS: vocabulary.TASKS,
  ZONES: vocabulary.ZONES,
};

const ONE_SENTENCE = /^[A-Z0-9][^.!?]*\.$/;
const KEBAB = /^[a-z0-9]+(-[a-z0-9]+)*$/;

describe("every closed set", () => {
  it.each(Object.keys(TERM_SETS))("%s gives each id a label and one sentence of meaning", (name) => {
    const entries = Object.entries(TERM_SETS[name] ?? {});
    expect(entries.length).toBeGreaterThan(0);
    for (const [id, term] of entries) {
      expect(id).toMatch(KEBAB);
      expect(term.label.trim(), id).toBe(term.label);
      expect(term.label, id).not.toBe("");
      expect(term.meaning, id).toMatch(ONE_SENTENCE);
    }
  });

  it.each(Object.keys(TERM_SETS))("%s uses no label twice", (name) => {
    const labels = Object.values(TERM_SETS[name] ?? {}).map((term) => term.label);
    expect(labels.filter((label, index) => labels.indexOf(label) !== index)).toEqual([]);
  });

  it("holds and inspections say in a sentence what clears them, what to look at and what fails", () => {
    for (const [id, hold] of Object.entries(HOLDS)) expect(hold.clearedBy, id).toMatch(ONE_SENTENCE);
    for (const [id, inspection] of Object.entries(INSPECTIONS)) {
      expect(inspection.lookAt, id).toMatch(ONE_SENTENCE);
      expect(inspection.failsWhen, id).toMatch(ONE_SENTENCE);
    }
  });

  it("has the number of members that the trade list has", () => {
    expect(SENSOR_IDS).toHaveLength(22);
    expect(ACTION_IDS).toHaveLength(18);
    expect(DISTURBANCE_IDS).toHaveLength(22);
    expect(PRECONDITION_IDS).toHaveLength(32);
    expect(FEATURE_IDS).toHaveLength(24);
    expect(HOLD_IDS).toHaveLength(21);
    expect(EVIDENCE_IDS).toHaveLength(20);
    expect(TASK_IDS).toHaveLength(7);
    expect(ZONE_IDS).toEqual(["front", "rear", "left", "right", "roof", "underside"]);
  });

  it("counts a claim as an action of its own", () => {
    expect(CLAIM_ACTIONS).toEqual(["calibrate", "scan"]);
  });

  it("prints each caution once", () => {
    expect(new Set(CAUTIONS.map((caution) => caution.id)).size).toBe(9);
    for (const { id, text } of CAUTIONS) expect(text, id).toMatch(/^[A-Z].*\.$/);
  });
});

describe("sensors", () => {
  const AIM_CRITICAL: readonly SensorId[] = [
    "forward-camera",
    "front-radar",
    "front-corner-radar",
    "rear-corner-radar",
    "lidar",
    "night-vision-camera",
  ];

  it("are aim-critical exactly where the pointing error grows with range", () => {
    expect(SENSOR_IDS.filter((id) => SENSORS[id].aimCritical)).toEqual(AIM_CRITICAL);
  });

  it("have these positions, and only these", () => {
    const positioned: Partial<Record<SensorId, readonly PositionId[]>> = {
      "front-corner-radar": ["left", "right"],
      "rear-corner-radar": ["left", "right"],
      "surround-camera": ["front", "left", "right", "rear"],
      "side-camera": ["front-left", "front-right", "rear-left", "rear-right"],
      "mirror-replacement-camera": ["left", "right"],
      "parking-sensors": ["front", "rear"],
      "ride-height-sensor": ["front", "rear"],
      "adaptive-headlamp": ["left", "right"],
      "occupant-classification-sensor": ["passenger"],
    };
    for (const id of SENSOR_IDS) expect(positionsOf(id), id).toEqual(positioned[id] ?? [null]);
  });

  it("accept the rare position when it is stated, and no foreign one", () => {
    expect(acceptsPosition("occupant-classification-sensor", "driver")).toBe(true);
    expect(acceptsPosition("occupant-classification-sensor", "left")).toBe(false);
    expect(acceptsPosition("front-radar", "left")).toBe(false);
    expect(acceptsPosition("surround-camera", "rear")).toBe(true);
    expect(acceptsPosition("surround-camera", null)).toBe(true);
  });

  it("have a mount at every position, and name positions only that they have", () => {
    for (const id of SENSOR_IDS) {
      const term: SensorTerm = SENSORS[id];
      for (const position of positionsOf(id))
        expect(mountsOf(id, position), `${id} ${position}`).not.toEqual([]);
      for (const key of [...Object.keys(term.mounts), ...Object.keys(term.zones)]) {
        expect(["any", ...term.positions], id).toContain(key);
      }
    }
  });

  it("are fastened to a component or to a place that stands for several", () => {
    const known: ReadonlySet<string> = new Set([...COMPONENT_IDS, ...MOUNT_PLACES]);
    expect(MOUNT_IDS.filter((mount) => !known.has(mount))).toEqual([]);
    expect(MOUNT_PLACES.filter((place) => place in COMPONENTS)).toEqual([]);
  });

  it("use every mount and every look-through at least once", () => {
    const used = new Set(SENSOR_IDS.flatMap((id) => mountsOf(id, null)));
    expect(MOUNT_IDS.filter((mount) => !used.has(mount))).toEqual([]);
    const seenThrough = new Set<string>(SENSOR_IDS.flatMap((id) => SENSORS[id].looksThrough));
    expect(LOOK_IDS.filter((look) => !seenThrough.has(look))).toEqual([]);
    expect(LOOK_IDS.filter((look) => look !== "nothing" && !(look in COMPONENTS))).toEqual([]);
  });

  it("take a centre console as a place that says nothing about the mount", () => {
    expect(MOUNT_PLACES_WITHOUT_MEANING).toEqual(["centre-console"]);
    expect(MOUNT_IDS).not.toContain("centre-console");
  });

  it("keep the mounts of one position apart from those of another", () => {
    expect(mountsOf("surround-camera", "left")).toEqual(["door-mirror"]);
    expect(mountsOf("surround-camera", "front")).toEqual(["grille", "front-bumper-cover"]);
    expect(mountsOf("surround-camera", "rear")).not.toContain("door-mirror");
    expect(mountsOf("parking-sensors", "rear")).toEqual(["rear-bumper-cover"]);
    expect(mountsOf("parking-sensors", null)).toEqual(["front-bumper-cover", "rear-bumper-cover"]);
    expect(mountsOf("side-camera", "rear-right")).toEqual(["fender", "b-pillar", "door-mirror"]);
    expect(mountsOf("ride-height-sensor", "front")).not.toContain("rear-axle");
  });

  it("are concerned by an impact in their own zones", () => {
    expect(zonesOf("front-corner-radar", "left")).toEqual(["front", "left"]);
    expect(zonesOf("rear-corner-radar", "right")).toEqual(["rear", "right"]);
    expect(zonesOf("side-camera", "front-left")).toEqual(["left"]);
    expect(zonesOf("surround-camera", "rear")).toEqual(["rear"]);
    expect(zonesOf("ride-height-sensor", "rear")).toEqual(["underside"]);
    expect(zonesOf("steering-angle-sensor", null)).toEqual([]);
    expect(zonesOf("tyre-pressure-sensors", null)).toEqual([]);
  });

  it("behind the windshield are concerned by a front impact only when asked", () => {
    for (const id of ["forward-camera", "rain-light-sensor", "head-up-display"] as const) {
      expect(zonesOf(id, null), id).toEqual(["roof"]);
      expect(zonesToAskAbout(id), id).toEqual(["front"]);
    }
    expect(zonesToAskAbout("front-radar")).toEqual([]);
  });

  it("of direct pressure monitoring are relearned, indirect monitoring is initialised", () => {
    expect(SENSORS["tyre-pressure-sensors"].taskByVariant).toEqual({
      direct: "relearn",
      indirect: "initialisation",
    });
  });
});

describe("components", () => {
  it("that are structural are welded, the bolted front-end carrier excepted", () => {
    const structural = COMPONENT_IDS.filter((id) => COMPONENTS[id].structural);
    expect([...structural].sort()).toEqual([
      "a-pillar",
      "apron",
      "b-pillar",
      "cowl",
      "floor-pan",
      "front-end-carrier",
      "front-rail",
      "quarter-panel",
      "rear-body-panel",
      "rear-floor",
      "rear-rail",
      "rocker",
      "roof-header",
      "roof-panel",
    ]);
    expect(structural.filter((id) => COMPONENTS[id].attachment !== "welded")).toEqual(["front-end-carrier"]);
    expect(
      COMPONENT_IDS.filter((id) => COMPONENTS[id].attachment === "welded" && !COMPONENTS[id].structural),
    ).toEqual([]);
  });

  it("that are bonded are fixed glass and the bracket on it", () => {
    expect(COMPONENT_IDS.filter((id) => COMPONENTS[id].attachment === "bonded")).toEqual([
      "windshield",
      "camera-bracket",
      "rear-glass",
      "quarter-glass",
    ]);
  });

  it("carry a side or an axle where there is one on each", () => {
    expect(COMPONENTS["door-mirror"]).toMatchObject({ sided: true, axled: false });
    expect(COMPONENTS.strut).toMatchObject({ sided: true, axled: true });
    expect(COMPONENTS.subframe).toMatchObject({ sided: false, axled: true });
    expect(COMPONENTS["interior-mirror"]).toMatchObject({ sided: false, axled: false });
    expect(COMPONENTS.sensor).toMatchObject({ sided: false, axled: false });
  });

  it("leave left and right to the operation's side", () => {
    for (const id of COMPONENT_IDS) {
      expect(COMPONENTS[id].zones, id).not.toContain("left");
      expect(COMPONENTS[id].zones, id).not.toContain("right");
    }
  });

  it("have other names that lead to a component and are no component themselves", () => {
    for (const [alias, id] of Object.entries(COMPONENT_ALIASES)) {
      expect(alias).toMatch(KEBAB);
      expect(COMPONENT_IDS, alias).toContain(id);
      expect(COMPONENT_IDS, alias).not.toContain(alias);
    }
    expect(COMPONENT_ALIASES["spiral-cable"]).toBe("clock-spring");
    expect(COMPONENT_ALIASES.windscreen).toBe("windshield");
    expect(COMPONENT_ALIASES["license-plate-bracket"]).toBe("licence-plate-bracket");
  });
});

describe("standings", () => {
  it("are ordered from required down to undetermined", () => {
    expect(STANDING_IDS).toEqual(["required", "presumed", "inspect-first", "undetermined"]);
    expect(isStronger("required", "presumed")).toBe(true);
    expect(isStronger("inspect-first", "undetermined")).toBe(true);
    expect(isStronger("presumed", "presumed")).toBe(false);
    expect(isStronger("undetermined", "required")).toBe(false);
  });

  it("give up the strongest of several, whatever their order", () => {
    expect(strongest(["undetermined", "presumed", "inspect-first"])).toBe("presumed");
    expect(strongest(["inspect-first", "required"])).toBe("required");
    expect(strongest([])).toBeNull();
  });
});

describe("features", () => {
  it("point to sensors and positions that exist", () => {
    for (const id of FEATURE_IDS) {
      const feature: FeatureTerm = FEATURES[id];
      for (const group of feature.servedBy) expect(group, id).not.toEqual([]);
      for (const member of [...feature.servedBy.flat(), ...(feature.canBeServedBy ?? [])]) {
        expect(SENSOR_IDS, id).toContain(member.sensor);
        for (const position of member.positions ?? []) {
          expect(POSITION_IDS, id).toContain(position);
          expect(positionsOf(member.sensor), `${id} ${member.sensor}`).toContain(position);
        }
      }
    }
  });

  it("prove something exactly where they have groups", () => {
    for (const id of FEATURE_IDS) {
      const feature: FeatureTerm = FEATURES[id];
      expect(feature.proves, id).toBe(feature.servedBy.length > 0);
    }
    expect(FEATURE_IDS.filter((id) => !FEATURES[id].proves)).toEqual(["semiautomatic-beam-switching"]);
  });

  it("ask for one of several sensors, or for each of several", () => {
    const sensorsOf = (feature: FeatureTerm): string[][] =>
      feature.servedBy.map((group) => group.map((member) => member.sensor));
    expect(sensorsOf(FEATURES["crash-imminent-braking"])).toEqual([
      ["front-radar", "forward-camera", "lidar"],
    ]);
    expect(sensorsOf(FEATURES["electronic-stability-control"])).toEqual([
      ["steering-angle-sensor"],
      ["inertial-sensor"],
    ]);
    expect(FEATURES["surround-view"].servedBy).toHaveLength(4);
    expect(FEATURES["rear-cross-traffic-alert"].servedBy).toHaveLength(2);
  });

  it("are lost with the sensor that can serve them", () => {
    expect(featuresServedBy("rear-corner-radar", "left")).toEqual([
      "blind-spot-warning",
      "blind-spot-intervention",
      "rear-cross-traffic-alert",
      "rear-automatic-emergency-braking",
    ]);
    expect(featuresServedBy("surround-camera", "rear")).toEqual([
      "backup-camera",
      "surround-view",
      "parking-assist",
    ]);
    expect(featuresServedBy("surround-camera", "left")).toEqual(["surround-view", "parking-assist"]);
    expect(featuresServedBy("parking-sensors", "front")).toEqual(["parking-assist"]);
    expect(featuresServedBy("parking-sensors", null)).toEqual([
      "rear-automatic-emergency-braking",
      "parking-assist",
    ]);
    expect(featuresServedBy("forward-camera", null)).toContain("semiautomatic-beam-switching");
    expect(featuresServedBy("head-up-display", null)).toEqual([]);
  });
});

describe("fault codes", () => {
  // SAE J2012-DA bytes as public tables quote them; 0x56 from memory.
  const TABLE: readonly (readonly [number, FaultMeaning])[] = [
    [0x54, "not-calibrated"],
    [0x78, "misaligned"],
    [0x76, "wrong-mounting-position"],
    [0x95, "wrong-mounting-position"],
    [0x51, "not-configured"],
    [0x55, "not-configured"],
    [0x56, "not-configured"],
    [0x57, "not-configured"],
    [0x97, "blocked"],
    [0x46, "other"],
    [0x4a, "other"],
    [0x96, "other"],
    [0x77, "other"],
    [0x00, "other"],
  ];

  it.each(TABLE)("byte %i means %s", (byte, meaning) => {
    expect(meaningOfFailureType(byte)).toBe(meaning);
  });

  it("gives a meaning of its own to exactly nine of the 256 bytes", () => {
    const own = Array.from({ length: 256 }, (_, byte) => byte).filter(
      (byte) => meaningOfFailureType(byte) !== "other",
    );
    expect(own).toEqual([0x51, 0x54, 0x55, 0x56, 0x57, 0x76, 0x78, 0x95, 0x97]);
  });

  it("reads hexadecimal, not decimal, and only where the code carries the byte", () => {
    expect(failureTypeOf("C1A67-54")).toBe(84);
    expect(failureTypeOf("c1a67-4a")).toBe(0x4a);
    expect(failureTypeOf(" U3006-97 ")).toBe(151);
    expect(failureTypeOf("C1A67-00")).toBe(0);
    expect(failureTypeOf("C1A67")).toBeNull();
    expect(failureTypeOf("C1A67-")).toBeNull();
    expect(failureTypeOf("C1A67-5")).toBeNull();
    expect(failureTypeOf("C1A67-540")).toBeNull();
    expect(failureTypeOf("X1A67-54")).toBeNull();
    expect(failureTypeOf("54")).toBeNull();
    expect(failureTypeOf("")).toBeNull();
  });
});

describe("stages", () => {
  it("follow one another as the work does", () => {
    const at = (id: (typeof STAGE_IDS)[number]): number => STAGE_IDS.indexOf(id);
    expect(STAGE_IDS).toHaveLength(34);
    expect(at("pre-repair-scan")).toBe(0);
    expect(at("ride-height-measurement")).toBeLessThan(at("wheel-alignment"));
    expect(at("wheel-alignment")).toBeLessThan(at("steering-angle-zero-point"));
    expect(at("steering-angle-zero-point")).toBeLessThan(at("static-calibration"));
    expect(at("static-calibration")).toBeLessThan(at("headlamp-aim"));
    expect(at("headlamp-aim")).toBeLessThan(at("dynamic-calibration"));
    expect(at("dynamic-calibration")).toBeLessThan(at("post-repair-scan"));
    expect(at("record-and-release")).toBe(STAGE_IDS.length - 1);
  });
});
