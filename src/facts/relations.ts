import { oneOf, type FactValue, knownWord } from "../logic/index.js";
import { REACHES, SIGHTS } from "../rulebook/index.js";
import {
  CARRIED_BY,
  COMPONENTS,
  isCarriedBy,
  isSatIn,
  zonesOf,
  zonesToAskAbout,
  type ComponentId,
  type ComponentTerm,
  type SensorId,
  type StatedCarriers,
} from "../vocabulary/index.js";
import type { Cause } from "./causes.js";
import type { JobFacts } from "./job-facts.js";
import { joinUnknowns, type Unknown } from "./unknowns.js";
import { matchName, type SensorInstance } from "./sensor.js";

const YES = knownWord("yes");
const NO = knownWord("no");
const NONE = knownWord("none");

/**
 * How a cause bears on a sensor: each fact is worked out when a rule first reads it, and kept.
 * Reading depends on nothing but the arguments, so that a kept answer is always the right one.
 */
export class Relation {
  #reach: FactValue<Unknown> | undefined;
  #sight: FactValue<Unknown> | undefined;
  #served: FactValue<Unknown> | undefined;
  #touch: number | undefined;

  constructor(
    readonly cause: Cause,
    readonly sensor: SensorInstance,
    readonly job: JobFacts,
  ) {}

