import type { JobVehicle } from "../job/index.js";
import { FALSE, TRUE, UNKNOWN, choose, knownWord, oneOf, type FactValue } from "../logic/index.js";
import {
  FEATURES,
  MOUNT_PLACES_WITHOUT_MEANING,
  SENSORS,
  SENSOR_IDS,
  endOfPosition,
  mountsOf,
  nameOfAll,
  nameOfSensor,
  partsBehind,
  partsOfMount,
  positionsOf,
  sideOfPosition,
  type ComponentId,
  type FeatureId,
  type LookId,
  type MountId,
  type PreciseMount,
  type SensorId,
  type SensorTerm,
  type StatedCarriers,
} from "../vocabulary/index.js";
import { type Fit, type Slot } from "./fit.js";
import type { Contradiction, SensorInstance } from "./sensor.js";
import type { Topic, Unknown } from "./unknowns.js";

/** What is kept before a memory starts anew: vehicles of one line state the same over and over. */
export const KEPT = 20_000;

const described = new WeakMap<StatedCarriers, Map<string, SensorInstance>>();

/** Describes a sensor; what is stated alike, of vehicles that are alike as far as it matters, is described once. */
export function describeOnce(
  slot: Slot,
  fit: Fit,
  group: Unknown | undefined,
  vehicle: JobVehicle,
  carriedBy: StatedCarriers,
  contradictions: Contradiction[],
): SensorInstance {
  const memory = described.get(carriedBy) ?? new Map<string, SensorInstance>();
  described.set(carriedBy, memory);
  const stated = slot.entries.map(({ entry, pointer }) => `${pointer}${JSON.stringify(entry)}`).join();
  // The question that a group asks names the features that prove it, so its key alone would mix vehicles up.
  const key = [slot.key, fit, group?.ask, stated, contextOf(slot, vehicle)].join("\n");
  const ready = memory.get(key);
  if (ready !== undefined) return ready;
  const before = contradictions.length;
  const made = describeSensor(slot, fit, group, vehicle, carriedBy, contradictions);
  // What contradicts itself has to say so each time.
  if (contradictions.length > before) return made;
  if (memory.size >= KEPT) memory.clear();
  memory.set(key, made);
  return made;
}

/** What the description of a sensor takes from the vehicle outside its own entries, as text. */
function contextOf({ sensor }: Slot, vehicle: JobVehicle): string {
  const isDescribedAlone =
    sensor !== "rear-camera" && sensor !== "occupant-classification-sensor" && KNOWN_BY[sensor] === undefined;
  if (isDescribedAlone) return "";
  const surround = sensor === "rear-camera" && isRearCameraOfSurroundView(vehicle);
  return `${JSON.stringify(vehicle.features)}${vehicle.driveSide ?? ""}${surround ? "surround" : ""}`;
}

function describeSensor(
  slot: Slot,
  fit: Fit,
  group: Unknown | undefined,
  vehicle: JobVehicle,
  carriedBy: StatedCarriers,
  contradictions: Contradiction[],
): SensorInstance {
  const { sensor, position, key } = slot;
  const pointer = slot.entries[0]?.pointer ?? null;
  const asker = (nameOf: () => string, owner: string): Asker => ({
    get name() {
      return nameOf();
    },
    ask: (topic, question, answers) => ({
      key: `${topic}:${owner}`,
      topic,
      about: pointer === null ? "/vehicle/equipment" : `${pointer}/${FIELD_OF_TOPIC[topic] ?? topic}`,
      ask: question,
      answers,
    }),
  });
  const ofOne = asker(() => nameOfSensor(sensor, position), key);
  // What nobody has said of any position by itself is asked once for all of them.
  const ofAll = isToldApart(slot) ? ofOne : asker(() => nameOfAll(sensor), sensor);
  const ofMount = hasMountsOfItsOwn(sensor) ? ofOne : ofAll;
  const { ask } = ofOne;
  const fitted: FactValue<Unknown> =
    fit === "unknown"
      ? oneOf(
          ["yes", "no"],
          [group ?? askForFeature(slot, vehicle) ?? askWhetherFitted(ofAll, ofAll !== ofOne)],
        )
      : knownWord(fit);
  const mountParts = readMountParts(slot, contradictions);
  const mount = choose(mountParts, () =>
    ofMount.ask("mount", `What carries the ${ofMount.name}?`, answersForMount(slot, mountParts)),
  );
  const looks = readLooks(slot, mountParts, contradictions);
  const looksThrough = choose(looks, () =>
    ofMount.ask("looksThrough", `What is in front of the ${ofMount.name}?`, looks),
  );
  const stated = slot.entries.find(({ entry }) => entry.sameDeviceAs !== undefined)?.entry.sameDeviceAs;
  return {
    key,
    sensor,
    position,
    fitted,
    isFitted: fit === "yes" ? TRUE : fit === "no" ? FALSE : UNKNOWN,
    facts: {
      sensor: knownWord(sensor),
      position: knownWord(position ?? "none"),
      mount,
      looksThrough,
      variant: readVariant(slot, ask),
      aimCritical: SENSORS[sensor].aimCritical ? YES : NO,
      servesFurther: readServesFurther(slot, vehicle, ask),
    },
    mountParts,
    concernedBy: partsBehind([...mountParts, ...looks.filter((look) => look !== "nothing")], carriedBy),
    side: readSide(slot, vehicle),
    end: endOfPosition(position),
    sameDeviceAs: stated ?? null,
    otherNames: [],
    statedAt: pointer,
  };
}

