import fc from "fast-check";

/** One seed for all properties, so that a run fails or passes the same way everywhere. */
const SEED = 20_260_301;

/** Checks a property on generated input. */
export function check<T>(property: fc.IProperty<T>, runs = 200): void {
  fc.assert(property, { seed: SEED, numRuns: runs });
}

/** Checks a property that has to wait for its answers. */
export async function checkLater<T>(property: fc.IAsyncProperty<T>, runs = 200): Promise<void> {
  await fc.assert(property, { seed: SEED, numRuns: runs });
}
