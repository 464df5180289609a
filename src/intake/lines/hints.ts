import {
  COMPONENTS,
  SENSORS,
  acceptsPosition,
  type ComponentId,
  type PositionId,
  type SensorId,
  type SensorTerm,
  type Zone,
} from "../../vocabulary/index.js";
import type { Described } from "./descriptions.js";
import type { EquipmentWord } from "./meanings.js";
import type { Drafted } from "./operations.js";
import type { EquipmentHint, LineOperation } from "./shape.js";

interface Place {
  readonly sensor: SensorId;
  readonly position: PositionId | null;
}

/** What the descriptions of a line say of the vehicle's equipment; null where one says nothing that is known. */
export function readHints(
  described: readonly Described[],
  drafted: readonly Drafted[],
): readonly EquipmentHint[] | null {
  const hints: EquipmentHint[] = [];
  for (const { equipment, fitted, span, part } of described) {
    const about = drafted.find((each) => each.part !== null && (part === null || each.part[0] === part[0]));
    if (about === undefined) return null;
    const places = placesOf(equipment, about.operation);
    if (places.length === 0) return null;
    for (const place of places) hints.push({ ...place, fitted, words: [[span[0], span[1]]] });
  }
  for (const { carries, part, operation } of drafted) {
    if (carries === null || part === null || operation.component === "sensor") continue;
    hints.push({ sensor: carries, position: operation.side, fitted: "yes", words: [[part[0], part[1]]] });
  }
  return withoutRepeats(hints);
}

/** Which sensor a word means in the description of a part: a camera is one in a windshield, another in a mirror. */
function placesOf(equipment: EquipmentWord, about: LineOperation): readonly Place[] {
  const end = endOf(about);
  const isGlass = BEHIND_GLASS.has(about.component);
  switch (equipment) {
    case "camera":
      return cameraOf(about);
    case "radar":
      return RADARS.filter((radar) => canHold(about.component, radar))
        .slice(0, 1)
        .map((sensor) => ({ sensor, position: null }));
    case "sensors":
      if (isGlass) return [{ sensor: "rain-light-sensor", position: null }];
      return end === null ? [] : [{ sensor: "parking-sensors", position: end }];
    case "collision-warning":
      if (isGlass) return [{ sensor: "forward-camera", position: null }];
      return end === "front" ? [{ sensor: "front-radar", position: null }] : [];
    case "parking-sensors":
      return [{ sensor: equipment, position: end }];
    case "surround-camera":
      return [{ sensor: equipment, position: positionOf(about) }];
    case "adaptive-headlamp":
      return [{ sensor: equipment, position: about.side }];
    default:
      return [{ sensor: equipment, position: null }];
  }
}

const BEHIND_GLASS: ReadonlySet<string> = new Set(["windshield", "camera-bracket", "interior-mirror"]);
const MIRRORS: ReadonlySet<string> = new Set(["door-mirror", "mirror-glass", "mirror-cap"]);

function endOf({ component, axle, position }: LineOperation): "front" | "rear" | null {
  if (axle !== null) return axle;
  if (position === "front" || position === "rear") return position;
  const zones: readonly Zone[] = COMPONENTS[component].zones;
  if (zones.includes("front")) return "front";
  return zones.includes("rear") ? "rear" : null;
}

function positionOf(about: LineOperation): PositionId | null {
  const place = MIRRORS.has(about.component) ? about.side : endOf(about);
  return place !== null && acceptsPosition("surround-camera", place) ? place : null;
}

function cameraOf(about: LineOperation): readonly Place[] {
  const { component, side } = about;
  if (BEHIND_GLASS.has(component)) return [{ sensor: "forward-camera", position: null }];
  if (MIRRORS.has(component)) return [{ sensor: "surround-camera", position: side }];
  if (canHold(component, "rear-camera")) return [{ sensor: "rear-camera", position: null }];
  return canHold(component, "surround-camera") ? [{ sensor: "surround-camera", position: "front" }] : [];
}

const RADARS = [
  "front-radar",
  "front-corner-radar",
  "rear-corner-radar",
] as const satisfies readonly SensorId[];

/** Whether a sensor may be mounted to a part or look through it. */
function canHold(component: ComponentId, sensor: SensorId): boolean {
  const { mounts, looksThrough }: SensorTerm = SENSORS[sensor];
  const part = component.replace(/-assembly$/, "-cover");
  return [...Object.values(mounts).flat(), ...looksThrough].some((place) => place === part);
}

function withoutRepeats(hints: readonly EquipmentHint[]): readonly EquipmentHint[] {
  const seen = new Map(
    hints.map((hint) => [JSON.stringify([hint.sensor, hint.position, hint.fitted]), hint] as const),
  );
  return [...seen.values()];
}
