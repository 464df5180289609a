import { InputError, nearestOf, type Issue } from "../errors.js";
import { checkPack, digestOf, layerPacks, type CheckedPack, type Rulebook } from "../rulebook/index.js";
import { guardDocument, issuesOf } from "../shapes/index.js";
import { acceptsPosition, positionsOf, SENSOR_IDS, TASK_IDS, type SensorId } from "../vocabulary/index.js";
import { checkProcedure } from "./check-procedure.js";
import { procedurePackShape, type Procedure, type ProcedurePack } from "./shape.js";

/** A procedure pack that has passed every check. */
export interface LoadedProcedures {
  readonly pack: ProcedurePack;
  readonly digest: string;
  /** Its rules as a pack of the rulebook; `null` where it has none. */
  readonly rules: CheckedPack | null;
}

/**
 * Checks a procedure pack: shape, positions, references, its own order, and its rules with their examples.
 * Throws `InputError` of kind "procedure-pack". `file` is named in messages.
 */
export function loadProcedures(content: unknown, file?: string): LoadedProcedures {
  const harmful = guardDocument(content);
  if (harmful.length > 0) refuse(harmful, file);
  const parsed = procedurePackShape.safeParse(content);
  if (!parsed.success) refuse(issuesOf(parsed.error, procedurePackShape, content), file);
  const pack = parsed.data;
  const issues: Issue[] = [
    ...checkYears(pack),
    ...checkProcedures(pack),
    ...checkOrder(pack),
    ...checkExceptions(pack),
  ];
  if (issues.length > 0) refuse(issues, file);
  return { pack, digest: digestOf(pack), rules: checkRules(pack, file) };
}

function refuse(issues: readonly Issue[], file: string | undefined): never {
  throw new InputError(
    "procedure-pack",
    file === undefined ? issues : issues.map((issue) => ({ ...issue, file: issue.file ?? file })),
  );
}

function checkYears({ appliesTo: { modelYears } }: ProcedurePack): readonly Issue[] {
  const { from, to } = modelYears;
  if (from <= to) return [];
  return [
    {
      code: "out-of-range",
      pointer: "/appliesTo/modelYears",
      message: `the first model year ${from} lies after the last one ${to}`,
      expected: "from at most as large as to",
    },
  ];
}

/** A rule that takes something away from the general rules says where its maker does so. */
function checkExceptions(pack: ProcedurePack): readonly Issue[] {
  return (pack.rules ?? []).flatMap((rule, index) => {
    const takesAway = rule.stratum === "waivers" || (rule.exceptionTo ?? []).length > 0;
    if (!takesAway) return [];
    const source = pack.sources?.[rule.source.ref];
    // A reference that leads nowhere is reported with the rules.
    if (source === undefined) return [];
    if (source.kind === "maker-procedure" && rule.source.section !== null) return [];
    return [
      {
        code: "waiver-without-citation" as const,
        pointer: `/rules/${index}/source`,
        message: `the rule "${rule.id}" takes an exception to general rules without citing where the maker does`,
        expected: 'a source of the kind "maker-procedure", and a section',
      },
    ];
  });
}

function checkProcedures(pack: ProcedurePack): readonly Issue[] {
  const issues: Issue[] = [];
  const seen = new Map<string, number>();
  pack.procedures.forEach((procedure, index) => {
    const pointer = `/procedures/${index}`;
    const position = procedure.position ?? null;
    if (!acceptsPosition(procedure.sensor, position)) {
      issues.push({
        code: "invalid-position",
        pointer: `${pointer}/position`,
        message: `a ${procedure.sensor} has no position "${String(position)}"`,
      });
    }
    issues.push(...checkProcedure(procedure, pointer));
    const key = `${procedure.sensor}:${position ?? ""}/${procedure.task}`;
    const other = seen.get(key);
    if (other !== undefined) {
      issues.push({
        code: "procedure-conflict",
        pointer,
        message: `"${pack.procedures[other]?.id ?? ""}" and "${procedure.id}" are both for ${key.replace(":/", "/")}`,
      });
    }
    seen.set(key, index);
  });
  const ids = pack.procedures.map(({ id }) => id);
  ids.forEach((id, index) => {
    if (ids.indexOf(id) === index) return;
    issues.push({
      code: "duplicate-id",
      pointer: `/procedures/${index}/id`,
      message: `the id "${id}" is taken`,
    });
  });
  return issues;
}

