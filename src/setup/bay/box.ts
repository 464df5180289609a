/** A rectangle with its sides along the axes that its owner names; mm. */
export interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** A rectangle with the height that it takes above the floor, as far as it is known; mm. */
export interface Volume extends Box {
  readonly atLeast: number;
  /** Infinity where nobody says. */
  readonly atMost: number;
}

/** What has to be free around the vehicle, in its own axes; mm. Where something is not known, a part of it. */
export interface Cover {
  /** Places that have to be free for certain; none lies within another. */
  readonly boxes: readonly Volume[];
  /** How far it goes from the middle of the front axle, at least. */
  readonly front: number;
  readonly rear: number;
  readonly left: number;
  readonly right: number;
  /** Its whole length, at least: more than front and rear together where the place of a part is not known. */
  readonly length: number;
  /** The height that has to be there, at least. */
  readonly height: number;
}

/** The cover of what takes no room. */
export const NOTHING: Cover = {
  boxes: [],
  front: 0,
  rear: 0,
  left: 0,
  right: 0,
  length: 0,
  height: 0,
};

/** Everything that several covers cover together. */
export function joinCovers(covers: readonly Cover[]): Cover {
  let joined = NOTHING;
  for (const each of covers) {
    const front = Math.max(joined.front, each.front);
    const rear = Math.max(joined.rear, each.rear);
    joined = {
      boxes: joined.boxes.concat(each.boxes),
      front,
      rear,
      left: Math.max(joined.left, each.left),
      right: Math.max(joined.right, each.right),
      length: Math.max(joined.length, each.length, front + rear),
      height: Math.max(joined.height, each.height),
    };
  }
  return { ...joined, boxes: dropCovered(joined.boxes) };
}

function dropCovered(boxes: readonly Volume[]): readonly Volume[] {
  return boxes.filter(
    (each, index) =>
      !boxes.some(
        (other, at) => at !== index && encloses(other, each) && (at < index || !encloses(each, other)),
      ),
  );
}

function encloses(outer: Volume, inner: Volume): boolean {
  return contains(outer, inner) && outer.atLeast >= inner.atLeast && outer.atMost >= inner.atMost;
}

/** Whether a rectangle lies within another, edges included. */
export function contains(outer: Box, inner: Box): boolean {
  return outer.x0 <= inner.x0 && outer.x1 >= inner.x1 && outer.y0 <= inner.y0 && outer.y1 >= inner.y1;
}

/** A cover of one box whose place is known. */
export function coverOf(box: Volume, height: number): Cover {
  const front = Math.max(0, box.x1);
  const rear = Math.max(0, -box.x0);
  return {
    boxes: [box],
    front,
    rear,
    left: Math.max(0, box.y1),
    right: Math.max(0, -box.y0),
    length: front + rear,
    height,
  };
}