/** The field of an equipment entry that answers a topic, where it has another name. */
const FIELD_OF_TOPIC: Readonly<Partial<Record<Topic, string>>> = { servesFurther: "serves" };

/** Asks about a sensor, under the name that the question uses for it. */
interface Asker {
  readonly name: string;
  readonly ask: (topic: Topic, question: string, answers: readonly string[]) => Unknown;
}

function askWhetherFitted({ name, ask }: Asker, areSeveral: boolean): Unknown {
  return areSeveral
    ? ask("fitted", `Does the vehicle have ${name}?`, ["yes", "no", "only some of them"])
    : ask("fitted", `Does the vehicle have ${withArticle(name)}?`, ["yes", "no"]);
}

/** "a front radar", "an adaptive headlamp", but "front parking sensors" and "tyre-pressure monitoring". */
function withArticle(name: string): string {
  if (name.endsWith("s") || name.endsWith("ing")) return name;
  return /^[aeio]/.test(name) ? `an ${name}` : `a ${name}`;
}

/** Sensors that nobody sees on a vehicle, and the feature by which everybody knows that they are there. */
const KNOWN_BY: Readonly<Partial<Record<SensorId, FeatureId>>> = {
  "steering-angle-sensor": "electronic-stability-control",
  "inertial-sensor": "electronic-stability-control",
};

/** Asks for the feature that proves a sensor instead of the sensor, while nothing is said of either. */
function askForFeature(slot: Slot, vehicle: JobVehicle): Unknown | undefined {
  const feature = KNOWN_BY[slot.sensor];
  const value = feature === undefined ? undefined : (vehicle.features?.[feature] ?? "unknown");
  if (feature === undefined || value !== "unknown" || slot.entries.length > 0) return undefined;
  return {
    key: `features/${feature}`,
    topic: "feature",
    about: `/vehicle/features/${feature}`,
    ask: `Is ${FEATURES[feature].label} standard on this vehicle?`,
    answers: ["standard", "optional", "not-available"],
  };
}

/** Whether the sensor has one place only, or an entry speaks of this position by itself. */
function isToldApart(slot: Slot): boolean {
  const several = positionsOf(slot.sensor).length > 1;
  return !several || slot.entries.some(({ entry }) => (entry.position ?? null) !== null);
}

const WITH_MOUNTS_OF_THEIR_OWN: ReadonlySet<SensorId> = new Set(
  SENSOR_IDS.filter(
    (sensor) => new Set(positionsOf(sensor).map((position) => mountsOf(sensor, position).join())).size > 1,
  ),
);

/** Whether what carries the sensor differs between its positions. */
function hasMountsOfItsOwn(sensor: SensorId): boolean {
  return WITH_MOUNTS_OF_THEIR_OWN.has(sensor);
}

const YES = knownWord("yes");

const NO = knownWord("no");

const NONE = knownWord("none");

function readMountParts(slot: Slot, contradictions: Contradiction[]): readonly ComponentId[] {
  const usual = partsOf(mountsOf(slot.sensor, slot.position));
  const stated = slot.entries.flatMap(({ entry, pointer }) =>
    entry.mount === undefined || entry.mount === "unknown" || isWithoutMeaning(entry.mount)
      ? []
      : [{ parts: partsOf([entry.mount]), pointer }],
  );
  const first = stated[0];
  if (first === undefined) return usual;
  if (stated.every(({ parts }) => parts.join() === first.parts.join())) return first.parts;
  contradictions.push({
    about: stated.map(({ pointer }) => `${pointer}/mount`),
    says: `Entries differ on what the ${nameOfSensor(slot.sensor, slot.position)} is mounted on; it counts as unknown.`,
  });
  return usual;
}

function isWithoutMeaning(mount: string): mount is (typeof MOUNT_PLACES_WITHOUT_MEANING)[number] {
  return (MOUNT_PLACES_WITHOUT_MEANING as readonly string[]).includes(mount);
}

