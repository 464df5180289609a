import { InputError, nearestOf, type Issue } from "../errors.js";
import { mm } from "../measure/index.js";
import type { Plan } from "../plan/index.js";
import {
  appliesTo,
  pairsOfOrder,
  type ClearArea,
  type Limit,
  type LoadedProcedures,
  type Procedure,
  type ProcedureTarget,
} from "../procedures/index.js";
import type { PositionId, PreconditionId, SensorId } from "../vocabulary/index.js";
import { answer, type Answer, type Contradiction, type Missing } from "./answer.js";
import { statedTargets } from "./shape.js";
import type { AskedTarget, StaticStep } from "./scene.js";
import type { Setup, SetupTarget } from "./shape.js";
import { keyOfPlace } from "../vocabulary/index.js";

/** What the procedures ask of the bay: where targets stand, what floor stays free, within which limits. */
export interface Asked {
  readonly targets: readonly AskedTarget[];
  readonly steps: readonly StaticStep[];
  readonly limits: readonly AskedLimit[];
  readonly packs: readonly LoadedProcedures[];
}

/** A limit that a procedure sets for a precondition of a static calibration. */
export interface AskedLimit {
  readonly requirement: string;
  readonly precondition: PreconditionId;
  readonly limit: { readonly low: number | null; readonly high: number | null; readonly unit: string };
  /** The procedure's own words beside it, such as the datum of a height; null where it has none. */
  readonly note: string | null;
}

/** A static calibration as its source states it, plan or pack. */
interface StaticCalibration {
  readonly requirement: string;
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly pack: string;
  readonly section: string;
  readonly targets: readonly ProcedureTarget[];
  readonly clearArea: ClearArea | null;
  readonly after: readonly string[];
  readonly limits: readonly AskedLimit[];
}

/**
 * Gathers what is asked of the bay. With a plan, that is every static calibration in it; without one, the procedures
 * of the targets that the document names, or all static procedures of the packs where it names none. Targets that a
 * document places by itself come on top.
 *
 * Throws `InputError` where a target is named that the procedures of its sensor do not have.
 */
export function gatherAsked(
  setup: Setup,
  procedures: readonly LoadedProcedures[],
  plan: Plan | null,
): Answer<Asked> {
  const packs = procedures.filter(({ pack }) => applies(pack, setup) !== "no");
  const stated = statedTargets(setup);
  const planned = plan === null ? [] : calibrationsIn(plan);
  const others = calibrationsOf(packs).filter((each) => !planned.some((one) => isSameProcedure(one, each)));
  const named = others.filter((each) => stated.some(({ target }) => isAbout(target, each)));
  const calibrations = plan === null ? (stated.length === 0 ? others : named) : [...planned, ...named];
  const asked = mergeTargets(calibrations.flatMap(targetsOf));
  const found = stated.map((entry) => ({
    ...entry,
    match: asked.find((each) => isNamed(entry.target, each)),
  }));
  const lost = found.filter(({ target, match }) => match === undefined && target.placing === undefined);
  refuseUnknown(lost, [...planned, ...others]);
  const own = found.flatMap(({ target, pointer, match }) =>
    match === undefined && target.placing !== undefined
      ? [placedByItself(target, target.placing, pointer)]
      : [],
  );
  const merged = asked.map((each) => {
    const entry = found.find(({ match }) => match === each);
    return entry === undefined ? each : withStated(each, entry.target, entry.pointer);
  });
  return answer<Asked>({
    value: {
      targets: [...merged, ...own],
      steps: [...stepsOf(calibrations, asked), ...own.map(stepOfOwn)],
      limits: calibrations.flatMap(({ limits }) => limits),
      packs,
    },
    missing: lost.map(({ target, pointer }) => missPlacing(target, pointer)),
    contradictions: found.flatMap(({ target, pointer, match }) =>
      match === undefined ? [] : comparePlacing(target, pointer, match),
    ),
    warnings: warnOfPacks(packs, procedures, setup),
  });
}

function isSameProcedure(one: StaticCalibration, other: StaticCalibration): boolean {
  return one.sensor === other.sensor && one.pack === other.pack && one.section === other.section;
}

