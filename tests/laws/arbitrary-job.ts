import fc from "fast-check";
import type { Job } from "../../src/index.js";
import {
  ACTION_IDS,
  COMPONENTS,
  COMPONENT_ALIASES,
  COMPONENT_IDS,
  FEATURE_IDS,
  FEATURE_VALUES,
  MARKET_IDS,
  PRECISE_MOUNTS,
  SENSORS,
  SENSOR_IDS,
  ZONE_IDS,
  mountsOf,
  partsOfMount,
  positionsOf,
  type ComponentId,
  type ComponentTerm,
  type FeatureId,
  type FeatureValue,
  type MountId,
  type PositionId,
  type PreciseMount,
  type SensorId,
  type SensorTerm,
} from "../../src/vocabulary/index.js";

export type Operation = Job["operations"][number];
export type Equipment = NonNullable<Job["vehicle"]["equipment"]>[number];
export type Findings = NonNullable<Job["findings"]>;

/** A value that is stated more often than not; otherwise it is stated to be unknown, or left out. */
function maybe<T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | "unknown" | undefined> {
  return fc.oneof(
    { weight: 4, arbitrary: value },
    { weight: 1, arbitrary: fc.constant("unknown" as const) },
    { weight: 1, arbitrary: fc.constant(undefined) },
  );
}

const yesNo = fc.constantFrom("yes" as const, "no" as const);
const sideWord = fc.constantFrom("left" as const, "right" as const);
const axleWord = fc.constantFrom("front" as const, "rear" as const);

/** Left-out fields are left out, not written as undefined, as in a document. */
function compact<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as T;
}

/** A sensor at one of its places, or at none in particular. */
const place: fc.Arbitrary<{ readonly sensor: SensorId; readonly position: PositionId | null }> = fc
  .constantFrom(...SENSOR_IDS)
  .chain((sensor) => fc.constantFrom(...positionsOf(sensor), null).map((position) => ({ sensor, position })));

/** Parts that rules say much about come more often than the rest. */
const component: fc.Arbitrary<ComponentId> = fc.oneof(
  fc.constantFrom<ComponentId>(
    "windshield",
    "front-bumper-cover",
    "front-bumper-reinforcement",
    "front-bumper-assembly",
    "grille",
    "front-end-carrier",
    "fender",
    "headlamp",
    "door-mirror",
    "front-door",
    "rear-bumper-cover",
    "quarter-panel",
    "liftgate",
    "rear-lamp",
    "subframe",
    "control-arm",
    "spring",
    "knuckle",
    "steering-column",
    "steering-gear",
    "front-seat",
    "instrument-panel",
    "headliner",
    "battery-12v",
    "restraint-module",
    "driver-assistance-module",
    "wheel",
    "tyre",
  ),
  fc.constantFrom(
    ...COMPONENT_IDS.filter(
      (each) => !["sensor", "sensor-bracket", "other", "wheel-alignment"].includes(each),
    ),
  ),
);

const action = fc.oneof(
  fc.constantFrom("replace" as const, "remove-install" as const, "repair" as const, "refinish" as const),
  fc.constantFrom(...ACTION_IDS),
);

const dependentWork = fc.option(
  fc.array(
    fc.record({
      action: fc.constantFrom("remove-install" as const, "disconnect" as const, "adjust" as const),
      component,
      done: fc.constantFrom("yes" as const, "no" as const, "unknown" as const),
    }),
    { minLength: 1, maxLength: 2 },
  ),
  { nil: undefined, freq: 6 },
);

const sensorReference = place.map(({ sensor, position }) =>
  position === null ? sensor : `${sensor}:${position}`,
);

const onPart: fc.Arbitrary<Omit<Operation, "id">> = component.chain((part) => {
  const term: ComponentTerm = COMPONENTS[part];
  return fc
    .record({
      action,
      component: fc.constant(part),
      // On a part without sides it is not used, and a warning says so.
      side: term.sided ? maybe(sideWord) : fc.option(sideWord, { nil: undefined, freq: 1 }),
      axle: term.axled ? maybe(axleWord) : fc.constant(undefined),
      structural: maybe(yesNo),
      atMounting: maybe(yesNo),
      inSensorView: maybe(yesNo),
      fastening: maybe(fc.constantFrom("bolted" as const, "welded" as const)),
      storesCalibration: maybe(yesNo),
      sizeChanged: maybe(yesNo),
      sizeApproved: maybe(yesNo),
      serves: fc.option(fc.array(sensorReference, { maxLength: 2 }), { nil: undefined, freq: 3 }),
      part: fc.option(
        fc
          .record({
            origin: maybe(
              fc.constantFrom(
                "maker-new" as const,
                "other-new" as const,
                "recycled" as const,
                "reconditioned" as const,
              ),
            ),
            variantConfirmed: maybe(yesNo),
            bracketIncluded: maybe(yesNo),
          })
          .map(compact),
        { nil: undefined },
      ),
      dependentWork,
    })
    .map((each) => compact(each) as Omit<Operation, "id">);
});

