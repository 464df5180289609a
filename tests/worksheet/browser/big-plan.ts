import { SENSOR_IDS, type Plan } from "../../../src/index.js";
import { aPlan } from "../../report/a-plan.js";

/** A plan of 40 requirements, with as many steps, questions, holds and sensors of which nothing is asked. */
export function aBigPlan(): Plan {
  const plan = aPlan();
  const [camera, radar] = plan.requirements;
  const [question] = plan.questions;
  const positions = ["left", "right", "front", "rear", null] as const;
  const tasks = ["calibration", "function-check", "initialisation", "zero-point-reset"] as const;
  const places = SENSOR_IDS.slice(0, 2).flatMap((sensor) =>
    positions.flatMap((position) => tasks.map((task) => ({ sensor, position, task }))),
  );
  const requirements = places.map(({ sensor, position, task }, index) => ({
    ...(index % 2 === 0 ? camera! : radar!),
    id: `${sensor}${position === null ? "" : `:${position}`}/${task}`,
    sensor,
    position,
    task,
  }));
  return {
    ...plan,
    requirements,
    steps: requirements.map(({ id }, index) => ({
      ...plan.steps[1]!,
      id,
      requirement: id,
      says: `${id} is carried out.`,
      after: index === 0 ? [] : [requirements[index - 1]!.id],
    })),
    questions: requirements.map(({ id }, index) => ({ ...question!, id: `Q${index + 1}`, settles: [id] })),
    preconditions: plan.preconditions.map((each) => ({
      ...each,
      neededBy: requirements.map(({ id }) => id),
    })),
    notIndicated: SENSOR_IDS.slice(2).map((sensor) => ({ ...plan.notIndicated[0]!, sensor, position: null })),
  };
}
