import type { Job, JobVehicle } from "../job/index.js";
import { AS_USUAL, componentOf, type ComponentId, type StatedCarriers } from "../vocabulary/index.js";
import { KEPT, describeOnce } from "./describe-sensor.js";
import {
  drawFromFeatures,
  drawFromNaming,
  listSlots,
  shareDevices,
  statedFit,
  type Disjunction,
  type Fit,
} from "./fit.js";
import type { Contradiction, SensorInstance } from "./sensor.js";
import type { Unknown } from "./unknowns.js";

/** The vehicle as the rules see it. */
export interface VehicleFacts {
  readonly sensors: readonly SensorInstance[];
  readonly carriedBy: StatedCarriers;
  readonly disjunctions: readonly Disjunction[];
  readonly contradictions: readonly Contradiction[];
}

/** Reads the sensor fit: what is stated, what a feature proves, and what stays open. */
export function readVehicle(job: Job): VehicleFacts {
  const { vehicle } = job;
  const contradictions: Contradiction[] = [];
  const slots = listSlots(vehicle);
  const fits = new Map<string, Fit>();
  for (const slot of slots) fits.set(slot.key, statedFit(slot, vehicle, contradictions));
  drawFromNaming(job, slots, fits, contradictions);
  shareDevices(slots, fits, contradictions);
  const disjunctions = drawFromFeatures(vehicle, slots, fits, contradictions);
  const groupOf = new Map<string, Unknown>();
  // The narrowest group tells most, so it asks for each of its members.
  for (const group of [...disjunctions].sort((a, b) => b.sensors.length - a.sensors.length)) {
    for (const key of group.sensors) groupOf.set(key, group.unknown);
  }
  const carriedBy = readCarriers(vehicle);
  const sensors = slots.map((slot) =>
    describeOnce(
      slot,
      fits.get(slot.key) ?? "unknown",
      groupOf.get(slot.key),
      vehicle,
      carriedBy,
      contradictions,
    ),
  );
  return { sensors: nameDevices(sensors), carriedBy, disjunctions, contradictions };
}

/** Work on a device reaches it under each of its names, whichever of them the line uses. */
function nameDevices(sensors: readonly SensorInstance[]): readonly SensorInstance[] {
  if (sensors.every(({ sameDeviceAs }) => sameDeviceAs === null)) return sensors;
  return sensors.map((sensor) => {
    const otherNames = sensors
      .filter((other) => other.sameDeviceAs === sensor.key || sensor.sameDeviceAs === other.key)
      .map(({ sensor: kind, position }) => ({ sensor: kind, position }));
    return otherNames.length === 0 ? sensor : { ...sensor, otherNames };
  });
}

const statedCarriers = new Map<string, StatedCarriers>();

/** The stated carriers, one object for all vehicles that state the same: what follows from them is kept with it. */
function readCarriers(vehicle: JobVehicle): StatedCarriers {
  const { carriedBy } = vehicle;
  if (carriedBy === undefined) return AS_USUAL;
  const entries = Object.entries(carriedBy).flatMap(
    ([part, carrier]): readonly [ComponentId, ComponentId][] =>
      carrier === undefined ? [] : [[componentOf(part), componentOf(carrier)]],
  );
  const key = entries
    .map((entry) => entry.join(">"))
    .sort()
    .join();
  const ready = statedCarriers.get(key);
  if (ready !== undefined) return ready;
  const stated: StatedCarriers = Object.fromEntries(entries);
  if (statedCarriers.size >= KEPT) statedCarriers.clear();
  statedCarriers.set(key, stated);
  return stated;
}
