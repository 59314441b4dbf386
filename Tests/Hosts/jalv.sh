#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The plugin in jalv, window and all, without a display or a sound card: jalv.sh BUNDLE TONE-PROGRAM PICTURE
# A JACK server with the dummy driver, a tone of known level, and COUPLET_LIVE must tell it within 0.02 dB. A full-scale
# sine is 0 dBFS. Leaves a picture of the screen.
set -u
bundle=$1
tone=$2
picture=$3
uri=https://couplet.example.org/lv2/couplet
level=-23.5
scratch=$(mktemp -d)
pids=

# Only what was started here, by its number.
finish() {
    for pid in $pids; do
        kill "$pid" 2>/dev/null
    done
    wait 2>/dev/null
    rm -rf "$scratch"
}
trap finish EXIT

# until_true SECONDS COMMAND...
until_true() {
    tries=$(($1 * 10))
    shift
    while [ "$tries" -gt 0 ]; do
        "$@" >/dev/null 2>&1 && return 0
        sleep 0.1
        tries=$((tries - 1))
    done
    echo "waited in vain for: $*"
    return 1
}

export LV2_PATH="$(dirname "$bundle"):/usr/lib/lv2" JACK_NO_AUDIO_RESERVATION=1
export COUPLET_LIVE="$scratch/live.json" COUPLET_LIBRARY="$scratch/library" XDG_DATA_HOME="$scratch"

# The server picks a free display and writes its number to the file.
Xvfb -displayfd 3 -screen 0 1600x1000x24 -nolisten tcp 3>"$scratch/display" 2>/dev/null &
pids="$pids $!"
until_true 10 test -s "$scratch/display" || exit 1
DISPLAY=:$(cat "$scratch/display")
export DISPLAY

# A busy machine starts the server late, or not at the first asking.
served=
for attempt in 1 2 3; do
    export JACK_DEFAULT_SERVER="couplet$$-$attempt"
    jackd -r -n "$JACK_DEFAULT_SERVER" -d dummy -r 48000 -p 256 -C 2 -P 2 >"$scratch/jackd.log" 2>&1 &
    server=$!
    pids="$server $pids"
    until_true 15 jack_lsp -s "$JACK_DEFAULT_SERVER" && served=yes && break
    cat "$scratch/jackd.log"
    kill "$server" 2>/dev/null
done
[ -n "$served" ] || exit 1
# Plain jalv leaves at the end of standard input; jalv.gtk3 stays and shows the window.
jalv.gtk3 "$uri" >"$scratch/jalv.log" 2>&1 &
pids="$! $pids"
until_true 20 sh -c "jack_lsp -s $JACK_DEFAULT_SERVER | grep -q Couplet:audio_in_2" || {
    cat "$scratch/jalv.log"
    exit 1
}
"$tone" 1000 "$level" 30 Couplet:audio_in_1 Couplet:audio_in_2 &
pids="$! $pids"
sleep 4
import -window root "$picture" || exit 1

python3 - "$COUPLET_LIVE" "$level" <<'PYTHON'
import json, sys
reading = json.load(open(sys.argv[1], encoding="utf-8"))
measured, truth = reading["measured"]["level_db"], float(sys.argv[2])
print(f"measured {measured} {reading['measured']['unit']}, played {truth}")
sys.exit(0 if measured is not None and abs(measured - truth) <= 0.02 and not reading["simulated"] else 1)
PYTHON
