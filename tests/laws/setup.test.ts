import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import {
  checkSetup,
  readSetup,
  setupResultShape,
  type Setup,
  type SetupResult,
} from "../../src/setup/index.js";
import { check } from "../properties.js";
import { arbitrarySetup, blurred, mirrored, seenFromTheFloor, shuffleKeys } from "./arbitrary-setup.js";

/** Far below what anybody reads, far above the rounding of ten metres turned about. */
const ROUNDING = 1e-5;

/** The result without its printed arithmetic, whose inputs are the document's own numbers. */
function outcomeOf(setup: Setup): Omit<SetupResult, "workings"> {
  const { workings, ...outcome } = checkSetup(setup);
  expect(workings.length).toBeGreaterThan(0);
  return outcome;
}

/** Compares leaf by leaf: numbers but for rounding, words exactly; sentences hold rounded numbers and are left out. */
function expectSame(one: unknown, other: unknown, path = ""): void {
  if (typeof one === "number" && typeof other === "number") {
    const room = ROUNDING * Math.max(1, Math.abs(one));
    expect(Math.abs(one - other), `${path}: ${one} and ${other}`).toBeLessThanOrEqual(room);
    return;
  }
  if (one === null || typeof one !== "object" || other === null || typeof other !== "object") {
    if (!path.endsWith("/says")) expect(other, path).toStrictEqual(one);
    return;
  }
  expect(Object.keys(other), path).toEqual(Object.keys(one));
  for (const [key, value] of Object.entries(one))
    expectSame(value, (other as Readonly<Record<string, unknown>>)[key], `${path}/${key}`);
}

describe("a set-up", () => {
  it("comes to a result of its shape, none of the generated ones being refused", () => {
    check(
      fc.property(arbitrarySetup, (setup) => {
        expect(setupResultShape.safeParse(checkSetup(setup)).error?.issues ?? []).toEqual([]);
      }),
    );
  });

  it("comes to the same wherever and however the vehicle stands on the floor", () => {
    const moves = fc.record({
      dx: fc.integer({ min: -20_000, max: 20_000 }),
      dy: fc.integer({ min: -20_000, max: 20_000 }),
      turn: fc.integer({ min: -180, max: 180 }),
    });
    check(
      fc.property(arbitrarySetup, moves, (setup, move) => {
        expectSame(outcomeOf(setup), outcomeOf(seenFromTheFloor(setup, move)));
      }),
      100,
    );
  });

  it("comes to the same, byte for byte, again and with its keys in any order", () => {
    check(
      fc.property(arbitrarySetup, fc.nat(), (setup, seed) => {
        const bytes = JSON.stringify(checkSetup(setup));
        expect(JSON.stringify(checkSetup(setup))).toBe(bytes);
        expect(JSON.stringify(checkSetup(shuffleKeys(setup, seed)))).toBe(bytes);
      }),
    );
  });

  it("keeps every number that does not rest on what is left out", () => {
    const fields = fc.constantFrom(...(Object.keys(RESTS_ON_IT) as (keyof typeof RESTS_ON_IT)[]));
    check(
      fc.property(arbitrarySetup, fields, (setup, field) => {
        const whole = outcomeOf(setup);
        const { [field]: left, ...rest } = setup;
        expect(left).toBeDefined();
        const without = outcomeOf(rest);
        const kept = PARTS.filter((part) => !RESTS_ON_IT[field].includes(part));
        for (const part of kept) expect(without[part], `${part} without ${field}`).toEqual(whole[part]);
      }),
    );
  });

  it("is not proven by knowing less", () => {
    const factors = fc.integer({ min: 101, max: 1000 }).map((hundredths) => hundredths / 100);
    check(
      fc.property(arbitrarySetup, factors, (setup, factor) => {
        const before = decisionsOf(checkSetup(setup));
        const after = decisionsOf(checkSetup(blurred(setup, factor)));
        expect([...after.keys()]).toEqual([...before.keys()]);
        for (const [of, verdict] of after)
          if (verdict !== "cannot-be-decided") expect(before.get(of), of).toBe(verdict);
      }),
    );
  });
});

