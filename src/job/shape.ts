import * as z from "zod";
import { dimensionsShape } from "../shapes/index.js";
import {
  ACTION_IDS,
  ADJUSTED_IDS,
  CODE_READ,
  CODE_STATUS,
  COMPONENT_ALIASES,
  COMPONENT_IDS,
  FAULT_MEANING_IDS,
  FEATURE_IDS,
  FEATURE_VALUES,
  LOOK_IDS,
  MARKET_IDS,
  MEASUREMENT_KINDS,
  MOUNT_IDS,
  MOUNT_PLACES_WITHOUT_MEANING,
  PART_ORIGINS,
  POSITION_IDS,
  PRECISE_MOUNTS,
  SENSOR_IDS,
  ZONE_IDS,
} from "../vocabulary/index.js";

const text = z.string().max(2000);
const id = z
  .string()
  .min(1)
  .max(120)
  .regex(/^[^\u0000-\u001f\u007f]*$/);
const yesNoUnknown = z.enum(["yes", "no", "unknown"]);
const sensor = z.enum(SENSOR_IDS);
const position = z.enum(POSITION_IDS).nullable();
const side = z.enum(["left", "right", "unknown"]);
const axle = z.enum(["front", "rear", "unknown"]);
const millimetres = z.number().min(-100000).max(100000);
const component = z.enum([...COMPONENT_IDS, ...Object.keys(COMPONENT_ALIASES)]);
const time = z.iso.datetime({ offset: true });
/** A sensor, or one of its positions: "front-radar", "rear-corner-radar:left". */
const sensorReference = z.string().regex(/^[a-z-]+(:[a-z-]+)?$/);

/** Far more than any work order holds, and few enough that a plan is never long in coming. */
const OPERATION_LIMIT = 2_000;
const ENTRY_LIMIT = 500;

export const equipmentShape = z.strictObject({
  sensor,
  position: position.optional(),
  fitted: yesNoUnknown,
  mount: z.enum([...MOUNT_IDS, ...PRECISE_MOUNTS, ...MOUNT_PLACES_WITHOUT_MEANING, "unknown"]).optional(),
  looksThrough: z.enum([...LOOK_IDS, "unknown"]).optional(),
  variant: z.enum(["direct", "indirect", "unknown"]).optional(),
  /** The other sensor id (with position) that is the same physical device. */
  sameDeviceAs: sensorReference.optional(),
  /** Features that the device serves besides its own; left out = unknown. */
  serves: z.array(z.enum(FEATURE_IDS)).optional(),
});

/** Whether work that often, but not always, comes with an operation (or a finding) was part of the repair. */
const dependentWork = z
  .array(z.strictObject({ action: z.enum(ACTION_IDS), component, done: yesNoUnknown }))
  .optional();

export const operationShape = z.strictObject({
  id,
  action: z.enum(ACTION_IDS),
  component,
  side: side.optional(),
  axle: axle.optional(),
  sensor: sensor.optional(),
  position: position.optional(),
  text: text.optional(),
  structural: yesNoUnknown.optional(),
  atMounting: yesNoUnknown.optional(),
  part: z
    .strictObject({
      origin: z.enum([...PART_ORIGINS, "unknown"]).optional(),
      variantConfirmed: yesNoUnknown.optional(),
      bracketIncluded: yesNoUnknown.optional(),
      /** Whether a sensor or module was cleared of its former vehicle and configured to this one. */
      configured: yesNoUnknown.optional(),
    })
    .optional(),
  serves: z.array(sensorReference).optional(),
  storesCalibration: yesNoUnknown.optional(),
  inSensorView: yesNoUnknown.optional(),
  adjusted: z.array(z.enum([...ADJUSTED_IDS, "unknown"])).optional(),
  amount: z.strictObject({ front: millimetres.optional(), rear: millimetres.optional() }).optional(),
  sizeChanged: yesNoUnknown.optional(),
  sizeApproved: yesNoUnknown.optional(),
  /** Whether the adhesive of bonded glass has reached the cure that its maker asks for. */
  adhesiveCured: yesNoUnknown.optional(),
  fastening: z.enum(["bolted", "welded", "unknown"]).optional(),
  completedAt: time.optional(),
  dependentWork,
});

