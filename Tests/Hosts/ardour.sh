#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The plugin in Ardour 7.3, by its Lua tool, without a display: ardour.sh BUNDLE
# Inserted and set, saved, reopened in a new process, saved again: the plugin's state must be equal. Installs Ardour
# (some 200 MB), so it is not part of Tests/run.sh.
set -eu
bundle=$(cd "$1" && pwd)
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../../Source/packages.sh"
install_packages ardour

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
export LV2_PATH="$(dirname "$bundle"):/usr/lib/lv2" PLUGIN_URI=https://couplet.example.org/lv2/couplet
export SESSION_DIR="$scratch/session" COUPLET_LIBRARY="$scratch/library" HOME="$scratch" XDG_CONFIG_HOME="$scratch/config"

ardour7-lua "$here/ardour-make.lua"
states() { find "$SESSION_DIR/plugins" -name '*.ttl' ! -name manifest.ttl | sort; }
first=$(states)
[ -n "$first" ] || { echo "FAILED  Ardour saved no state"; exit 1; }
mkdir "$scratch/first"
for file in $first; do cp "$file" "$scratch/first/"; done

ardour7-lua "$here/ardour-reopen.lua"
python3 "$here/ardour_states.py" "$scratch/first" "$SESSION_DIR/plugins" "$SESSION_DIR/S2.ardour"
