import type { Degrees, Millimetres } from "../measure/index.js";
import type { ClearArea, ProcedureTarget } from "../procedures/index.js";
import type { PositionId, SensorId } from "../vocabulary/index.js";
import type { SetupTarget } from "./shape.js";

/** A point on the floor; mm, in the axes that its owner names. */
export interface Point {
  readonly x: Millimetres;
  readonly y: Millimetres;
}

/** A wheel centre plumbed to the floor, in the vehicle's axes. */
export interface Wheel extends Point {
  readonly axle: "front" | "rear";
  readonly side: "left" | "right";
  /** Height of the floor under it, in the levels of the survey. */
  readonly z: Millimetres | null;
  /** Standard uncertainty of each coordinate. */
  readonly u: Millimetres | null;
}

/** A datum whose place was measured, in the vehicle's axes. */
export interface Place extends Point {
  readonly datum: "sensor" | "emblem" | "front-bumper" | "rear-bumper";
  readonly sensor: SensorId | null;
  readonly position: PositionId | null;
  readonly z: Millimetres | null;
}

/** The vehicle as it stands, in its own axes (ISO 8855); null is unknown. */
export interface Scene {
  readonly wheelbase: Millimetres | null;
  readonly trackFront: Millimetres | null;
  readonly trackRear: Millimetres | null;
  readonly frontOverhang: Millimetres | null;
  readonly rearOverhang: Millimetres | null;
  readonly width: Millimetres | null;
  readonly height: Millimetres | null;
  /** All four, or null where wheelbase or tracks are not known. */
  readonly wheels: readonly Wheel[] | null;
  readonly places: readonly Place[];
  /** Brings a point of the document into the vehicle's axes; null where nothing ties the two. */
  readonly toVehicle: ((point: { readonly x: number; readonly y: number }) => Point) | null;
}

/** A target that somebody asks for: by the maker's procedure, or by the document itself. */
export interface AskedTarget {
  /** "forward-camera/board-n1", "rear-corner-radar:left/simulator-n6-left". */
  readonly key: string;
  readonly requirements: readonly string[];
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly id: string;
  readonly placing: Omit<ProcedureTarget, "id">;
  readonly procedure: { readonly pack: string; readonly section: string } | null;
  /** End to end, where the tape is held; null where nobody says. */
  readonly barWidth: Millimetres | null;
  /** What the document says was measured of it, and where that stands ("/targets/2"). */
  readonly stated: { readonly target: SetupTarget; readonly pointer: string } | null;
}

/** A static calibration for which the vehicle has to stand in the bay. */
export interface StaticStep {
  readonly requirement: string;
  readonly clearArea: ClearArea | null;
  /** Keys of its targets. */
  readonly targets: readonly string[];
  /** Requirements among the static steps that come before it. */
  readonly after: readonly string[];
}

/** The heading of a reference line in the vehicle's axes, counter-clockwise positive. */
export type Heading = Degrees;
