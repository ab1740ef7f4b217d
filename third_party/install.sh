#!/bin/sh
# Installs, from Debian 12's own packages, whatever of Leafwright's needs is missing on this machine.
# Asks dpkg first, so that a machine that has everything needs neither the network nor root.
set -eu

packages="
build-essential cmake ninja-build ccache pkg-config git ca-certificates
libglm-dev libeigen3-dev libcgal-dev libtbb-dev
libfmt-dev nlohmann-json3-dev libcli11-dev
libcairo2-dev libpng-dev libjpeg62-turbo-dev libfreetype-dev
libopencv-core-dev libopencv-imgproc-dev libpugixml-dev
libimgui-dev libglfw3-dev libepoxy-dev libegl-dev libgl-dev
libegl1 libgl1 libgl1-mesa-dri libegl-mesa0 libglx-mesa0
fonts-inter fonts-dejavu-core fontconfig
doctest-dev librapidcheck-dev libbenchmark-dev libgeos-dev libpolyclipping-dev librsvg2-dev
libnest2d-dev libnlopt-dev libnlopt-cxx-dev
xvfb xdotool poppler-utils python3-minimal
"

missing=""
for package in $packages; do
    state=$(dpkg-query -W -f='${Status}' "$package" 2>/dev/null || true)
    [ "$state" = "install ok installed" ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

as_root=""
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null 2>&1 || {
        echo "leafwright: third_party/install.sh: these packages are missing:$missing. Install them as root." >&2
        exit 2
    }
    as_root="sudo"
fi
echo "leafwright: installing$missing"
$as_root env DEBIAN_FRONTEND=noninteractive apt-get update -qq
# shellcheck disable=SC2086
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing
