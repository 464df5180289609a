import type { ComponentId } from "./components.js";
import type { MountId, PositionId } from "./sensors.js";

/**
 * What a part is fastened to. `all`: to every one of them. `one-of`: to exactly one, and which one differs
 * between vehicles.
 */
export interface Carriage {
  readonly kind: "all" | "one-of";
  readonly parts: readonly ComponentId[];
}

const all = (...parts: readonly ComponentId[]): Carriage => ({ kind: "all", parts });
const oneOf = (...parts: readonly ComponentId[]): Carriage => ({ kind: "one-of", parts });

/**
 * The carrier graph of the body: part → what carries it. A part without an entry stands on the body itself.
 * Common practice, no source; the bumper covers are located by the reinforcement and by the panels beside them.
 */
export const CARRIED_BY: Readonly<Partial<Record<ComponentId, Carriage>>> = {
  "front-bumper-cover": all("front-bumper-reinforcement", "front-end-carrier", "apron"),
  "front-bumper-absorber": all("front-bumper-reinforcement"),
  "front-bumper-reinforcement": all("front-rail"),
  grille: oneOf("front-bumper-cover", "front-end-carrier"),
  "grille-emblem": all("grille"),
  "grille-shutter": all("front-end-carrier"),
  "front-end-carrier": all("front-rail"),
  radiator: all("front-end-carrier"),
  condenser: all("front-end-carrier"),
  headlamp: all("front-end-carrier"),
  "fog-lamp": all("front-bumper-cover"),
  "licence-plate-bracket": all("front-bumper-cover"),
  fender: all("apron"),
  "wheel-arch-liner": all("fender"),

  windshield: all("a-pillar", "roof-panel", "cowl"),
  "camera-bracket": all("windshield"),
  "interior-mirror": all("windshield"),
  "windshield-moulding": all("windshield"),

  "front-door": all("a-pillar"),
  "rear-door": all("b-pillar"),
  "door-mirror": all("front-door"),
  "mirror-glass": all("door-mirror"),
  "mirror-cap": all("door-mirror"),

  "rear-bumper-cover": all("rear-bumper-reinforcement", "rear-body-panel", "quarter-panel"),
  "rear-bumper-reinforcement": all("rear-rail"),
  "rear-lamp": oneOf("quarter-panel", "liftgate", "trunk-lid", "tailgate"),
  spoiler: all("liftgate"),

  "clock-spring": all("steering-column"),
  "steering-wheel": all("steering-column"),
  "restraint-module": all("floor-pan"),
};

/** A mount as the parts that it can be: most name one part, two name a group of which one carries the sensor. */
const PARTS_OF_MOUNT: Readonly<Record<string, readonly ComponentId[]>> = {
  "front-structure": ["front-bumper-reinforcement", "front-end-carrier", "front-rail", "apron"],
  "rear-structure": ["rear-bumper-reinforcement", "rear-body-panel", "rear-rail", "quarter-panel"],
  seat: ["front-seat"],
};

/** Parts of the structure that may be stated as a mount where the usual word would leave open which part it is. */
export const PRECISE_MOUNTS = [
  "front-end-carrier",
  "front-rail",
  "apron",
  "rear-bumper-reinforcement",
  "rear-body-panel",
  "rear-rail",
] as const satisfies readonly ComponentId[];
export type PreciseMount = (typeof PRECISE_MOUNTS)[number];

/** The parts that a stated mount can be: one, or several where the word names a group. */
export function partsOfMount(mount: MountId | PreciseMount): readonly ComponentId[] {
  return PARTS_OF_MOUNT[mount] ?? [mount as ComponentId];
}

/** How surely one part stands on another: certainly, on some vehicles, or not. */
export interface CarriedSurely {
  readonly surely: "yes" | "on-some" | "no";
  /** The parts whose own carrier differs between vehicles and decides the answer. */
  readonly open: readonly ComponentId[];
}

const NO: CarriedSurely = { surely: "no", open: [] };
const YES: CarriedSurely = { surely: "yes", open: [] };

/** What carries a part on this vehicle, where it was stated. */
export type StatedCarriers = Readonly<Partial<Record<ComponentId, ComponentId>>>;

/** Nothing stated: every part is carried as the graph says. */
export const AS_USUAL: StatedCarriers = {};

/**
 * Whether `part` is carried, directly or through others, by `carrier`.
 *
 * A stated carrier replaces the general edge of that part. The graph is acyclic (a test holds it), so the walk ends.
 */
export function isCarriedBy(
  part: ComponentId,
  carrier: ComponentId,
  stated: StatedCarriers = AS_USUAL,
): CarriedSurely {
  const { carriers } = keptFor(stated);
  const kept = carriers.get(part) ?? new Map<ComponentId, CarriedSurely>();
  carriers.set(part, kept);
  const ready = kept.get(carrier);
  if (ready !== undefined) return ready;
  const answer = walkCarriers(part, carrier, stated);
  kept.set(carrier, answer);
  return answer;
}

interface Kept {
  readonly carriers: Map<ComponentId, Map<ComponentId, CarriedSurely>>;
  readonly behind: Map<string, ReadonlySet<ComponentId>>;
}

