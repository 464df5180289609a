import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import { KEY_OF_FEATURE, VPIC_KEYS } from "../../src/intake/vpic-words.js";
import { vehicleFromVpic, type DecodedVehicle } from "../../src/intake/vpic.js";
import { readJob } from "../../src/job/index.js";
import { FEATURE_IDS, type FeatureId } from "../../src/vocabulary/index.js";
import { check } from "../properties.js";

const SAMPLE_VIN = "1G4AH59H45G118341"; // Of the regulation's own example: its check digit fits.

/** Reads a result on which only these keys say something. */
function read(values: Readonly<Record<string, string>>): DecodedVehicle {
  return vehicleFromVpic({ ErrorCode: "0", ...values });
}

function saysOf(decoded: DecodedVehicle, about: string): readonly string[] {
  return decoded.warnings.filter((each) => each.about === about).map(({ says }) => says);
}

function refusalOf(response: unknown): InputError {
  try {
    vehicleFromVpic(response);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("it was read");
}

describe("an answer in its envelope and the result alone", () => {
  const result = { ErrorCode: "0", Make: "ALCORA", Model: "Tresk", ModelYear: "2024", VIN: SAMPLE_VIN };

  it("say the same", () => {
    const enveloped = vehicleFromVpic({ Count: 1, Message: "", SearchCriteria: "", Results: [result] });
    expect(enveloped).toEqual(vehicleFromVpic(result));
    expect(enveloped.vehicle).toMatchObject({
      make: "ALCORA",
      model: "Tresk",
      modelYear: 2024,
      vin: SAMPLE_VIN,
    });
  });

  it("point to where a value stands", () => {
    const odd = { ...result, CIB: "Perhaps" };
    expect(vehicleFromVpic({ Results: [odd] }).warnings.map(({ about }) => about)).toEqual([
      "/Results/0/CIB",
    ]);
    expect(vehicleFromVpic(odd).warnings.map(({ about }) => about)).toEqual(["/CIB"]);
  });

  it("may hold keys that nobody knows yet, with any value", () => {
    expect(vehicleFromVpic({ ...result, NextYearsKey: { a: [1] } })).toEqual(vehicleFromVpic(result));
  });
});

describe("what is no answer", () => {
  it.each([
    ["nothing", undefined, "", "missing-key"],
    ["a text", "1G4AH59H45G118341", "", "wrong-type"],
    ["a list", [{ ErrorCode: "0" }], "", "wrong-type"],
    ["an answer without results", { Count: 0, Results: [] }, "/Results", "invalid-value"],
    ["results that are no list", { Results: { ErrorCode: "0" } }, "/Results", "wrong-type"],
    ["a result that is no object", { Results: ["0"] }, "/Results/0", "wrong-type"],
    ["several vehicles", { Results: [{ Make: "NORRVIK" }, { Make: "ALCORA" }] }, "/Results", "too-many"],
    ["an object of something else", { colour: "red" }, "", "missing-key"],
    ["a message of failure", { Results: [{ Message: "Execution error" }] }, "/Results/0", "missing-key"],
    ["a number for a text", { ErrorCode: "0", ModelYear: 2022 }, "/ModelYear", "wrong-type"],
    ["null for a text", { Results: [{ ErrorCode: "0", Make: null }] }, "/Results/0/Make", "wrong-type"],
    ["an endless text", { ErrorCode: "0", Make: "N".repeat(2001) }, "/Make", "invalid-value"],
  ])("%s is refused", (_, response, pointer, code) => {
    const { kind, issues } = refusalOf(response);
    expect(kind).toBe("input");
    expect(issues.map((issue) => [issue.pointer, issue.code])).toEqual([[pointer, code]]);
    expect(issues[0]?.expected).toBeDefined();
  });

  it("says which vehicle's answer it wants where there are several", () => {
    const [issue] = refusalOf({ Results: [{ Make: "NORRVIK" }, { Make: "ALCORA" }] }).issues;
    expect(issue?.message).toBe("the answer holds 2 results");
    expect(issue?.expected).toContain("exactly one");
  });

  it("recognises the long form, with an entry for each variable", () => {
    const entry = (Variable: string, Value: string | null) => ({ Variable, Value, VariableId: 1 });
    const [issue] = refusalOf({ Results: [entry("Make", "NORRVIK"), entry("Model", null)] }).issues;
    expect(issue?.message).toContain("long");
    expect(issue?.expected).toContain("flat");
  });

  it("finds the key that a misspelt one was meant to be", () => {
    expect(refusalOf({ errorcode: "0", make: "NORRVIK" }).issues[0]?.nearest).toBe("ErrorCode");
  });

  it("tells of every value that is no text at once", () => {
    const { issues } = refusalOf({ ErrorCode: 0, CIB: true, Make: "NORRVIK" });
    expect(issues.map(({ pointer }) => pointer).sort()).toEqual(["/CIB", "/ErrorCode"]);
  });
});

describe("features", () => {
  const keyed = FEATURE_IDS.flatMap((id): (readonly [FeatureId, string])[] => {
    const key = KEY_OF_FEATURE[id];
    return key === null ? [] : [[id, key]];
  });

  it.each(keyed)("%s is read from %s, and from nothing else", (id, key) => {
    const { vehicle, warnings } = read({ [key]: "Standard" });
    expect(warnings).toEqual([]);
    const rest = keyed.map(([each]) => [each, each === id ? "standard" : "unknown"]);
    expect(vehicle.features).toEqual(Object.fromEntries(rest));
    expect(vehicle.equipment).toBeUndefined();
  });

  it.each([
    ["Standard", "standard"],
    ["Optional", "optional"],
    ["Not Available", "not-available"],
    ["", "unknown"],
    [" Standard ", "standard"],
  ])("the value %j is %s, without a warning", (text, value) => {
    const { vehicle, warnings } = read({ LaneKeepSystem: text });
    expect(vehicle.features?.["lane-keeping-assistance"]).toBe(value);
    expect(warnings).toEqual([]);
  });

  it.each(["Not Applicable", "standard", "STANDARD", "Yes", "Standard on some trims", "constructor"])(
    "the value %j is unknown, and said",
    (text) => {
      const decoded = read({ LaneKeepSystem: text });
      expect(decoded.vehicle.features?.["lane-keeping-assistance"]).toBe("unknown");
      expect(saysOf(decoded, "/LaneKeepSystem")).toEqual([
        `What "${text}" means here is not known; it counts as unknown.`,
      ]);
    },
  );

  it.each([
    ["Direct", "direct"],
    ["Indirect", "indirect"],
  ])("tyre-pressure monitoring of the kind %s is there, and of that kind", (text, variant) => {
    const { vehicle, warnings } = read({ TPMS: text });
    expect(vehicle.features?.["tyre-pressure-monitoring"]).toBe("standard");
    expect(vehicle.equipment).toEqual([{ sensor: "tyre-pressure-sensors", fitted: "yes", variant }]);
    expect(warnings).toEqual([]);
  });

  it("never name another sensor, whatever is standard", () => {
    const all = Object.fromEntries(keyed.map(([, key]) => [key, "Standard"]));
    expect(read(all).vehicle.equipment).toBeUndefined();
    expect(read({ ...all, TPMS: "Direct" }).vehicle.equipment).toHaveLength(1);
  });
});

describe("the VIN", () => {
  it("is taken over where it is one", () => {
    const decoded = read({ VIN: ` ${SAMPLE_VIN.toLowerCase()} ` });
    expect(decoded.vehicle.vin).toBe(SAMPLE_VIN);
    expect(decoded.warnings).toEqual([]);
  });

  it.each([
    ["with an asterisk for a character not given", "1G4AH59H*5G118341"],
    ["cut after the model year and the plant", "1G4AH59H*5G"],
    ["with an exclamation mark for a wrong character", "1G4AH!9H45G118341"],
    ["one character short", "1G4AH59H45G11834"],
    ["with the letter O", "1G4AH59H45GO18341"],
    ["that is much too long", `99999999999${SAMPLE_VIN}`],
  ])("%s is left out, and said", (_, VIN) => {
    const decoded = read({ VIN });
    expect(decoded.vehicle).not.toHaveProperty("vin");
    expect(saysOf(decoded, "/VIN")).toHaveLength(1);
  });

  // Position 9 of the sample must be 4.
  const wrong = "1G4AH59H55G118341";

  it("with a check digit that does not fit stays, and the error code warns", () => {
    const decoded = vehicleFromVpic({ ErrorCode: "1", VIN: wrong, Make: "NORRVIK" });
    expect(decoded.vehicle).toMatchObject({ vin: wrong, make: "NORRVIK" });
    expect(decoded.clean).toBe(false);
    expect(saysOf(decoded, "/ErrorCode")[0]).toContain("check digit");
  });

  it("is left out where it cannot be right, since the market binds the check digit", () => {
    const decoded = read({ VIN: wrong, DestinationMarket: "California" });
    expect(decoded.vehicle).toMatchObject({ market: "us" });
    expect(decoded.vehicle).not.toHaveProperty("vin");
    expect(saysOf(decoded, "/VIN")[0]).toContain("position 9");
  });

  it("is never replaced by the one that the decoder suggests", () => {
    const decoded = read({ VIN: "1G4AH59H*5G118341", SuggestedVIN: SAMPLE_VIN });
    expect(decoded.vehicle).not.toHaveProperty("vin");
    expect(JSON.stringify(decoded)).not.toContain(SAMPLE_VIN);
    expect(saysOf(decoded, "/SuggestedVIN")).toHaveLength(1);
  });
});

describe("error codes", () => {
  it.each(["1", "2", "3", "4", "5", "6", "7", "8", "11", "14", "400"])("%s has words of its own", (code) => {
    const decoded = read({ ErrorCode: code });
    expect(decoded.clean).toBe(false);
    expect(saysOf(decoded, "/ErrorCode")).toEqual([
      expect.stringMatching(new RegExp(`^Error code ${code}\\. [A-Z].{20,}\\.$`)),
    ]);
  });

  it.each(["9", "10", "12", "01", "0x0", "6 - Incomplete VIN"])("%s is not known, and said", (code) => {
    const decoded = read({ ErrorCode: code });
    expect(decoded.clean).toBe(false);
    expect(saysOf(decoded, "/ErrorCode")).toEqual([
      `The error code "${code}" is not known here; the decoder's own text says more.`,
    ]);
  });

  it.each([
    ["0", true, 0],
    [" 0 ", true, 0],
    ["0,0", true, 0],
    ["0,1", false, 1],
    ["1, 7,400", false, 3],
    ["1,1", false, 1],
  ])("the list %j is clean: %s", (codes, clean, warnings) => {
    const decoded = read({ ErrorCode: codes });
    expect(decoded.clean).toBe(clean);
    expect(decoded.warnings).toHaveLength(warnings);
  });

  it.each([
    ["left out", { Make: "NORRVIK" }],
    ["empty", { Make: "NORRVIK", ErrorCode: "" }],
    ["a comma", { Make: "NORRVIK", ErrorCode: "," }],
  ])("that are %s prove nothing clean", (_, result) => {
    const decoded = vehicleFromVpic(result);
    expect(decoded.clean).toBe(false);
    expect(saysOf(decoded, "/ErrorCode")).toHaveLength(1);
  });
});

describe("the model year", () => {
  it.each(["22", "20222", "2022.0", "1885", "2201", "MMXXII", "-2022", "2e3 ", "٢٠٢٢"])(
    "%j is none",
    (ModelYear) => {
      const decoded = read({ ModelYear });
      expect(decoded.vehicle).not.toHaveProperty("modelYear");
      expect(saysOf(decoded, "/ModelYear")).toHaveLength(1);
    },
  );

  it.each(["8", "11", "6,11,14"])("is not relied on with error %s", (ErrorCode) => {
    const decoded = read({ ErrorCode, ModelYear: "2001" });
    expect(decoded.vehicle).not.toHaveProperty("modelYear");
    expect(saysOf(decoded, "/ModelYear")[0]).toContain("2001");
  });

  it.each(["1", "5,6,14", "7"])("is kept with error %s", (ErrorCode) => {
    expect(read({ ErrorCode, ModelYear: "2022" }).vehicle.modelYear).toBe(2022);
  });
});

describe("the wheelbase", () => {
  it.each([
    ["106.30", "", 2700], // 2700.02
    ["106.3", "106.30", 2700], // Both ends of the range are one length.
    ["112", "", 2845], // 2844.8
    ["118.5", "118.5", 3010], // 3009.9
  ])("%s to %j in is %s mm", (WheelBaseShort, WheelBaseLong, wheelbase) => {
    const { vehicle, warnings } = read({ WheelBaseShort, WheelBaseLong });
    expect(vehicle.dimensions).toEqual({ wheelbase });
    expect(warnings).toEqual([]);
  });

  it.each([
    ["121.0", "144.0", "/WheelBaseShort"],
    ["", "144.0", "/WheelBaseLong"],
    ["2700", "", "/WheelBaseShort"], // Millimetres, most likely: as inches it would be 68 m.
    ["2.7", "", "/WheelBaseShort"], // Metres.
    ["106,30", "", "/WheelBaseShort"],
    ["about 106", "", "/WheelBaseShort"],
    ["106.30", "long", "/WheelBaseShort"],
  ])("%j to %j is left out, and said", (WheelBaseShort, WheelBaseLong, about) => {
    const decoded = read({ WheelBaseShort, WheelBaseLong });
    expect(decoded.vehicle).not.toHaveProperty("dimensions");
    expect(saysOf(decoded, about)).toHaveLength(1);
  });

  it("comes without tracks: one width does not say whose", () => {
    const decoded = read({ WheelBaseShort: "106.30", TrackWidth: "61.5" });
    expect(decoded.vehicle.dimensions).toEqual({ wheelbase: 2700 });
    expect(saysOf(decoded, "/TrackWidth")).toHaveLength(1);
  });
});

describe("the class of the vehicle", () => {
  const MPV = "MULTIPURPOSE PASSENGER VEHICLE (MPV)";
  const UP_TO_10000 = "Class 2H: 9,001 - 10,000 lb (4,082 - 4,536 kg)";
  const OVER_10000 = "Class 3: 10,001 - 14,000 lb (4,536 - 6,350 kg)";

  it.each([
    ["PASSENGER CAR", "", "", "passenger-car"],
    ["PASSENGER CAR", OVER_10000, "", "passenger-car"],
    [MPV, "Class 1D: 5,001 - 6,000 lb (2,268 - 2,722 kg)", "", "light-multipurpose-or-truck"],
    [MPV, UP_TO_10000, UP_TO_10000, "light-multipurpose-or-truck"],
    ["TRUCK", "Class 1: 6,000 lb or less (2,722 kg or less)", UP_TO_10000, "light-multipurpose-or-truck"],
    ["TRUCK", OVER_10000, "", "other"],
    ["TRUCK", UP_TO_10000, OVER_10000, undefined],
    ["TRUCK", "", "", undefined],
    ["TRUCK", "10000", "", undefined],
    [MPV, UP_TO_10000, "about 10,000 lb", undefined],
    ["MOTORCYCLE", "", "", "other"],
    ["BUS", "", "", "other"],
    ["TRAILER", "", "", "other"],
    ["", UP_TO_10000, "", undefined],
  ])("%s of %j to %j is %s", (VehicleType, GVWR, GVWR_to, expected) => {
    const { vehicle, warnings } = read({ VehicleType, GVWR, GVWR_to });
    expect(vehicle.vehicleClass).toBe(expected);
    expect(warnings).toEqual([]);
  });

  it.each(["INCOMPLETE VEHICLE", "LOW SPEED VEHICLE (LSV)", "OFF ROAD VEHICLE", "SPACESHIP"])(
    "%s is left open, and said",
    (VehicleType) => {
      const decoded = read({ VehicleType, GVWR: UP_TO_10000 });
      expect(decoded.vehicle).not.toHaveProperty("vehicleClass");
      expect(saysOf(decoded, "/VehicleType")).toHaveLength(1);
    },
  );
});

describe("drive side and market", () => {
  it.each([
    ["Left-Hand Drive (LHD)", "left"],
    ["Left Hand Drive (LHD)", "left"],
    ["Right-Hand Drive (RHD)", "right"],
  ])("%s is %s", (SteeringLocation, side) => {
    expect(read({ SteeringLocation }).vehicle.driveSide).toBe(side);
  });

  it("are left out where they are not stated, or not in words known here", () => {
    expect(read({ SteeringLocation: "", DestinationMarket: "" })).toMatchObject({ warnings: [] });
    const decoded = read({ SteeringLocation: "Dual", DestinationMarket: "World" });
    expect(decoded.vehicle).not.toHaveProperty("driveSide");
    expect(decoded.vehicle).not.toHaveProperty("market");
    expect(decoded.warnings.map(({ about }) => about).sort()).toEqual([
      "/DestinationMarket",
      "/SteeringLocation",
    ]);
  });

  it("do not follow from where the vehicle was made", () => {
    const { vehicle } = read({ PlantCountry: "UNITED STATES (USA)", Manufacturer: "NORRVIK" });
    expect(Object.keys(vehicle)).toEqual(["features"]);
  });
});

describe("free text", () => {
  it.each(["ActiveSafetySysNote", "AdditionalErrorText"])("of %s is handed on to be read", (key) => {
    const decoded = read({ [key]: "Blind spot warning with package B" });
    expect(saysOf(decoded, `/${key}`)[0]).toContain("Blind spot warning with package B");
    expect(decoded.vehicle).toEqual(read({}).vehicle);
  });
});

describe("whatever comes in", () => {
  const WORDS = ["", "0", "1", "Standard", "Not Applicable", "Direct", "2022", "106.30", "PASSENGER CAR"];
  const value = fc.oneof(
    fc.constantFrom(...WORDS, SAMPLE_VIN, "1G4AH59H*5G118341", "California", "Class 1: x", "constructor"),
    fc.string({ maxLength: 30, unit: "binary" }),
    fc.double().map(String),
  );
  const result = fc.dictionary(fc.constantFrom(...VPIC_KEYS), value, { minKeys: 1, noNullPrototype: true });

  it("of texts gives a vehicle that a job can hold", () => {
    check(
      fc.property(result, (values) => {
        const { vehicle, warnings } = vehicleFromVpic({ Results: [values] });
        const job = { schema: "repair-calibration/job@1", reference: "RO-1", vehicle, operations: [] };
        expect(() => readJob(JSON.parse(JSON.stringify(job)))).not.toThrow();
        for (const { about } of warnings)
          expect(VPIC_KEYS.map((key) => `/Results/0/${key}`)).toContain(about);
      }),
      500,
    );
  });

  it("of texts never turns a silent feature into an absent one", () => {
    check(
      fc.property(result, (values) => {
        const { features } = vehicleFromVpic(values).vehicle;
        for (const id of FEATURE_IDS) {
          const key = KEY_OF_FEATURE[id];
          if (key === null) expect(features).not.toHaveProperty(id);
          else if ((values[key] ?? "").trim() === "") expect(features?.[id]).toBe("unknown");
        }
      }),
    );
  });

  it("is read the same way whatever the order of its keys", () => {
    check(
      fc.property(result, (values) => {
        const turned = Object.fromEntries(Object.entries(values).reverse());
        expect(vehicleFromVpic(turned)).toEqual(vehicleFromVpic(values));
      }),
    );
  });

  it("is read or refused, and never changes what it was given", () => {
    const anything = fc.anything({
      withBigInt: true,
      withDate: true,
      withNullPrototype: true,
      withMap: true,
    });
    const near = fc.record({ Results: fc.array(anything, { maxLength: 2 }) });
    const nearer = fc.dictionary(fc.constantFrom(...VPIC_KEYS, "Results", "toString"), anything);
    check(
      fc.property(fc.oneof(anything, near, nearer), (response) => {
        const before = fc.stringify(response);
        try {
          vehicleFromVpic(response);
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
        }
        expect(fc.stringify(response)).toBe(before);
      }),
      1000,
    );
  });

  it.each([
    '{ "ErrorCode": "0", "__proto__": { "make": "polluted" } }',
    '{ "Results": [{ "ErrorCode": "0", "constructor": { "prototype": { "make": "polluted" } } }] }',
    '{ "ErrorCode": "0", "extra": { "__proto__": { "make": "polluted" } } }',
  ])("cannot reach what all objects share: %s", (text) => {
    expect(refusalOf(JSON.parse(text)).issues[0]?.code).toBe("forbidden-key");
    expect(Object.prototype).not.toHaveProperty("make");
  });

  it("that is nested without end is refused", () => {
    const endless: Record<string, unknown> = { ErrorCode: "0" };
    endless["again"] = endless;
    expect(refusalOf(endless).issues.map(({ code }) => code)).toEqual(["too-deep"]);
  });
});
