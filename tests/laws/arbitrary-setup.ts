import fc from "fast-check";
import { setupShape, type Setup } from "../../src/setup/index.js";

/** Numbers as a tape or a gauge shows them: whole steps of a fraction. */
function reading(low: number, high: number, steps: number): fc.Arbitrary<number> {
  return fc.integer({ min: low * steps, max: high * steps }).map((step) => step / steps);
}

const sizes = fc.record({
  wheelbase: reading(2300, 3900, 1),
  trackFront: reading(1400, 1750, 1),
  trackRear: reading(1400, 1750, 1),
  frontOverhang: reading(700, 1100, 1),
  rearOverhang: reading(700, 1300, 1),
  width: reading(1700, 2100, 1),
  height: reading(1400, 2000, 1),
});

const around = (nominal: fc.Arbitrary<number>, tolerance: fc.Arbitrary<number>) =>
  fc.record({ nominal, tolerance });

/** A target ahead, of the centre line or the thrust line, from a datum that the document knows. */
const placing = fc.record({
  name: fc.constant("Board"),
  datum: fc.constantFrom("front-axle" as const, "front-bumper" as const, "sensor" as const),
  referenceLine: fc.constantFrom("centre-line" as const, "thrust-line" as const),
  distance: around(reading(1200, 4000, 1), reading(2, 10, 1)),
  lateral: around(reading(-400, 400, 1), reading(1, 6, 1)),
  height: around(reading(300, 1500, 1), reading(2, 10, 1)),
  yaw: around(reading(-20, 20, 1), reading(0.2, 1, 10)),
  pitch: around(fc.constant(0), reading(0.2, 1, 10)),
  roll: around(fc.constant(0), reading(0.2, 1, 10)),
  size: fc.record({ width: reading(400, 2400, 1), height: reading(200, 1000, 1) }),
});

/** How far the target was put from where it belongs, how well that was measured, and how: by tapes or as a pose. */
const found = fc.record({
  byTapes: fc.boolean(),
  off: fc.record({
    distance: reading(-15, 15, 2),
    lateral: reading(-8, 8, 2),
    height: reading(-12, 12, 2),
    yaw: reading(-1, 1, 20),
    pitch: reading(-1, 1, 20),
    roll: reading(-1, 1, 20),
  }),
  u: reading(0.2, 2, 10),
  scatter: fc.array(reading(-1, 1, 10), { minLength: 8, maxLength: 8 }),
});

const floorSpots = fc
  .array(fc.record({ x: reading(-3000, 4000, 1), y: reading(-1500, 1500, 1), z: reading(-10, 10, 10) }), {
    minLength: 1,
    maxLength: 8,
  })
  .map((more) => [
    { x: -2501.5, y: -901.5, z: 1 },
    { x: -2501.5, y: 901.5, z: 0.5 },
    { x: 3201.5, y: -901.5, z: -2 },
    { x: 3201.5, y: 901.5, z: -1 },
    ...more.filter(({ x, y }, index) => more.findIndex((other) => other.x === x && other.y === y) === index),
  ]);

const corner = fc.record({ off: reading(-15, 15, 2), z: reading(-4, 4, 10), setBack: reading(-6, 6, 2) });

const obstacle = fc.record({
  x: reading(0, 9000, 10),
  y: reading(-2300, 2000, 10),
  length: reading(100, 800, 1),
  width: reading(100, 800, 1),
});

const raw = fc.record({
  sizes,
  placing,
  found,
  floorSpots,
  corners: fc.tuple(corner, corner, corner, corner),
  toe: fc.tuple(reading(-0.4, 0.4, 100), reading(-0.4, 0.4, 100), reading(0.01, 0.05, 100)),
  place: fc.record({ x: reading(300, 900, 1), y: reading(-400, 400, 1) }),
  marks: fc.tuple(reading(-5, 5, 2), reading(-5, 5, 2)),
  bay: fc.record({
    length: reading(8000, 13_000, 1),
    width: reading(3500, 5000, 1),
    obstacles: fc.array(obstacle, { maxLength: 2 }),
    noseIn: fc.constantFrom(true, false, null),
  }),
  aim: reading(0.4, 3, 100),
});

type Raw = typeof raw extends fc.Arbitrary<infer T> ? T : never;

const WHEELS = [
  { axle: "front", side: "left" },
  { axle: "front", side: "right" },
  { axle: "rear", side: "left" },
  { axle: "rear", side: "right" },
] as const;

/** The wheels of one axle lie as far ahead of its middle on one side as behind it on the other. */
function wheelCentresOf({ sizes: { wheelbase, trackFront, trackRear }, corners }: Raw) {
  return WHEELS.map(({ axle, side }, index) => {
    const setBack = corners[axle === "front" ? 0 : 2].setBack;
    return {
      axle,
      side,
      x: (axle === "front" ? 0 : -wheelbase) + (side === "left" ? setBack : -setBack),
      y: ((axle === "front" ? trackFront : trackRear) / 2) * (side === "left" ? 1 : -1),
      z: (corners[index] ?? corners[0]).z,
    };
  });
}

