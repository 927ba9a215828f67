#!/usr/bin/env bash
# Builds the container image with buildah and writes beside it what it consists of. The same sources, base and package
# versions give the same digest.
#
#   deploy/container/build.sh [--base IMAGE] [--output FOLDER] [-- BUILDAH-OPTION...]
#
#   --base IMAGE      Debian 12 to build in (default: docker.io/library/debian:12-slim)
#   --output FOLDER   where to write (default: build-image in the project)
#
# Writes FOLDER/image (an OCI image layout, tag "smallend"), FOLDER/sbom.cdx.json (CycloneDX 1.5) and FOLDER/digest, and
# prints digest and size. What stands behind "--" goes to buildah's build: --volume, --isolation and so on.
# SOURCE_DATE_EPOCH sets the time in image and bill of materials (default: that of the last commit). For a registry:
#
#   skopeo copy oci:build-image/image:smallend docker://registry.example/smallend:1.0.0
set -Eeuo pipefail
trap 'echo "build: FAILED: $BASH_COMMAND (line $LINENO)" >&2' ERR
project=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd -P)

base=docker.io/library/debian:12-slim output=$project/build-image
while [ $# -gt 0 ]; do
  case $1 in
    --base) base=$2; shift 2 ;;
    --output) output=$2; shift 2 ;;
    --) shift; break ;;
    -h | --help) sed -n '2,14s/^# \{0,1\}//p' "$0"; exit 0 ;;
    *) echo "build: unknown argument: $1" >&2; exit 64 ;;
  esac
done
for tool in buildah python3; do
  command -v "$tool" >/dev/null || { echo "build: there is no $tool here; install the package" >&2; exit 69; }
done

version=$(sed -n 's/^project(smallend VERSION \([0-9.]*\).*/\1/p' "$project/CMakeLists.txt")
revision=$(git -C "$project" rev-parse HEAD 2>/dev/null || echo unknown)
if [ -n "$(git -C "$project" status --porcelain 2>/dev/null)" ]; then revision=$revision-changed; fi
: "${SOURCE_DATE_EPOCH:=$(git -C "$project" log -1 --format=%ct 2>/dev/null || echo 0)}"

rm -rf "$output"
mkdir -p "$output"
buildah build --layers=false --no-cache --timestamp "$SOURCE_DATE_EPOCH" --build-arg "BASE=$base" \
  --build-arg "VERSION=$version" --build-arg "REVISION=$revision" --iidfile "$output/id" \
  --file "$project/deploy/Containerfile" --ignorefile "$project/deploy/Containerfile.dockerignore" "$@" "$project" >&2
buildah push --quiet "$(cat "$output/id")" "oci:$output/image:smallend" >&2
rm "$output/id"
python3 "$project/deploy/container/sbom.py" "$output/image" "$output/sbom.cdx.json" \
  --setup "$project/deploy/setup.sh" --time "$SOURCE_DATE_EPOCH" >"$output/digest"
cat "$output/digest"
