import type { ActionId, ComponentId, PositionId, SensorId } from "../../vocabulary/index.js";

export type Side = "left" | "right";
export type End = "front" | "rear";

/** Words for a side; which side driver, passenger, near and off side are follows from where the driver sits. */
export type SideWord = Side | "both" | "driver" | "passenger" | "near" | "off";

/** "RR" is the right rear or the rear, "R" the right or the rear: what of it can be meant follows from the part. */
export type EitherPlace = "right-rear-or-rear" | "right-or-rear";

/** One thing that the name of a part can stand for. */
export interface PartChoice {
  readonly component: ComponentId;
  readonly sensor?: SensorId;
  readonly position?: PositionId;
  /** The end of the vehicle that makes the name mean this part. */
  readonly end?: End;
  /** Not meant unless its end is said: a rear windshield is a rear glass, a windshield is none. */
  readonly onlyIfSaid?: true;
  /** Not meant unless a side is said. */
  readonly needsSide?: true;
  /** The sensor that the name says is in the part: an adaptive headlamp is a headlamp with one. */
  readonly carries?: SensorId;
}

/** Equipment that a part's description names without the part's own vocabulary; what it says depends on the part. */
export type EquipmentWord = "camera" | "radar" | "sensors" | "collision-warning" | SensorId;

/** What a phrase of an estimate line means. */
export type Meaning =
  | {
      readonly kind: "action";
      /** More than one where the trade uses the word for several: "remove" alone. */
      readonly actions: readonly ActionId[];
      /** Says nothing without a part: "reset" may be of a clock. */
      readonly needsPart?: true;
      /** Two works in one phrase: "pre and post scan". */
      readonly twice?: true;
      /** Describes a part as often as it says what is done to it: "new". */
      readonly mayDescribe?: true;
    }
  | {
      readonly kind: "part";
      readonly choices: readonly PartChoice[];
      /** What is done when the name stands alone: "wheel alignment". */
      readonly implied?: ActionId;
      /** What the name says of another part when it stands after "with" or "without". */
      readonly equipment?: EquipmentWord;
    }
  | { readonly kind: "place"; readonly side?: SideWord; readonly end?: End }
  | { readonly kind: "either-place"; readonly either: EitherPlace }
  | { readonly kind: "equipment"; readonly equipment: EquipmentWord | null }
  | { readonly kind: "purpose" }
  | { readonly kind: "and" }
  | { readonly kind: "with"; readonly fitted: "yes" | "no" }
  | { readonly kind: "including" }
  | { readonly kind: "for" }
  | { readonly kind: "nothing" }
  | { readonly kind: "stop"; readonly why: string };

/** A phrase and what it means; `words` as a person would write them. */
export interface Entry {
  readonly words: string;
  readonly means: Meaning;
}
