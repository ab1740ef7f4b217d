#!/bin/sh
# Installs what is missing, builds, and runs every quick test. `sh tests/run.sh asan` does it under the address and
# undefined-behaviour sanitizers, in build-asan/. The last line is `N passed, N failed`.
set -u
root=$(cd "$(dirname "$0")/.." && pwd)
kind=${1:-plain}

# The closing line stands last, whatever happened before it.
close() {
    echo "$1 passed, $2 failed"
    [ "$2" -eq 0 ] && [ "$1" -gt 0 ] && exit 0
    exit 1
}
give_up() {
    echo "tests/run.sh: $1" >&2
    close 0 1
}

case "$kind" in
plain)
    build="$root/build"
    set -- -DCMAKE_BUILD_TYPE=Release -DLEAFWRIGHT_SANITIZE=
    ;;
asan)
    build="$root/build-asan"
    set -- -DCMAKE_BUILD_TYPE=RelWithDebInfo -DLEAFWRIGHT_SANITIZE=address,undefined -DLEAFWRIGHT_BENCHMARKS=OFF
    # Drivers keep memory until the process ends; our own leaks are found by the rooms' tests without a window.
    LSAN_OPTIONS="suppressions=$root/tests/support/lsan.supp:print_suppressions=0"
    UBSAN_OPTIONS="print_stacktrace=1"
    export LSAN_OPTIONS UBSAN_OPTIONS
    ;;
*) give_up "there is no kind '$kind'; say nothing, or asan" ;;
esac

sh "$root/third_party/install.sh" || give_up "the packages could not be installed"
cmake -S "$root" -B "$build" -G Ninja -DLEAFWRIGHT_TESTS=ON "$@" || give_up "the build could not be configured"
ninja -C "$build" || give_up "the build failed"

screen=""
if [ -z "${DISPLAY:-}" ]; then
    number="$build/screen-number"
    rm -f "$number"
    Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp 3>"$number" >/dev/null 2>&1 &
    screen=$!
    trap 'kill "$screen" 2>/dev/null' EXIT INT TERM
    waited=0
    while [ ! -s "$number" ] && [ "$waited" -lt 100 ]; do
        sleep 0.1
        waited=$((waited + 1))
    done
    [ -s "$number" ] || give_up "Xvfb did not start"
    DISPLAY=":$(cat "$number")"
    export DISPLAY
fi

log="$build/tests.log"
(cd "$build" && ctest --no-tests=error --output-on-failure --timeout 300) 2>&1 | tee "$log"

total=$(sed -n 's/^.*tests failed out of \([0-9]*\)$/\1/p' "$log")
failed=$(sed -n 's/^.*tests passed, \([0-9]*\) tests failed out of [0-9]*$/\1/p' "$log")
if [ -z "$total" ] || [ -z "$failed" ]; then give_up "ctest gave no result"; fi
skipped=$(grep -c '\*\*\*Skipped' "$log")
passed=$((total - failed - skipped))
[ "$skipped" -gt 0 ] && echo "$skipped skipped"
close "$passed" "$failed"
