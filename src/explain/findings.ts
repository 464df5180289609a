import type { JobFindings } from "../job/index.js";
import { COMPONENTS, FAULT_MEANINGS, ZONES, componentOf, nameOfSensor } from "../vocabulary/index.js";

/** The findings of a job, from which a pointer that names one can be told in words. */
export type StatedFindings = JobFindings;

/** What a finding is about, by the field of the job that states it. */
const KINDS: Readonly<Record<string, string>> = {
  impactZones: "an impact",
  impactWheels: "an impact on a wheel",
  glassOrHeaderHit: "an impact on the windshield or the roof header",
  airbagsDeployed: "airbags deployed",
  structuralDamage: "structural damage",
  faultCodes: "a fault code",
  sensorDamage: "damage to a sensor",
  tyreSizesMatch: "tyres of sizes that do not belong together",
  rideHeightChange: "a changed ride height",
  filmThickness: "a film thickness",
  measurements: "a measurement",
  dependentWork: "work found to have been done",
};

/**
 * The finding that a pointer such as `/findings/impactZones/0` leads to, in words: "impact on the left side". Without
 * the job's findings only its kind is known, and the pointer stays beside it.
 */
export function nameOfFinding(pointer: string, findings?: StatedFindings): string {
  const [, , field = "", at = ""] = pointer.split("/");
  const told = findings === undefined ? null : tellStated(field, Number(at), findings);
  return told ?? `${KINDS[field] ?? "a finding"} (${pointer})`;
}

function tellStated(field: string, at: number, findings: StatedFindings): string | null {
  switch (field) {
    case "impactZones": {
      const zone = findings.impactZones?.[at];
      if (zone === undefined) return null;
      return `impact ${zone === "front" || zone === "rear" ? "at" : "on"} the ${ZONES[zone].label}`;
    }
    case "impactWheels": {
      const wheel = findings.impactWheels?.[at];
      if (wheel === undefined) return null;
      const places = [wheel.side, wheel.axle].filter((each) => each !== "unknown");
      return `impact on ${places.length === 0 ? "a" : `the ${places.join(" ")}`} wheel`;
    }
    case "glassOrHeaderHit":
      return "impact that reached the windshield or the roof header";
    case "airbagsDeployed":
      return "airbags deployed";
    case "structuralDamage":
      return "structural damage";
    case "faultCodes": {
      const code = findings.faultCodes?.[at];
      if (code === undefined) return null;
      const said = [
        ...(code.code === undefined ? [] : [code.code]),
        ...(code.means === undefined ? [] : [FAULT_MEANINGS[code.means].label]),
        ...(code.read === undefined || code.read === "unknown" ? [] : [READ[code.read]]),
      ];
      return `fault code of the ${nameOfSensor(code.sensor, code.position ?? null)}${said.length === 0 ? "" : ` (${said.join(", ")})`}`;
    }
    case "sensorDamage": {
      const damage = findings.sensorDamage?.[at];
      if (damage === undefined) return null;
      return `damage to the ${nameOfSensor(damage.sensor, damage.position ?? null)} (${damage.damage.replaceAll("-", " ")})`;
    }
    case "tyreSizesMatch":
      return "tyres of sizes that do not belong together";
    case "rideHeightChange": {
      const change = findings.rideHeightChange;
      if (change === undefined) return null;
      return `ride height changed by ${change.front} mm at the front and ${change.rear} mm at the rear`;
    }
    case "filmThickness": {
      const film = findings.filmThickness?.[at];
      if (film === undefined) return null;
      return `film of ${film.micrometres} µm on the ${COMPONENTS[componentOf(film.component)].label}`;
    }
    case "measurements": {
      const measured = findings.measurements?.[at];
      if (measured === undefined) return null;
      return `measured ${measured.kind.replaceAll("-", " ")}, ${measured.value} ${measured.unit}`;
    }
    default:
      return null;
  }
}

const READ = {
  "pre-repair": "read before the repair",
  "pre-calibration": "read before the calibration",
  "post-repair": "read after the repair",
} as const;
