import type { Box, Cover } from "./box.js";
import { listForbidden, SAME, type Forbidden, type Obstacle, type Positions, type Room } from "./place.js";

/** A straight move of an obstacle that gets it out of the way, in the bay's axes; mm. */
export interface Move {
  /** Its index in the bay. */
  readonly obstacle: number;
  readonly along: "x" | "y";
  /** Towards the far wall or the left where positive. */
  readonly by: number;
  /** Whether it ends up with a part of it beyond a wall, where it did not begin so. */
  readonly leavesBay: boolean;
}

export interface Moves {
  readonly noseIn: boolean;
  readonly moves: readonly Move[];
  /** What the moves cost: their lengths, and far more for each that leads through a wall. */
  readonly cost: number;
}

const THROUGH_A_WALL = 1e9;
const EVERYWHERE: Box = { x0: -Infinity, x1: Infinity, y0: -Infinity, y1: Infinity };

/**
 * The obstacles that stand in the way where the vehicle has the fewest of them in its way, each with its least straight
 * move; of several such places the one where the moves cost least. Where one obstacle goes is held against the
 * walls, not against other obstacles.
 */
export function findMoves(positions: Positions, cover: Cover, room: Room): Moves {
  const { within, narrowing, noseIn } = positions;
  const forbidden = listForbidden(cover, room, noseIn, "counts", EVERYWHERE);
  const own = forbiddenByObstacle(forbidden);
  // The fewest are in the way at some place that is pushed towards the door and to the right as far as it goes.
  const inner = findPlaces(
    positions,
    [within.x0, ...edgesOf(narrowing, "x1")],
    [within.y0, ...edgesOf(narrowing, "y1")],
  );
  // Between the edges each move grows or shrinks evenly with the vehicle's place: the least sum lies where two edges meet.
  const all = findPlaces(
    positions,
    [within.x0, within.x1, ...edgesOf(forbidden, "x0"), ...edgesOf(forbidden, "x1")],
    [within.y0, within.y1, ...edgesOf(forbidden, "y0"), ...edgesOf(forbidden, "y1")],
    inner[0]?.hit.length,
  );
  let best: Moves = { noseIn, moves: [], cost: Infinity };
  for (const { at, hit } of all) {
    const moves = addMoves(
      hit,
      (obstacle) => leastMove(obstacle, own.get(obstacle) ?? [], at, room),
      best.cost,
    );
    if (moves !== null) best = { noseIn, ...moves };
  }
  return best;
}

/** The moves of the obstacles, or null once they cost no less than `bound`. */
function addMoves(
  hit: readonly number[],
  moveOf: (obstacle: number) => Move,
  bound: number,
): Pick<Moves, "moves" | "cost"> | null {
  const moves: Move[] = [];
  let cost = 0;
  for (const obstacle of hit) {
    const move = moveOf(obstacle);
    moves.push(move);
    cost += costOf(move);
    if (cost > bound - SAME) return null;
  }
  return { moves, cost };
}

function costOf({ by, leavesBay }: Move): number {
  return Math.abs(by) + (leavesBay ? THROUGH_A_WALL : 0);
}

interface Found {
  readonly at: Place;
  readonly hit: readonly number[];
}

/** Of the places where the edges meet those where the fewest obstacles are in the way, but no more than `most`. */
function findPlaces(
  { within, narrowing }: Positions,
  xs: readonly number[],
  ys: readonly number[],
  most = Infinity,
): readonly Found[] {
  const across = sortUnique(ys, within.y0, within.y1).sort(
    (one, other) => Math.abs(one) - Math.abs(other) || other - one,
  );
  let found: Found[] = [];
  let fewest = most;
  for (const x of sortUnique(xs, within.x0, within.x1)) {
    const beside = narrowing.filter((each) => each.x0 < x - SAME && each.x1 > x + SAME);
    for (const y of across) {
      const hit = listHit(beside, y, fewest);
      if (hit === null) continue;
      if (hit.length < fewest) found = [];
      fewest = hit.length;
      found.push({ at: { x, y }, hit });
    }
  }
  return found;
}

/** The obstacles in the way at a place, or null where there are more than `most`. */
function listHit(beside: readonly Forbidden[], y: number, most: number): readonly number[] | null {
  const hit: number[] = [];
  for (const { obstacle, y0, y1 } of beside) {
    if (y0 >= y - SAME || y1 <= y + SAME || hit.includes(obstacle)) continue;
    if (hit.length >= most) return null;
    hit.push(obstacle);
  }
  return hit.sort((one, other) => one - other);
}

function forbiddenByObstacle(forbidden: readonly Forbidden[]): ReadonlyMap<number, readonly Forbidden[]> {
  const groups = new Map<number, Forbidden[]>();
  for (const each of forbidden) {
    const own = groups.get(each.obstacle);
    if (own === undefined) groups.set(each.obstacle, [each]);
    else own.push(each);
  }
  return groups;
}

function edgesOf(forbidden: readonly Forbidden[], side: keyof Box): readonly number[] {
  return forbidden.map((each) => each[side]);
}

function sortUnique(edges: readonly number[], low: number, high: number): number[] {
  return [...new Set(edges)].filter((each) => each >= low && each <= high).sort((one, other) => one - other);
}

type Place = Readonly<Record<"x" | "y", number>>;

function leastMove(obstacle: number, own: readonly Forbidden[], at: Place, room: Room): Move {
  const body = room.obstacles[obstacle];
  // The obstacle has to go as far one way as the vehicle would have to go the other.
  const moveAlong = (along: "x" | "y", edge: "begin" | "end"): Move => {
    const by = at[along] - (along === "x" ? leaveAlongX(own, at, edge) : leaveAlongY(own, at, edge));
    return { obstacle, along, by, leavesBay: body !== undefined && leavesBay(body, along, by, room) };
  };
  const others = [moveAlong("x", "end"), moveAlong("y", "begin"), moveAlong("y", "end")];
  return others.reduce(
    (least, each) => (costOf(each) < costOf(least) - SAME ? each : least),
    moveAlong("x", "begin"),
  );
}

/** The next x towards one end at which the place lies in none of the rectangles any more. */
function leaveAlongX(own: readonly Box[], { x: from, y }: Place, edge: "begin" | "end"): number {
  let x = from;
  for (let before = NaN; x !== before;) {
    before = x;
    for (const { x0, x1, y0, y1 } of own) {
      const isIn = y0 < y - SAME && y1 > y + SAME && x0 < x - SAME && x1 > x + SAME;
      if (isIn) x = edge === "begin" ? x0 : x1;
    }
  }
  return x;
}

function leaveAlongY(own: readonly Box[], { x, y }: Place, edge: "begin" | "end"): number {
  const turned = own.map(({ x0, x1, y0, y1 }) => ({ x0: y0, x1: y1, y0: x0, y1: x1 }));
  return leaveAlongX(turned, { x: y, y: x }, edge);
}

function leavesBay(body: Obstacle, along: "x" | "y", by: number, room: Room): boolean {
  const walls: Box = { x0: 0, x1: room.length, y0: -room.width / 2, y1: room.width / 2 };
  const [from, to] = along === "x" ? [body.x, body.x + body.length] : [body.y, body.y + body.width];
  const [low, high] = along === "x" ? [walls.x0, walls.x1] : [walls.y0, walls.y1];
  return by > 0 ? to + by > Math.max(high, to) + SAME : from + by < Math.min(low, from) - SAME;
}
