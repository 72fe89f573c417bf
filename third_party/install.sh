#!/bin/sh
# Installs every Debian package that building, running and testing Ropeline needs. Quiet when nothing is missing.
set -eu

packages='
  g++ cmake ninja-build pkg-config ccache
  libavformat-dev libavcodec-dev libavutil-dev libswscale-dev
  libsdl2-dev libopengl-dev libgl-dev libimgui-dev libfreetype-dev libfontconfig-dev fonts-inter
  libpango1.0-dev libcairo2-dev
  libsqlite3-dev libsqlitecpp-dev libpqxx-dev libpq-dev
  libeigen3-dev libceres-dev
  libopencv-core-dev libopencv-imgproc-dev libopencv-calib3d-dev libopencv-video-dev
  libcli11-dev nlohmann-json3-dev libfmt-dev libutf8proc-dev libboost-math-dev
  doctest-dev librapidcheck-dev libbenchmark-dev
  postgresql-15
  ffmpeg sqlite3 xvfb xauth xdotool libgl1-mesa-dri imagemagick opencv-doc
'

if ! command -v apt-get >/dev/null 2>&1 || ! command -v dpkg-query >/dev/null 2>&1; then
  echo "third_party/install.sh: this system has no apt; install what third_party/README.md lists with your own package manager, then run cmake by hand as DEVELOPERS.md shows." >&2
  exit 1
fi

missing=''
for package in $packages; do
  state=$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null || true)
  case "$state" in
    ii*) ;;
    *) missing="$missing $package" ;;
  esac
done
[ -n "$missing" ] || exit 0

as_root=''
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo >/dev/null 2>&1; then
    echo "third_party/install.sh: these packages are missing and only root may install them (there is no sudo here):$missing" >&2
    exit 1
  fi
  echo "third_party/install.sh: asking for your password through sudo, because installing these packages needs root:$missing"
  as_root='sudo'
fi

log=$(mktemp)
trap 'rm -f "$log"' EXIT
echo "third_party/install.sh: installing$missing"
if ! { $as_root apt-get update &&
       $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing; } >"$log" 2>&1; then
  tail -n 15 "$log" >&2
  echo "third_party/install.sh: apt could not install the packages; its last words are above. Check the network and the package sources, then run this again." >&2
  exit 1
fi
