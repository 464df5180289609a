import type { Job, JobEquipment, JobVehicle } from "../job/index.js";
import {
  CLAIM_ACTIONS,
  FEATURES,
  FEATURE_IDS,
  SENSOR_IDS,
  capital,
  componentOf,
  nameOfSensor,
  positionsOf,
  type FeatureId,
  type PositionId,
  type SensorId,
  type ServingGroup,
  keyOfPlace,
} from "../vocabulary/index.js";
import { type Contradiction, type NameOfSensor } from "./sensor.js";
import type { Unknown } from "./unknowns.js";

/** "At least one of these is fitted", as a feature proves it, where it stays open which. */
export interface Disjunction {
  readonly sensors: readonly string[];
  readonly because: readonly FeatureId[];
  readonly unknown: Unknown;
}

export type Fit = "yes" | "no" | "unknown";

export interface Slot {
  readonly key: string;
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly entries: readonly { readonly entry: JobEquipment; readonly pointer: string }[];
}

export function listSlots(vehicle: JobVehicle): readonly Slot[] {
  const stated = (vehicle.equipment ?? []).map((entry, index) => ({
    entry,
    pointer: `/vehicle/equipment/${index}`,
  }));
  return SENSOR_IDS.flatMap((sensor) => {
    const entries = stated.filter(({ entry }) => entry.sensor === sensor);
    const extra = entries.flatMap(({ entry }) => entry.position ?? []);
    const positions = [...new Set([...positionsOf(sensor), ...extra])];
    return positions.map((position) => ({
      key: keyOfPlace(sensor, position),
      sensor,
      position,
      entries: entries.filter(({ entry }) => (entry.position ?? position) === position),
    }));
  });
}

export function statedFit(slot: Slot, vehicle: JobVehicle, contradictions: Contradiction[]): Fit {
  const stated = slot.entries.map(({ entry }) => entry.fitted);
  if (stated.length === 0) return vehicle.equipmentComplete === true ? "no" : "unknown";
  const first = stated[0] ?? "unknown";
  if (stated.every((each) => each === first)) return first;
  contradictions.push({
    about: slot.entries.map(({ pointer }) => `${pointer}/fitted`),
    says: `Entries differ on whether the ${nameOfSensor(slot.sensor, slot.position)} is fitted; it counts as unknown.`,
  });
  return "unknown";
}

/**
 * A sensor that the order works on, that set a fault code or that was found damaged is on the vehicle. Where it is
 * stated not to be, the statements contradict one another: work on it is never passed over in silence.
 */
export function drawFromNaming(
  job: Job,
  slots: readonly Slot[],
  fits: Map<string, Fit>,
  contradictions: Contradiction[],
): void {
  const named = namings(job);
  for (const slot of slots) {
    // A name that leaves the position open speaks of one of several, and nobody knows which.
    const places = slots.filter(({ sensor }) => sensor === slot.sensor).length;
    const naming = named.filter(
      ({ sensor, position }) =>
        sensor === slot.sensor && (position === slot.position || (position === null && places === 1)),
    );
    const fit = fits.get(slot.key);
    const isDenied = slot.entries.some(({ entry }) => entry.fitted === "no");
    if (naming.length === 0 || fit === "yes" || (fit === "unknown" && isDenied)) continue;
    fits.set(slot.key, fit === "unknown" ? "yes" : "unknown");
    if (fit === "unknown") continue;
    const stated = slot.entries.map(({ pointer }) => `${pointer}/fitted`);
    const by = [...new Set(naming.map((each) => each.by))].sort().join(", ");
    contradictions.push({
      about: [...naming.map(({ about }) => about), ...(isDenied ? stated : ["/vehicle/equipmentComplete"])],
      says: `The ${nameOfSensor(slot.sensor, slot.position)} is stated not to be fitted, and is named by ${by}; its fitment counts as unknown.`,
    });
  }
}

interface Naming extends NameOfSensor {
  readonly about: string;
  readonly by: string;
}

/** Every place of the job, claims aside, that names a sensor as one that is there. */
function namings(job: Job): readonly Naming[] {
  const { operations, findings = {} } = job;
  const worked = operations.flatMap((operation, index): readonly Naming[] => {
    const { id, action, component, sensor, position = null } = operation;
    const isClaim = CLAIM_ACTIONS.some((each) => each === action);
    if (sensor === undefined || isClaim || componentOf(component) !== "sensor") return [];
    return [{ sensor, position, about: `/operations/${index}/sensor`, by: id }];
  });
  const coded = (findings.faultCodes ?? []).map(({ sensor, position = null }, index): Naming => ({
    sensor,
    position,
    about: `/findings/faultCodes/${index}/sensor`,
    by: "a fault code",
  }));
  const damaged = (findings.sensorDamage ?? []).map(({ sensor, position = null }, index): Naming => ({
    sensor,
    position,
    about: `/findings/sensorDamage/${index}/sensor`,
    by: "damage that was found",
  }));
  return [...worked, ...coded, ...damaged];
}