/** A sensor whose procedure is at hand has the targets that stand there, and no other. */
function refuseUnknown(
  lost: readonly { readonly target: SetupTarget; readonly pointer: string }[],
  known: readonly StaticCalibration[],
): void {
  const issues = lost.flatMap(({ target, pointer }): readonly Issue[] => {
    const idsOf = (calibrations: readonly StaticCalibration[]): readonly string[] => [
      ...new Set(calibrations.flatMap(({ targets }) => targets.map(({ id }) => id))),
    ];
    const ids = idsOf(known.filter(({ sensor }) => sensor === target.sensor));
    if (ids.length === 0) return [];
    const other = known.find(({ targets }) => targets.some(({ id }) => id === target.id));
    const nearest = nearestOf(target.id, ids);
    return [
      {
        code: "unknown-reference",
        pointer: `${pointer}/id`,
        message: `the procedures of ${keyOfPlace(target.sensor, target.position ?? null)} have no target ${JSON.stringify(target.id)}${
          other === undefined ? "" : `, which is one of ${keyOfPlace(other.sensor, other.position)}`
        }`,
        expected: ids.length === 1 ? ids.join("") : `one of ${ids.join(", ")}`,
        ...(nearest === undefined ? {} : { nearest }),
      },
    ];
  });
  if (issues.length > 0) throw new InputError("input", issues);
}

function applies(pack: LoadedProcedures["pack"], { vehicle }: Setup): "yes" | "no" | "unknown" {
  return appliesTo(pack, vehicle ?? {}, vehicle?.modelYear === undefined ? [] : [vehicle.modelYear]);
}

function warnOfPacks(
  packs: readonly LoadedProcedures[],
  given: readonly LoadedProcedures[],
  setup: Setup,
): Answer<Asked>["warnings"] {
  // Whoever keeps the packs of many vehicles gives them all; it is worth a word where none of them is for this one.
  const left = packs.length === 0 ? given : [];
  const unsure = packs.filter(({ pack }) => applies(pack, setup) === "unknown");
  return [
    ...left.map(({ pack }) => ({
      about: "/vehicle",
      says: `The procedures of ${pack.id} are for another vehicle and are left aside.`,
    })),
    ...unsure.map(({ pack }) => ({
      about: "/vehicle",
      says: `Whether the procedures of ${pack.id} are for this vehicle cannot be told: make, model and model year are not all stated. They are used because they were given.`,
    })),
  ];
}

function isStatic(method: string): boolean {
  return method === "static" || method === "static-and-dynamic" || method === "static-or-dynamic";
}

function calibrationsOf(packs: readonly LoadedProcedures[]): readonly StaticCalibration[] {
  return packs.flatMap(({ pack }) => {
    const order = pairsOfOrder(pack);
    return pack.procedures
      .filter((each) => each.task === "calibration" && isStatic(each.method))
      .map((each) => {
        const position = each.position ?? null;
        const requirement = `${keyOfPlace(each.sensor, position)}/calibration`;
        return {
          requirement,
          sensor: each.sensor,
          position,
          pack: pack.id,
          section: each.section,
          targets: each.targets ?? [],
          clearArea: each.clearArea ?? null,
          after: order.filter(({ then }) => then === requirement).map(({ first }) => first),
          limits: limitsOf(each, requirement),
        };
      });
  });
}

function limitsOf({ conditions = [] }: Procedure, requirement: string): readonly AskedLimit[] {
  return conditions.flatMap(({ precondition, limit, note }) =>
    limit === undefined ? [] : [{ requirement, precondition, limit: endsOf(limit), note: note ?? null }],
  );
}

function endsOf({ low, high, unit }: Limit): AskedLimit["limit"] {
  return { low: low ?? null, high: high ?? null, unit };
}

function calibrationsIn(plan: Plan): readonly StaticCalibration[] {
  return plan.requirements.flatMap((each) => {
    const { procedure } = each;
    if (procedure === null || each.task !== "calibration" || !isStatic(each.method.value)) return [];
    return [
      {
        requirement: each.id,
        sensor: each.sensor,
        position: each.position,
        pack: procedure.pack,
        section: procedure.section,
        targets: procedure.targets,
        clearArea: procedure.clearArea,
        after: each.after,
        limits: plan.preconditions.flatMap(({ id, limits }) =>
          limits
            .filter(({ requirement }) => requirement === each.id)
            .map(({ limit, note }) => ({
              requirement: each.id,
              precondition: id,
              limit: { low: limit.low, high: limit.high, unit: limit.unit },
              note,
            })),
        ),
      },
    ];
  });
}

