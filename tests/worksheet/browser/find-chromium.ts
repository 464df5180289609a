import { existsSync } from "node:fs";

/** Where distributions and installers put it. */
const USUAL_PLACES = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome-stable",
  "/usr/bin/google-chrome",
  "/snap/bin/chromium",
  "/opt/homebrew/bin/chromium",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

/** The Chromium to render with: the one that CHROMIUM_PATH names, or else the first in a usual place; null without. */
export function findChromium(): string | null {
  const named = process.env["CHROMIUM_PATH"];
  if (named !== undefined && named !== "") {
    if (!existsSync(named)) throw new Error(`CHROMIUM_PATH names ${named}, and there is no such file`);
    return named;
  }
  return USUAL_PLACES.find((place) => existsSync(place)) ?? null;
}
