import {
  checkPack,
  layerPacks,
  type CheckedPack,
  type PackSource,
  type Rulebook,
} from "../rulebook/index.js";
import { COMMON_PRACTICE } from "./common-practice.generated.js";

let bundled: Rulebook | undefined;

/**
 * Loads a rulebook: the bundled common practice, or exactly the packs given, in any order.
 *
 * Packs given as their files hold them are checked wholly, examples included. Throws `InputError` of kind "rule-pack".
 */
export function loadRulebook(packs?: readonly (PackSource | CheckedPack)[]): Rulebook {
  if (packs === undefined) return (bundled ??= layerPacks([COMMON_PRACTICE]));
  return layerPacks(packs.map((pack) => ("digest" in pack ? pack : checkPack(pack))));
}

export { COMMON_PRACTICE };
