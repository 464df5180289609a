import { POSITIONS, SENSORS, positionsOf, type PositionId, type SensorId } from "../vocabulary/index.js";

/** The sensor's label with its position in front: "left rear corner radar". */
export function nameOfSensor(sensor: SensorId, position: PositionId | null): string {
  const { label } = SENSORS[sensor];
  return position === null ? label : `${POSITIONS[position].label} ${label}`;
}

/** All places of a sensor together: "rear corner radars (left, right)". */
export function nameOfAll(sensor: SensorId): string {
  const { label } = SENSORS[sensor];
  const places = positionsOf(sensor).flatMap((position) =>
    position === null ? [] : [POSITIONS[position].label],
  );
  return `${label.endsWith("s") ? label : `${label}s`} (${places.join(", ")})`;
}
