import type { Box, Cover, Volume } from "./box.js";
import type { BayResult } from "../result.js";

/** The bay as the result states it. */
export type Room = Pick<BayResult, "length" | "width" | "height" | "obstacles">;
export type Obstacle = BayResult["obstacles"][number];

/** A place for the vehicle: the point below the middle of its front axle in the bay's axes; mm. */
export interface Stand {
  readonly noseIn: boolean;
  readonly x: number;
  readonly y: number;
  /** How far it may be off in every direction along and across the bay before anything touches; mm. */
  readonly play: number;
}

/** Where the front axle's middle may be in one direction of the vehicle, and where something stands in the way. */
export interface Positions {
  readonly noseIn: boolean;
  /** All that the walls leave. */
  readonly within: Box;
  /** What obstacles take away from that, from the right to the left by where it begins; edges are allowed. */
  readonly narrowing: readonly Forbidden[];
  /** The same from the left to the right by where they end. */
  readonly fromLeft: readonly Forbidden[];
}

export interface Forbidden extends Box {
  /** Its index in the bay. */
  readonly obstacle: number;
  /** That it counts only because a height is not known. */
  readonly isDoubtful: boolean;
}

/** Whether obstacles count of which nobody can tell whether what passes below them is lower. */
export type Doubt = "counts" | "does-not-count";

/** Lengths that differ by less are the same: far less than can be measured, far more than rounding adds up to; mm. */
export const SAME = 1e-6;

/** What has no extent counts as having this one either way; mm. */
const THIN = 1e-4;

/**
 * The places of the vehicle in one direction, or null where the walls leave none.
 * Everything is a rectangle along the axes, so that a box and an obstacle exclude a rectangle of places: the obstacle
 * grown by the box.
 */
export function positionsOf(cover: Cover, room: Room, noseIn: boolean, doubt: Doubt): Positions | null {
  if (cover.length > room.length + SAME) return null;
  if (room.height !== null && cover.height > room.height + SAME) return null;
  const [ahead, behind] = noseIn ? [cover.front, cover.rear] : [cover.rear, cover.front];
  const [left, right] = noseIn ? [cover.left, cover.right] : [cover.right, cover.left];
  const x0 = behind;
  const x1 = room.length - ahead;
  const y0 = right - room.width / 2;
  const y1 = room.width / 2 - left;
  if (x1 < x0 - SAME || y1 < y0 - SAME) return null;
  const within = { x0, x1: Math.max(x0, x1), y0, y1: Math.max(y0, y1) };
  const narrowing = listForbidden(cover, room, noseIn, doubt, within);
  narrowing.sort((one, other) => one.y0 - other.y0);
  const fromLeft = [...narrowing].sort((one, other) => other.y1 - one.y1);
  return { noseIn, within, narrowing, fromLeft };
}

/** One rectangle of places for each obstacle and each box that cannot be there together, if it meets `within`. */
export function listForbidden(
  cover: Cover,
  room: Room,
  noseIn: boolean,
  doubt: Doubt,
  within: Box,
): Forbidden[] {
  const forbidden: Forbidden[] = [];
  for (const each of cover.boxes) {
    const box = noseIn ? each : turnRound(each);
    for (const [index, obstacle] of room.obstacles.entries()) {
      if (!excludes(obstacle, box, doubt)) continue;
      const places = exclude(obstacle, box, index);
      if (overlaps(places, within)) forbidden.push(places);
    }
  }
  return forbidden;
}

function exclude(body: Obstacle, box: Volume, obstacle: number): Forbidden {
  const { x, y, length, width } = body;
  // A bar without a depth must not come to stand on the edge of an obstacle, with the wall behind it.
  const alongX = box.x1 - box.x0 < THIN ? THIN : 0;
  const alongY = box.y1 - box.y0 < THIN ? THIN : 0;
  return {
    x0: x - box.x1 - alongX,
    x1: x + length - box.x0 + alongX,
    y0: y - box.y1 - alongY,
    y1: y + width - box.y0 + alongY,
    obstacle,
    isDoubtful: !excludes(body, box, "does-not-count"),
  };
}

