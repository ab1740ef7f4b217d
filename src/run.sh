#!/bin/sh
# Installs what is missing, builds in build/, and opens the bench on the demo piece. Without a screen it plans the demo and
# writes build/demo/. Arguments pass to the program instead: sh src/run.sh plan my.piece.json
set -eu
here=$(pwd)
root=$(cd "$(dirname "$0")/.." && pwd)
build="$root/build"

sh "$root/third_party/install.sh"
if [ ! -f "$build/build.ninja" ]; then
    cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release \
        -DLEAFWRIGHT_TESTS=OFF -DLEAFWRIGHT_BENCHMARKS=OFF >"$root/.configure.log" 2>&1 || {
        cat "$root/.configure.log" >&2
        rm -f "$root/.configure.log"
        exit 2
    }
    rm -f "$root/.configure.log"
fi
ninja -C "$build" leafwright >&2 || exit 2

cd "$here"
if [ $# -gt 0 ]; then
    exec "$build/leafwright" "$@"
fi
if [ -n "${DISPLAY:-}" ] || [ -n "${WAYLAND_DISPLAY:-}" ]; then
    exec "$build/leafwright" demo:hare
fi
exec "$build/leafwright" demo --out "$build/demo"
