import { z } from "zod";
import { driveLogShape, driveResultShape } from "../src/drive/index.js";
import { readingShape } from "../src/intake/index.js";
import { jobShape } from "../src/job/index.js";
import { planShape } from "../src/plan/shape.js";
import { procedurePackShape } from "../src/procedures/index.js";
import { setupResultShape, setupShape } from "../src/setup/index.js";
import { packHeadShape, ruleShape, sourcesShape } from "../src/rulebook/index.js";

/** The published documents by name, each with the shape it is generated from. */
const SHAPES = {
  job: { shape: jobShape, title: "repair-calibration/job@1" },
  plan: { shape: planShape, title: "repair-calibration/plan@1" },
  procedures: { shape: procedurePackShape, title: "repair-calibration/procedures@1" },
  setup: { shape: setupShape, title: "repair-calibration/setup@1" },
  "setup-result": { shape: setupResultShape, title: "repair-calibration/setup-result@1" },
  drive: { shape: driveLogShape, title: "repair-calibration/drive@1" },
  "drive-result": { shape: driveResultShape, title: "repair-calibration/drive-result@1" },
  reading: { shape: readingShape, title: "repair-calibration/reading@1" },
  pack: { shape: packHeadShape, title: "repair-calibration/pack@1" },
  rule: { shape: ruleShape, title: "A rule of a pack" },
  sources: { shape: sourcesShape, title: "The sources of a pack" },
} as const;

/** JSON Schemas (draft 2020-12) of every published document, by name. */
export function generateSchemas(): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(SHAPES).map(([name, { shape, title }]) => {
      const { $schema, ...rest } = z.toJSONSchema(shape, { io: "input", target: "draft-2020-12" });
      return [
        name,
        { $schema, $id: `https://repair-calibration.invalid/schemas/${name}.schema.json`, title, ...rest },
      ];
    }),
  );
}
