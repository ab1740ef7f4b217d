#!/usr/bin/env python3
"""The command range from outside: files, sums, refusals, paper.

Argument: the program.
"""
import csv
import json
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import unittest

PROGRAM = sys.argv.pop(1)


def run(*words):
    return subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True, timeout=120)


def value(figure):
    return figure["value"] if isinstance(figure, dict) else figure


class Range(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder)

    def write(self, text, name="mine.range.json"):
        path = self.folder / name
        path.write_text(text)
        return path

    def test_everything_into_a_folder(self):
        out = self.folder / "out"
        done = run("range", "demo:gatehouse", "--out", out)
        self.assertEqual(done.returncode, 0, done.stderr)
        plan = json.loads((out / "range.json").read_text())
        self.assertEqual(plan["leafwright"], "range-plan")
        knead = sum(p["copies"] * value(p["knead_g"]) for p in plan["pieces"])
        self.assertAlmostEqual(value(plan["ready"]["clay"][0]["knead_g"]), knead, delta=1e-6 * knead)
        cut = sum(leaf["cut"] for leaf in plan["ready"]["leaves"])
        self.assertEqual(cut, sum(p["copies"] * p["leaves"] for p in plan["pieces"]))
        in_loads = sum(sum(load["pieces"].values()) for load in plan["kiln"]["loads"])
        self.assertEqual(in_loads, 2 * sum(p["copies"] for p in plan["pieces"]))  # two firings each
        kwh = sum(load["kWh"] for load in plan["kiln"]["loads"])
        self.assertAlmostEqual(sum(p["copies"] * p["kWh"] for p in plan["pieces"]), kwh, delta=1e-6 * kwh)
        calendar = plan["calendar"]
        self.assertLessEqual(calendar["done"], calendar["due"])
        self.assertLessEqual(calendar["least_days"], calendar["days"])
        self.assertEqual(sum(calendar["held_up_days"].values()), calendar["days"] + 1)
        with (out / "calendar.csv").open(newline="") as table:
            rows = list(csv.DictReader(table))
        self.assertEqual(len(rows), len(calendar["steps"]))
        self.assertEqual(max(row["to"] for row in rows), calendar["done"])
        ics = (out / "calendar.ics").read_bytes()
        self.assertTrue(ics.startswith(b"BEGIN:VCALENDAR\r\n") and ics.endswith(b"END:VCALENDAR\r\n"))
        self.assertEqual(ics.count(b"\n"), ics.count(b"\r\n"))
        for name in ("Hare", "Sun wheel", "Owl"):
            self.assertIn(name, done.stdout)
        for words in ("Clay", "Load 1", "Load 2", "All done", "Begin at latest", "What decides the last day", "Sell for"):
            self.assertIn(words, done.stdout)
        if (out / "range.png").exists():  # not without an OpenGL driver
            head = (out / "range.png").read_bytes()[:24]
            self.assertEqual(head[:8], b"\x89PNG\r\n\x1a\n")
            width, height = struct.unpack(">II", head[16:24])
            self.assertAlmostEqual(width, 2400, delta=2)
            self.assertGreater(height, 500)
        else:
            self.assertIn("No picture", done.stdout)
        self.paper(out / "range.pdf", plan)

    def paper(self, pdf, plan):
        self.assertTrue(pdf.read_bytes().startswith(b"%PDF"))
        if not shutil.which("pdftotext"):
            return
        text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], check=True, capture_output=True, text=True).stdout
        knead = value(plan["ready"]["clay"][0]["knead_g"])
        for words in (f"{knead / 1000:.2f} kg", "Side by side", "Get ready", "Kiln loads", "Calendar", "Day by day", "Hare 2",
                      "Dust:", "Kiln:", "local codes", "Hanging:", "Shelf 4"):
            self.assertIn(words, text)
        for leaf in plan["ready"]["leaves"]:
            self.assertRegex(text, re.escape(leaf["label"]) + r"\s+" + str(leaf["cut"]))

    def test_same_range_same_bytes(self):
        first, second = (run("range", "demo:gatehouse", "--json", "-") for _ in range(2))
        self.assertEqual(first.stdout, second.stdout)
        json.loads(first.stdout)

    def test_inches(self):
        done = run("range", "demo:gatehouse", "--inches")
        self.assertEqual(done.returncode, 0)
        self.assertIn(" lb", done.stdout)
        self.assertNotIn(" mm", done.stdout)
        self.assertIn("oval, 11.8 in x 15.7 in", done.stdout)  # 300 and 400 mm over 25.4

    def test_pieces_are_looked_for_beside_the_range(self):
        self.assertEqual(run("lay", "demo:hare", "--out", self.folder / "mine.piece.json").returncode, 0)
        path = self.write('{"leafwright": "range", "version": 1, "start": "2027-W02-1", "pieces": [{"file": "mine.piece.json"}]}')
        checked = run("check", path)
        self.assertEqual((checked.returncode, checked.stderr), (0, ""))
        self.assertEqual(run("range", path).returncode, 0)

    def test_faults_name_file_and_place(self):
        path = self.write('{"leafwright": "range", "version": 1, "start": "2027-01-11", "pieces": [{"file": "none.piece.json"}]}')
        for command in ("range", "check"):
            done = run(command, path)
            self.assertEqual(done.returncode, 2)
            self.assertIn(f"leafwright: {path}: pieces[0].file: none.piece.json: cannot be read", done.stderr)
        path = self.write('{"leafwright": "range", "version": 1, "start": "2027-02-30", "pieces": [{"file": "demo:hare"}]}')
        done = run("range", path)
        self.assertEqual(done.returncode, 2)
        self.assertIn("start: \"2027-02-30\" is no day of the calendar", done.stderr)
        self.assertEqual(run("range", "demo:gate").returncode, 2)
        self.assertEqual(run("range", "demo:gatehouse", "--paper", "a3").returncode, 2)

    def test_a_due_date_too_near_is_a_refusal_that_tells_when_to_begin(self):
        path = self.write('{"leafwright": "range", "version": 1, "start": "2027-01-11", "due": "2027-01-20", '
                          '"pieces": [{"file": "demo:owl"}]}')
        done = run("range", path, "--out", self.folder / "out")
        self.assertEqual(done.returncode, 1)
        self.assertIn("Begin by", done.stderr)
        self.assertTrue((self.folder / "out" / "range.json").exists())

    def test_a_kiln_too_small_is_a_refusal_by_name(self):
        path = self.write('{"leafwright": "range", "version": 1, "start": "2027-01-11", "kiln": {"width_mm": 300, '
                          '"depth_mm": 300, "height_mm": 300}, "pieces": [{"file": "demo:owl", "label": "Owl"}]}')
        done = run("range", path)
        self.assertEqual(done.returncode, 1)
        self.assertIn("Owl does not go into the kiln", done.stderr)


unittest.main()
