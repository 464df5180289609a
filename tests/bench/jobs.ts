import type { Job } from "../../src/index.js";
import { COMPONENTS, COMPONENT_IDS, type ComponentTerm } from "../../src/vocabulary/index.js";

type Operation = Job["operations"][number];
type Equipment = NonNullable<Job["vehicle"]["equipment"]>;

/** Twenty-two sensors, with what an estimator knows of them. */
const EQUIPMENT: Equipment = [
  { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
  {
    sensor: "front-radar",
    fitted: "yes",
    mount: "front-bumper-reinforcement",
    looksThrough: "front-bumper-cover",
  },
  {
    sensor: "front-corner-radar",
    fitted: "yes",
    mount: "front-bumper-cover",
    looksThrough: "front-bumper-cover",
  },
  { sensor: "rear-corner-radar", fitted: "yes", mount: "quarter-panel", looksThrough: "rear-bumper-cover" },
  { sensor: "surround-camera", position: "front", fitted: "yes", mount: "grille", looksThrough: "nothing" },
  {
    sensor: "surround-camera",
    position: "left",
    fitted: "yes",
    mount: "door-mirror",
    looksThrough: "nothing",
  },
  {
    sensor: "surround-camera",
    position: "right",
    fitted: "yes",
    mount: "door-mirror",
    looksThrough: "nothing",
  },
  { sensor: "surround-camera", position: "rear", fitted: "yes", mount: "liftgate", looksThrough: "nothing" },
  {
    sensor: "rear-camera",
    fitted: "yes",
    mount: "liftgate",
    looksThrough: "nothing",
    serves: ["surround-view"],
  },
  { sensor: "parking-sensors", fitted: "yes" },
  { sensor: "steering-angle-sensor", fitted: "yes", mount: "steering-column" },
  { sensor: "inertial-sensor", fitted: "yes", mount: "floor-pan" },
  { sensor: "steering-torque-sensor", fitted: "yes", mount: "steering-gear" },
  { sensor: "adaptive-headlamp", fitted: "yes", mount: "headlamp" },
  { sensor: "rain-light-sensor", fitted: "yes" },
  { sensor: "head-up-display", fitted: "yes" },
  { sensor: "tyre-pressure-sensors", fitted: "yes", variant: "direct" },
];

const VEHICLE: Job["vehicle"] = {
  make: "Norrvik",
  model: "Fjell",
  modelYear: 2024,
  market: "us",
  driveSide: "left",
  vehicleClass: "light-multipurpose-or-truck",
  levellingSuspension: "no",
  carriedBy: { grille: "front-bumper-cover", "rear-lamp": "quarter-panel", "rear-glass": "liftgate" },
  equipment: EQUIPMENT,
  equipmentComplete: true,
};

const FINDINGS: Job["findings"] = {
  impactZones: ["front"],
  impactWheels: [],
  glassOrHeaderHit: "no",
  airbagsDeployed: false,
  structuralDamage: false,
  faultCodes: [],
  rideHeightChange: { front: 0, rear: 0 },
};

const FRONT_HIT: readonly Operation[] = [
  { id: "L1", action: "replace", component: "front-bumper-cover" },
  { id: "L2", action: "replace", component: "headlamp", side: "left" },
  { id: "L3", action: "replace", component: "fender", side: "left" },
  { id: "L4", action: "refinish", component: "front-bumper-cover" },
  { id: "L5", action: "replace", component: "windshield" },
  { id: "L6", action: "replace", component: "control-arm", side: "left", axle: "front" },
  { id: "L7", action: "adjust", component: "wheel-alignment", adjusted: ["front-toe"] },
  { id: "L8", action: "remove-install", component: "door-trim", side: "left" },
];

/** An order of eight operations on a vehicle with twenty-two sensors. */
export const TYPICAL: Job = jobOf(FRONT_HIT);

/** An order of `count` operations, no two alike, over the whole vehicle; the first eight are those of `TYPICAL`. */
export function jobOfLength(count: number): Job {
  const actions = ["replace", "remove-install", "refinish", "repair"] as const;
  const others = actions.flatMap((action) =>
    COMPONENT_IDS.filter((component) => !isSpecial(component)).map((component, at): Operation => {
      const term: ComponentTerm = COMPONENTS[component];
      return {
        id: `X-${action}-${component}`,
        action,
        component,
        ...(term.sided ? { side: at % 2 === 0 ? "left" : "right" } : {}),
        ...(term.axled ? { axle: at % 3 === 0 ? "rear" : "front" } : {}),
        ...(action === "repair" ? { structural: "no", atMounting: "no", inSensorView: "no" } : {}),
      };
    }),
  );
  // Spread over the list, so that every length meets every kind of part.
  const spread = others.map((_, at) => others[(at * 37) % others.length]).flatMap((each) => each ?? []);
  return jobOf([...FRONT_HIT, ...spread].slice(0, count));
}

function isSpecial(component: string): boolean {
  return ["other", "sensor", "sensor-bracket", "wheel-alignment", "ride-height", "battery-12v"].includes(
    component,
  );
}

function jobOf(operations: readonly Operation[]): Job {
  return {
    schema: "repair-calibration/job@1",
    reference: "BENCH",
    vehicle: VEHICLE,
    operations: [...operations],
    ...(FINDINGS === undefined ? {} : { findings: FINDINGS }),
  };
}
