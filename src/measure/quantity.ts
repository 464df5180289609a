declare const unitOf: unique symbol;

/** A number that carries its unit in its type, so that one quantity cannot be passed for another. */
export type Quantity<U extends string> = number & { readonly [unitOf]: U };

/** A length in millimetres. */
export type Millimetres = Quantity<"mm">;
/** An angle in degrees. */
export type Degrees = Quantity<"deg">;
/** A slope as rise over run in per cent: 1 is 10 mm on a metre. */
export type Percent = Quantity<"%">;
/** A slope in millimetres on a metre: 10 is 1 %. */
export type MillimetresPerMetre = Quantity<"mm/m">;

/** The units in which the library computes and prints; "1" is a plain number. */
export interface UnitTypes {
  readonly mm: Millimetres;
  readonly deg: Degrees;
  readonly "%": Percent;
  readonly "mm/m": MillimetresPerMetre;
  readonly "1": number;
}
/** A unit by its sign. */
export type Unit = keyof UnitTypes;

/** An inch, exactly (international inch of 1959). */
export const MILLIMETRES_IN_AN_INCH = 25.4;

/** A number of millimetres as a length. */
export function mm(value: number): Millimetres {
  return value as Millimetres;
}

/** A number of metres as a length. */
export function metres(value: number): Millimetres {
  return mm(value * 1000);
}

/** A number of inches as a length. */
export function inches(value: number): Millimetres {
  return mm(value * MILLIMETRES_IN_AN_INCH);
}

/** A number of degrees as an angle. */
export function degrees(value: number): Degrees {
  return value as Degrees;
}

/** A number of minutes of arc as an angle; 60 are a degree. */
export function minutesOfArc(value: number): Degrees {
  return degrees(value / 60);
}

/** A number of per cent as a slope. */
export function percent(value: number): Percent {
  return value as Percent;
}

/** A number of millimetres on a metre as a slope. */
export function millimetresPerMetre(value: number): MillimetresPerMetre {
  return value as MillimetresPerMetre;
}

/** Sine, cosine and tangent of an angle in degrees. */
export function sin(angle: Degrees): number {
  return Math.sin((angle * Math.PI) / 180);
}
export function cos(angle: Degrees): number {
  return Math.cos((angle * Math.PI) / 180);
}
export function tan(angle: Degrees): number {
  return Math.tan((angle * Math.PI) / 180);
}

/** The angle whose sine or tangent is given; that of a point (x, y) from the x axis, −180 to 180. */
export function asin(ratio: number): Degrees {
  return degrees((Math.asin(ratio) * 180) / Math.PI);
}
export function atan(ratio: number): Degrees {
  return degrees((Math.atan(ratio) * 180) / Math.PI);
}
export function atan2(y: number, x: number): Degrees {
  return degrees((Math.atan2(y, x) * 180) / Math.PI);
}