/** Where the target stands in the vehicle's axes; written down apart from the library, for the tapes. */
function standingOf({ sizes: { wheelbase, frontOverhang }, placing, place, toe, found }: Raw) {
  const heading = placing.referenceLine === "centre-line" ? 0 : (((toe[1] - toe[0]) / 2) * Math.PI) / 180;
  const x = { "front-axle": 0, "front-bumper": frontOverhang, sensor: place.x }[placing.datum];
  const along = placing.distance.nominal + found.off.distance;
  const left = placing.lateral.nominal + found.off.lateral;
  const yaw = heading + ((placing.yaw.nominal + found.off.yaw) * Math.PI) / 180;
  return {
    x: x + along * Math.cos(heading) - left * Math.sin(heading),
    y: (x + wheelbase) * Math.tan(heading) + along * Math.sin(heading) + left * Math.cos(heading),
    yaw,
  };
}

function tapesOf(given: Raw) {
  const { x, y, yaw } = standingOf(given);
  const half = given.placing.size.width / 2;
  const end = { left: { x: x - half * Math.sin(yaw), y: y + half * Math.cos(yaw) }, right: { x, y } };
  end.right = { x: 2 * x - end.left.x, y: 2 * y - end.left.y };
  const wheels = wheelCentresOf(given);
  const tape = (wheel: number, to: "left" | "right", noise: number): number => {
    const from = wheels[wheel] ?? { x: 0, y: 0 };
    return Math.hypot(from.x - end[to].x, from.y - end[to].y) + (given.found.scatter[noise] ?? 0);
  };
  return ([0, 2] as const).map((left) => ({
    from: left === 0 ? ("front-axle" as const) : ("rear-axle" as const),
    left: tape(left, "left", 2 * left),
    right: tape(left + 1, "right", 2 * left + 1),
    diagonals: {
      fromLeft: tape(left, "right", 2 * left + 2),
      fromRight: tape(left + 1, "left", 2 * left + 3),
    },
    u: given.found.u,
  }));
}

function targetOf(given: Raw): NonNullable<Setup["target"]> {
  const { placing, found } = given;
  const pose = (quantity: keyof Raw["found"]["off"]): number =>
    placing[quantity].nominal + found.off[quantity];
  const rest = { height: pose("height"), pitch: pose("pitch"), roll: pose("roll") };
  const [U, k] = [3 * found.u, 3];
  const uRest = { height: U, pitch: U / 5, roll: U / 5 };
  return {
    sensor: "front-radar",
    id: "board",
    placing,
    measured: found.byTapes
      ? { ...rest, tapes: tapesOf(given) }
      : { ...rest, distance: pose("distance"), lateral: pose("lateral"), yaw: pose("yaw") },
    U: found.byTapes ? uRest : { ...uRest, distance: U, lateral: U, yaw: U / 5 },
    k,
  };
}

function setupOf(given: Raw): Setup {
  const { sizes, corners, toe, place, marks, bay, aim } = given;
  return setupShape.parse({
    schema: "repair-calibration/setup@1",
    vehicle: { dimensions: sizes },
    axes: "vehicle",
    wheelCentres: wheelCentresOf(given),
    rearToe: { left: toe[0], right: toe[1], unit: "deg", u: toe[2] },
    setBack: { value: 4, unit: "mm", sign: "right-rearward-positive", axle: "front" },
    marks: {
      front: { x: 800, y: marks[0] },
      rear: { x: -3000, y: marks[1] },
      ...{ uFront: 1, uRear: 1.5, uLine: 1, uTape: 0.5 },
    },
    floor: given.floorSpots,
    places: [{ datum: "sensor", sensor: "front-radar", ...place }],
    rideHeight: {
      datum: "hub-to-arch",
      corners: WHEELS.map(({ axle, side }, index) => ({
        axle,
        side,
        specified: 400,
        measured: 400 + (corners[index] ?? corners[0]).off,
        u: 1,
      })),
    },
    tyres: {
      ...{ front: "225/60R17", rear: "225/60R17" },
      specified: { front: "215/65R17", rear: "225/60R17" },
    },
    target: targetOf(given),
    bay: {
      ...bay,
      obstacles: bay.obstacles
        .filter(({ x, y, width }) => x < bay.length && y < bay.width / 2 && y + width > -bay.width / 2)
        .map((each, index) => ({ id: `obstacle-${index}`, ...each })),
    },
    headlamps: [
      {
        ...{ position: "left", rule: "uk-periodic-test", height: 700, load: "unladen", U: 0.1, k: 2 },
        inclination: { value: aim, unit: "%" },
      },
    ],
  });
}

/** Whole set-ups in the vehicle's axes, with everything stated: no document of these is refused. */
export const arbitrarySetup: fc.Arbitrary<Setup> = raw.map(setupOf);

