#!/usr/bin/env bash
# Installs what smallend's build needs from the distribution, and builds the CivetWeb library it links. Safe to repeat:
# what is there already is left alone, and once everything is there nothing is fetched (it then works without a network).
#
#   deploy/setup.sh [--tests] [--testssl] [--list] [--variant=NAME]...
#
#   --tests           also install what tests/run.sh needs
#   --testssl         and what its option of that name needs
#   --list            only print the packages
#   --variant=NAME    which CivetWeb to build: normal (default), asan (address and undefined behaviour), tsan (threads), all
#   SMALLEND_CACHE    where sources and results are kept (default: .cache in the project)
#   CC                the compiler (default: gcc); with clang the result's link is named NAME-clang
#
# CivetWeb lands in $SMALLEND_CACHE/civetweb/NAME/{include/civetweb.h,lib/libcivetweb.a}; NAME is a link to the folder that
# belongs to the version, compiler and options in force. It is Debian's own source package of this distribution, unpatched
# by us (Debian's binary package looks up a function that OpenSSL 3 no longer has, and has no IPv6).
set -Eeuo pipefail

project=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)
cache=$(realpath -m "${SMALLEND_CACHE:-$project/.cache}")
home=$cache/civetweb
log=$home/setup.log
log_started="" work=""

build_packages=(gcc libc6-dev cmake make pkg-config libjansson-dev libssl-dev libcmocka-dev dpkg-dev ca-certificates curl)
test_packages=(python3 clang clang-tidy libclang-rt-14-dev cppcheck valgrind wrk openssl jose python3-jwcrypto sslscan chromium)
test_packages+=(buildah umoci mmdebstrap haproxy slowhttptest systemd)      # those of tests/deploy
scan_packages=(testssl.sh bind9-host)

version=1.15+dfsg-4                       # bookworm's; the three files and what they must be:
checksums="141ee6bf528e8f33e8a32b5607917609774e80cf842240cffd50e0399755baaf  civetweb_1.15+dfsg-4.dsc
ec372e9737bc820118bbb735f46a07d41f795814ca0f38bc6e67048e7a460f33  civetweb_1.15+dfsg.orig.tar.xz
2fe67d05a15be93764398275372f41f6228b17497b23d04f149482ffde7b3fb8  civetweb_1.15+dfsg-4.debian.tar.xz"