const PARTS = [
  "vehicle",
  "alignment",
  "centreLine",
  "floor",
  "attitude",
  "targets",
  "bay",
  "headlamps",
] as const;

/** What may change where a field is left out. */
const RESTS_ON_IT: Readonly<
  Record<
    | "rearToe"
    | "setBack"
    | "marks"
    | "floor"
    | "places"
    | "rideHeight"
    | "tyres"
    | "target"
    | "bay"
    | "headlamps",
    readonly (typeof PARTS)[number][]
  >
> = {
  rearToe: ["alignment", "targets", "centreLine", "bay"],
  setBack: ["alignment"],
  marks: ["centreLine"],
  floor: ["floor", "targets"],
  places: ["targets", "centreLine", "bay"],
  rideHeight: ["attitude"],
  tyres: ["attitude"],
  target: ["targets", "centreLine", "bay"],
  bay: ["bay"],
  headlamps: ["headlamps"],
};

/** Verdicts by what they are about. Tapes that disagree decide nothing, and knowing less, they may come to agree. */
function decisionsOf({ targets, headlamps }: SetupResult): ReadonlyMap<string, string> {
  return new Map([
    ...targets
      .filter(({ measured }) => (measured?.fit ?? null) === null)
      .flatMap(({ decisions }) => decisions.map(({ of, verdict }) => [of, verdict] as const)),
    ...headlamps.flatMap(({ decision }) =>
      decision === null ? [] : [[decision.of, decision.verdict] as const],
    ),
  ]);
}

describe("a set-up in a mirror", () => {
  it("comes to what the mirror shows", () => {
    check(
      fc.property(arbitrarySetup, (setup) => {
        expectSame(imageOf(outcomeOf(setup)), partsOf(outcomeOf(mirrored(setup))));
      }),
    );
  });
});

type Outcome = Omit<SetupResult, "workings">;

/** What a mirror has something to say about, as it comes. */
function partsOf({ alignment, centreLine, floor, attitude, targets, bay, headlamps }: Outcome) {
  return {
    thrust: alignment?.thrust?.heading,
    trade: alignment?.thrust?.trade,
    totalRearToe: alignment?.totalRearToe,
    setBack: alignment?.setBack?.mm,
    marks: centreLine?.atTargets.map(({ beyond, lateral, uLateral }) => ({ beyond, lateral, uLateral })),
    marksYaw: centreLine?.yaw,
    slopes: floor?.plane,
    flatness: floor?.flatness,
    twist: floor?.wheels?.twist,
    shims: floor?.wheels?.shims.map(({ thickness }) => thickness),
    attitude: attitude && [attitude.front, attitude.rear, attitude.pitch],
    rolls: attitude && [attitude.rollFront ?? 0, attitude.rollRear ?? 0],
    targets: targets.map(({ stands, bar, tapes, measured, corrections, decisions }) => ({
      stands,
      bar,
      tapes,
      measured: measured && [measured.distance, measured.height, measured.pitch],
      turned: measured && [measured.lateral, measured.yaw, measured.roll],
      chiSquared: measured?.fit?.chiSquared,
      corrections: corrections.map(({ quantity, amount }) => ({ quantity, amount })),
      verdicts: decisions.map(({ of, verdict }) => ({ of, verdict })),
    })),
    bay: bay && { verdict: bay.verdict, least: bay.least },
    reach: bay?.setUps.map(({ covers: { front, rear, left, right } }) => ({ front, rear, left, right })),
    headlamps: headlamps.map(({ percent, decision }) => ({ percent, verdict: decision?.verdict })),
  };
}

const TURNED: ReadonlySet<string> = new Set(["lateral", "yaw", "roll"]);
const negative = (value: number | null | undefined) => (typeof value === "number" ? 0 - value : value);

