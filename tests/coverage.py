#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Which lines of a folder the tests have reached: coverage.py BUILD FOLDER [FILE ...]

BUILD is a build of the preset `coverage` whose tests were run. Prints a line for each folder below FOLDER, the files with most
lines that nothing reached, and for each FILE the numbers of those lines. Needs gcov of the compiler that built it."""
import collections
import json
import os
import subprocess
import sys


def counts(build, folder):
    """Line counts by file, added up over every object that compiled it."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    wanted = os.path.join(root, folder) + os.sep
    found = collections.defaultdict(collections.Counter)
    for place, _, names in os.walk(build):
        for name in names:
            if not name.endswith(".gcda"):
                continue
            said = subprocess.run(["gcov", "--json-format", "--stdout", name], cwd=place, text=True,
                                  capture_output=True, check=True).stdout
            for document in said.splitlines():
                report = json.loads(document)
                for one in report["files"]:
                    path = os.path.normpath(os.path.join(report["current_working_directory"], one["file"]))
                    if not path.startswith(wanted):
                        continue
                    for line in one["lines"]:
                        found[os.path.relpath(path, root)][line["line_number"]] += line["count"]
    return found


def main():
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    found = counts(sys.argv[1], sys.argv[2].rstrip("/"))
    if not found:
        sys.exit(f"coverage.py: no test of {sys.argv[1]} has reached {sys.argv[2]}; run its tests first")
    folders = collections.defaultdict(lambda: [0, 0])
    for path, lines in found.items():
        reached = sum(1 for count in lines.values() if count)
        for name in (os.path.dirname(path), "all"):
            folders[name][0] += reached
            folders[name][1] += len(lines)
    for name in sorted(folders):
        reached, lines = folders[name]
        print(f"{name:32} {reached:6} of {lines:6} lines  {100 * reached / lines:5.1f} %")
    missed = sorted(((sum(1 for count in lines.values() if not count), path) for path, lines in found.items()),
                    reverse=True)
    for number, path in missed[:12]:
        print(f"{number:6} lines not reached in {path}")
    for path in sys.argv[3:]:
        print(path + ":", ", ".join(str(line) for line, count in sorted(found[path].items()) if not count))


if __name__ == "__main__":
    main()
