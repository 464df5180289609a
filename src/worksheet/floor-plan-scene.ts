import type { SetUpView, TargetResult } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";

/** A point on the floor in the vehicle's axes: mm forward and to the left of the point below the front axle's middle. */
export interface FloorPoint {
  readonly x: number;
  readonly y: number;
}

/** An upright rectangle on the floor; mm in the vehicle's axes. */
export interface FloorBox {
  readonly front: number;
  readonly rear: number;
  readonly left: number;
  readonly right: number;
}

export type PlacedTarget = TargetResult & { readonly stands: NonNullable<TargetResult["stands"]> };

export interface DrawnBay {
  readonly floor: FloorBox;
  /** Whether the door is behind the vehicle. */
  readonly doorBehind: boolean;
  readonly obstacles: readonly {
    readonly floor: FloorBox;
    readonly name: string;
    readonly from: number;
    readonly to: number | null;
  }[];
}

/** What there is to draw, and in words what there is not. */
export interface FloorScene {
  readonly vehicle: SetupResult["vehicle"];
  readonly heading: number | null;
  readonly targets: readonly PlacedTarget[];
  readonly clearAreas: readonly {
    readonly requirements: readonly string[];
    readonly floor: FloorBox;
    readonly height: number | null;
  }[];
  readonly bay: DrawnBay | null;
  readonly extent: FloorBox | null;
  readonly notDrawn: readonly string[];
}

/** Gathers what the view from above shows of one set-up. */
export function readFloorScene(result: SetupResult, view: SetUpView): FloorScene {
  const { vehicle } = result;
  const targets = view.targets.filter((target): target is PlacedTarget => target.stands !== null);
  const clearAreas = gatherClearAreas(view);
  const bay = placeBay(result, view);
  const placed = [
    ...targets.map(boxOfTarget),
    ...clearAreas.map(({ floor }) => floor),
    ...(bay === null ? [] : [bay.floor]),
  ];
  const { wheelbase, frontOverhang, width } = vehicle;
  const isUnknown = [wheelbase, frontOverhang, width].every((each) => each === null);
  return {
    vehicle,
    heading: result.alignment?.thrust?.heading ?? null,
    targets,
    clearAreas,
    bay,
    extent: isUnknown && placed.length === 0 ? null : placed.reduce(embrace, boxOfVehicle(vehicle)),
    notDrawn: nameWhatIsNotDrawn(result, view),
  };
}

/** Areas that are the same floor are drawn once, for all that ask for them. */
function gatherClearAreas({ fit }: SetUpView): FloorScene["clearAreas"] {
  const areas = fit?.clearAreas ?? [];
  const keys = areas.map(({ area, height }) => JSON.stringify([area, height]));
  return areas.flatMap(({ area, height }, index) => {
    if (keys.indexOf(keys[index] ?? "") !== index) return [];
    const requirements = areas.filter((_, at) => keys[at] === keys[index]).map((each) => each.requirement);
    return [{ requirements, floor: boxOf(area), height }];
  });
}

function boxOf(area: { x: number; y: number; length: number; width: number }): FloorBox {
  return { rear: area.x, front: area.x + area.length, right: area.y, left: area.y + area.width };
}

function embrace(a: FloorBox, b: FloorBox): FloorBox {
  return {
    front: Math.max(a.front, b.front),
    rear: Math.min(a.rear, b.rear),
    left: Math.max(a.left, b.left),
    right: Math.min(a.right, b.right),
  };
}

/** What stands for a vehicle whose width nobody stated, so that its axles can be drawn at all. */
const UNKNOWN_WIDTH = 1600;

/** Half of the width at which the vehicle's sides or wheels are drawn. */
export function halfWidthOf({ width, trackFront, trackRear }: SetupResult["vehicle"]): number {
  return (width ?? Math.max(trackFront ?? 0, trackRear ?? 0, UNKNOWN_WIDTH)) / 2;
}

/** The floor that the drawn vehicle takes: at the least that of its front axle, of which nothing need be known. */
function boxOfVehicle(vehicle: SetupResult["vehicle"]): FloorBox {
  const { wheelbase, frontOverhang, rearOverhang } = vehicle;
  const half = halfWidthOf(vehicle);
  const rear = wheelbase === null ? 0 : -wheelbase - (rearOverhang ?? 0);
  return { front: frontOverhang ?? 0, rear, left: half, right: -half };
}

function boxOfTarget({ stands, bar }: PlacedTarget): FloorBox {
  const points: readonly FloorPoint[] = bar === null ? [stands] : [stands, bar.left, bar.right];
  return {
    front: Math.max(...points.map(({ x }) => x)),
    rear: Math.min(...points.map(({ x }) => x)),
    left: Math.max(...points.map(({ y }) => y)),
    right: Math.min(...points.map(({ y }) => y)),
  };
}

function placeBay(result: SetupResult, { fit }: SetUpView): DrawnBay | null {
  const { bay } = result;
  if (bay === null || fit === null || fit.vehicleAt === null) return null;
  const { vehicleAt: at, noseIn } = fit;
  const direction = noseIn ? 1 : -1;
  const turn = (box: FloorBox): FloorBox => {
    const [x1, x2] = [direction * (box.rear - at.x), direction * (box.front - at.x)];
    const [y1, y2] = [direction * (box.right - at.y), direction * (box.left - at.y)];
    return {
      rear: Math.min(x1, x2),
      front: Math.max(x1, x2),
      right: Math.min(y1, y2),
      left: Math.max(y1, y2),
    };
  };
  return {
    floor: turn({ rear: 0, front: bay.length, right: -bay.width / 2, left: bay.width / 2 }),
    doorBehind: noseIn,
    obstacles: bay.obstacles.map((each) => ({
      floor: turn(boxOf(each)),
      name: each.name ?? each.id,
      from: each.from,
      to: each.to,
    })),
  };
}

const DIMENSION_NAMES = [
  ["wheelbase", "the wheelbase"],
  ["trackFront", "the front track"],
  ["trackRear", "the rear track"],
  ["frontOverhang", "the front overhang"],
  ["rearOverhang", "the rear overhang"],
  ["width", "the vehicle's width"],
] as const;

function nameWhatIsNotDrawn(result: SetupResult, view: SetUpView): readonly string[] {
  const unknown = DIMENSION_NAMES.filter(([key]) => result.vehicle[key] === null).map(([, name]) => name);
  const placeless = view.targets.filter(({ stands }) => stands === null);
  const barless = view.targets.filter(({ stands, bar }) => stands !== null && bar === null);
  return [
    ...(unknown.length === 0 ? [] : [`Not known, and broken or left out: ${unknown.join(", ")}.`]),
    ...((result.alignment?.thrust ?? null) === null
      ? ["No thrust line is drawn: its angle is not known."]
      : []),
    ...placeless.map(({ name }) => `Not drawn, since its place is not known: ${name}.`),
    ...barless.map(({ name }) => `Drawn as a point, since its width is not known: ${name}.`),
    ...(result.bay !== null && view.fit !== null && view.fit.vehicleAt === null
      ? ["The bay is not drawn: no place was found in it for this set-up."]
      : []),
  ];
}
