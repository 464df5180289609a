import {
  COMPONENTS,
  SENSORS,
  acceptsPosition,
  type ActionId,
  type ComponentId,
  type PositionId,
  type SensorId,
  type SensorTerm,
  type Zone,
} from "../../vocabulary/index.js";
import type { PlaceItem } from "./items.js";
import type { End, PartChoice, Side, SideWord } from "./meanings.js";

/** A part at a place. */
export interface Target {
  readonly component: ComponentId;
  readonly side: Side | null;
  readonly axle: End | null;
  readonly sensor: SensorId | null;
  readonly position: PositionId | null;
  /** The sensor that the part's name says is in it. */
  readonly carries: SensorId | null;
}

export type DriveSide = Side;

/** One reading of a part with its place: one target, or two for "both"; doubtful where a word of place had to be left out. */
export interface TargetReading {
  readonly targets: readonly Target[];
  readonly doubtful: boolean;
}

/** Parts that the vocabulary keeps once, though there are several: which of them it is changes nothing. */
const ONE_OF_SEVERAL: ReadonlySet<ComponentId> = new Set([
  "wiper",
  "wiring-harness",
  "window-film",
  "wheel-alignment",
  "paint-protection-film",
]);

/** Parts that are called front or rear, though the vocabulary does not part them by that. */
const AT_EITHER_END: ReadonlySet<ComponentId> = new Set([
  "wiper",
  "wiring-harness",
  "window-film",
  "wheel-alignment",
  "paint-protection-film",
  "door-glass",
  "door-trim",
  "door-handle",
  "seat-belt",
  "seat-track",
  "seat-foam",
  "seat-cover",
  "airbag",
  "brake",
]);
const AT_THE_FRONT: ReadonlySet<ComponentId> = new Set([
  "windshield",
  "windshield-moulding",
  "mirror-glass",
  "mirror-cap",
  "roof-header",
  "door-mirror",
  "tie-rod",
  "steering-gear",
  "cowl",
  "a-pillar",
]);
const AT_THE_REAR: ReadonlySet<ComponentId> = new Set(["quarter-glass"]);

/** Sensors of which a vehicle has more than it has positions for them: a side says which of a row. */
const IN_A_ROW: ReadonlySet<SensorId> = new Set([
  "parking-sensors",
  "tyre-pressure-sensors",
  "ride-height-sensor",
]);

/** Everything that a name with its words of place can stand for. */
export function readTargets(
  choices: readonly PartChoice[],
  places: readonly PlaceItem[],
  driveSide: DriveSide | null,
): readonly TargetReading[] {
  const seats = readSeat(choices, places);
  if (seats !== null) return [seats];
  const said = placesSaid(places, driveSide);
  const readings = said.flatMap(({ side, end, doubtful = false }) =>
    fitAll(choices, side, end).map((reading) => ({ ...reading, doubtful })),
  );
  if (readings.length > 0) return distinct(readings);
  // A side of a part that has none may be where on it the damage is: offered, never taken.
  const withoutSide = said.flatMap(({ end }) =>
    fitAll(choices, null, end).map((reading) => ({ ...reading, doubtful: true })),
  );
  return distinct(withoutSide);
}

/** The driver's or the passenger's seat, where the sensor is told apart by that and not by sides. */
function readSeat(choices: readonly PartChoice[], places: readonly PlaceItem[]): TargetReading | null {
  const [choice] = choices;
  const [place] = places;
  if (choices.length !== 1 || places.length !== 1) return null;
  if (choice?.sensor === undefined || (place?.side !== "driver" && place?.side !== "passenger")) return null;
  if (place.end !== null || !acceptsPosition(choice.sensor, place.side)) return null;
  const { component, sensor } = choice;
  const target = { component, sensor, position: place.side, side: null, axle: null, carries: null };
  return { targets: [target], doubtful: false };
}

interface PlaceSaid {
  readonly side: Side | "both" | null;
  readonly end: End | null;
  /** From a word that says a side as often: never taken where no side fits. */
  readonly doubtful?: true;
}

/** The places that words of place can mean; none where they contradict each other. */
function placesSaid(places: readonly PlaceItem[], driveSide: DriveSide | null): readonly PlaceSaid[] {
  const either = places.find((place) => place.either !== null)?.either ?? null;
  const ends = new Set(places.flatMap(({ end }) => (end === null ? [] : [end])));
  const sides = sidesSaid(places, driveSide);
  const isRearSaid = either === "right-rear-or-rear" || (either === "right-or-rear" && sides !== null);
  if (isRearSaid) ends.add("rear");
  if (ends.size > 1) return [];
  const [end = null] = ends;
  if (sides !== null) return sides.map((side) => ({ side, end }));
  if (either === null) return [{ side: null, end }];
  const right: PlaceSaid = { side: "right", end };
  if (either === "right-or-rear" && end !== null) return [right];
  const rear: PlaceSaid = { side: null, end: "rear" };
  return [right, either === "right-or-rear" ? { ...rear, doubtful: true } : rear];
}

/** The sides on which all words for a side agree; null where there is none. */
function sidesSaid(
  places: readonly PlaceItem[],
  driveSide: DriveSide | null,
): readonly (Side | "both")[] | null {
  const words = places.flatMap(({ side }) => (side === null ? [] : [side]));
  return words
    .map((word) => sidesOf(word, driveSide))
    .reduce<readonly (Side | "both")[] | null>(
      (before, next) => (before === null ? next : before.filter((side) => next.includes(side))),
      null,
    );
}