const findingsShape = z.strictObject({
  impactZones: z.array(z.enum(ZONE_IDS)).optional(),
  impactWheels: z.array(z.strictObject({ axle, side })).optional(),
  /** Whether a front impact reached the windshield or the roof header. */
  glassOrHeaderHit: yesNoUnknown.optional(),
  airbagsDeployed: z.union([z.boolean(), z.literal("unknown")]).optional(),
  structuralDamage: z.union([z.boolean(), z.literal("unknown")]).optional(),
  faultCodes: z
    .array(
      z.strictObject({
        sensor,
        position: position.optional(),
        means: z.enum(FAULT_MEANING_IDS).optional(),
        code: z.string().min(1).max(40).optional(),
        read: z.enum([...CODE_READ, "unknown"]).optional(),
        status: z.enum([...CODE_STATUS, "unknown"]).optional(),
      }),
    )
    .optional(),
  /** Sensors found cracked, dropped, wet inside, or with tabs broken or glued. */
  sensorDamage: z
    .array(
      z.strictObject({
        sensor,
        position: position.optional(),
        damage: z.enum(["cracked", "dropped", "wet-inside", "tabs-broken", "glued", "other"]),
      }),
    )
    .optional(),
  /** Whether the tyres on the vehicle are of the sizes that belong together. */
  tyreSizesMatch: yesNoUnknown.optional(),
  rideHeightChange: z.strictObject({ front: millimetres, rear: millimetres }).optional(),
  filmThickness: z
    .array(
      z.strictObject({
        component,
        overRadar: z.union([z.boolean(), z.literal("unknown")]),
        micrometres: z.number().min(0).max(100000),
      }),
    )
    .optional(),
  measurements: z
    .array(
      z.strictObject({
        kind: z.enum(MEASUREMENT_KINDS),
        where: text.optional(),
        component: component.optional(),
        axle: axle.optional(),
        side: side.optional(),
        value: z.number(),
        unit: z.string().min(1).max(20),
        low: z.number().optional(),
        high: z.number().optional(),
        when: z.enum(["before", "after"]),
        verdict: z.enum(["in", "out", "undecided"]).optional(),
      }),
    )
    .optional(),
  dependentWork,
});

const vehicleShape = z.strictObject({
  make: text.optional(),
  model: text.optional(),
  modelYear: z.int().min(1886).max(2200).optional(),
  vin: z.string().min(1).max(40).optional(),
  dimensions: dimensionsShape.optional(),
  equipment: z.array(equipmentShape).max(ENTRY_LIMIT).optional(),
  equipmentComplete: z.boolean().optional(),
  features: z.partialRecord(z.enum(FEATURE_IDS), z.enum(FEATURE_VALUES)).optional(),
  driveSide: z.enum(["left", "right", "unknown"]).optional(),
  market: z.enum([...MARKET_IDS, "unknown"]).optional(),
  vehicleClass: z.enum(["passenger-car", "light-multipurpose-or-truck", "other", "unknown"]).optional(),
  levellingSuspension: yesNoUnknown.optional(),
  /** What carries a part that differs between vehicles: "grille": "front-bumper-cover". */
  carriedBy: z.partialRecord(component, component).optional(),
});

/** What a VIN is read with. */
export const vinShape = vehicleShape.pick({ vin: true, market: true, vehicleClass: true });

/** A work order: the vehicle with its sensor fit, the operations, and what was found. */
export const jobShape = z.strictObject({
  $schema: z.string().optional(),
  schema: z.literal("repair-calibration/job@1"),
  reference: z.string().min(1).max(200),
  vehicle: vehicleShape,
  operations: z.array(operationShape).max(OPERATION_LIMIT),
  findings: findingsShape.optional(),
  extensions: z.record(z.string(), z.unknown()).optional(),
});

/** A job as other software writes it (`repair-calibration/job@1`). */
export type Job = z.input<typeof jobShape>;
/** The vehicle of a job with its sensor fit; lengths mm. What is left out is unknown. */
export type JobVehicle = Job["vehicle"];
/** One line of a work order: what is done to which part. */
export type JobOperation = Job["operations"][number];
/** What was found at the vehicle; lengths mm, films micrometres. What is left out is unknown. */
export type JobFindings = NonNullable<Job["findings"]>;
/** What is known of one sensor of the vehicle, at one position or, without one, at all of them. */
export type JobEquipment = NonNullable<JobVehicle["equipment"]>[number];