function partsOf(mounts: readonly (MountId | PreciseMount)[]): readonly ComponentId[] {
  return [...new Set(mounts.flatMap((mount) => partsOfMount(mount)))];
}

/** Where the stated word names a group of parts, the answers are those parts; otherwise the usual mounts. */
function answersForMount(slot: Slot, parts: readonly ComponentId[]): readonly string[] {
  const isStated = slot.entries.some(({ entry }) => entry.mount !== undefined && entry.mount !== "unknown");
  return isStated ? parts : mountsOf(slot.sensor, slot.position);
}

function readLooks(
  slot: Slot,
  mountParts: readonly ComponentId[],
  contradictions: Contradiction[],
): readonly LookId[] {
  const stated = slot.entries.flatMap(({ entry, pointer }) =>
    entry.looksThrough === undefined || entry.looksThrough === "unknown"
      ? []
      : [{ looks: entry.looksThrough, pointer }],
  );
  const first = stated[0];
  if (first !== undefined && stated.every(({ looks }) => looks === first.looks)) return [first.looks];
  if (first !== undefined) {
    contradictions.push({
      about: stated.map(({ pointer }) => `${pointer}/looksThrough`),
      says: `Entries differ on what the ${nameOfSensor(slot.sensor, slot.position)} looks through; it counts as unknown.`,
    });
  }
  const term: SensorTerm = SENSORS[slot.sensor];
  const fitting = term.looksThrough.filter((look) => mountParts.some((part) => agrees(part, look)));
  return fitting.length === 0 ? term.looksThrough : fitting;
}

/** A sensor on the windshield or its mirror looks through the windshield, and one mounted elsewhere outside does not. */
function agrees(mount: ComponentId, look: LookId): boolean {
  const inside = mount === "windshield" || mount === "interior-mirror";
  const either = mount === "roof-header" || mount === "instrument-panel";
  return either || inside === (look === "windshield");
}

function readVariant(
  slot: Slot,
  ask: (topic: Topic, question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (slot.sensor !== "tyre-pressure-sensors") return NONE;
  const stated = slot.entries.find(({ entry }) => entry.variant !== undefined)?.entry.variant ?? "unknown";
  if (stated !== "unknown") return knownWord(stated);
  const answers = ["direct", "indirect"];
  return oneOf(answers, [
    ask(
      "variant",
      "Does the tyre pressure system measure in the wheels (direct) or by wheel speed (indirect)?",
      answers,
    ),
  ]);
}

const FURTHER: readonly FeatureId[] = ["surround-view", "parking-assist", "rear-automatic-emergency-braking"];

function readServesFurther(
  slot: Slot,
  vehicle: JobVehicle,
  ask: (topic: Topic, question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (slot.sensor !== "rear-camera") return NO;
  const entries = slot.entries.map(({ entry }) => entry);
  if (entries.some((entry) => entry.sameDeviceAs === "surround-camera:rear")) return YES;
  if (isRearCameraOfSurroundView(vehicle)) return YES;
  const stated = entries.flatMap((entry) => (entry.serves === undefined ? [] : [entry.serves]));
  if (stated.length > 0) return stated.flat().some((feature) => FURTHER.includes(feature)) ? YES : NO;
  if (FURTHER.every((feature) => vehicle.features?.[feature] === "not-available")) return NO;
  return oneOf(
    ["yes", "no"],
    [
      ask(
        "servesFurther",
        "Does the rear camera also serve surround view, parking assist or rear automatic braking?",
        [...FURTHER, "none of them"],
      ),
    ],
  );
}

/** Whether an entry for a camera of surround view says that it is the rear camera. */
function isRearCameraOfSurroundView({ equipment = [] }: JobVehicle): boolean {
  return equipment.some(
    ({ sensor, sameDeviceAs }) => sensor === "surround-camera" && sameDeviceAs === "rear-camera",
  );
}

/** The side a sensor lies on. Seats follow from the side that the driver sits on. */
function readSide(slot: Slot, vehicle: JobVehicle): FactValue<Unknown> {
  const side = sideOfPosition(slot.position);
  if (side !== null) return knownWord(side);
  if (slot.position !== "passenger" && slot.position !== "driver") return NONE;
  const driver = vehicle.driveSide ?? "unknown";
  if (driver === "unknown") {
    return oneOf(
      ["left", "right"],
      [
        {
          key: "driveSide",
          topic: "driveSide",
          about: "/vehicle/driveSide",
          ask: "On which side does the driver sit?",
          answers: ["left", "right"],
        },
      ],
    );
  }
  const other = driver === "left" ? "right" : "left";
  return knownWord(slot.position === "driver" ? driver : other);
}
