import { sizeOf, type BaySize, type LeastBay } from "./least.js";
import { joinCovers, type Cover } from "./box.js";
import type { StepCover } from "./cover.js";
import type { Outline } from "./outline.js";
import { groupSteps } from "./group.js";
import { findMoves, type Moves } from "./move.js";
import { findFree, findStand, positionsOf, SAME, type Doubt, type Room, type Stand } from "./place.js";

/** Whether the vehicle with what has to be free around it fits: for certain, not, or depending on what is not known. */
export type Fit = "fits" | "does-not-fit" | "cannot-be-told";

/** One stand of the vehicle, with the calibrations that are done from it. */
export interface JudgedSetUp {
  readonly members: readonly StepCover[];
  readonly cover: Cover;
  readonly fit: Fit;
  readonly noseIn: boolean;
  readonly stand: Stand | null;
  readonly moves: Moves | null;
  readonly least: BaySize;
  /** Obstacles, by their index, that count here only because a height is not known. */
  readonly doubtful: ReadonlySet<number>;
}

export interface Judgement {
  readonly fit: Fit;
  readonly setUps: readonly JudgedSetUp[];
  /** False where fewer set-ups may be possible. */
  readonly isLeast: boolean;
}

interface Question {
  readonly room: Room;
  readonly outline: Outline;
  readonly parts: readonly StepCover[];
  readonly least: LeastBay;
  /** The directions of the vehicle that are asked about: nose away from the door or not. */
  readonly directions: readonly boolean[];
}

/**
 * Groups calibrations in as few set-ups as the bay allows and finds each a place.
 *
 * A calibration that does not fit even by itself makes the whole a "does-not-fit". Such calibrations, and those of which
 * it cannot be told, have set-ups of their own, so that what fits is not held up by what does not.
 */
export function judgeBay(question: Question): Judgement {
  const { parts } = question;
  const together = fitOf(question, parts);
  // What fits with all the others fits alone.
  const alone = parts.map((part) => (together === "fits" ? together : fitOf(question, [part])));
  const waitsFor = parts.map(({ step }) =>
    parts.flatMap((other, index) => (step.after.includes(other.step.requirement) ? [index] : [])),
  );
  const accepts = acceptanceOf(question, alone);
  const { groups, isLeast } =
    parts.length === 0 ? { groups: [[]], isLeast: true } : groupSteps(waitsFor, accepts);
  const judged = groups.map((members) => {
    const own = parts.filter((_, index) => members.includes(index));
    const [first] = members;
    const fit = first === undefined ? together : alone[first];
    return judgeSetUp(question, own, fit ?? together);
  });
  const setUps = chooseDirections(judged);
  return { fit: overall(setUps.map(({ fit }) => fit)), setUps, isLeast };
}

function overall(fits: readonly Fit[]): Fit {
  if (fits.includes("does-not-fit")) return "does-not-fit";
  return fits.includes("cannot-be-told") ? "cannot-be-told" : "fits";
}

function coverOf({ outline }: Question, parts: readonly StepCover[]): Cover {
  return joinCovers([outline.cover, ...parts.map(({ cover }) => cover)]);
}

/** Whether parts together fit as far as they are known: "cannot-be-told" where that hangs on the height below obstacles. */
function fitOf(question: Question, parts: readonly StepCover[]): Fit {
  const cover = coverOf(question, parts);
  if (isRoomFor(cover, question, "counts")) return "fits";
  return isRoomFor(cover, question, "does-not-count") ? "cannot-be-told" : "does-not-fit";
}

function isRoomFor(cover: Cover, { room, directions }: Question, doubt: Doubt): boolean {
  return directions.some((noseIn) => {
    const positions = positionsOf(cover, room, noseIn, doubt);
    return positions !== null && findFree(positions, 0) !== null;
  });
}

/** Says which calibrations may share a set-up: only those that fare alike alone. */
function acceptanceOf(question: Question, alone: readonly Fit[]): (members: readonly number[]) => boolean {
  const { room, parts, least } = question;
  const { oneByOne } = least;
  return (members) => {
    const [first] = members;
    const fit = first === undefined ? undefined : alone[first];
    if (members.some((each) => alone[each] !== fit)) return false;
    if (members.length === 1) return true;
    const cover = coverOf(
      question,
      parts.filter((_, index) => members.includes(index)),
    );
    switch (fit) {
      case "fits":
        return isRoomFor(cover, question, "counts");
      case "cannot-be-told":
        return isRoomFor(cover, question, "does-not-count");
      // Those for which there is no room share a set-up where they would in the least bay that had room.
      default:
        return (
          cover.length <= Math.max(room.length, oneByOne.length) + SAME &&
          cover.left + cover.right <= Math.max(room.width, oneByOne.width) + SAME
        );
    }
  };
}

interface Candidate extends Omit<JudgedSetUp, "noseIn" | "stand"> {
  readonly stands: readonly Stand[];
  readonly otherwise: boolean;
}

function judgeSetUp(question: Question, members: readonly StepCover[], known: Fit): Candidate {
  const { room, outline, directions } = question;
  const cover = coverOf(question, members);
  const ways = directions
    .map((noseIn) => positionsOf(cover, room, noseIn, "counts"))
    .filter((positions) => positions !== null);
  const isComplete =
    outline.missing.length === 0 &&
    members.every(({ missing }) => missing.length === 0) &&
    (room.height === null || outline.height !== null);
  const fit = known === "fits" && !isComplete ? "cannot-be-told" : known;
  const moves =
    known === "fits" ? null : leastOfMoves(ways.map((positions) => findMoves(positions, cover, room)));
  return {
    members,
    cover,
    fit,
    moves,
    least: sizeOf(cover, outline),
    stands: fit === "fits" ? ways.map(findStand).filter((stand) => stand !== null) : [],
    otherwise: moves?.noseIn ?? directions[0] ?? true,
    doubtful: new Set(
      ways.flatMap(({ narrowing }) =>
        narrowing.filter(({ isDoubtful }) => isDoubtful).map(({ obstacle }) => obstacle),
      ),
    ),
  };
}

function leastOfMoves(all: readonly Moves[]): Moves | null {
  return all.reduce<Moves | null>((least, each) => {
    if (least === null || each.moves.length < least.moves.length) return each;
    return each.moves.length === least.moves.length && each.cost < least.cost - SAME ? each : least;
  }, null);
}

/** The vehicle is turned between set-ups only where no one direction serves them all; nose in where it makes no odds. */
function chooseDirections(candidates: readonly Candidate[]): readonly JudgedSetUp[] {
  const toPlace = candidates.filter(({ stands }) => stands.length > 0);
  const least = (noseIn: boolean): number =>
    Math.min(...toPlace.map(({ stands }) => playIn(stands, noseIn) ?? -Infinity));
  const [inwards, outwards] = [least(true), least(false)];
  const common = Math.max(inwards, outwards) === -Infinity ? null : inwards >= outwards - SAME;
  return candidates.map(({ stands, otherwise, ...rest }) => {
    const noseIn =
      common ?? (playIn(stands, true) ?? -Infinity) >= (playIn(stands, false) ?? -Infinity) - SAME;
    const stand = stands.find((each) => each.noseIn === noseIn) ?? null;
    return { ...rest, noseIn: stand === null ? otherwise : noseIn, stand };
  });
}

function playIn(stands: readonly Stand[], noseIn: boolean): number | null {
  return stands.find((each) => each.noseIn === noseIn)?.play ?? null;
}