const onSensor: fc.Arbitrary<Omit<Operation, "id">> = fc
  .record({
    action,
    component: fc.constantFrom("sensor" as const, "sensor-bracket" as const),
    place,
    origin: maybe(fc.constantFrom("maker-new" as const, "recycled" as const)),
    storesCalibration: maybe(yesNo),
  })
  .map(({ place: { sensor, position }, origin, ...each }) =>
    compact({ ...each, sensor, position, ...(origin === undefined ? {} : { part: { origin } }) }),
  );

const onAlignment: fc.Arbitrary<Omit<Operation, "id">> = fc
  .record({
    action: fc.constantFrom("adjust" as const, "inspect" as const),
    component: fc.constant("wheel-alignment" as const),
    adjusted: fc.option(
      fc.uniqueArray(
        fc.constantFrom(
          "front-toe" as const,
          "rear-toe" as const,
          "camber" as const,
          "caster" as const,
          "rear-camber" as const,
          "thrust" as const,
          "nothing" as const,
          "unknown" as const,
        ),
        { maxLength: 3 },
      ),
      { nil: undefined },
    ),
  })
  .map(compact);

const unread: fc.Arbitrary<Omit<Operation, "id">> = fc.constant({
  action: "repair",
  component: "other",
  text: "Rpr thing",
});

const alias: fc.Arbitrary<Omit<Operation, "id">> = fc
  .constantFrom(...Object.keys(COMPONENT_ALIASES))
  .map((word) => ({ action: "replace" as const, component: word }));

const anyOperation = fc.oneof(
  { weight: 12, arbitrary: onPart },
  { weight: 3, arbitrary: onSensor },
  { weight: 2, arbitrary: onAlignment },
  { weight: 1, arbitrary: unread },
  { weight: 1, arbitrary: alias },
);

/** One operation, with an id that no generated job uses. */
export const addedOperation: fc.Arbitrary<Operation> = anyOperation.map((each) => ({ ...each, id: "X1" }));

const operations: fc.Arbitrary<Operation[]> = fc
  .array(anyOperation, { maxLength: 5 })
  .map((list) => list.map((each, index) => ({ ...each, id: `L${index + 1}` })));

/** Mounts as exact as the job can state them, among those that are usual for the sensor. */
function preciseMountsOf(sensor: SensorId, position: PositionId | null): readonly Mount[] {
  const usual = mountsOf(sensor, position);
  const parts = usual.flatMap((mount) => partsOfMount(mount));
  return [...usual, ...PRECISE_MOUNTS.filter((mount) => parts.includes(mount))];
}

type Mount = MountId | PreciseMount;

function entryAt(sensor: SensorId, position: PositionId | null): fc.Arbitrary<Equipment> {
  const term: SensorTerm = SENSORS[sensor];
  return fc
    .record({
      sensor: fc.constant(sensor),
      position: fc.constant(position),
      fitted: fc.constantFrom(
        "yes" as const,
        "yes" as const,
        "yes" as const,
        "no" as const,
        "unknown" as const,
      ),
      mount: maybe(
        fc.oneof(
          { weight: 8, arbitrary: fc.constantFrom(...mountsOf(sensor, position)) },
          { weight: 1, arbitrary: fc.constantFrom(...preciseMountsOf(sensor, position)) },
        ),
      ),
      looksThrough: maybe(fc.constantFrom(...term.looksThrough)),
      variant:
        sensor === "tyre-pressure-sensors"
          ? maybe(fc.constantFrom("direct" as const, "indirect" as const))
          : fc.constant(undefined),
      sameDeviceAs:
        sensor === "rear-camera"
          ? fc.option(fc.constant("surround-camera:rear"), { nil: undefined, freq: 3 })
          : sensor === "surround-camera" && position === "rear"
            ? fc.option(fc.constant("rear-camera"), { nil: undefined, freq: 1 })
            : fc.constant(undefined),
      serves:
        sensor === "rear-camera"
          ? fc.option(fc.subarray<FeatureId>(["surround-view", "backup-camera"]), { nil: undefined })
          : fc.constant(undefined),
    })
    .map((each) => compact(each) as Equipment);
}

const fewEntries: fc.Arbitrary<Equipment[]> = fc.array(
  place.chain(({ sensor, position }) => entryAt(sensor, position)),
  { maxLength: 6 },
);

const SLOTS = SENSOR_IDS.flatMap((sensor) => positionsOf(sensor).map((position) => ({ sensor, position })));

/** Entries for many of the sensors, each once, as where the vehicle's options are known. */
const manyEntries: fc.Arbitrary<Equipment[]> = fc
  .subarray(SLOTS, { minLength: 12 })
  .chain((slots) => fc.tuple(...slots.map(({ sensor, position }) => entryAt(sensor, position))));

