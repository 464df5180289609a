import { formula, mm, type Working } from "../../measure/index.js";
import { answer, type Answer, type Missing, type SetupWarning } from "../answer.js";
import { coverSteps, type StepCover } from "./cover.js";
import { outlineOf, type Outline } from "./outline.js";
import { judgeBay, type JudgedSetUp, type Judgement } from "./judge.js";
import { leastLength, leastOf, leastWidth, type RoomAsked } from "./least.js";
import { SAME, type Room } from "./place.js";
import { nameObstacle, sayBay, sayMove, saySetUp } from "./say.js";
import type { BayResult } from "../result.js";
import type { Bay } from "../shape.js";

export { checkBay } from "./check.js";

const spareRoom = formula({
  id: "bay-spare",
  gives: "room to spare in the bay, missing where negative",
  text: "there - needed",
  inputs: { there: "mm", needed: "mm" },
  result: "mm",
  compute: ({ there, needed }) => there - needed,
});

export const FORMULAS = [spareRoom] as const;

/**
 * Tells whether the static calibrations can be done in the bay: from how many stands of the vehicle, where it stands each
 * time, what is left over or missing, and which obstacles are in the way.
 *
 * The vehicle stands parallel to the bay's length. Its way in from the door is not looked at. `steps` wait for each other
 * in no circle. Without a bay there is no value, and nothing is missing.
 */
export function answerBay({
  bay,
  scene,
  steps,
  targets,
}: RoomAsked & { readonly bay: Bay | undefined }): Answer<BayResult> {
  if (bay === undefined) return answer<BayResult>({});
  const room = roomOf(bay);
  const outline = outlineOf(scene);
  const parts = coverSteps(steps, targets, outline);
  const noseIn = bay.noseIn ?? null;
  const directions = noseIn === null ? [true, false] : [noseIn];
  const least = leastOf(outline, parts);
  const judgement = judgeBay({ room, outline, parts, least, directions });
  const setUps = judgement.setUps.map((each, index) => describeSetUp(each, `S${index + 1}`, room, outline));
  const isComplete = [outline, ...parts].every(({ missing }) => missing.length === 0);
  const told = { ...room, verdict: judgement.fit, setUps };
  return answer<BayResult>({
    value: { ...told, says: sayBay(told, least), least: isComplete ? least.oneByOne : null },
    workings: workOut(judgement, setUps, room, outline),
    missing: [
      ...[outline, ...parts].flatMap(({ missing }) => missing),
      ...missHeights(judgement, room, outline),
    ],
    warnings: [
      ...[outline, ...parts].flatMap(({ warnings }) => warnings),
      ...warnOfHeights(judgement, room),
      ...(judgement.isLeast
        ? []
        : [{ about: "bay", says: "The search was cut short: fewer set-ups may be possible." }]),
    ],
  });
}

function roomOf({ length, width, height, obstacles = [] }: Bay): Room {
  return {
    length,
    width,
    height: height ?? null,
    obstacles: obstacles.map((each) => ({
      id: each.id,
      name: each.name ?? null,
      x: each.x,
      y: each.y,
      length: each.length,
      width: each.width,
      from: each.from ?? 0,
      to: each.to ?? null,
    })),
  };
}

type SetUp = BayResult["setUps"][number];

function describeSetUp(judged: JudgedSetUp, id: string, room: Room, outline: Outline): SetUp {
  const { members, cover, fit, stand, least, moves } = judged;
  const described = {
    id,
    requirements: members.map(({ step }) => step.requirement),
    targets: [...new Set(members.flatMap(({ step }) => step.targets))],
    noseIn: judged.noseIn,
    fits: fit === "cannot-be-told" ? null : fit === "fits",
    vehicleAt: stand === null ? null : { x: stand.x, y: stand.y },
    covers: {
      front: cover.front,
      rear: cover.rear,
      left: cover.left,
      right: cover.right,
      height: least.height,
    },
    least,
    spare: {
      length: spareOf(room.length, cover.length),
      width: spareOf(room.width, cover.left + cover.right),
      height: spareHeight(room.height, cover.height, outline.height !== null),
    },
    inTheWay: (moves?.moves ?? []).flatMap((move) => {
      const obstacle = room.obstacles[move.obstacle];
      if (obstacle === undefined) return [];
      return [{ obstacle: obstacle.id, move: Math.abs(move.by), says: sayMove(obstacle, move) }];
    }),
    clearAreas: members.flatMap(({ areas }) => areas),
  };
  return { ...described, says: saySetUp(described, room.obstacles, isKnown(outline, members)) };
}

