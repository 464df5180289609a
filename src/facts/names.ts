import { POSITIONS, SENSORS, type PositionId, type SensorId } from "../vocabulary/index.js";

/** The sensor's label with its position in front: "left rear corner radar". */
export function nameOfSensor(sensor: SensorId, position: PositionId | null): string {
  const { label } = SENSORS[sensor];
  return position === null ? label : `${POSITIONS[position].label} ${label}`;
}