/** The graph is the same for all vehicles that state the same carriers, so each answer is worked out once. */
const kept = new WeakMap<StatedCarriers, Kept>();

function keptFor(stated: StatedCarriers): Kept {
  const ready = kept.get(stated);
  if (ready !== undefined) return ready;
  const made: Kept = { carriers: new Map(), behind: new Map() };
  kept.set(stated, made);
  return made;
}

/**
 * Parts that would carry one another in a circle, the first repeated at the end, if the stated carriers were taken as
 * they stand; `null` where there is no such circle. Every other walk over the graph rests on there being none.
 */
export function findCarrierCircle(stated: StatedCarriers): readonly ComponentId[] | null {
  const done = new Set<ComponentId>();
  const walk = (part: ComponentId, path: readonly ComponentId[]): readonly ComponentId[] | null => {
    if (path.includes(part)) return [...path.slice(path.indexOf(part)), part];
    if (done.has(part)) return null;
    const told = stated[part];
    for (const carrier of told === undefined ? (CARRIED_BY[part]?.parts ?? []) : [told]) {
      const circle = walk(carrier, [...path, part]);
      if (circle !== null) return circle;
    }
    done.add(part);
    return null;
  };
  for (const part of Object.keys(stated) as ComponentId[]) {
    const circle = walk(part, []);
    if (circle !== null) return circle;
  }
  return null;
}

function walkCarriers(part: ComponentId, carrier: ComponentId, stated: StatedCarriers): CarriedSurely {
  const told = stated[part];
  const carriage = told === undefined ? CARRIED_BY[part] : all(told);
  if (carriage === undefined) return NO;
  const answers = carriage.parts.map((each) => (each === carrier ? YES : isCarriedBy(each, carrier, stated)));
  const open = [...new Set(answers.flatMap((answer) => answer.open))];
  if (carriage.kind === "all") {
    if (answers.some((answer) => answer.surely === "yes")) return YES;
    return answers.some((answer) => answer.surely === "on-some") ? { surely: "on-some", open } : NO;
  }
  if (answers.every((answer) => answer.surely === "yes")) return YES;
  if (answers.every((answer) => answer.surely === "no")) return NO;
  return { surely: "on-some", open: [part, ...open] };
}

/** The parts that a carrier holds directly, and whether it does so on every vehicle. */
export function partsCarriedBy(
  carrier: ComponentId,
  stated: StatedCarriers = AS_USUAL,
): readonly { readonly part: ComponentId; readonly standing: CarriedSurely }[] {
  return (Object.keys(CARRIED_BY) as ComponentId[]).flatMap((part) => {
    const told = stated[part];
    const carriage = told === undefined ? CARRIED_BY[part] : all(told);
    if (!carriage?.parts.includes(carrier)) return [];
    const standing: CarriedSurely = carriage.kind === "all" ? YES : { surely: "on-some", open: [part] };
    return [{ part, standing }];
  });
}

/** Outer parts that a sensor sits in, so that work on the part itself is work in front of the sensor. */
const PARTS_SAT_IN: ReadonlySet<ComponentId> = new Set([
  "front-bumper-cover",
  "rear-bumper-cover",
  "grille",
  "fender",
  "quarter-panel",
  "door-mirror",
  "liftgate",
  "trunk-lid",
  "tailgate",
  "spoiler",
  "rear-lamp",
  "headlamp",
]);

/** Whether a sensor mounted on `part` sits in its outer face. */
export function isSatIn(part: ComponentId): boolean {
  return PARTS_SAT_IN.has(part);
}

/** The side of the vehicle that a position lies on; `null` for positions in the middle. Seats need the drive side. */
export function sideOfPosition(position: PositionId | null): "left" | "right" | null {
  if (position === null) return null;
  if (position === "left" || position === "front-left" || position === "rear-left") return "left";
  if (position === "right" || position === "front-right" || position === "rear-right") return "right";
  return null;
}

/** The end of the vehicle that a position names; `null` where it names none. */
export function endOfPosition(position: PositionId | null): "front" | "rear" | null {
  if (position === null) return null;
  if (position === "front" || position === "front-left" || position === "front-right") return "front";
  if (position === "rear" || position === "rear-left" || position === "rear-right") return "rear";
  return null;
}

/**
 * The parts that can matter to something that stands on, or looks through, one of `parts`: these parts themselves and
 * everything that may carry them.
 */
export function partsBehind(
  parts: readonly ComponentId[],
  stated: StatedCarriers = AS_USUAL,
): ReadonlySet<ComponentId> {
  const key = parts.join();
  const { behind } = keptFor(stated);
  const ready = behind.get(key);
  if (ready !== undefined) return ready;
  const found = new Set<ComponentId>();
  const open = [...parts];
  for (let part = open.pop(); part !== undefined; part = open.pop()) {
    if (found.has(part)) continue;
    found.add(part);
    const told = stated[part];
    open.push(...(told === undefined ? (CARRIED_BY[part]?.parts ?? []) : [told]));
  }
  behind.set(key, found);
  return found;
}