const features: fc.Arbitrary<Partial<Record<FeatureId, FeatureValue>>> = fc
  .array(fc.tuple(fc.constantFrom(...FEATURE_IDS), fc.constantFrom(...FEATURE_VALUES)), { maxLength: 6 })
  .map((pairs) => Object.fromEntries(pairs));

const carriedBy = fc.option(
  fc
    .record({
      grille: fc.constantFrom(undefined, "front-bumper-cover" as const, "front-end-carrier" as const),
      "rear-lamp": fc.constantFrom(undefined, "quarter-panel" as const, "liftgate" as const),
    })
    .map(compact),
  { nil: undefined, freq: 2 },
);

const vehicle: fc.Arbitrary<Job["vehicle"]> = fc
  .record({
    identity: fc.constantFrom(
      {},
      { make: "Norrvik", model: "Fjell", modelYear: 2024 },
      { make: "Alcora", model: "Tresk", modelYear: 2021 },
    ),
    equipment: fc.option(fc.oneof(fewEntries, manyEntries, manyEntries), { nil: undefined, freq: 8 }),
    equipmentComplete: fc.constantFrom(undefined, false, true),
    features: fc.option(features, { nil: undefined }),
    driveSide: maybe(sideWord),
    market: maybe(fc.constantFrom(...MARKET_IDS)),
    vehicleClass: maybe(fc.constantFrom("passenger-car" as const, "other" as const)),
    levellingSuspension: maybe(yesNo),
    carriedBy,
  })
  .map(({ identity, ...each }) => compact({ ...identity, ...each }) as Job["vehicle"]);

const findings: fc.Arbitrary<Findings> = fc
  .record({
    impactZones: fc.option(fc.uniqueArray(fc.constantFrom(...ZONE_IDS), { maxLength: 2 }), {
      nil: undefined,
    }),
    impactWheels: fc.option(
      fc.array(
        fc.record({
          axle: fc.constantFrom("front" as const, "rear" as const, "unknown" as const),
          side: fc.constantFrom("left" as const, "right" as const, "unknown" as const),
        }),
        { maxLength: 2 },
      ),
      { nil: undefined },
    ),
    glassOrHeaderHit: maybe(yesNo),
    airbagsDeployed: maybe(fc.boolean()),
    structuralDamage: maybe(fc.boolean()),
    faultCodes: fc.option(
      fc.array(
        fc
          .record({
            place,
            means: fc.constantFrom(
              undefined,
              "misaligned" as const,
              "not-calibrated" as const,
              "not-configured" as const,
              "blocked" as const,
              "other" as const,
            ),
            read: maybe(fc.constantFrom("pre-repair" as const, "post-repair" as const)),
            status: maybe(fc.constantFrom("active" as const, "stored" as const)),
          })
          .map(({ place: { sensor, position }, ...each }) => compact({ sensor, position, ...each })),
        { maxLength: 2 },
      ),
      { nil: undefined },
    ),
    rideHeightChange: fc.option(fc.record({ front: fc.constantFrom(0, -20), rear: fc.constantFrom(0, 15) }), {
      nil: undefined,
    }),
    filmThickness: fc.option(
      fc.array(
        fc.record({
          component: fc.constantFrom("front-bumper-cover" as const, "rear-bumper-cover" as const),
          overRadar: fc.constantFrom(true, false, "unknown" as const),
          micrometres: fc.constantFrom(110, 320),
        }),
        { maxLength: 2 },
      ),
      { nil: undefined },
    ),
    measurements: fc.option(
      fc.array(
        fc
          .record({
            kind: fc.constantFrom("thrust-angle" as const, "ride-height" as const, "structural" as const),
            value: fc.constantFrom(0, 5),
            unit: fc.constant("mm"),
            high: fc.constantFrom(undefined, 2),
            when: fc.constantFrom("before" as const, "after" as const),
          })
          .map(compact),
        { maxLength: 2 },
      ),
      { nil: undefined },
    ),
    dependentWork,
  })
  .map((each) => compact(each) as Findings);

/** A work order over the whole vocabulary: equipment known, unknown or known in part, with any of the optional fields. */
export const anyJob: fc.Arbitrary<Job> = fc
  .record({
    schema: fc.constant("repair-calibration/job@1" as const),
    reference: fc.constant("RO-1"),
    vehicle,
    operations,
    findings: fc.option(findings, { nil: undefined }),
  })
  .map((each) => compact(each) as Job);

/** The value with everything in it frozen. */
export function freezeDeep<T>(value: T): T {
  if (typeof value === "object" && value !== null) {
    for (const each of Object.values(value)) freezeDeep(each);
    Object.freeze(value);
  }
  return value;
}