function sidesOf(word: SideWord, driveSide: DriveSide | null): readonly (Side | "both")[] {
  switch (word) {
    case "left":
    case "right":
    case "both":
      return [word];
    case "driver":
    case "off":
      return driveSide === null ? ["left", "right"] : [driveSide];
    case "passenger":
    case "near":
      if (driveSide === null) return ["left", "right"];
      return [driveSide === "left" ? "right" : "left"];
  }
}

function fitAll(
  choices: readonly PartChoice[],
  side: Side | "both" | null,
  end: End | null,
): readonly TargetReading[] {
  const fitting = choices
    .filter(
      (choice) =>
        (choice.end === undefined || end === null || choice.end === end) &&
        !(choice.onlyIfSaid === true && end === null) &&
        !(choice.needsSide === true && side === null),
    )
    .flatMap((choice) => {
      const targets = fit(choice, side, end);
      return targets === null ? [] : [{ choice, reading: { targets, doubtful: false } }];
    });
  const sided = fitting.filter(({ choice }) => hasSides(choice));
  return (side !== null && sided.length > 0 ? sided : fitting).map(({ reading }) => reading);
}

function hasSides({ component, sensor }: PartChoice): boolean {
  if (sensor === undefined) return COMPONENTS[component].sided;
  return IN_A_ROW.has(sensor) || acceptsSide(sensor);
}

function acceptsSide(sensor: SensorId): boolean {
  const { positions }: SensorTerm = SENSORS[sensor];
  return positions.some((position) => position.endsWith("left"));
}

function fit(choice: PartChoice, side: Side | "both" | null, end: End | null): readonly Target[] | null {
  if (side === "both") {
    if (!hasSides(choice)) return null;
    const [left, right] = [fit(choice, "left", end), fit(choice, "right", end)];
    return left === null || right === null ? null : [...left, ...right];
  }
  const target =
    choice.sensor === undefined ? fitPart(choice, side, end) : fitSensor(choice, choice.sensor, side, end);
  return target === null ? null : [target];
}

function fitPart(choice: PartChoice, side: Side | null, end: End | null): Target | null {
  const { component, carries = null } = choice;
  const { sided, axled } = COMPONENTS[component];
  if (side !== null && !sided && !ONE_OF_SEVERAL.has(component)) return null;
  if (end !== null && choice.end === undefined && !axled && !isAt(component, end)) return null;
  return {
    component,
    side: sided ? side : null,
    axle: axled ? end : null,
    sensor: null,
    position: null,
    carries,
  };
}

function isAt(component: ComponentId, end: End): boolean {
  const zones: readonly Zone[] = COMPONENTS[component].zones;
  if (AT_EITHER_END.has(component) || zones.includes(end)) return true;
  return (end === "front" ? AT_THE_FRONT : AT_THE_REAR).has(component);
}

function fitSensor(choice: PartChoice, sensor: SensorId, side: Side | null, end: End | null): Target | null {
  const { component, position: named = null } = choice;
  const target = (
    position: PositionId | null,
    kept: Side | null = null,
    axle: End | null = null,
  ): Target => ({
    component,
    side: kept,
    axle,
    sensor,
    position,
    carries: null,
  });
  const inRow = IN_A_ROW.has(sensor);
  if (side !== null && !inRow && !acceptsSide(sensor)) return null;
  if (named !== null) return end !== null && end !== named ? null : target(named, inRow ? side : null);
  const corner = side !== null && end !== null ? (`${end}-${side}` as const) : null;
  if (corner !== null && acceptsPosition(sensor, corner)) return target(corner);
  if (end !== null && acceptsPosition(sensor, end)) {
    return side === null || inRow ? target(end, side) : null;
  }
  if (end !== null && !inRow && !zonesOf(sensor).includes(end)) return null;
  if (inRow) return target(null, side, end);
  if (side === null) return target(null);
  return acceptsPosition(sensor, side) ? target(side) : null;
}

function zonesOf(sensor: SensorId): readonly Zone[] {
  const { zones }: SensorTerm = SENSORS[sensor];
  return Object.values(zones).flat();
}

function distinct(readings: readonly TargetReading[]): readonly TargetReading[] {
  const seen = new Map(readings.map((reading) => [JSON.stringify(reading), reading]));
  return [...seen.values()];
}

/** The action that a word means on a part, or null where it cannot be meant; `words` are all that it can mean. */
export function actionOn(action: ActionId, target: Target, words: readonly ActionId[]): ActionId | null {
  const { component } = target;
  const { group } = COMPONENTS[component];
  const isAdded = group === "accessories";
  if (words.includes("install") && action !== "install" && (isAdded || component === "ride-height"))
    return null;
  if (component === "wheel-alignment") return action === "adjust" || action === "inspect" ? action : null;
  switch (action) {
    case "calibrate":
      return target.sensor !== null || target.component === "headlamp" || target.component === "fog-lamp"
        ? action
        : null;
    case "scan":
      return null;
    case "install":
      if (component === "ride-height") return "modify";
      return isAdded ? action : null;
    case "rotate":
      return component === "wheel" || component === "tyre" ? action : null;
    case "program":
      return group === "electrical" || PROGRAMMABLE.has(component) ? action : null;
    default:
      return action;
  }
}

const PROGRAMMABLE: ReadonlySet<ComponentId> = new Set([
  "headlamp",
  "rear-lamp",
  "steering-gear",
  "steering-column",
  "powertrain",
  "instrument-panel",
  "liftgate",
  "battery-12v",
]);