  get reach(): FactValue<Unknown> {
    return (this.#reach ??= readReach(this.cause, this.sensor, this.job.carriedBy));
  }

  get sight(): FactValue<Unknown> {
    return (this.#sight ??= readSight(this.cause, this.sensor, this.job.carriedBy));
  }

  get served(): FactValue<Unknown> {
    return (this.#served ??= readServed(this.cause, this.sensor));
  }

  /** What reach, sight and served can be, as one number: the index over rules goes by it (see `touchOf`). */
  get touch(): number {
    return (this.#touch ??= touchOf(this.reach, this.sight, this.served));
  }

  get sameSide(): FactValue<Unknown> {
    return samePlace(this.cause.facts.side, this.sensor.side);
  }

  get sameAxle(): FactValue<Unknown> {
    return samePlace(this.cause.facts.axle, this.sensor.end === null ? NONE : knownWord(this.sensor.end));
  }

  get sameEnd(): FactValue<Unknown> {
    const component = this.cause.operation?.component;
    if (component === undefined) return NO;
    const zones = termOf(component).zones;
    const ends = zonesOf(this.sensor.sensor, this.sensor.position);
    const shared = (["front", "rear"] as const).some((end) => zones.includes(end) && ends.includes(end));
    return shared ? YES : NO;
  }

  get inZone(): FactValue<Unknown> {
    return readInZone(this.cause, this.sensor, this.job);
  }

  get codeIsOwn(): FactValue<Unknown> {
    const names = this.cause.names;
    if (this.cause.isSupposed) return oneOf(["yes", "no"], []);
    if (names === null) return NO;
    switch (matchName(names, this.sensor)) {
      case "is":
        return YES;
      case "is-not":
        return NO;
      case "may-be":
        return oneOf(
          ["yes", "no"],
          [
            {
              key: `line/${this.cause.key}/position`,
              topic: "place",
              about: `${this.cause.pointer}/position`,
              ask: `Which of the ${names.sensor} positions set the fault code?`,
              answers: [],
            },
          ],
        );
    }
  }

  get sensorReplaced(): FactValue<Unknown> {
    return this.job.replacedSensors.get(this.sensor.key) ?? NO;
  }
}

/** The relations that a touch tells about, with the values of each; one bit a value, in this order. */
export const TOUCH = [
  ["reach", REACHES],
  ["sight", SIGHTS],
  ["served", ["yes", "no"]],
] as const;

/** The touch of a cause that has nothing to do with a sensor. */
export const UNTOUCHED = touchOf(NONE, NONE, NO);

/**
 * How a cause can touch a sensor, without working the relation out where the parts have nothing to do with one another,
 * which is so for most pairs.
 */
export function touchBetween(cause: Cause, sensor: SensorInstance, job: JobFacts): number {
  const component = cause.operation?.component ?? filmComponent(cause);
  if (component === null) return UNTOUCHED;
  const isNear = sensor.concernedBy.has(component) || bearsOnAny(component);
  return isNear || cause.stated?.serves !== undefined ? new Relation(cause, sensor, job).touch : UNTOUCHED;
}

/** Whether work on a part can bear on sensors that do not stand on it: it names them, or the part serves them. */
export function bearsOnAny(component: ComponentId): boolean {
  return isNamed(component) || mayServe(component);
}

/** Operations on these parts name the sensor that they are about. */
function isNamed(component: ComponentId): boolean {
  return component === "sensor" || component === "sensor-bracket" || BRACKET_OF[component] !== undefined;
}

function mayServe(component: ComponentId): boolean {
  return SERVES[component] !== undefined || MAY_SERVE[component] !== undefined;
}

function touchOf(...values: readonly FactValue<Unknown>[]): number {
  let bits = 0;
  let at = 0;
  TOUCH.forEach(([, words], index) => {
    for (const candidate of values[index]?.candidates ?? words) {
      bits |= 1 << (at + (words as readonly unknown[]).indexOf(candidate));
    }
    at += words.length;
  });
  return bits;
}

/** The values of one of the relations that a touch allows. */
export function wordsOfTouch(touch: number, fact: (typeof TOUCH)[number][0]): readonly string[] {
  let at = 0;
  for (const [name, words] of TOUCH) {
    if (name === fact) return words.filter((_, index) => (touch & (1 << (at + index))) !== 0);
    at += words.length;
  }
  return [];
}

function termOf(component: ComponentId): ComponentTerm {
  return COMPONENTS[component];
}

/** Brackets that have a component id of their own, and the sensor that they hold unless the operation says another. */
const BRACKET_OF: Readonly<Partial<Record<ComponentId, SensorId>>> = {
  "camera-bracket": "forward-camera",
  "radar-bracket": "front-radar",
};

function readReach(cause: Cause, sensor: SensorInstance, stated: StatedCarriers): FactValue<Unknown> {
  const spec = cause.operation;
  if (spec === null) return NONE;
  if (spec.component === "sensor") return reachNamed(cause, sensor, "sensor");
  if (spec.component === "sensor-bracket") return reachNamed(cause, sensor, "bracket");
  const held = BRACKET_OF[spec.component];
  if (held !== undefined && (spec.sensor ?? held) === sensor.sensor) {
    return reachNamed(cause, sensor, "bracket");
  }
  if (!sensor.concernedBy.has(spec.component)) return NONE;
  const found = new Set<string>();
  const open = new Set<ComponentId>();
  for (const part of sensor.mountParts) {
    if (part === spec.component) {
      found.add("mount");
      continue;
    }
    const standing = isCarriedBy(part, spec.component, stated);
    if (standing.surely !== "no") found.add("carrier");
    if (standing.surely !== "yes") found.add("none");
    for (const each of standing.open) open.add(each);
  }
  let unknowns: readonly Unknown[] =
    found.size > 1 && sensor.mountParts.length > 1 ? sensor.facts.mount.unknowns : [];
  unknowns = joinUnknowns(unknowns, [...open].map(askForCarrier));
  return withinPlace(found, unknowns, cause, sensor);
}

/** An operation that names a sensor concerns that one; with its position left out it may be any of them. */
function reachNamed(cause: Cause, sensor: SensorInstance, reach: "sensor" | "bracket"): FactValue<Unknown> {
  const spec = cause.operation;
  if (spec === null) return NONE;
  const named = spec.sensor ?? BRACKET_OF[spec.component];
  if (named === undefined) {
    return oneOf(
      [reach, "none"],
      [
        {
          key: `line/${cause.key}/sensor`,
          topic: "sensorNamed",
          about: `${cause.pointer}/sensor`,
          ask: `${cause.key}: Which sensor is it?`,
          answers: [],
        },
      ],
    );
  }
  switch (matchName({ sensor: named, position: spec.position }, sensor)) {
    case "is":
      return knownWord(reach);
    case "is-not":
      return NONE;
    case "may-be":
      return oneOf(
        [reach, "none"],
        [
          {
            key: `line/${cause.key}/position`,
            topic: "place",
            about: `${cause.pointer}/position`,
            ask: `${cause.key}: Which position of the ${named} is it?`,
            answers: [],
          },
        ],
      );
  }
}

/** Narrows what was found by side and axle: the left door never carries what is on the right. */
function withinPlace(
  found: ReadonlySet<string>,
  unknowns: readonly Unknown[],
  cause: Cause,
  sensor: SensorInstance,
): FactValue<Unknown> {
  if (found.size === 1 && found.has("none")) return NONE;
  const side = samePlace(cause.facts.side, sensor.side);
  const axle =
    sensor.sensor === "ride-height-sensor"
      ? samePlace(cause.facts.axle, sensor.end === null ? NONE : knownWord(sensor.end))
      : NONE;
  const places = [side, axle];
  if (places.some((place) => place.candidates?.every((each) => each === "no") === true)) return NONE;
  const open = places.filter((place) => place.candidates?.includes("no") !== false && place !== NONE);
  const candidates = new Set(found);
  let all = unknowns;
  for (const place of open) {
    candidates.add("none");
    all = joinUnknowns(all, place.unknowns);
  }
  return oneOf([...candidates], all);
}

/** Asks for the carrier of a part that differs between vehicles. */
export function askForCarrier(part: ComponentId): Unknown {
  return {
    key: `carriedBy:${part}`,
    topic: "carriedBy",
    about: `/vehicle/carriedBy/${part}`,
    ask: `What carries the ${termOf(part).label} on this vehicle?`,
    answers: CARRIED_BY[part]?.parts ?? [],
  };
}

/** Whether two places agree: none where either has no place, otherwise yes or no as far as they are known. */
function samePlace(a: FactValue<Unknown>, b: FactValue<Unknown>): FactValue<Unknown> {
  if (a === NONE || b === NONE) return NONE;
  const left = a.candidates ?? [];
  const right = b.candidates ?? [];
  const verdicts = new Set(
    left.flatMap((one) =>
      right.map((other) => (one === "none" || other === "none" ? "none" : one === other ? "yes" : "no")),
    ),
  );
  return oneOf([...verdicts], joinUnknowns(a.unknowns, b.unknowns));
}

function readSight(cause: Cause, sensor: SensorInstance, stated: StatedCarriers): FactValue<Unknown> {
  const component = cause.operation?.component ?? filmComponent(cause);
  if (component === null || !sensor.concernedBy.has(component)) return NONE;
  const found = new Set<string>();
  const open = new Set<ComponentId>();
  const judge = (cover: ComponentId): void => {
    if (cover === component) {
      found.add("cover");
      return;
    }
    // The structure behind a cover moves the cover with the sensor; only bolted parts take the cover off with them.
    const standing = termOf(component).structural
      ? { surely: "no" as const, open: [] }
      : isCarriedBy(cover, component, stated);
    if (standing.surely !== "no") found.add("carrier-of-cover");
    if (standing.surely !== "yes") found.add("none");
    for (const each of standing.open) open.add(each);
  };
  const looks = sensor.facts.looksThrough.candidates ?? [];
  const mounts = sensor.mountParts;
  for (const look of looks) {
    if (look === "nothing") found.add("none");
    else judge(look as ComponentId);
  }
  let unknowns: readonly Unknown[] =
    found.size > 1 && looks.length > 1 ? sensor.facts.looksThrough.unknowns : [];
  if (mounts.includes(component) && isSatIn(component)) {
    if (mounts.length === 1) return withinPlace(new Set(["cover"]), [], cause, sensor);
    found.add("cover");
    if (found.size > 1) unknowns = joinUnknowns(unknowns, sensor.facts.mount.unknowns);
  }
  return withinPlace(found, joinUnknowns(unknowns, [...open].map(askForCarrier)), cause, sensor);
}

function filmComponent(cause: Cause): ComponentId | null {
  const component = cause.facts.component.candidates?.[0];
  const isFilm = cause.facts.measurement.candidates?.[0] === "film-thickness";
  return isFilm && typeof component === "string" && component !== "none" ? (component as ComponentId) : null;
}

/** Modules that serve the same sensors on every vehicle; common practice, no source. */
const SERVES: Readonly<Partial<Record<ComponentId, readonly SensorId[]>>> = {
  "surround-view-module": ["surround-camera"],
  "parking-assist-module": ["parking-sensors"],
  "lighting-module": ["adaptive-headlamp"],
  "power-steering-module": ["steering-angle-sensor", "steering-torque-sensor"],
  "occupant-classification-module": ["occupant-classification-sensor"],
  "stability-control-module": ["steering-angle-sensor", "inertial-sensor"],
  "restraint-module": ["occupant-classification-sensor", "inertial-sensor"],
};

/** Parts that serve sensors, but which ones differs between vehicles. */
const MAY_SERVE: Readonly<Partial<Record<ComponentId, readonly SensorId[] | "any">>> = {
  "driver-assistance-module": [
    "forward-camera",
    "front-radar",
    "front-corner-radar",
    "rear-corner-radar",
    "lidar",
    "night-vision-camera",
    "surround-camera",
    "rear-camera",
    "side-camera",
    "driver-monitoring-camera",
    "parking-sensors",
  ],
  "electronic-module": "any",
  "wiring-harness": "any",
};

function readServed(cause: Cause, sensor: SensorInstance): FactValue<Unknown> {
  const spec = cause.operation;
  if (spec === null) return NO;
  const stated = cause.stated?.serves;
  if (stated !== undefined) {
    return stated.some((each) => each === sensor.key || each === sensor.sensor) ? YES : NO;
  }
  const sure = SERVES[spec.component];
  if (sure !== undefined) return sure.includes(sensor.sensor) ? YES : NO;
  const maybe = MAY_SERVE[spec.component];
  if (maybe === undefined || (maybe !== "any" && !maybe.includes(sensor.sensor))) return NO;
  return oneOf(
    ["yes", "no"],
    [
      {
        key: `line/${cause.key}/serves`,
        topic: "serves",
        about: `${cause.pointer}/serves`,
        ask: `${cause.key}: Which sensors does the ${termOf(spec.component).label} serve?`,
        answers: [],
      },
    ],
  );
}

function readInZone(cause: Cause, sensor: SensorInstance, job: JobFacts): FactValue<Unknown> {
  const zones = zonesOf(sensor.sensor, sensor.position);
  if (cause.kind === "impact-zone") {
    const zone = cause.facts.impactZone.candidates?.[0];
    if (cause.isSupposed) return zones.length > 0 ? oneOf(["yes", "no"], []) : NO;
    if (zones.some((each) => each === zone)) return YES;
    return zonesToAskAbout(sensor.sensor).some((each) => each === zone) ? job.glassOrHeaderHit : NO;
  }
  if (cause.kind !== "airbags-deployed" && cause.kind !== "structural-damage") return NO;
  if (zones.length === 0) return NO;
  const hit = job.impactZones.candidates;
  if (hit === null) return oneOf(["yes", "no"], job.impactZones.unknowns);
  const all = hit[0];
  if (!Array.isArray(all)) return NO;
  if (zones.some((each) => all.includes(each))) return YES;
  return zonesToAskAbout(sensor.sensor).some((each) => all.includes(each)) ? job.glassOrHeaderHit : NO;
}
