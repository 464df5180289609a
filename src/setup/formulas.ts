import { FORMULAS as attitudeFormulas } from "./attitude/attitude.js";
import { FORMULAS as axleHeightFormulas } from "./attitude/axle-height.js";
import { FORMULAS as tyreFormulas } from "./attitude/tyre.js";
import { FORMULAS as bayFormulas } from "./bay/bay.js";
import { FORMULAS as bayCoverFormulas } from "./bay/cover.js";
import { FORMULAS as bayLeastFormulas } from "./bay/least.js";
import { FORMULAS as bayOutlineFormulas } from "./bay/outline.js";
import { FORMULAS as floorFormulas } from "./floor/floor.js";
import { FORMULAS as planeFitFormulas } from "./floor/plane-fit.js";
import { FORMULAS as floorSpreadFormulas } from "./floor/spread.js";
import { FORMULAS as wheelPlaneFormulas } from "./floor/wheel-plane.js";
import { FORMULAS as headlampFormulas } from "./headlamps/headlamp.js";
import { FORMULAS as correctionsFormulas } from "./targets/corrections.js";
import { FORMULAS as datumFormulas } from "./targets/datum.js";
import { FORMULAS as fromMarksFormulas } from "./targets/from-marks.js";
import { FORMULAS as holdFormulas } from "./targets/hold.js";
import { FORMULAS as measuredFormulas } from "./targets/measured.js";
import { FORMULAS as placeFormulas } from "./targets/place.js";
import { FORMULAS as standFormulas } from "./targets/stand.js";
import { FORMULAS as tapePoseFormulas } from "./targets/tape-pose.js";
import { FORMULAS as tapesFormulas } from "./targets/tapes.js";
import { FORMULAS as alignmentFormulas } from "./vehicle/alignment.js";
import { FORMULAS as centreLineFormulas } from "./vehicle/centre-line.js";
import { FORMULAS as frameFormulas } from "./vehicle/frame.js";
import { FORMULAS as readAnglesFormulas } from "./vehicle/read-angles.js";
import { FORMULAS as wheelsFormulas } from "./vehicle/wheels.js";

/** Every formula that a set-up is computed with. A page of the documentation lists them, and a test computes them again. */
export const FORMULAS = [
  ...attitudeFormulas,
  ...axleHeightFormulas,
  ...tyreFormulas,
  ...bayFormulas,
  ...bayCoverFormulas,
  ...bayLeastFormulas,
  ...bayOutlineFormulas,
  ...floorFormulas,
  ...planeFitFormulas,
  ...floorSpreadFormulas,
  ...wheelPlaneFormulas,
  ...headlampFormulas,
  ...correctionsFormulas,
  ...datumFormulas,
  ...fromMarksFormulas,
  ...holdFormulas,
  ...measuredFormulas,
  ...placeFormulas,
  ...standFormulas,
  ...tapePoseFormulas,
  ...tapesFormulas,
  ...alignmentFormulas,
  ...centreLineFormulas,
  ...frameFormulas,
  ...readAnglesFormulas,
  ...wheelsFormulas,
] as const;
