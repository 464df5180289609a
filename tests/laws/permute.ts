import type { Job } from "../../src/index.js";

/** A job with its lists in another order, and the way back for the JSON pointers of what is made from it. */
export interface Permuted {
  readonly job: Job;
  readonly restore: (text: string) => string;
}

const FINDING_LISTS = ["impactZones", "impactWheels", "faultCodes", "filmThickness", "measurements"] as const;

/** Puts operations, equipment entries and findings of a job in another order, as `draw` says. */
export function permute(job: Job, draw: number): Permuted {
  const moved = new Map<string, readonly number[]>();
  const shuffle = <T>(pointer: string, list: readonly T[]): T[] => {
    const order = orderFrom(draw + pointer.length, list.length);
    moved.set(pointer, order);
    return order.map((from) => list[from] as T);
  };
  const { equipment } = job.vehicle;
  const findings = Object.fromEntries(
    FINDING_LISTS.flatMap((field) => {
      const list: readonly unknown[] | undefined = job.findings?.[field];
      return list === undefined ? [] : [[field, shuffle(`/findings/${field}`, list)]];
    }),
  );
  const permuted: Job = {
    ...job,
    operations: shuffle("/operations", job.operations),
    vehicle: {
      ...job.vehicle,
      ...(equipment === undefined ? {} : { equipment: shuffle("/vehicle/equipment", equipment) }),
    },
    ...(job.findings === undefined ? {} : { findings: { ...job.findings, ...findings } }),
  };
  const pointer = /(\/operations|\/vehicle\/equipment|\/findings\/[a-zA-Z]+)\/(\d+)/g;
  return {
    job: permuted,
    restore: (text) =>
      text.replace(pointer, (whole, list: string, at: string) => {
        const from = moved.get(list)?.[Number(at)];
        return from === undefined ? whole : `${list}/${from}`;
      }),
  };
}

/** A permutation of 0 … length - 1 that follows from a number. */
function orderFrom(draw: number, length: number): readonly number[] {
  const left = Array.from({ length }, (_, index) => index);
  const order: number[] = [];
  for (let rest = draw; left.length > 0; rest = Math.floor(rest / left.length) + 7919) {
    order.push(...left.splice(rest % left.length, 1));
  }
  return order;
}
