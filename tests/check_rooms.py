#!/usr/bin/env python3
"""Fails when a room of src/ includes a room that does not stand above it, or when drawing leaks into the reckoning.

Run with the folder src/; with --self-test it checks that it does catch a breach.
"""
import pathlib
import re
import sys

ORDER = ["base", "former", "slab", "leaf", "rows", "cutting", "body", "drying", "firing", "hanging", "finish",
         "piece", "range", "sheet", "view", "bench", "cli"]
# The command line and the window are both ends of the house: neither knows the other, but for main.cpp.
APART = {("cli", "bench")}
ONLY_IN = {"imgui": {"bench"}, "GLFW": {"bench"}, "epoxy": {"view", "bench"}, "cairo": {"sheet"},
           "CLI": {"cli"}, "opencv2": {"leaf"}, "jpeglib": {"leaf"}}
INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]', re.M)


def faults_of(room, name, text):
    found = []
    for target in INCLUDE.findall(text):
        head = target.split("/")[0].split(".")[0].split("_")[0]
        if head in ORDER and "/" in target:
            if ORDER.index(head) > ORDER.index(room):
                found.append(f"{name}: room {room} may not include {target}: {head} stands below it")
            if (room, head) in APART and not name.endswith("main.cpp"):
                found.append(f"{name}: only main.cpp of {room} may include {target}")
        if head in ONLY_IN and room not in ONLY_IN[head]:
            found.append(f"{name}: {target} belongs in {', '.join(sorted(ONLY_IN[head]))} only")
        if target.startswith(("CGAL/", "nlohmann/json.hpp")) and name.endswith(".h"):
            found.append(f"{name}: keep {target} out of headers")
    return found


def self_test():
    assert faults_of("former", "former/a.cpp", '#include "rows/overlap.h"\n')
    assert faults_of("former", "former/a.h", "#include <nlohmann/json.hpp>\n")
    assert faults_of("piece", "piece/a.cpp", "#include <imgui.h>\n")
    assert not faults_of("rows", "rows/a.cpp", '#include "former/former.h"\n#include <vector>\n')


def main():
    self_test()
    root = pathlib.Path(sys.argv[1])
    files = sorted(p for p in root.glob("*/*") if p.suffix in {".h", ".cpp"})
    faults = []
    for path in files:
        room = path.parent.name
        if room not in ORDER:
            faults.append(f"{path}: src/{room} is not a room of the house")
            continue
        faults += faults_of(room, f"{room}/{path.name}", path.read_text())
    print("\n".join(faults) or f"{len(files)} files in order")
    return 1 if faults or len(files) < 5 else 0


sys.exit(main())
