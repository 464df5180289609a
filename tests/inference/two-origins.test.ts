import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type JobOperation } from "../../src/index.js";

const rulebook = loadRulebook();

type Done = "yes" | "no" | "unknown";

function line(id: string, part: Pick<JobOperation, "component" | "side">, done?: Done): JobOperation {
  const work = { action: "remove-install", component: "steering-column" } as const;
  return {
    id,
    action: "replace",
    ...part,
    ...(done === undefined ? {} : { dependentWork: [{ ...work, done }] }),
  };
}

/** Whether the steering column comes out, and how surely. */
function columnOut(...operations: JobOperation[]): readonly boolean[] {
  return planCalibrations(
    { schema: "repair-calibration/job@1", reference: "RO-1", vehicle: {}, operations },
    { rulebook },
  )
    .impliedOperations.filter(({ component }) => component === "steering-column")
    .map(({ certain }) => certain);
}

/** Both lines take the instrument panel out, and with it, on some vehicles, the steering column. */
function columnOutOfTwo(ofPillar: Done, ofCowl: Done): readonly boolean[] {
  return columnOut(
    line("L1", { component: "a-pillar", side: "left" }, ofPillar),
    line("L2", { component: "cowl" }, ofCowl),
  );
}

describe("possible work that two lines could bring", () => {
  it("was done if one of them says so, whatever the other says", () => {
    expect(columnOutOfTwo("no", "yes")).toEqual([true]);
    expect(columnOutOfTwo("yes", "no")).toEqual([true]);
  });

  it("stays open while one of them leaves it open", () => {
    expect(columnOutOfTwo("no", "unknown")).toEqual([false]);
    expect(columnOutOfTwo("unknown", "unknown")).toEqual([false]);
  });

  it("was not done if both say so", () => {
    expect(columnOutOfTwo("no", "no")).toEqual([]);
  });

  it("was done if one of several lines that could not bring it says so", () => {
    const others = (first: Done, second: Done) => [
      line("L2", { component: "radiator" }, first),
      line("L3", { component: "condenser" }, second),
    ];
    const cowl = line("L1", { component: "cowl" });
    expect(columnOut(cowl)).toEqual([false]);
    expect(columnOut(cowl, ...others("yes", "no"))).toEqual([true]);
    expect(columnOut(cowl, ...others("no", "yes"))).toEqual([true]);
    expect(columnOut(cowl, ...others("no", "unknown"))).toEqual([]);
    expect(columnOut(cowl, ...others("unknown", "unknown"))).toEqual([false]);
  });
});