/** The same scene as a survey of the floor sees it: moved, and turned counter-clockwise by an angle in degrees. */
export function seenFromTheFloor(
  setup: Setup,
  { dx, dy, turn }: { readonly dx: number; readonly dy: number; readonly turn: number },
): Setup {
  const angle = (turn * Math.PI) / 180;
  const move = <T extends { readonly x: number; readonly y: number }>(point: T): T => ({
    ...point,
    x: dx + point.x * Math.cos(angle) - point.y * Math.sin(angle),
    y: dy + point.x * Math.sin(angle) + point.y * Math.cos(angle),
  });
  const { marks } = setup;
  const mark = ({ x, y = 0 }: { readonly x: number; readonly y?: number | undefined }) => move({ x, y });
  return {
    ...setup,
    axes: "floor",
    wheelCentres: setup.wheelCentres?.map(move),
    floor: setup.floor?.map(move),
    places: setup.places?.map(move),
    marks: marks && { ...marks, front: mark(marks.front), rear: mark(marks.rear) },
  };
}

type Side = "left" | "right";
const other = (side: Side): Side => (side === "left" ? "right" : "left");

/** The same set-up in a mirror that stands along the vehicle. */
export function mirrored(setup: Setup): Setup {
  const flip = <T extends { readonly y: number }>(point: T): T => ({ ...point, y: 0 - point.y });
  const mark = ({ x, y }: { readonly x: number; readonly y?: number | undefined }) => ({
    x,
    ...(y === undefined ? {} : { y: 0 - y }),
  });
  const swap = <T extends { readonly side: Side }>(entry: T): T => ({ ...entry, side: other(entry.side) });
  const { rearToe, setBack, marks, rideHeight, target, bay, headlamps } = setup;
  return {
    ...setup,
    wheelCentres: setup.wheelCentres?.map((each) => flip(swap(each))),
    rearToe: rearToe && { ...rearToe, left: rearToe.right, right: rearToe.left },
    setBack: setBack && { ...setBack, value: 0 - setBack.value },
    marks: marks && { ...marks, front: mark(marks.front), rear: mark(marks.rear) },
    floor: setup.floor?.map(flip),
    places: setup.places?.map(flip),
    rideHeight: rideHeight && { ...rideHeight, corners: rideHeight.corners.map(swap) },
    target: target && mirrorTarget(target),
    bay: bay && {
      ...bay,
      obstacles: bay.obstacles?.map((each) => ({ ...each, y: 0 - each.y - each.width })),
    },
    headlamps: headlamps?.map((each) => ({ ...each, position: other(each.position) })),
  };
}

function mirrorTarget(target: NonNullable<Setup["target"]>): NonNullable<Setup["target"]> {
  const { placing, measured } = target;
  const flip = <T extends { readonly nominal: number }>(of: T): T => ({ ...of, nominal: 0 - of.nominal });
  const negate = (key: "lateral" | "yaw" | "roll", value: number | undefined) =>
    value === undefined ? {} : { [key]: 0 - value };
  const tapes = [measured?.tapes ?? []].flat().map(({ left, right, diagonals, ...tape }) => ({
    ...tape,
    left: right,
    right: left,
    diagonals: { fromLeft: diagonals?.fromRight, fromRight: diagonals?.fromLeft },
  }));
  return {
    ...target,
    placing: placing && {
      ...placing,
      lateral: flip(placing.lateral),
      yaw: flip(placing.yaw),
      roll: flip(placing.roll),
    },
    measured: {
      ...measured,
      ...negate("lateral", measured?.lateral),
      ...negate("yaw", measured?.yaw),
      ...negate("roll", measured?.roll),
      ...(tapes.length === 0 ? {} : { tapes }),
    },
  };
}

/** The same set-up, everything in it known less well by a factor. */
export function blurred(setup: Setup, factor: number): Setup {
  const { target, rearToe, rideHeight, headlamps } = setup;
  const scale = <T extends { readonly u?: number | undefined }>(of: T): T =>
    of.u === undefined ? of : { ...of, u: of.u * factor };
  return {
    ...setup,
    rearToe: rearToe && scale(rearToe),
    rideHeight: rideHeight && { ...rideHeight, corners: rideHeight.corners.map(scale) },
    headlamps: headlamps?.map((each) => ({ ...each, U: (each.U ?? 0) * factor })),
    target: target && {
      ...target,
      measured: target.measured && {
        ...target.measured,
        ...(target.measured.tapes === undefined ? {} : { tapes: [target.measured.tapes].flat().map(scale) }),
      },
      U: Object.fromEntries(Object.entries(target.U ?? {}).map(([key, value = 0]) => [key, value * factor])),
    },
  };
}

/** The same value with the keys of every object in another order, which follows from a number. */
export function shuffleKeys<T>(value: T, seed: number): T {
  if (value === null || typeof value !== "object") return value;
  if (Array.isArray(value)) return value.map((each: unknown) => shuffleKeys(each, seed)) as T;
  const rank = (key: string): number =>
    [...key].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 1_000_003, seed % 1_000_003);
  return Object.fromEntries(
    Object.entries(value)
      .sort(([one], [other]) => rank(one) - rank(other))
      .map(([key, inside]: readonly [string, unknown]) => [key, shuffleKeys(inside, seed)]),
  ) as T;
}
