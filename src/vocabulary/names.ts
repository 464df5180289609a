import { POSITIONS, SENSORS, positionsOf, type PositionId, type SensorId } from "./sensors.js";

/** Names a sensor by its label, with its position in front where it has one: "left rear corner radar". */
export function nameOfSensor(sensor: SensorId, position: PositionId | null): string {
  const { label } = SENSORS[sensor];
  return position === null ? label : `${POSITIONS[position].label} ${label}`;
}

/** A sensor at a place as ids write it: "front-radar", "rear-corner-radar:left". */
export function keyOfPlace(sensor: SensorId, position: PositionId | null): string {
  return position === null ? sensor : `${sensor}:${position}`;
}

/** Names all places of a sensor together: "rear corner radars (left, right)". */
export function nameOfAll(sensor: SensorId): string {
  const { label } = SENSORS[sensor];
  const places = positionsOf(sensor).flatMap((position) =>
    position === null ? [] : [POSITIONS[position].label],
  );
  return `${label.endsWith("s") ? label : `${label}s`} (${places.join(", ")})`;
}

/** Writes a label with its first letter in upper case, to begin a sentence. */
export function capital(label: string): string {
  return label.charAt(0).toUpperCase() + label.slice(1);
}
