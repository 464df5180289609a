import type { Requirement } from "../plan/index.js";
import { HOLDS, type EvidenceId, type HoldId } from "../vocabulary/index.js";
import { curedAt, isKnownEarlier, proofsFor, standingLines, startOf, type Case, type Due } from "./case.js";
import { aboutRequirement, chainOf, labelsOf, makeFinding, nameTask, type Draft } from "./finding.js";

/** The records that can show each hold cleared; common practice, no source. */
const CLEARED_BY: Readonly<Record<HoldId, readonly EvidenceId[]>> = {
  "filler-in-radar-window": ["part-identification"],
  "reconditioned-cover-over-radar": ["part-identification"],
  "unapproved-part": ["part-identification"],
  "recycled-sensor-not-configured": ["part-identification", "pre-calibration-scan"],
  "camera-bracket-rebonded": ["part-identification"],
  "film-too-thick": ["film-thickness"],
  "ride-height-out": ["ride-height"],
  "wheel-alignment-out": ["wheel-alignment"],
  "structural-measurement-out": ["structural-measurement"],
  "unrelated-fault-codes": ["pre-calibration-scan"],
  "sensor-bracket-bent": ["inspection", "part-identification"],
  "tyres-mixed": ["tyre-pressure"],
  "battery-voltage-low": ["battery-support"],
  "sensor-damaged": ["part-identification"],
  "adhesive-not-cured": ["adhesive-cure"],
  "windshield-damage-in-view": ["part-identification"],
  "mount-inspection-first": ["inspection"],
  "configure-first": ["pre-calibration-scan"],
  "ride-height-modified": ["ride-height"],
  "tyre-size-not-approved": ["tyre-pressure"],
  "view-obstructed": ["inspection"],
};

/**
 * Requirements with a line in spite of a hold that no record clears: on an estimate the hold is still to be cleared
 * (hold-open), afterwards it was passed over (hold-ignored). A hold counts as cleared by a record of the right kind that
 * says "passed" and is not known to be later than the work; a cure also by the time at which it was reached.
 */
export function findHolds(audited: Case): readonly Draft[] {
  const isEstimate = audited.submitted.document === "estimate";
  return audited.dues.flatMap((due) => {
    const [first] = due.done;
    if (first === undefined) return [];
    const standing = standingLines(due);
    const begun = standing.flatMap((entry) => startOf(entry) ?? []);
    const when = isEstimate ? "not-yet" : begun.length === 0 ? null : Math.min(...begun);
    const holds = [...new Set(due.requirement.holds.map(({ id }) => id))];
    return holds
      .filter((hold) => !isCleared(hold, due, when))
      .map((hold) => makeHold(hold, due.requirement, { entry: standing[0] ?? first, isEstimate }));
  });
}

/** `begun`: when the task began, in seconds; null where nothing says. */
function isCleared(hold: HoldId, due: Due, begun: number | "not-yet" | null): boolean {
  return proofsFor(due, CLEARED_BY[hold]).some((proof) => {
    const isCure = proof.kind === "adhesive-cure";
    const at = isCure ? curedAt(proof) : proof.at;
    if (typeof begun === "number" && isKnownEarlier(begun, at)) return false;
    return proof.result === "passed" || (isCure && proof.result === "unknown" && begun !== "not-yet");
  });
}

function makeHold(
  hold: HoldId,
  requirement: Requirement,
  { entry, isEstimate }: { readonly entry: Due["done"][number]; readonly isEstimate: boolean },
): Draft {
  const brought = requirement.holds.filter(({ id }) => id === hold);
  const { label, clearedBy } = HOLDS[hold];
  const record = labelsOf(CLEARED_BY[hold], "or");
  return makeFinding(isEstimate ? "hold-open" : "hold-ignored", aboutRequirement(requirement, entry), {
    says: isEstimate
      ? `Line ${entry.line.id} lists the ${nameTask(requirement)}, which is on hold: ${label}.`
      : `Line ${entry.line.id} carries out the ${nameTask(requirement)}, which is on hold (${label}), and no record shows that this was cleared before.`,
    because: [
      ...chainOf(requirement),
      entry.line.id,
      hold,
      ...brought.flatMap(({ rule, operation, finding }) => [rule, operation ?? finding ?? []].flat()),
    ],
    resolvedBy: `${clearedBy} A record shows it: ${record}, passed, before the task begins.`,
  });
}