function turnRound(box: Volume): Volume {
  const { x0, x1, y0, y1, atLeast, atMost } = box;
  return { x0: -x1, x1: -x0, y0: -y1, y1: -y0, atLeast, atMost };
}

/** What stands on the floor is always in the way; what hangs is not where everything that passes below it is lower. */
function excludes({ from }: Obstacle, box: Volume, doubt: Doubt): boolean {
  return from <= 0 || from < (doubt === "counts" ? box.atMost : box.atLeast);
}

/** Whether a rectangle's inside meets another, which may have no extent. */
function overlaps(one: Box, other: Box): boolean {
  return (
    one.x0 < other.x1 - SAME &&
    one.x1 > other.x0 + SAME &&
    one.y0 < other.y1 - SAME &&
    one.y1 > other.y0 + SAME
  );
}

/** The place with the most play; of several, the one with the least x, then with the least |y|, then the left one. */
export function findStand(positions: Positions): Stand | null {
  const { within, noseIn } = positions;
  const most = Math.min(within.x1 - within.x0, within.y1 - within.y0) / 2;
  const roomiest = findFree(positions, most);
  if (roomiest !== null) return { noseIn, ...roomiest, play: most };
  let best = findFree(positions, 0);
  if (best === null) return null;
  const plays = [0, ...playsBetween(positions, most)];
  let low = 0;
  let high = plays.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const found = findFree(positions, plays[middle] ?? 0);
    if (found === null) high = middle;
    else [low, best] = [middle, found];
  }
  return { noseIn, ...best, play: plays[low] ?? 0 };
}

/**
 * Every play that can be the largest, rising: there the vehicle with its play touches something on two opposite sides,
 * or else it could be moved and given more.
 */
function playsBetween({ within, narrowing }: Positions, most: number): readonly number[] {
  const plays = new Set<number>();
  const pair = (froms: readonly number[], tos: readonly number[]): void => {
    for (const from of froms) {
      for (const to of tos) {
        const play = (to - from) / 2;
        if (play > 0 && play < most) plays.add(play);
      }
    }
  };
  pair(edgesOf(within.x0, narrowing, "x1"), edgesOf(within.x1, narrowing, "x0"));
  pair(edgesOf(within.y0, narrowing, "y1"), edgesOf(within.y1, narrowing, "y0"));
  return [...plays].sort((one, other) => one - other);
}

function edgesOf(wall: number, forbidden: readonly Forbidden[], side: keyof Box): readonly number[] {
  return [...new Set([wall, ...forbidden.map((each) => each[side])])];
}

/** The free place with the least x, then the least |y|, that leaves the given play on every side. */
export function findFree(positions: Positions, play: number): { x: number; y: number } | null {
  const { within, narrowing } = positions;
  const [first, last] = [within.x0 + play, within.x1 - play];
  if (first > last + SAME) return null;
  // Pushed as far towards the door as it goes, a free place lies at the wall or at the inner edge of something.
  const edges = narrowing.map(({ x1 }) => x1 + play).filter((x) => x > first && x <= last + SAME);
  for (const x of new Set([first, ...edges.sort((one, other) => one - other)])) {
    const y = findAcross(positions, x, play);
    if (y !== null) return { x, y };
  }
  return null;
}

/** The y nearest the bay's middle that is free at this x. */
function findAcross({ within, narrowing, fromLeft }: Positions, x: number, play: number): number | null {
  const [low, high] = [within.y0 + play, within.y1 - play];
  if (low > high + SAME) return null;
  const isBeside = (each: Box): boolean => each.x0 - play < x - SAME && each.x1 + play > x + SAME;
  const start = Math.min(Math.max(0, low), Math.max(low, high));
  let up = start;
  for (const each of narrowing) {
    if (each.y0 - play < up - SAME && each.y1 + play > up + SAME && isBeside(each)) up = each.y1 + play;
  }
  if (up === start) return start;
  let down = start;
  for (const each of fromLeft) {
    if (each.y0 - play < down - SAME && each.y1 + play > down + SAME && isBeside(each)) down = each.y0 - play;
  }
  const isUp = up <= high + SAME;
  const isDown = down >= low - SAME;
  if (isUp && (!isDown || Math.abs(up) <= Math.abs(down))) return up;
  return isDown ? down : null;
}
