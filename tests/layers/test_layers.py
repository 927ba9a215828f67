#!/usr/bin/env python3
"""Rules of the house that a compiler does not see, read off the source and the built libraries.

    test_layers.py [--build BUILD-FOLDER]     without a build folder the object files are not looked at

The build must be a plain one: sanitizers and coverage add writable data of their own.
"""

import argparse
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SERVICE = ROOT / "service"
LAYERS = ["base", "quantity", "joint", "wire", "seal", "http"]

# Headers of libraries and the folders that may include them.
LIBRARY_HOME = {"jansson.h": ("wire", "seal"), "civetweb.h": ("http",), "openssl/": ("seal", "http")}

BANNED = (
    "strcpy strcat sprintf vsprintf gets strtok atoi atol atoll atof setlocale alloca mg_handle_form_request "
    "mg_send_file mg_send_file_body mg_send_mime_file mg_send_mime_file2 mg_store_body mg_handle_form"
).split()
# The core has no heap and no input or output; printf stays in main and in the log.
BANNED_IN_CORE = "malloc calloc realloc free strdup fopen printf fprintf puts fputs getenv system time rand".split()
PRINTING = ["printf", "puts", "putchar"]
PRINTING_HOME = {"main.c", "command.c", "base/log.c"}
WORDS = ["document_root"]

FUNCTION_LINES, FUNCTION_GROSS = 60, 90
FILE_LINES, FILE_GROSS = 400, 500

outcomes = {"passed": 0, "failed": 0}


def tell(rule, faults):
    """One rule, one test."""
    if faults:
        outcomes["failed"] += 1
        print(f"FAILED {rule}")
        for fault in faults:
            print(f"       {fault}")
    else:
        outcomes["passed"] += 1


def relative(path):
    return path.relative_to(SERVICE).as_posix()


def sources(*suffixes):
    return sorted(path for path in SERVICE.rglob("*") if path.suffix in suffixes)