/** A device that is stated to be the same as another is fitted where that one is. */
export function shareDevices(
  slots: readonly Slot[],
  fits: Map<string, Fit>,
  contradictions: Contradiction[],
): void {
  for (const slot of slots) {
    for (const { entry, pointer } of slot.entries) {
      const other = entry.sameDeviceAs;
      if (other === undefined || !fits.has(other)) continue;
      const mine = fits.get(slot.key) ?? "unknown";
      const theirs = fits.get(other) ?? "unknown";
      if (mine === theirs) continue;
      // That a complete list leaves the other name out says nothing of a device that it lists as unknown.
      const isLeftOut = theirs === "no" && !isStated(slots, other);
      if (mine === "unknown" && isLeftOut) fits.set(other, "unknown");
      else if (mine === "unknown") fits.set(slot.key, theirs);
      else if (theirs === "unknown" || !isStated(slots, other)) fits.set(other, mine);
      else {
        contradictions.push({
          about: [`${pointer}/sameDeviceAs`],
          says: `One device cannot be fitted as ${slot.key} and not fitted as ${other}; both count as unknown.`,
        });
        fits.set(slot.key, "unknown");
        fits.set(other, "unknown");
      }
    }
  }
}

export function isStated(slots: readonly Slot[], key: string): boolean {
  return (slots.find((slot) => slot.key === key)?.entries.length ?? 0) > 0;
}

/**
 * Draws from each standard feature that at least one of the sensors that can serve it is fitted. With one
 * candidate left that one is; with several the disjunction stays; with none the job contradicts itself.
 */
export function drawFromFeatures(
  vehicle: JobVehicle,
  slots: readonly Slot[],
  fits: Map<string, Fit>,
  contradictions: Contradiction[],
): readonly Disjunction[] {
  const standard = FEATURE_IDS.filter((feature) => vehicle.features?.[feature] === "standard");
  const groups = standard.flatMap((feature) =>
    FEATURES[feature].servedBy.map((group) => ({ feature, keys: keysOfGroup(group, slots) })),
  );
  // A conclusion can leave another group with one candidate, but every round settles at least one sensor.
  for (let settled = true; settled;) {
    settled = false;
    for (const { keys } of groups) {
      const open = keys.filter((key) => fits.get(key) !== "no");
      const only = open[0];
      if (open.length === 1 && only !== undefined && fits.get(only) === "unknown") {
        fits.set(only, "yes");
        settled = true;
      }
    }
  }
  const byMembers = new Map<string, { sensors: readonly string[]; because: FeatureId[] }>();
  for (const { feature, keys } of groups) {
    const open = keys.filter((key) => fits.get(key) !== "no");
    if (open.length === 0) {
      contradictions.push({
        about: ["/vehicle/equipment", `/vehicle/features/${feature}`],
        says: `${capital(FEATURES[feature].label)} is standard, but none of the sensors that can serve it is fitted (${keys.join(", ")}); their fitment counts as unknown.`,
      });
      for (const key of keys) fits.set(key, "unknown");
    }
  }
  for (const { feature, keys } of groups) {
    const open = keys.filter((key) => fits.get(key) !== "no");
    if (open.some((key) => fits.get(key) === "yes")) continue;
    const members = open.join(" ");
    const known = byMembers.get(members);
    if (known === undefined) byMembers.set(members, { sensors: open, because: [feature] });
    else if (!known.because.includes(feature)) known.because.push(feature);
  }
  return [...byMembers.values()].map(({ sensors, because }) => ({
    sensors,
    because,
    unknown: {
      key: `fitted:${sensors.join("|")}`,
      topic: "fitted" as const,
      about: "/vehicle/equipment",
      ask: `Which of these sensors are fitted (at least one is, since ${because.map((feature) => FEATURES[feature].label).join(", ")} ${because.length === 1 ? "is" : "are"} standard): ${sensors.map((key) => nameOfKey(key, slots)).join(", ")}?`,
      answers: sensors,
    },
  }));
}

function nameOfKey(key: string, slots: readonly Slot[]): string {
  const slot = slots.find((each) => each.key === key);
  return slot === undefined ? key : nameOfSensor(slot.sensor, slot.position);
}

function keysOfGroup(group: ServingGroup, slots: readonly Slot[]): readonly string[] {
  return group.flatMap((member) =>
    slots
      .filter((slot) => slot.sensor === member.sensor)
      .filter(
        (slot) =>
          member.positions === undefined ||
          slot.position === null ||
          member.positions.includes(slot.position),
      )
      .map((slot) => slot.key),
  );
}