function checkOrder(pack: ProcedurePack): readonly Issue[] {
  const order = pack.order ?? [];
  const issues: Issue[] = order.flatMap(({ first, then }, index) => [
    ...checkReference(first, `/order/${index}/first`),
    ...checkReference(then, `/order/${index}/then`),
  ]);
  const cycle = findCycle(pairsOfOrder(pack).map(({ first, then }) => [first, then] as const));
  if (cycle !== null) {
    issues.push({
      code: "order-cycle",
      pointer: "/order",
      message: `the order runs in a circle: ${cycle.join(" → ")}`,
    });
  }
  return issues;
}

/** The order of a pack as pairs of requirement ids: a sensor named without its position stands for all of them. */
export function pairsOfOrder(
  pack: ProcedurePack,
): readonly { readonly first: string; readonly then: string }[] {
  return (pack.order ?? []).flatMap(({ first, then }) =>
    requirementsOf(first).flatMap((earlier) =>
      requirementsOf(then).map((later) => ({ first: earlier, then: later })),
    ),
  );
}

function requirementsOf(reference: string): readonly string[] {
  const [place = "", task = ""] = reference.split("/");
  const sensor = SENSOR_IDS.find((each) => each === place);
  if (sensor === undefined) return [reference];
  return positionsOf(sensor).map((position) =>
    position === null ? reference : `${sensor}:${position}/${task}`,
  );
}

function checkReference(reference: string, pointer: string): readonly Issue[] {
  const [place = "", task = ""] = reference.split("/");
  const [sensor = "", position] = place.split(":");
  const known = SENSOR_IDS as readonly string[];
  if (!known.includes(sensor)) {
    const nearest = nearestOf(sensor, known);
    return [
      {
        code: "unknown-id",
        pointer,
        message: `"${sensor}" is no sensor`,
        ...(nearest === undefined ? {} : { nearest }),
      },
    ];
  }
  if (!(TASK_IDS as readonly string[]).includes(task)) {
    const nearest = nearestOf(task, TASK_IDS);
    return [
      {
        code: "unknown-id",
        pointer,
        message: `"${task}" is no task`,
        ...(nearest === undefined ? {} : { nearest }),
      },
    ];
  }
  if (position !== undefined && !acceptsPosition(sensor as SensorId, position as never)) {
    return [{ code: "invalid-position", pointer, message: `a ${sensor} has no position "${position}"` }];
  }
  return [];
}

/** The members of a circle in a set of "this before that" pairs, the first repeated at the end; `null` where there is none. */
export function findCycle(pairs: readonly (readonly [string, string])[]): readonly string[] | null {
  const next = new Map<string, string[]>();
  for (const [first, then] of pairs) next.set(first, [...(next.get(first) ?? []), then]);
  const done = new Set<string>();
  const walk = (node: string, path: readonly string[]): readonly string[] | null => {
    const at = path.indexOf(node);
    if (at >= 0) return [...path.slice(at), node];
    if (done.has(node)) return null;
    for (const each of next.get(node) ?? []) {
      const found = walk(each, [...path, node]);
      if (found !== null) return found;
    }
    done.add(node);
    return null;
  };
  for (const node of [...next.keys()].sort()) {
    const found = walk(node, []);
    if (found !== null) return found;
  }
  return null;
}