def without_comments(text, strings=False):
    """C text with comments (and, if asked, strings) blanked, line breaks kept."""

    def blank(found):
        kept = found.group(0)
        if kept.startswith("/") or (strings and len(kept) > 1):
            return re.sub(r"[^\n]", " ", kept)
        return kept

    return re.sub(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', blank, text, flags=re.S)


def read(path):
    return path.read_text(encoding="utf-8")


# ---- which folder may use which ----


def layer_faults():
    faults = []
    for path in sources(".c", ".h", ".def", ".in"):
        folder = relative(path).split("/")[0]
        for number, line in enumerate(without_comments(read(path)).splitlines(), 1):
            found = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
            if not found:
                continue
            where, header = f"{relative(path)}:{number}", found.group(2)
            if ".." in header:
                faults.append(f"{where} includes {header} by a path upward")
            if found.group(1) == '"' and folder in LAYERS:
                above = header.split("/")[0]
                if above not in LAYERS or LAYERS.index(above) > LAYERS.index(folder):
                    faults.append(f"{where}: {folder} must not include {header}")
            for library, home in LIBRARY_HOME.items():
                if header.startswith(library) and folder not in home:
                    faults.append(f"{where}: only {' and '.join(home)} may include {header}")
    return faults


def own_header_first_faults():
    faults = []
    for path in sources(".c"):
        own = relative(path)[:-2] + ".h"
        first = re.search(r'#\s*include\s*[<"]([^>"]+)[>"]', without_comments(read(path)))
        if (SERVICE / own).exists() and (first is None or first.group(1) != own):
            faults.append(f"{relative(path)} does not include {own} first")
    return faults


# ---- what must not be called ----


def calls_of(names, paths):
    wanted = re.compile(r"(?<![\w.>])(" + "|".join(names) + r")\s*\(")
    return [
        f"{relative(path)}:{number} calls {found.group(1)}"
        for path in paths
        for number, line in enumerate(without_comments(read(path), strings=True).splitlines(), 1)
        for found in wanted.finditer(line)
    ]


def banned_faults():
    faults = calls_of(BANNED, sources(".c", ".h", ".def"))
    core = [path for path in sources(".c", ".h") if relative(path).split("/")[0] in ("quantity", "joint")]
    faults += calls_of(BANNED_IN_CORE, core)
    return faults + calls_of(PRINTING, [path for path in sources(".c") if relative(path) not in PRINTING_HOME])


def word_faults():
    return [
        f"{relative(path)}:{number} has {word}"
        for path in sources(".c", ".h", ".def")
        for number, line in enumerate(without_comments(read(path)).splitlines(), 1)
        for word in WORDS
        if word in line
    ]


def marker_faults():
    marker = re.compile(r"\b(TODO|FIXME|XXX|HACK)\b")
    suffixes = {".c", ".h", ".def", ".in", ".py", ".sh", ".txt", ".json", ".md", ".yaml", ".yml", ".service"}
    faults = []
    for folder in ("service", "tests", "deploy", "api", "fixtures"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in suffixes and path.is_file() and path != pathlib.Path(__file__).resolve():
                faults += [
                    f"{path.relative_to(ROOT)}:{number} has a marker for work left over"
                    for number, line in enumerate(read(path).splitlines(), 1)
                    if marker.search(line)
                ]
    return faults


# ---- shape ----


def functions_in(text):
    """(name, first line, lines) of every function: a name at the start of a line, braces in column 0."""
    lines = text.splitlines()
    start = None
    for number, line in enumerate(lines, 1):
        found = re.match(r"(\w+)\(", line)
        if found:
            start = (found.group(1), number)
        elif line == "}" and start:
            yield start[0], start[1], number - start[1] + 2  # the line of the return type counts
            start = None
        elif re.match(r"\S.*;$", line):
            start = None


def shape_faults():
    """Long functions and files are shown; only gross ones fail."""
    faults, shown = [], []
    for path in sources(".c"):
        text = read(path)
        count = text.count("\n")
        if count > FILE_LINES:
            (faults if count > FILE_GROSS else shown).append(f"{relative(path)} has {count} lines")
        for name, first, length in functions_in(without_comments(text)):
            if length > FUNCTION_LINES:
                (faults if length > FUNCTION_GROSS else shown).append(
                    f"{relative(path)}:{first} {name} has {length} lines"
                )
    for line in shown:
        print(f"note   {line}")
    return faults


def table_faults():
    """A table undefines every macro that its rows use, itself or through the table that includes it. Macros within a
    row, for the cells of a table of figures, belong to a header."""
    texts = {relative(path): without_comments(read(path)) for path in sources(".def")}
    undefined = {name: set(re.findall(r"^\s*#\s*undef\s+(\w+)", text, flags=re.M)) for name, text in texts.items()}
    for name, text in texts.items():
        for inner in re.findall(r'^\s*#\s*include\s*"([^"]+\.def)"', text, flags=re.M):
            undefined.setdefault(inner, set()).update(undefined[name])
    return [
        f"{name} leaves {macro} defined"
        for name, text in texts.items()
        for macro in sorted(set(re.findall(r"^([A-Z][A-Z0-9_]*)\(", text, flags=re.M)) - undefined[name])
    ]


# ---- tables against code and tests ----


def rows_of(table, pattern):
    return re.findall(pattern, without_comments(read(SERVICE / "joint" / table)), flags=re.M)


def tests_text():
    folders = [
        ROOT / "tests" / "unit",
        ROOT / "tests" / "e2e",
        ROOT / "tests" / "property",
        ROOT / "fixtures" / "reference",
    ]
    return "\n".join(
        read(path) for folder in folders for path in folder.rglob("*") if path.suffix in {".c", ".py", ".json"}
    )


def check_faults():
    """Every row of check.def is defined once in the core, and named by a unit test or a reference row."""
    code = "\n".join(without_comments(read(path)) for path in SERVICE.glob("joint/*.c"))
    tests = tests_text()
    faults = []
    for name in rows_of("check.def", r"^CHECK\((\w+)\)"):
        defined = len(re.findall(rf"\bconst struct check check_{name}\b", code))
        if defined != 1:
            faults.append(f"check {name} is defined {defined} times")
        if not re.search(rf'\bcheck_{name}\b|["/]{name}["/]', tests):
            faults.append(f"check {name} stands in no unit test and no reference row")
    return faults


def result_faults():
    """Every row of result.def whose section a call computes is named by a test: as RESULT_section_name, as a pointer,
    or as section.name."""
    tests = tests_text()
    rows = rows_of("result.def", r"^RESULT(?:_FLAG|_LIMITS|_WORD)?\((\w+),\s*(\w+)")
    computed = set(re.findall(r"\bS\((\w+)\)", without_comments(read(SERVICE / "joint" / "call.def"))))
    return [
        f"result {section}.{name} stands in no test"
        for section, name in rows
        if section in computed and not re.search(rf"RESULT_{section}_{name}\b|{section}[./]{name}\b", tests)
    ]


# ---- object files ----


def writable_bytes(library):
    """(section, bytes, member) of writable data in an archive; .data.rel.ro is constant once loaded."""
    out = subprocess.run(
        ["readelf", "--wide", "--section-headers", library], capture_output=True, text=True, check=True
    ).stdout
    member = "?"
    for line in out.splitlines():
        if line.startswith("File: "):
            member = line.split("(")[-1].rstrip(")")
        found = re.match(r"\s*\[\s*\d+\]\s+(\S+)\s+\S+\s+[0-9a-f]+\s+[0-9a-f]+\s+([0-9a-f]+)", line)
        if (
            found
            and re.match(r"\.(data|bss|tdata|tbss|sdata|sbss)\b", found.group(1))
            and not found.group(1).startswith(".data.rel.ro")
        ):
            if int(found.group(2), 16) > 0:
                yield found.group(1), int(found.group(2), 16), member


# jansson's functions for memory are told nothing but a size: the arena of the document in hand stands in the thread.
WRITABLE = {("wire", "json_arena.c.o", ".tbss", 8)}


def data_faults(build):
    faults = []
    for layer in LAYERS[:-1]:
        library = build / "service" / f"libsmallend_{layer}.a"
        if not library.exists():
            faults.append(f"{library} is not built")
            continue
        faults += [
            f"{layer}: {member} has {size} bytes in {section}"
            for section, size, member in writable_bytes(library)
            if (layer, member, section, size) not in WRITABLE
        ]
    return faults


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--build", type=pathlib.Path, help="folder of a plain build")
    chosen = options.parse_args()
    tell("a folder includes only what stands below it", layer_faults())
    tell("a file includes its own header first", own_header_first_faults())
    tell("banned functions are not called", banned_faults())
    tell("CivetWeb serves no files", word_faults())
    tell("nothing is marked as left over", marker_faults())
    tell("tables undefine their macros", table_faults())
    tell("functions and files keep a human size", shape_faults())
    tell("every check is defined and tested", check_faults())
    tell("every result is named by a test", result_faults())
    if chosen.build:
        tell("no writable data in base, quantity, joint, wire and seal", data_faults(chosen.build))
    print(f"{outcomes['passed']} passed, {outcomes['failed']} failed")
    return 1 if outcomes["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())
