import type { Cause, VehicleFacts } from "../facts/index.js";
import type { Derivation, Program } from "../inference/index.js";
import type { ReadJob } from "../job/index.js";
import type { LoadedProcedures } from "../procedures/index.js";

/** Everything that a plan is read off. */
export interface PlanInput {
  readonly read: ReadJob;
  readonly vehicle: VehicleFacts;
  readonly program: Program;
  readonly derivation: Derivation;
  /** All procedure packs given, and those of them that apply. */
  readonly procedures: readonly LoadedProcedures[];
  readonly applicable: readonly LoadedProcedures[];
  /** Stated operations and findings, without claims and unread lines. */
  readonly causes: readonly Cause[];
}