function targetsOf(each: StaticCalibration): readonly AskedTarget[] {
  return each.targets.map(({ id, ...placing }) => ({
    key: `${keyOfPlace(each.sensor, each.position)}/${id}`,
    requirements: [each.requirement],
    sensor: each.sensor,
    position: each.position,
    id,
    placing,
    procedure: { pack: each.pack, section: each.section },
    barWidth: placing.size === undefined ? null : mm(placing.size.width),
    stated: null,
  }));
}

/** One target at one place can serve several calibrations, such as a mat for two cameras: it is put up once. */
function mergeTargets(targets: readonly AskedTarget[]): readonly AskedTarget[] {
  const merged = new Map<string, AskedTarget>();
  for (const each of targets) {
    const isOfSensor = each.placing.datum === "sensor";
    const same = JSON.stringify([each.procedure?.pack, each.id, each.placing, isOfSensor ? each.key : ""]);
    const before = merged.get(same);
    merged.set(
      same,
      before === undefined
        ? each
        : { ...before, requirements: [...before.requirements, ...each.requirements] },
    );
  }
  return [...merged.values()];
}

function stepsOf(
  calibrations: readonly StaticCalibration[],
  targets: readonly AskedTarget[],
): readonly StaticStep[] {
  const ids = new Set(calibrations.map(({ requirement }) => requirement));
  return calibrations.map(({ requirement, clearArea, after }) => ({
    requirement,
    clearArea,
    targets: targets.filter(({ requirements }) => requirements.includes(requirement)).map(({ key }) => key),
    after: after.filter((each) => ids.has(each)),
  }));
}

function stepOfOwn({ key, requirements }: AskedTarget): StaticStep {
  return { requirement: requirements[0] ?? key, clearArea: null, targets: [key], after: [] };
}

function isAbout(target: SetupTarget, each: StaticCalibration): boolean {
  if (target.sensor !== each.sensor) return false;
  const position = target.position ?? null;
  return (
    (position === null || each.position === null || position === each.position) &&
    each.targets.some(({ id }) => id === target.id)
  );
}

function isNamed(target: SetupTarget, each: AskedTarget): boolean {
  if (target.id !== each.id) return false;
  const position = target.position ?? null;
  const place = keyOfPlace(target.sensor, position);
  if (each.requirements.some((requirement) => requirement.startsWith(`${place}/`))) return true;
  return target.sensor === each.sensor && (position === null || each.position === null);
}

function withStated(asked: AskedTarget, target: SetupTarget, pointer: string): AskedTarget {
  const barWidth = target.barWidth === undefined ? asked.barWidth : mm(target.barWidth);
  return { ...asked, barWidth, stated: { target, pointer } };
}

function placedByItself(target: SetupTarget, placing: AskedTarget["placing"], pointer: string): AskedTarget {
  const position = target.position ?? null;
  const width = target.barWidth ?? placing.size?.width;
  const place = keyOfPlace(target.sensor, position);
  return {
    key: `${place}/${target.id}`,
    requirements: [`${place}/calibration`],
    sensor: target.sensor,
    position,
    id: target.id,
    placing,
    procedure: null,
    barWidth: width === undefined ? null : mm(width),
    stated: { target, pointer },
  };
}

function missPlacing({ id }: SetupTarget, pointer: string): Missing {
  return {
    for: `the place of the target "${id}"`,
    needs: "the procedure pack that has it, or how it is to stand (placing)",
    pointer: `${pointer}/placing`,
  };
}

/** The maker's procedure governs, so a placing beside it is only compared. */
function comparePlacing(target: SetupTarget, pointer: string, asked: AskedTarget): readonly Contradiction[] {
  const { placing } = target;
  if (placing === undefined || asked.procedure === null) return [];
  const { name: _name, size: _size, ...stated } = placing;
  const { name: _other, size: _otherSize, ...governing } = asked.placing;
  if (JSON.stringify(sortKeys(stated)) === JSON.stringify(sortKeys(governing))) return [];
  return [
    {
      about: [`${pointer}/placing`],
      says: `The placing of "${target.id}" in this document differs from that of the procedures of ${asked.procedure.pack} (${asked.procedure.section}), which governs and is used.`,
    },
  ];
}

function sortKeys(value: object): readonly (readonly [string, unknown])[] {
  return Object.entries(value)
    .map(([key, each]): readonly [string, unknown] => [
      key,
      each !== null && typeof each === "object" ? sortKeys(each as object) : each,
    ])
    .sort(([a], [b]) => (a < b ? -1 : 1));
}
