import * as z from "zod";

const extent = z.number().positive().max(100_000);
const overhang = z.number().min(0).max(100_000);

/** A vehicle's dimensions in mm; what is left out is unknown. Overhangs count from the middles of the axles. */
export const dimensionsShape = z.strictObject({
  wheelbase: extent.optional(),
  trackFront: extent.optional(),
  trackRear: extent.optional(),
  frontOverhang: overhang.optional(),
  rearOverhang: overhang.optional(),
  width: extent.optional(),
  height: extent.optional(),
});
