import { isKnown, type FactValue, type Truth } from "../logic/index.js";
import type { ComponentId, PositionId, SensorId } from "../vocabulary/index.js";
import type { Unknown } from "./unknowns.js";

/** One place on the vehicle where a sensor is, is not, or may be fitted, with everything that rules can read of it. */
export interface SensorInstance {
  /** `front-radar`, `rear-corner-radar:left`. */
  readonly key: string;
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly fitted: FactValue<Unknown>;
  readonly isFitted: Truth;
  readonly facts: SensorFacts;
  /** The parts that it may be mounted on. */
  readonly mountParts: readonly ComponentId[];
  /** All parts whose removal can move it or what it looks through. */
  readonly concernedBy: ReadonlySet<ComponentId>;
  readonly side: FactValue<Unknown>;
  readonly end: "front" | "rear" | null;
  /** The key of the other sensor that is the same physical device. */
  readonly sameDeviceAs: string | null;
  /** What else the same physical device is called, in whichever direction it was stated. */
  readonly otherNames: readonly NameOfSensor[];
  /** JSON pointer of the entry that states it, where one does. */
  readonly statedAt: string | null;
}

/** What an operation or a fault code calls a sensor. */
export interface NameOfSensor {
  readonly sensor: SensorId;
  readonly position: PositionId | null;
}

export interface SensorFacts {
  readonly sensor: FactValue<Unknown>;
  readonly position: FactValue<Unknown>;
  readonly mount: FactValue<Unknown>;
  readonly looksThrough: FactValue<Unknown>;
  readonly variant: FactValue<Unknown>;
  readonly aimCritical: FactValue<Unknown>;
  readonly servesFurther: FactValue<Unknown>;
}

/** Two statements of the job that cannot both be true; the fact that they are about counts as unknown. */
export interface Contradiction {
  readonly about: readonly string[];
  readonly says: string;
}

/** Whether a name means this sensor, under any of the names of its device; a name without its position may. */
export function matchName(named: NameOfSensor, sensor: SensorInstance): "is" | "may-be" | "is-not" {
  const own = [sensor, ...sensor.otherNames].filter((each) => each.sensor === named.sensor);
  if (own.some(({ position }) => position === null || position === named.position)) return "is";
  return own.length > 0 && named.position === null ? "may-be" : "is-not";
}

/** Whether it is settled that the sensor is fitted, or settled that it is not. */
export function isFitSettled(sensor: SensorInstance): boolean {
  return isKnown(sensor.fitted);
}
