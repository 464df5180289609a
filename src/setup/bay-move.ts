import type { Box } from "./bay-box.js";
import { SAME, type Forbidden, type Obstacle, type Positions, type Room } from "./bay-place.js";

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
  readonly total: number;
}

/**
 * The obstacles that stand in the way where the vehicle has the fewest of them in its way, each with its least straight
 * move; of several such places the one where the moves add up to least. Where one obstacle goes is held against the
 * walls, not against other obstacles.
 *
 * Between the edges of the forbidden rectangles each move grows or shrinks evenly with the vehicle's place, so that the
 * least sum lies where two edges meet.
 */
export function findMoves(positions: Positions, room: Room): Moves {
  const { within, forbidden, noseIn } = positions;
  const xs = edgesWithin(within.x0, within.x1, forbidden, "x0", "x1");
  const ys = [...edgesWithin(within.y0, within.y1, forbidden, "y0", "y1")].sort(
    (one, other) => Math.abs(one) - Math.abs(other) || other - one,
  );
  const byObstacle = groupByObstacle(forbidden);
  let best: Moves | null = null;
  for (const x of xs) {
    const beside = byObstacle
      .map((own) => own.filter((each) => each.x0 < x - SAME && each.x1 > x + SAME))
      .filter((own) => own.length > 0);
    for (const y of ys) {
      const most = best?.moves.length ?? Infinity;
      const inTheWay = listHit(beside, y, most);
      if (inTheWay === null) continue;
      const moves = inTheWay.map((index) => leastMove(index, forbidden, { x, y }, room));
      const total = moves.reduce((sum, { by }) => sum + Math.abs(by), 0);
      if (moves.length < most || total < (best?.total ?? Infinity) - SAME) best = { noseIn, moves, total };
    }
  }
  return best ?? { noseIn, moves: [], total: 0 };
}

/** The obstacles hit, or null where there are more than `most`. */
function listHit(
  beside: readonly (readonly Forbidden[])[],
  y: number,
  most: number,
): readonly number[] | null {
  const hit: number[] = [];
  for (const own of beside) {
    const one = own.find((each) => each.y0 < y - SAME && each.y1 > y + SAME);
    if (one === undefined) continue;
    hit.push(one.obstacle);
    if (hit.length > most) return null;
  }
  return hit;
}

function groupByObstacle(forbidden: readonly Forbidden[]): readonly (readonly Forbidden[])[] {
  const groups = new Map<number, Forbidden[]>();
  for (const each of forbidden) {
    const own = groups.get(each.obstacle);
    if (own === undefined) groups.set(each.obstacle, [each]);
    else own.push(each);
  }
  return [...groups.values()];
}

function edgesWithin(
  low: number,
  high: number,
  forbidden: readonly Forbidden[],
  begin: "x0" | "y0",
  end: "x1" | "y1",
): readonly number[] {
  const edges = new Set([low, high, ...forbidden.flatMap((each) => [each[begin], each[end]])]);
  return [...edges].filter((each) => each >= low && each <= high).sort((one, other) => one - other);
}

type Place = Readonly<Record<"x" | "y", number>>;

function leastMove(obstacle: number, forbidden: readonly Forbidden[], at: Place, room: Room): Move {
  const own = forbidden.filter((each) => each.obstacle === obstacle);
  const body = room.obstacles[obstacle];
  const ways = (["x", "y"] as const).flatMap((along) => {
    const exits = exitsAlong(along, own, at);
    return exits.map((by) => ({
      obstacle,
      along,
      by,
      leavesBay: body !== undefined && leavesBay(body, along, by, room),
    }));
  });
  const rank = (move: Move): number => Math.abs(move.by) + (move.leavesBay ? 1e9 : 0);
  return ways.reduce((least, each) => (rank(each) < rank(least) - SAME ? each : least));
}

/** How far the obstacle has to go each way: as far as the vehicle would have to go the other way. */
function exitsAlong(along: "x" | "y", own: readonly Forbidden[], at: Place): readonly [number, number] {
  const [begin, end, sideBegin, sideEnd] =
    along === "x" ? (["x0", "x1", "y0", "y1"] as const) : (["y0", "y1", "x0", "x1"] as const);
  const side = at[along === "x" ? "y" : "x"];
  const beside = own.filter((each) => each[sideBegin] < side - SAME && each[sideEnd] > side + SAME);
  let down = at[along];
  for (const each of [...beside].sort((one, other) => other[end] - one[end])) {
    if (each[begin] < down - SAME && each[end] > down + SAME) down = each[begin];
  }
  let up = at[along];
  for (const each of [...beside].sort((one, other) => one[begin] - other[begin])) {
    if (each[begin] < up - SAME && each[end] > up + SAME) up = each[end];
  }
  return [at[along] - down, at[along] - up];
}

function leavesBay(body: Obstacle, along: "x" | "y", by: number, room: Room): boolean {
  const walls: Box = { x0: 0, x1: room.length, y0: -room.width / 2, y1: room.width / 2 };
  const [from, to] = along === "x" ? [body.x, body.x + body.length] : [body.y, body.y + body.width];
  const [low, high] = along === "x" ? [walls.x0, walls.x1] : [walls.y0, walls.y1];
  return by > 0 ? to + by > Math.max(high, to) + SAME : from + by < Math.min(low, from) - SAME;
}