function checkRules(pack: ProcedurePack, file: string | undefined): CheckedPack | null {
  const rules = pack.rules ?? [];
  if (rules.length === 0) return null;
  try {
    const checked = checkPack({
      head: {
        schema: "repair-calibration/pack@1",
        id: pack.id,
        version: pack.version,
        title: pack.title.padEnd(8, "."),
        scope: `${pack.appliesTo.make} ${pack.appliesTo.models.join(", ")}, ${pack.appliesTo.modelYears.from} to ${pack.appliesTo.modelYears.to}`,
        doesNotCover: pack.doesNotCover.map((each) => each.padEnd(8, ".")),
      },
      sources: pack.sources ?? {},
      rules: rules.map((rule) => ({ file: `${rule.id}.json`, content: rule })),
    });
    // The document is the citation, so its digest stands for the rules too.
    return { ...checked, digest: digestOf(pack) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    refuse(
      error.issues.map((issue) => ({
        ...issue,
        pointer: `/rules/${rules.findIndex((rule) => `${rule.id}.json` === issue.file)}${issue.pointer}`,
        file: file ?? "",
      })),
      file,
    );
  }
}

/** Whether a pack is for a vehicle; unknown where the job leaves make, model or year open. */
export function appliesTo(
  pack: ProcedurePack,
  vehicle: { readonly make?: string | undefined; readonly model?: string | undefined },
  years: readonly number[],
): "yes" | "no" | "unknown" {
  const { make, models, modelYears } = pack.appliesTo;
  if (vehicle.make !== undefined && fold(vehicle.make) !== fold(make)) return "no";
  if (vehicle.model !== undefined && !models.some((model) => fold(model) === fold(vehicle.model ?? "")))
    return "no";
  const inside = years.filter((year) => year >= modelYears.from && year <= modelYears.to);
  if (years.length > 0 && inside.length === 0) return "no";
  const isOpen = vehicle.make === undefined || vehicle.model === undefined || years.length === 0;
  return isOpen || inside.length < years.length ? "unknown" : "yes";
}

function fold(name: string): string {
  return name.normalize("NFKC").trim().replace(/\s+/g, " ").toLowerCase();
}

/** The procedure for a sensor's task: one for its position before one for all positions; with the pack it stands in. */
export function procedureFor(
  packs: readonly LoadedProcedures[],
  sensor: SensorId,
  position: string | null,
  task: string,
): { readonly procedure: Procedure; readonly pack: ProcedurePack } | null {
  const found = packs.flatMap(({ pack }) =>
    pack.procedures
      .filter((each) => each.sensor === sensor && each.task === task)
      .map((procedure) => ({ procedure, pack })),
  );
  const exact = found.filter(({ procedure }) => (procedure.position ?? null) === position);
  const matching =
    exact.length > 0 ? exact : found.filter(({ procedure }) => (procedure.position ?? null) === null);
  const [first, second] = matching;
  if (first === undefined) return null;
  if (second !== undefined) {
    throw new InputError("procedure-pack", [
      {
        code: "procedure-conflict",
        pointer: "/procedures",
        message: `"${first.procedure.id}" of ${first.pack.id} and "${second.procedure.id}" of ${second.pack.id} are both for ${sensor}${position === null ? "" : `:${position}`}/${task}`,
      },
    ]);
  }
  return first;
}

/** The thickest film over a radar that the packs allow, in micrometres; `null` where none says. */
export function filmLimitOf(packs: readonly LoadedProcedures[]): number | null {
  const limits = packs.flatMap(({ pack }) =>
    pack.procedures.flatMap(({ conditions }) =>
      (conditions ?? []).flatMap(({ precondition, limit }) =>
        precondition === "film-thickness-in-range" && limit?.high !== undefined && isMicrometre(limit.unit)
          ? [limit.high]
          : [],
      ),
    ),
  );
  return limits.length === 0 ? null : Math.min(...limits);
}

function isMicrometre(unit: string): boolean {
  return unit === "um" || unit === "µm" || unit === "μm";
}

const layered = new WeakMap<Rulebook, Map<string, Rulebook>>();

/** The rulebook with the rules of the procedure packs laid over it; the same packs give the same rulebook. */
export function layerProcedures(rulebook: Rulebook, packs: readonly LoadedProcedures[]): Rulebook {
  const added = packs.flatMap(({ rules }) => (rules === null ? [] : [rules]));
  if (added.length === 0) return rulebook;
  const kept = layered.get(rulebook) ?? new Map<string, Rulebook>();
  layered.set(rulebook, kept);
  const key = added.map(({ digest }) => digest).join();
  const ready = kept.get(key);
  if (ready !== undefined) return ready;
  const made = layerPacks([...rulebook.checked, ...added]);
  kept.set(key, made);
  return made;
}
