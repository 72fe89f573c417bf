#!/bin/sh
# Installs what is missing, builds, runs every test; the last line is "N passed, M failed".
# sh tests/run.sh [--long] [PRESET]   PRESET: release (default), dev, asan
# --long: five minutes of damaged films rather than five seconds, and every simulated fit and random play under the sanitizers too.
set -u
here=$(cd "$(dirname "$0")/.." && pwd)
if [ "${1:-}" = --long ]; then
  export ROPELINE_LONG_TESTS=1
  shift
fi
preset=${1:-release}
build="$here/build/$preset"

sh "$here/third_party/install.sh" || { echo "0 passed, 1 failed"; exit 1; }
mkdir -p "$build"
echo "Building the $preset preset ..."
if ! { cmake --preset "$preset" -S "$here" -B "$build" && cmake --build "$build"; } >"$build/build.log" 2>&1; then
  tail -n 40 "$build/build.log"
  echo "tests/run.sh: the build failed; all of its output is in $build/build.log."
  echo "0 passed, 1 failed"
  exit 1
fi
# Two more than there are cores: the window's tests wait most of the time.
(cd "$build" && ctest --output-on-failure -j "$(($(nproc) + 2))") >"$build/tests.log" 2>&1
cat "$build/tests.log"
failed=$(grep -cE 'Test +#[0-9]+:.*(\*\*\*|Not Run)' "$build/tests.log" || true)
total=$(grep -cE 'Test +#[0-9]+:' "$build/tests.log" || true)
if [ "$total" -eq 0 ]; then
  echo "0 passed, 1 failed"
  exit 1
fi
echo "$((total - failed)) passed, $failed failed"
[ "$failed" -eq 0 ]
