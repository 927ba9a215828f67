#!/usr/bin/env bash
# Lays out the files of an image FROM scratch: the program, stripped, each shared library it needs at the place where
# its loader looks, and what Debian says of those libraries, so that a scanner can match them and licenses go along.
#
#   collect.sh PROGRAM FOLDER
set -Eeuo pipefail
trap 'echo "collect: FAILED: $BASH_COMMAND (line $LINENO)" >&2' ERR

program=$1 image=$2
mkdir -p "$image"/var/lib/dpkg/status.d

# The package a file belongs to; dpkg may know it under /usr, which /lib leads to.
owner() {
  dpkg-query --search "$1" 2>/dev/null || dpkg-query --search "/usr$1"
}

# The package's paragraph in dpkg's data base, less its configuration files, of which none comes along.
describe() {
  local name=${1%%:*}
  dpkg-query --status "$1" | sed '/^Conffiles:/,/^[^ ]/ { /^Conffiles:/d; /^ /d }' >"$image/var/lib/dpkg/status.d/$name"
  install -D -m 444 "/usr/share/doc/$name/copyright" "$image/usr/share/doc/$name/copyright"
}

install -D -m 555 --strip "$program" "$image/smallend"
mapfile -t libraries < <(ldd "$program" | grep -o '/[^ ]*')
[ ${#libraries[@]} -gt 0 ]
# The C library loads this one by name where a thread is cancelled or ends itself, and aborts where it is not there.
if objdump -T "$program" "${libraries[@]}" | grep -E '\*UND\*.* pthread_(cancel|exit)$' >&2; then
  libraries+=("$(dirname "$(ldd "$program" | grep -o '/.*/libc\.so[^ ]*')")/libgcc_s.so.1")
fi
for library in "${libraries[@]}"; do
  install -D -m 555 "$(realpath "$library")" "$image$library"
  package=$(owner "$library" | head -n 1)
  describe "${package%%: *}"
done

install -D -m 444 /usr/lib/os-release "$image/etc/os-release"      # by which a scanner knows whose packages they are
install -D -m 444 "${SMALLEND_CACHE:-.cache}"/civetweb/normal/share/copyright "$image/usr/share/doc/civetweb/copyright"
chmod 444 "$image"/var/lib/dpkg/status.d/*
find "$image" -type d -exec chmod 755 {} +
