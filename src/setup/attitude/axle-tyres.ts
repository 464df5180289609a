import type { Issue } from "../../errors.js";
import { mm, type Working } from "../../measure/index.js";
import { type Answer, answer } from "../answer.js";
import type { AttitudeResult } from "../result.js";
import type { Setup } from "../shape.js";
import { isTyreSize, readTyreSize, tyreRaises, workTyreDiameter } from "./tyre.js";

type Tyres = NonNullable<Setup["tyres"]>;
type Axle = "front" | "rear";

/** Of each axle's tyre: its diameter, the one specified, and by how much it lifts the axle; mm. */
export type AxleTyres = Omit<NonNullable<AttitudeResult["tyres"]>, "counted">;

/** Finds texts that are no tyre sizes. */
export function checkTyres(tyres: Tyres | undefined): readonly Issue[] {
  if (tyres === undefined) return [];
  const texts = [
    ["/tyres/front", tyres.front],
    ["/tyres/rear", tyres.rear],
    ["/tyres/specified/front", tyres.specified.front],
    ["/tyres/specified/rear", tyres.specified.rear],
  ] as const;
  return texts.flatMap(([pointer, text]): readonly Issue[] => {
    const read = readTyreSize(text);
    if (isTyreSize(read)) return [];
    return [{ code: "invalid-value", pointer, message: read.problem, expected: read.expected }];
  });
}

/** Works out what tyres other than specified add to the height of each axle; nominal diameters. */
export function measureTyres(tyres: Tyres | undefined): Answer<AxleTyres> {
  if (tyres === undefined) return answer({});
  const front = measureAxle(tyres, "front");
  const rear = measureAxle(tyres, "rear");
  if (front === null || rear === null) {
    return answer({
      missing: [
        {
          for: "what the tyres add to the ride height",
          needs: "tyre sizes that can be read",
          pointer: "/tyres",
        },
      ],
    });
  }
  return answer({
    value: { front: front.value, rear: rear.value },
    workings: [...front.workings, ...rear.workings],
  });
}

function measureAxle(
  tyres: Tyres,
  axle: Axle,
): { readonly value: AxleTyres[Axle]; readonly workings: readonly Working[] } | null {
  const fitted = readTyreSize(tyres[axle]);
  const asked = readTyreSize(tyres.specified[axle]);
  if (!isTyreSize(fitted) || !isTyreSize(asked)) return null;
  const diameter = workTyreDiameter(fitted, `nominal diameter of the ${axle} tyre`);
  const specified = workTyreDiameter(asked, `nominal diameter of the ${axle} tyre specified`);
  const raises = tyreRaises.work(
    { diameter: mm(diameter.value), specified: mm(specified.value) },
    `height that the tyres add to the ${axle} axle`,
  );
  return {
    value: { diameter: diameter.value, specified: specified.value, raises: raises.value },
    workings: [diameter, specified, raises],
  };
}
