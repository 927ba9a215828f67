#!/usr/bin/env python3
"""Writes the words that the reader knows, as a dictionary for libFuzzer: from the program's own tables and from job.def.

    make_dictionary.py PROGRAM > FILE
"""

import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
PLAIN = ["{", "}", "[", "]", ",", ":", "true", "false", "null", "1e999", "-0", "0.1", "\\u0000", "\\ud83d\\ude00", "%41", "%00", "&", "=",
         ".0.", "job=", "format=json", "units", "inch", "metric", "label", "nominal", "upper", "lower", "min", "max", "class", "basis",
         "tensile", "yield", "certificate", "at", "around", "size", "5 1/4 in", "1-3/8", "½", "3 tenths", "0.8 thou", "M10x1.5",
         "3/8-16 UNC", "#10-24", "g6", "H7", "RC4", "q=0.5", "*/*", "text/html", "application/json"]


def table(program, name):
    done = subprocess.run([program, "--print", name], capture_output=True, check=True)
    document = json.loads(done.stdout)
    return next(rows for rows in document.values() if isinstance(rows, list) and rows and isinstance(rows[0], dict))


def words(program):
    found = list(PLAIN)
    for name in ("checks", "units", "steels", "bearing-metals", "bolts", "fit-classes"):
        for row in table(program, name):
            found += [row[key] for key in ("id", "symbol", "ucum", "grade") if isinstance(row.get(key), str)]
            found += [alias for alias in row.get("aliases", []) if isinstance(alias, str)]
    text = (ROOT / "service/joint/job.def").read_text(encoding="utf-8")
    for group, name in re.findall(r"^[A-Z_]+\((\w+), (\w+),", text, re.M):
        found += [group, name, f"{group}.{name}"]
    found += re.findall(r'^CHOICE\(\w+, \w+, "([^"]+)"', (ROOT / "service/joint/choice.def").read_text(encoding="utf-8"), re.M)
    found += re.findall(r'^SETTING_\w+\(\w+, "\w+", "([^"]+)"', (ROOT / "service/http/setting.def").read_text(encoding="utf-8"), re.M)
    return list(dict.fromkeys(word for word in found if 0 < len(word.encode()) <= 64))


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 64
    for word in words(sys.argv[1]):
        spelt = "".join(chr(byte) if 32 <= byte < 127 and byte not in b'"\\' else f"\\x{byte:02x}" for byte in word.encode())
        print(f'"{spelt}"')
    return 0


if __name__ == "__main__":
    sys.exit(main())
