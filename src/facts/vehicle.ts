import type { Job, JobEquipment, JobVehicle } from "../job/index.js";
import {
  FALSE,
  TRUE,
  UNKNOWN,
  isKnown,
  oneOf,
  type FactValue,
  type Truth,
  knownWord,
  choose,
} from "../logic/index.js";
import {
  AS_USUAL,
  CLAIM_ACTIONS,
  FEATURES,
  FEATURE_IDS,
  MOUNT_PLACES_WITHOUT_MEANING,
  SENSORS,
  SENSOR_IDS,
  capital,
  componentOf,
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
  type PositionId,
  type PreciseMount,
  type SensorId,
  type SensorTerm,
  type ServingGroup,
  type StatedCarriers,
} from "../vocabulary/index.js";
import type { Topic, Unknown } from "./unknowns.js";

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

/** "At least one of these is fitted", as a feature proves it, where it stays open which. */
export interface Disjunction {
  readonly sensors: readonly string[];
  readonly because: readonly FeatureId[];
  readonly unknown: Unknown;
}

/** The vehicle as the rules see it. */
export interface VehicleFacts {
  readonly sensors: readonly SensorInstance[];
  readonly carriedBy: StatedCarriers;
  readonly disjunctions: readonly Disjunction[];
  readonly contradictions: readonly Contradiction[];
}

type Fit = "yes" | "no" | "unknown";

interface Slot {
  readonly key: string;
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly entries: readonly { readonly entry: JobEquipment; readonly pointer: string }[];
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

/** Whether a name means this sensor, under any of the names of its device; a name without its position may. */
export function matchName(named: NameOfSensor, sensor: SensorInstance): "is" | "may-be" | "is-not" {
  const own = [sensor, ...sensor.otherNames].filter((each) => each.sensor === named.sensor);
  if (own.some(({ position }) => position === null || position === named.position)) return "is";
  return own.length > 0 && named.position === null ? "may-be" : "is-not";
}

function listSlots(vehicle: JobVehicle): readonly Slot[] {
  const stated = (vehicle.equipment ?? []).map((entry, index) => ({
    entry,
    pointer: `/vehicle/equipment/${index}`,
  }));
  return SENSOR_IDS.flatMap((sensor) => {
    const entries = stated.filter(({ entry }) => entry.sensor === sensor);
    const extra = entries.flatMap(({ entry }) => entry.position ?? []);
    const positions = [...new Set([...positionsOf(sensor), ...extra])];
    return positions.map((position) => ({
      key: keyOf(sensor, position),
      sensor,
      position,
      entries: entries.filter(({ entry }) => (entry.position ?? position) === position),
    }));
  });
}

/** The key of a sensor at a position. */
export function keyOf(sensor: SensorId, position: PositionId | null): string {
  return position === null ? sensor : `${sensor}:${position}`;
}

function statedFit(slot: Slot, vehicle: JobVehicle, contradictions: Contradiction[]): Fit {
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
function drawFromNaming(
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
function shareDevices(slots: readonly Slot[], fits: Map<string, Fit>, contradictions: Contradiction[]): void {
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

function isStated(slots: readonly Slot[], key: string): boolean {
  return (slots.find((slot) => slot.key === key)?.entries.length ?? 0) > 0;
}

/**
 * Draws from each standard feature that at least one of the sensors that can serve it is fitted. With one
 * candidate left that one is; with several the disjunction stays; with none the job contradicts itself.
 */
function drawFromFeatures(
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

/** What is kept before a memory starts anew: vehicles of one line state the same over and over. */
const KEPT = 20_000;
const described = new WeakMap<StatedCarriers, Map<string, SensorInstance>>();

/** Describes a sensor; what is stated alike, of vehicles that are alike as far as it matters, is described once. */
function describeOnce(
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

/** Whether it is settled that the sensor is fitted, or settled that it is not. */
export function isFitSettled(sensor: SensorInstance): boolean {
  return isKnown(sensor.fitted);
}
