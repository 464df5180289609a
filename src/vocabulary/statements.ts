/** What a wheel alignment can have adjusted. */
export const ADJUSTED_IDS = [
  "front-toe",
  "rear-toe",
  "camber",
  "caster",
  "front-camber",
  "rear-camber",
  "thrust",
  "subframe-position",
  "nothing",
] as const;

/** Where a part that is fitted comes from. */
export const PART_ORIGINS = ["maker-new", "other-new", "recycled", "reconditioned"] as const;

/** When a fault code was read. */
export const CODE_READ = ["pre-repair", "pre-calibration", "post-repair"] as const;

/** Whether a fault is present, or was once. */
export const CODE_STATUS = ["active", "stored"] as const;

/** What can be measured at a vehicle. */
export const MEASUREMENT_KINDS = [
  "thrust-angle",
  "total-toe",
  "ride-height",
  "structural",
  "film-thickness",
  "tread-depth",
  "battery-voltage",
] as const;