function isKnown(outline: Outline, members: readonly StepCover[]): boolean {
  return [outline, ...members].every(({ missing }) => missing.length === 0);
}

/** What rounding leaves of nothing is nothing. */
function spareOf(there: number, needed: number): number {
  const spare = spareRoom({ there: mm(there), needed: mm(needed) });
  return Math.abs(spare) < SAME ? 0 : spare;
}

/** Where the vehicle's height is not known, only that something is missing can be told. */
function spareHeight(there: number | null, needed: number, isVehicleKnown: boolean): number | null {
  if (there === null) return null;
  const spare = spareOf(there, needed);
  return isVehicleKnown || spare < 0 ? spare : null;
}

function workOut(
  { setUps: judged }: Judgement,
  setUps: readonly SetUp[],
  room: Room,
  outline: Outline,
): readonly Working[] {
  const members = judged.flatMap((each) => each.members);
  const reaches = uniqueWorkings([outline, ...members].flatMap(({ arithmetic }) => arithmetic));
  const sizes = setUps.flatMap(({ id, covers, least }) => {
    const { front, rear, left, right } = covers;
    const width = leastWidth.work({ left: mm(left), right: mm(right) }, `least width of the bay for ${id}`);
    const spareWidth = spareRoom.work(
      { there: mm(room.width), needed: mm(least.width) },
      `width to spare in ${id}`,
    );
    // Where the place of a part is not known, the least length is not the sum of what lies ahead and behind.
    if (least.length > front + rear) return [width, spareWidth];
    const length = leastLength.work(
      { front: mm(front), rear: mm(rear) },
      `least length of the bay for ${id}`,
    );
    const spareLength = spareRoom.work(
      { there: mm(room.length), needed: mm(least.length) },
      `length to spare in ${id}`,
    );
    return [length, width, spareLength, spareWidth];
  });
  return outline.missing.length > 0 ? [] : [...reaches, ...sizes];
}

function uniqueWorkings(workings: readonly Working[]): readonly Working[] {
  const keyOf = ({ id, inputs }: Working): string => [id, ...inputs.map(({ value }) => value)].join(" ");
  return [...new Map(workings.map((each) => [keyOf(each), each])).values()];
}

const VEHICLE_HEIGHT = "/vehicle/dimensions/height";

/** The heights on which a verdict hangs. */
function missHeights({ setUps, fit }: Judgement, room: Room, outline: Outline): readonly Missing[] {
  if (fit !== "cannot-be-told") return [];
  const isVehicleUnknown = outline.height === null;
  const belowRoof: readonly Missing[] =
    room.height !== null && isVehicleUnknown
      ? [
          {
            for: "whether the vehicle is lower than the bay",
            needs: "the vehicle's height",
            pointer: VEHICLE_HEIGHT,
          },
        ]
      : [];
  const hanging = new Set(
    setUps.filter(({ moves }) => moves !== null).flatMap(({ doubtful }) => [...doubtful]),
  );
  const belowObstacles = room.obstacles
    .filter((_, index) => hanging.has(index))
    .map((obstacle) => ({
      for: `whether everything passes below ${nameObstacle(obstacle)}`,
      needs: isVehicleUnknown
        ? "the vehicle's height, and the height that the procedure asks to be free there"
        : "the height that the procedure asks to be free there",
      pointer: isVehicleUnknown ? VEHICLE_HEIGHT : "",
    }));
  return [...belowRoof, ...belowObstacles];
}

function warnOfHeights({ setUps }: Judgement, room: Room): readonly SetupWarning[] {
  const doubtful = new Set(setUps.flatMap((each) => [...each.doubtful]));
  const hanging = room.obstacles
    .filter((_, index) => doubtful.has(index))
    .map((obstacle) => ({
      about: nameObstacle(obstacle),
      says: `${nameObstacle(obstacle)} begins above the floor, but how high the room below it has to be is not known: it counts as in the way.`,
    }));
  const { height } = room;
  const isTight =
    height !== null &&
    setUps.some(({ cover }) => cover.boxes.some(({ atMost }) => atMost > height + SAME && atMost < Infinity));
  return [
    ...hanging,
    ...(isTight && setUps.every(({ cover }) => cover.height <= height)
      ? [
          {
            about: "bay",
            says: "The upper edges of targets are not known: of their height only the middle counts against the height of the bay.",
          },
        ]
      : []),
  ];
}