say() { printf 'setup: %s\n' "$*" >&2; }
fail() {
  [ "$BASH_SUBSHELL" = 0 ] || exit 1        # the shell around it says it
  trap - ERR
  [ -z "$log_started" ] || [ ! -s "$log" ] || { say "the last lines of $log:"; tail -n 15 "$log" >&2; }
  say "FAILED: $*"
  exit 1
}
trap 'fail "unexpected: $BASH_COMMAND (line $LINENO)"' ERR
trap '[ -z "$work" ] || rm -rf "$work"' EXIT
usage() { sed -n '2,15s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"; }

# try WHAT COMMAND...: up to four times, with a longer pause each time
try() {
  local what=$1 pause
  shift
  for pause in 3 10 20 0; do
    if "$@"; then return 0; fi
    [ "$pause" = 0 ] || { say "$what: trying again in $pause s"; sleep "$pause"; }
  done
  return 1
}

# ---- packages ----------------------------------------------------------------------------------------------------------

missing_packages() {
  local package
  for package in "$@"; do
    dpkg-query -W -f '${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed || printf '%s\n' "$package"
  done
}

apt_install() {
  "${as_root[@]}" apt-get -q update >>"$log" 2>&1 || say "the package lists could not all be refreshed (see $log)"
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=300 \
    --no-install-recommends install "$@" </dev/null >>"$log" 2>&1
}

install_packages() {
  local missing
  mapfile -t missing < <(missing_packages "$@")
  [ ${#missing[@]} -gt 0 ] || return 0
  as_root=()
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null || fail "missing packages and neither root nor sudo; install them first: ${missing[*]}"
    as_root=(sudo)
  fi
  start_log
  say "installing ${missing[*]}"
  try "installing packages" apt_install "${missing[@]}" || fail "apt-get could not install: ${missing[*]}"
  mapfile -t missing < <(missing_packages "${missing[@]}")
  [ ${#missing[@]} = 0 ] || fail "still missing after apt-get: ${missing[*]}"
}

# Prometheus's checker of metrics, and of its package nothing else, for the package starts a server where it is installed.
fetch_promtool() {
  local part=$cache/tools.part
  if command -v promtool >/dev/null || [ -x "$cache/tools/promtool" ]; then return 0; fi
  start_log
  say "fetching promtool"
  rm -rf "$part"
  mkdir -p "$part" "$cache/tools"
  try "fetching promtool" download_promtool "$part" || fail "apt-get could not fetch the package prometheus"
  dpkg-deb --fsys-tarfile "$part"/prometheus_*.deb | tar -x -C "$part" ./usr/bin/promtool || fail "no promtool in the package"
  mv "$part/usr/bin/promtool" "$cache/tools/promtool"
  rm -rf "$part"
}

download_promtool() { (cd "$1" && apt-get -q -o APT::Sandbox::User=root download prometheus) </dev/null >>"$log" 2>&1; }

# ---- CivetWeb's source -------------------------------------------------------------------------------------------------

source_is_whole() { (cd "$home/source" 2>/dev/null && sha256sum --check --status <<<"$checksums" 2>/dev/null); }

# Writes into FOLDER the machine's own package sources, asking for source packages instead of binary ones.
derive_sources() {
  local folder=$1 list parts file files=()
  list=$(apt-config shell list Dir::Etc::sourcelist/f); eval "$list"        # apt quotes these for the shell
  parts=$(apt-config shell parts Dir::Etc::sourceparts/d); eval "$parts"
  for file in "$list" "$parts"/*.list; do [ ! -f "$file" ] || files+=("$file"); done
  [ ${#files[@]} = 0 ] || awk '{ sub(/#.*/, "") } /cdrom:/ { next }
    $1 == "deb" || $1 == "deb-src" { $1 = "deb-src"; if (!seen[$0]++) print }' "${files[@]}" >"$folder/machine.list"
  files=()
  for file in "$parts"/*.sources; do [ ! -f "$file" ] || files+=("$file"); done
  [ ${#files[@]} = 0 ] || awk 'FNR == 1 { print "" } /^#/ { next }
    tolower($0) ~ /^types:/ { print "Types: deb-src"; next } { print }' "${files[@]}" >"$folder/machine.sources"
  grep -q deb-src "$folder"/machine.* 2>/dev/null || fail "found no package source in $list or $parts"
}

# A configuration of our own on top of the machine's (proxy, trust, authentication stay as they are; the command line wins).
# Some list may be refused, a third party's without sources say: what counts is that the three files arrive whole.
fetch_source() {
  local part=$home/source.part own=$home/apt
  rm -rf "$part" "$own"
  mkdir -p "$part" "$own/sources" "$own/state/lists/partial" "$own/cache/archives/partial"
  derive_sources "$own/sources"
  local apt=(apt-get -q -o Dir::Etc::SourceList=/dev/null -o "Dir::Etc::SourceParts=$own/sources" -o "Dir::State=$own/state"
    -o "Dir::State::Lists=$own/state/lists" -o "Dir::Cache=$own/cache" -o "Dir::Cache::Archives=$own/cache/archives"
    -o APT::Sandbox::User=root -o Acquire::Languages=none)
  "${apt[@]}" update </dev/null >>"$log" 2>&1 || true
  (cd "$part" && "${apt[@]}" --download-only --only-source source "civetweb=$version") </dev/null >>"$log" 2>&1 || return 1
  (cd "$part" && sha256sum --check --quiet <<<"$checksums") >>"$log" 2>&1 || { say "a fetched file is not the one expected"; return 1; }
  rm -rf "$home/source" "$own"
  mv "$part" "$home/source"
}

# ---- CivetWeb's build --------------------------------------------------------------------------------------------------

# Every wait on a socket goes through a function of ours, which the program that links the library must define: it sets a
# limit on a whole body. Included ahead of CivetWeb's text, since with _FORTIFY_SOURCE the C library's <poll.h> defines poll
# in line, so that a bare -Dpoll=smallend_poll compiles and yet calls the real one. And every buffer is two bytes larger than
# asked for, and zeroed: a request's head may fill CivetWeb's to the last byte, and our gate looks at what stands behind it.
wait_header='#include <poll.h>
#include <stdlib.h>
int smallend_poll(struct pollfd *sockets, nfds_t count, int milliseconds);
#define poll smallend_poll
#define malloc(size) calloc(1, (size) + 2)'

# CivetWeb is one translation unit. These are its CMake options THREAD_STACK_SIZE, ENABLE_SSL_DYNAMIC_LOADING=OFF (against
# OpenSSL 3), ENABLE_IPV6, DISABLE_CGI, SERVE_NO_FILES and DISABLE_CACHING; its CMake files would also ask for a C++ compiler.
# _GNU_SOURCE and _FILE_OFFSET_BITS are what it sets itself, but ahead of the included header.
define_flags=(-std=c11 -D_GNU_SOURCE -D_FILE_OFFSET_BITS=64 -DUSE_STACK_SIZE=1048576 -DNO_SSL_DL -DOPENSSL_API_3_0 -DUSE_IPV6
  -DNO_CGI -DNO_FILES -DNO_CACHING -DSOCKET_TIMEOUT_QUANTUM=200 -DNDEBUG)
harden_flags=(-fPIE -fstack-protector-strong -fstack-clash-protection)
case $(uname -m) in
  x86_64) harden_flags+=(-fcf-protection) ;;
  aarch64) harden_flags+=(-mbranch-protection=standard) ;;
esac

variant_flags() {
  case $1 in
    normal) echo "-O2 -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2" ;;
    asan) echo "-O1 -g -fno-omit-frame-pointer -U_FORTIFY_SOURCE -fsanitize=address,undefined" ;;
    tsan) echo "-O1 -g -fno-omit-frame-pointer -U_FORTIFY_SOURCE -fsanitize=thread" ;;
  esac
}

compile() {
  local flags=$1 result=$2 undefined
  mkdir -p "$result/include" "$result/lib" "$result/share"
  dpkg-source --no-copy -x "$home/source/civetweb_$version.dsc" "$work/source" >>"$log" 2>&1 || fail "cannot unpack CivetWeb's source"
  printf '%s\n' "$wait_header" >"$work/wait.h"
  # shellcheck disable=SC2086  # the flags are words
  "$compiler" $flags -include "$work/wait.h" -w -I"$work/source/include" -ffile-prefix-map="$work/source"=civetweb \
    -c "$work/source/src/civetweb.c" -o "$work/civetweb.o" >>"$log" 2>&1 || fail "CivetWeb does not compile with $compiler"
  ar rcsD "$result/lib/libcivetweb.a" "$work/civetweb.o"
  cp "$work/source/include/civetweb.h" "$result/include/"
  cp "$work/source/debian/copyright" "$result/share/"
  undefined=$(nm -u "$work/civetweb.o" | awk '{ print $NF }')
  grep -qx smallend_poll <<<"$undefined" || fail "the compiled CivetWeb does not call smallend_poll"
  if grep -xE '(__)?(p?poll(_chk)?|p?select|epoll_p?wait)' <<<"$undefined" >>"$log"; then fail "the compiled CivetWeb waits past smallend_poll"; fi
}

build_variant() {
  local variant=$1 flags stamp name
  flags="${define_flags[*]} ${harden_flags[*]} $(variant_flags "$variant")"
  stamp=$(printf '%s\n' "$checksums" "$("$compiler" --version | head -n 1)" "$flags" "$wait_header" | sha256sum | cut -c 1-12)
  stamp=$variant-${version%%+*}-$stamp
  name=$variant
  case $("$compiler" --version) in *clang*) name=$variant-clang ;; esac
  if [ -s "$home/$stamp/lib/libcivetweb.a" ] && [ "$(readlink "$home/$name")" = "$stamp" ]; then return 0; fi

  start_log
  exec 9>"$home/lock"
  flock 9                                  # two runs at once: the second finds the first one's result
  if [ ! -s "$home/$stamp/lib/libcivetweb.a" ]; then
    if ! source_is_whole; then
      say "fetching CivetWeb's source package, version $version"
      try "fetching CivetWeb's source" fetch_source ||
        fail "could not fetch civetweb $version (Debian 12's) from this machine's package sources"
    fi
    say "building CivetWeb ($name)"
    work=$(mktemp -d "$home/work.XXXXXX")
    compile "$flags" "$work/result"
    rm -rf "${home:?}/$stamp"
    mv "$work/result" "$home/$stamp"
    rm -rf "$work"
  fi
  ln -sfn "$stamp" "$home/$name"
  exec 9>&-
  say "CivetWeb ($name) is in $home/$name"
}

start_log() {
  [ -z "$log_started" ] || return 0
  log_started=yes
  mkdir -p "$home" || fail "cannot write to $home"
  : >"$log"
}

# ---- the run -----------------------------------------------------------------------------------------------------------

packages=("${build_packages[@]}") tests=""
variants=() list_only=""
for argument in "$@"; do
  case $argument in
    --tests)
      packages+=("${test_packages[@]}") tests=yes
      command -v npm >/dev/null || packages+=(npm)  # hundreds of packages, so any npm there is will do
      ;;
    --testssl) packages+=("${scan_packages[@]}") ;;
    --list) list_only=yes ;;
    --variant=normal | --variant=asan | --variant=tsan) variants+=("${argument#*=}") ;;
    --variant=all) variants+=(normal asan tsan) ;;
    -h | --help) usage; exit 0 ;;
    *) usage >&2; say "unknown argument: $argument"; exit 64 ;;
  esac
done
[ ${#variants[@]} -gt 0 ] || variants=(normal)
if [ -n "$list_only" ]; then printf '%s\n' "${packages[@]}"; exit 0; fi

command -v apt-get >/dev/null || fail "this needs Debian's package manager (Debian 12)"
install_packages "${packages[@]}"
[ -z "$tests" ] || fetch_promtool
compiler=${CC:-gcc}
command -v "$compiler" >/dev/null || fail "no compiler named $compiler"
for variant in "${variants[@]}"; do build_variant "$variant"; done
