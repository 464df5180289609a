import { readTime } from "../drive/index.js";
import { InputError, type Issue } from "../errors.js";
import { checkPosition, guardDocument, inDocumentOrder, issuesOf } from "../shapes/index.js";
import { submittedShape, type Submitted, type SubmittedLine, type SubmittedRecord } from "./shape.js";

/**
 * Reads what somebody submitted (`repair-calibration/submitted@1`): an estimate, a work record or an invoice.
 *
 * Throws `InputError` of kind "input" with every issue found, in the order of the document.
 */
export function readSubmitted(input: unknown): Submitted {
  const harmful = guardDocument(input);
  if (harmful.length > 0) throw new InputError("input", harmful);
  const parsed = submittedShape.safeParse(input);
  if (!parsed.success) throw new InputError("input", issuesOf(parsed.error, submittedShape, input));
  const { lines, records = [] } = parsed.data;
  const issues = [...checkIds(lines), ...lines.flatMap(checkLine), ...records.flatMap(checkRecord)];
  if (issues.length > 0) throw new InputError("input", inDocumentOrder(issues, input));
  return parsed.data;
}

function checkIds(lines: readonly SubmittedLine[]): readonly Issue[] {
  const first = new Map<string, number>();
  return lines.flatMap(({ id }, index) => {
    const before = first.get(id);
    if (before === undefined) {
      first.set(id, index);
      return [];
    }
    return [
      {
        code: "duplicate-id" as const,
        pointer: `/lines/${index}/id`,
        message: `the id ${JSON.stringify(id)} is taken by /lines/${before}`,
        expected: "an id of its own for each line",
      },
    ];
  });
}

function checkLine(line: SubmittedLine, index: number): readonly Issue[] {
  const { sensor, position = null, started, finished } = line;
  const issues = [...checkPosition(sensor, position, `/lines/${index}/position`)];
  if (started === undefined || finished === undefined || readTime(started) <= readTime(finished))
    return issues;
  return [
    ...issues,
    {
      code: "invalid-value",
      pointer: `/lines/${index}/finished`,
      message: `the line ends at ${finished}, before it starts at ${started}`,
      expected: "a time that is not before the start",
    },
  ];
}

function checkRecord({ sensor = null, position = null }: SubmittedRecord, index: number): readonly Issue[] {
  const pointer = `/records/${index}`;
  if (sensor !== null) return checkPosition(sensor, position, `${pointer}/position`);
  if (position === null) return [];
  return [
    {
      code: "missing-key",
      pointer: `${pointer}/sensor`,
      message: `the position "${position}" belongs to no sensor`,
      expected: "the sensor that stands there, or no position",
    },
  ];
}
