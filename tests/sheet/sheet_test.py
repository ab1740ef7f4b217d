#!/usr/bin/env python3
"""The making sheet of a demo piece, read back with poppler: paper size, words, and leaves at true size.

Argument: the program. Skipped (77) without poppler's pdftotext and pdfinfo.
"""
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

if not (shutil.which("pdftotext") and shutil.which("pdfinfo")):
    print("skipped: pdftotext or pdfinfo is missing")
    sys.exit(77)

program = sys.argv[1]


def run(*words):
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def check(condition, words):
    if not condition:
        print("failed:", words)
        sys.exit(1)


with tempfile.TemporaryDirectory() as folder:
    run(program, "sheet", "demo:hare", "--out", folder)
    plan = json.loads(run(program, "plan", "demo:hare", "--json", "-"))
    pdfs = list(pathlib.Path(folder).glob("*.pdf"))
    check(len(pdfs) == 1, "one PDF is written")
    info = run("pdfinfo", str(pdfs[0]))
    # ISO 216: A4 is 210 x 297 mm = 595.28 x 841.89 points.
    size = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info)
    check(size and abs(float(size[1]) - 595.28) < 0.1 and abs(float(size[2]) - 841.89) < 0.1, "A4 pages")
    text = run("pdftotext", "-layout", str(pdfs[0]), "-")
    knead = plan["clay"]["knead_g"]
    knead = knead["value"] if isinstance(knead, dict) else knead
    check(f"{knead / 1000:.2f} kg" in text, "the clay to knead stands on the sheet")
    check(f"{plan['leaves']['count']} in {plan['leaves']['rows']} rows" in text, "leaves and rows stand on the sheet")
    check("100 mm long" in text, "a check bar on the templates")
    for caution in ("Dust:", "Kiln:", "Hanging:"):
        check(caution in text, f"the caution {caution}")
    # From drying to hanging: the plan's own figures, the marks of the plots, the cautions of a hung load.
    days = plan["drying"]["days_to_bone_dry"]["value"]
    check(f"{days:.0f} days (" in text, "days to bone dry")
    check(f"{plan['hanging']['wire_tension_N']:.0f} N" in text, "the wire's pull")
    check(f"{plan['firing'][0]['hours_up']:.1f} h" in text, "hours of the first firing")
    for word in ("leather-hard", "573 °C quartz", "not calibrated", "proof load", "price by your rule", "hook"):
        check(word in text, f"the second half tells: {word}")
    svgs = sorted(pathlib.Path(folder).glob("*.svg"))
    check(len(svgs) >= 2, "templates as SVG")
print("sheet in order")
