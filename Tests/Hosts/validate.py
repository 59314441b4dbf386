# SPDX-License-Identifier: GPL-3.0-or-later
"""The LV2 bundle's description: validate.py BUNDLE

Exactly the errors that JUCE 7.0.5 makes for every plugin, no more and no fewer; the URI is ours; no parameter has scale
points, for JUCE writes wrong ones."""

import re
import subprocess
import sys
from pathlib import Path

URI = "https://couplet.example.org/lv2/couplet"
# What lv2_validate 0.16.14 says of it: subject and predicate of each.
KNOWN = sorted([
    ("Subject not in domain", "http://usefulinc.com/ns/doap#maintainer"),
    ("Subject not in domain", "http://usefulinc.com/ns/doap#release"),
    ("Object not in range", "http://lv2plug.in/ns/extensions/ui#noUserResize"),
    ("Object not in range", "http://lv2plug.in/ns/ext/options#interface"),
])
PARAMETERS = 18
failures = []


def check(what, holds, seen=""):
    print("ok     " if holds else "FAILED ", what, "" if holds else seen)
    if not holds:
        failures.append(what)


def errors(said):
    """(kind, the term it is about) of each error."""
    found = []
    for part in said.split("error: ")[1:]:
        lines = [line.strip() for line in part.splitlines() if line.strip()]
        kind = lines[0].split(" <")[0]
        terms = [line for line in lines[1:4] if line.startswith("http") and not line.startswith(URI)]
        found.append((kind, terms[0 if kind == "Subject not in domain" else -1] if terms else part))
    return sorted(found)


def main():
    bundle = Path(sys.argv[1])
    files = sorted(bundle.glob("*.ttl"))
    check("manifest, plugin and editor are described", [f.name for f in files] == ["dsp.ttl", "manifest.ttl", "ui.ttl"])
    told = subprocess.run(["lv2_validate", *files], text=True, capture_output=True, check=False)
    found = errors(told.stdout + told.stderr)
    check("lv2_validate finds JUCE's own errors and nothing else", found == KNOWN, found)
    summary = re.search(r"Found (\d+) errors among (\d+) files", told.stdout + told.stderr)
    check("it checked them all", summary and int(summary[1]) == len(KNOWN) and int(summary[2]) > len(files))

    manifest = (bundle / "manifest.ttl").read_text(encoding="utf-8")
    check("the plugin's URI is ours", f"<{URI}>\n\ta lv2:Plugin" in manifest, manifest)
    check("there is no preset without a meaning", "pset:Preset ;" not in manifest)
    dsp = (bundle / "dsp.ttl").read_text(encoding="utf-8")
    check("no parameter has scale points", "scalePoint" not in dsp and "lv2:enumeration" not in dsp)
    check("every parameter is there", dsp.count("a lv2:Parameter ;") == PARAMETERS, dsp.count("a lv2:Parameter ;"))
    for name, low, high in (("coupler_slot", 0, 16), ("earphone_slot", 0, 32), ("microphone_channel", 1, 2)):
        block = dsp.split(f"plug:{name}\n")[1].split(" .\n")[0]
        check(f"{name} has its plain range", f"lv2:minimum {low} " in block and f"lv2:maximum {high}" in block, block)
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