function imageOf(outcome: Outcome): ReturnType<typeof partsOf> {
  const parts = partsOf(outcome);
  const [frontLeft = 0, frontRight = 0, rearLeft = 0, rearRight = 0] = parts.shims ?? [];
  return {
    ...parts,
    thrust: negative(parts.thrust) ?? undefined,
    trade: negative(parts.trade) ?? undefined,
    setBack: negative(parts.setBack),
    marks: parts.marks?.map((each) => ({ ...each, lateral: negative(each.lateral) ?? null })),
    marksYaw: negative(parts.marksYaw),
    slopes: parts.slopes && { ...parts.slopes, across: 0 - parts.slopes.across },
    twist: negative(parts.twist) ?? undefined,
    shims: parts.shims && [frontRight, frontLeft, rearRight, rearLeft],
    rolls: parts.rolls && parts.rolls.map((roll) => 0 - roll),
    targets: parts.targets.map(imageOfTarget),
    reach: parts.reach?.map(({ left, right, ...reach }) => ({ ...reach, left: right, right: left })),
  };
}

type TargetParts = ReturnType<typeof partsOf>["targets"][number];

function imageOfTarget(target: TargetParts): TargetParts {
  const { stands, bar, tapes, turned, corrections } = target;
  const flip = ({ x, y }: { readonly x: number; readonly y: number }) => ({ x, y: 0 - y });
  return {
    ...target,
    stands: stands && { ...stands, y: 0 - stands.y, yaw: 0 - stands.yaw, roll: 0 - stands.roll },
    bar: bar && { width: bar.width, left: flip(bar.right), right: flip(bar.left) },
    tapes: tapes.map(({ left, right, diagonals, ...tape }) => ({
      from: tape.from,
      left: right,
      right: left,
      diagonals: { fromLeft: diagonals.fromRight, fromRight: diagonals.fromLeft },
      straightsPerDegree: tape.straightsPerDegree,
      diagonalsPerMillimetre: tape.diagonalsPerMillimetre,
    })),
    turned: turned && turned.map((each) => each && { ...each, value: 0 - each.value }),
    corrections: corrections.map(({ quantity, amount }) => ({
      quantity,
      amount: TURNED.has(quantity) ? 0 - amount : amount,
    })),
  };
}

describe("a document of any content", () => {
  const expectRefusalOrResult = (input: unknown): void => {
    try {
      checkSetup(readSetup(input));
    } catch (error) {
      expect(error, JSON.stringify(input)).toBeInstanceOf(InputError);
    }
  };

  it("is read or refused, never the cause of another error", () => {
    check(fc.property(fc.jsonValue(), expectRefusalOrResult), 500);
  });

  it("with one place of it changed, is read or refused", () => {
    const odd = fc.oneof(
      fc.jsonValue({ maxDepth: 1 }),
      fc.constantFrom(0, -1, 1, 90, 1e-9, 1e5, -1e5, 45, 180, 1e308),
    );
    check(
      fc.property(arbitrarySetup, fc.nat(), odd, fc.boolean(), (setup, at, value, drop) => {
        expectRefusalOrResult(change(setup, at, value, drop));
      }),
      500,
    );
  });
});

/** Puts another value at one of the document's places, or takes it out. */
function change(document: unknown, at: number, value: unknown, drop: boolean): unknown {
  const copy: unknown = structuredClone(document);
  const places: { readonly holder: Record<string, unknown>; readonly key: string }[] = [];
  const walk = (holder: unknown): void => {
    if (holder === null || typeof holder !== "object") return;
    for (const key of Object.keys(holder)) {
      places.push({ holder: holder as Record<string, unknown>, key });
      walk((holder as Record<string, unknown>)[key]);
    }
  };
  walk(copy);
  const place = places[at % places.length];
  if (place === undefined) return value;
  if (Array.isArray(place.holder) && drop) place.holder.splice(Number(place.key), 1);
  else if (drop) Reflect.deleteProperty(place.holder, place.key);
  else place.holder[place.key] = value;
  return copy;
}
