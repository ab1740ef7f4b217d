#!/usr/bin/env python3
"""The cutting sheets of a demo piece, read back: SVG at 1:1 in mm, PDF pages, a check bar of 100 mm on each, JSON.

Argument: the program. Skipped (77) without poppler's pdftotext, pdfinfo and pdftocairo.
"""
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

if not all(shutil.which(tool) for tool in ("pdftotext", "pdfinfo", "pdftocairo")):
    print("skipped: pdftotext, pdfinfo or pdftocairo is missing")
    sys.exit(77)

program = sys.argv[1]
SVG = "{http://www.w3.org/2000/svg}"


def run(*words):
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def check(condition, words):
    if not condition:
        print("failed:", words)
        sys.exit(1)


def shoelace(points):
    return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))


def check_svg(path, sheet):
    """Width, height and view box agree in mm, and every path has the area that the JSON tells."""
    root = xml.parse(path).getroot()
    check(root.get("width") == f"{sheet['length_mm']:.3f}mm", "the SVG is as wide as the sheet is long, in mm")
    check(root.get("height") == f"{sheet['width_mm']:.3f}mm", "the SVG is as high as the sheet is wide, in mm")
    box = [float(word) for word in root.get("viewBox").split()]
    check(abs(box[2] - sheet["length_mm"]) < 1e-3 and abs(box[3] - sheet["width_mm"]) < 1e-3, "one unit is one mm")
    cut = next(group for group in root.iter(SVG + "g") if group.get("id") == "cut")
    paths = {p.get("id"): p.get("d") for p in cut.iter(SVG + "path") if p.get("id")}
    for piece in sheet["pieces"]:
        numbers = [float(n) for n in re.findall(r"-?[0-9.]+", paths[piece["name"].replace(" ", "-")])]
        ring = list(zip(numbers[::2], numbers[1::2]))
        check(abs(abs(shoelace(ring)) / piece["area_mm2"] - 1) < 1e-3, f"{piece['name']} is cut at true size")
    words = {text.text for text in root.iter(SVG + "text")}
    for piece in sheet["pieces"]:
        if piece["kind"] == "leaf":
            check(str(piece["id"]) in words, f"the number of {piece['name']} stands on the sheet")


def check_pdf(path, paper_mm):
    info = run("pdfinfo", "-f", "1", "-l", "999", str(path))
    pages = int(re.search(r"Pages:\s+(\d+)", info)[1])
    sizes = re.findall(r"Page\s+\d+ size:\s+([\d.]+) x ([\d.]+)", info)
    check(len(sizes) == pages, "every page has a size")
    wanted = sorted(mm * 72 / 25.4 for mm in paper_mm)  # a point is 1/72 inch
    for size in sizes:
        check(all(abs(a - b) < 0.1 for a, b in zip(sorted(map(float, size)), wanted)), "pages of the paper asked for")
    text = run("pdftotext", "-layout", str(path), "-").split("\f")[:pages]
    tiled = [page for page in text if "100 mm long" in page]
    check(len(tiled) >= pages - 2 and len(tiled) > 0, "a check bar on every page but the overview")
    for number, page in enumerate(text, 1):
        if page in tiled:
            check(re.search(rf"\b{number} of {pages}\b", page), f"page {number} tells its number")
    names = [re.search(r"Sheet (\d+),.*page ([A-Z]+\d+)", page).groups() for page in tiled]
    check(len(set(names)) == len(names), "no page of a sheet comes twice")
    return pages


def check_bar(path, page, folder):
    """The bar as drawn: a straight line of 100 mm = 283.465 points."""
    out = pathlib.Path(folder) / "page.svg"
    run("pdftocairo", "-svg", "-f", str(page), "-l", str(page), str(path), str(out))
    found = False
    # Coordinates within a path are those of the PDF; the matrix beside it fits the page to the converter's own paper.
    for d in re.findall(r' d="(M [^"]*)"', out.read_text()):
        numbers = [float(n) for n in re.findall(r"-?[0-9.]+", d)]
        if len(numbers) == 4 and numbers[1] == numbers[3]:
            found = found or abs(abs(numbers[2] - numbers[0]) - 7200 / 25.4) < 0.02
    check(found, "the check bar is 100 mm long")


with tempfile.TemporaryDirectory() as folder:
    words = run(program, "cut", "demo:hare", "--seconds", "0", "--out", folder)
    check("Clay to roll" in words and "Offcut to reclaim" in words, "the command tells what to roll and reclaim")
    cutting = json.loads(next(pathlib.Path(folder).glob("*.json")).read_text())["cutting"]
    plan = json.loads(run(program, "plan", "demo:hare", "--json", "-"))
    leaves = [piece["id"] for sheet in cutting["sheets"] for piece in sheet["pieces"] if piece["kind"] == "leaf"]
    check(sorted(leaves) == sorted(leaf["id"] for leaf in plan["leaves"]["each"]), "every leaf is cut once")
    area = sum(piece["area_mm2"] for sheet in cutting["sheets"] for piece in sheet["pieces"] if piece["kind"] == "leaf")
    check(abs(area / plan["leaves"]["area_mm2"] - 1) < 1e-9, "the leaves' area is the plan's")
    svgs = sorted(pathlib.Path(folder).glob("*.svg"))
    check(len(svgs) == len(cutting["sheets"]), "one SVG a sheet")
    for sheet in cutting["sheets"]:
        check_svg(next(svg for svg in svgs if svg.name.endswith(f"-sheet-{sheet['number']}.svg")), sheet)
    pdf = next(pathlib.Path(folder).glob("*.pdf"))
    pages = check_pdf(pdf, (210, 297))
    check_bar(pdf, pages, folder)
    letter = pathlib.Path(folder) / "letter"
    run(program, "cut", "demo:hare", "--seconds", "0", "--paper", "letter", "--out", str(letter))
    check_pdf(next(letter.glob("*.pdf")), (215.9, 279.4))  # ANSI/ASME Y14.1 size A
    check(not list(pathlib.Path(folder).rglob("*.part")) and not list(pathlib.Path(folder).rglob("*.tmp*")),
          "nothing is left half written")
print("cutting sheets in order")
