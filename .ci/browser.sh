#!/bin/sh
# Finds a Chromium for the tests that look at the printed sheets, or installs one on Debian where we may.
# It never fails: without a browser those tests are skipped, unless CI is set.
set -u

find_chromium() {
  if [ -n "${CHROMIUM_PATH:-}" ] && [ -x "$CHROMIUM_PATH" ]; then
    echo "$CHROMIUM_PATH"
    return 0
  fi
  for place in \
    /usr/bin/chromium /usr/bin/chromium-browser /usr/bin/google-chrome-stable /usr/bin/google-chrome \
    /snap/bin/chromium /opt/homebrew/bin/chromium \
    "/Applications/Chromium.app/Contents/MacOS/Chromium" \
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"; do
    if [ -x "$place" ]; then
      echo "$place"
      return 0
    fi
  done
  return 1
}

if [ -n "${CHROMIUM_PATH:-}" ] && [ ! -x "$CHROMIUM_PATH" ]; then
  echo "Chromium: CHROMIUM_PATH names $CHROMIUM_PATH, which cannot be run"
  exit 0
fi

if found=$(find_chromium); then
  echo "Chromium: $found"
  exit 0
fi

if [ "$(id -u)" = 0 ] && [ -f /etc/debian_version ] && command -v apt-get >/dev/null 2>&1; then
  echo "Chromium: installing it with apt-get"
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq >/dev/null 2>&1
  apt-get install -y -qq --no-install-recommends chromium >/dev/null 2>&1
  if found=$(find_chromium); then
    echo "Chromium: $found"
    exit 0
  fi
fi

echo "Chromium: none found. Install one, or point CHROMIUM_PATH to its executable;"
echo "without it the tests that look at the printed sheets are skipped."
exit 0
