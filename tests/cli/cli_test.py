#!/usr/bin/env python3
"""The commands from outside: exit status, sentences on standard error, and that no file is ever left half written.

Argument: the program.
"""
import json
import math
import os
import pathlib
import stat
import struct
import subprocess
import sys
import tempfile
import unittest
import zlib

PROGRAM = sys.argv.pop(1)
HEAD = '{"leafwright": "piece", "version": 1, '


def run(*words, env=None, stdout=subprocess.PIPE):
    return subprocess.run([PROGRAM, *map(str, words)], stdout=stdout, stderr=subprocess.PIPE, text=True, timeout=120,
                          env=None if env is None else {**os.environ, **env})


def png(width, height, rows):
    """8-bit RGB, no filter: W3C PNG, sections 5.3, 9 and 11.2."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = zlib.compress(b"".join(b"\0" + bytes(row) for row in rows))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def leaf_on_paper(half_width_mm, half_length_mm, leaf=True, px_mm=4):
    """A4 on a dark table from straight above, and a green ellipse on it; edges mixed in linear light (IEC 61966-2-1)."""
    def coded(light):
        return tuple(round(255 * (1.055 * v ** (1 / 2.4) - 0.055)) for v in light)
    table, paper, green = (0.10, 0.06, 0.03), (0.80, 0.80, 0.78), (0.05, 0.14, 0.025)
    margin = 20 * px_mm
    wide, tall = 210 * px_mm, 297 * px_mm
    side = bytes(coded(table)) * margin
    bare = bytes(coded(table)) * (wide + 2 * margin)
    a, b = half_width_mm * px_mm, half_length_mm * px_mm
    rows = [bare] * margin
    for y in range(tall):
        v = y + 0.5 - tall / 2
        row = bytearray(bytes(coded(paper)) * wide)
        if leaf and abs(v) < b + 2:
            for x in range(int(wide / 2 - a) - 2, int(wide / 2 + a) + 3):
                u = x + 0.5 - wide / 2
                r = math.hypot(u / a, v / b)
                slope = math.hypot(u / a / a, v / b / b) / max(r, 1e-9)
                share = min(1, max(0, 0.5 - (r - 1) / slope))
                if share > 0:
                    row[3 * x:3 * x + 3] = bytes(coded([share * g + (1 - share) * p for g, p in zip(green, paper)]))
        rows.append(side + bytes(row) + side)
    rows += [bare] * margin
    return png(wide + 2 * margin, tall + 2 * margin, rows)


def without_screen():
    return {"DISPLAY": "", "WAYLAND_DISPLAY": ""}


class Cli(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.path = pathlib.Path(self.folder.name)

    def tearDown(self):
        self.folder.cleanup()

    def file(self, text, name="a.piece.json"):
        path = self.path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    def refused(self, status, parts, *words, **more):
        """One sentence on standard error that starts with our name, and the status."""
        done = run(*words, **more)
        self.assertEqual(done.returncode, status, done.stderr)
        self.assertTrue(done.stderr.startswith("leafwright: "), done.stderr)
        self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
        self.assertTrue(done.stderr.endswith(".\n"), done.stderr)
        for part in parts:
            self.assertIn(part, done.stderr)
        return done

    def test_tiles_give_shrinkage_with_its_uncertainty(self):
        tiles = self.file('{"leafwright": "tiles", "tiles": [{"plastic": {"length_mm": 101.6, "mass_g": 250}, "dry": '
                          '{"length_mm": 95.504, "mass_g": 200}, "fired": [{"length_mm": 89.29624, "mass_g": 184}]}]}',
                          "a.tiles.json")
        done = run("tile", tiles, "--ends-mm", 400)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        for part in ("6.00 +- 0.19 %", "12.11 +- 0.19 %", "25.000 +- 0.023 % of dry", "make it 455.1 mm"):
            self.assertIn(part, done.stdout)
        wrong = self.file(tiles.read_text().replace("200}", "260}"), "b.tiles.json")
        self.refused(2, ["tiles[0].dry.mass_g: ", "heavier"], "tile", wrong)

    def test_bad_files_are_told_with_their_place(self):
        cases = [
            (HEAD + '"slab": {"thickness_mm": 80}}', "slab.thickness_mm: is 80; the range is 3 to 25."),
            (HEAD + '"slab": {"thickness_mm": "8"}}', "slab.thickness_mm: is a text; a number is needed."),
            (HEAD + '"leaves": [{"id": 1, "kind": "oak"}]}', "leaves[0].kind: "),
            (HEAD + '"slab": {"thicknes_mm": 8}}', 'Did you mean "thickness_mm"'),
            (HEAD + '"slab": {"thickness_mm": NaN}}', "line 1, column "),
            (HEAD + '"slab": {"thickness_mm": 1e999}}', "the number 1e999 is too large"),
            ("[" * (10 << 20), "brackets are nested more than 64 deep"),
            ('{"a":' * (2 << 20), "brackets are nested more than 64 deep"),
            ('{"leafwright": "piece", "version": 9}', "version: is version 9; this program reads version 1. Update Leafwright"),
            ('{"leafwright": "range", "version": 1}', "leafwright: is \"range\""),
            ("", "the file is empty"),
            (b"\x89PNG\r\n\x1a\n\x00\x00", "line 1, column 1"),
            (HEAD, "the text ends too early"),
        ]
        for text, part in cases:
            path = self.file(text)
            for command in (["plan", path], ["check", path], ["lay", path, "--out", self.path / "out.json"],
                            ["picture", path, "--out", self.path / "out.png"], ["sheet", path, "--out", self.path / "sheets"]):
                with self.subTest(part=part, command=command[0]):
                    self.refused(2, [str(path) + ": ", part], *command)
        self.assertEqual([p.name for p in self.path.iterdir()], ["a.piece.json"])

    def test_files_that_are_not_there(self):
        self.refused(2, ["none.json: cannot be read: there is no such file or folder"], "plan", self.path / "none.json")
        self.refused(2, ["cannot be read: this is a folder"], "plan", self.path)
        self.refused(2, ["there is no demo piece", "hare, owl, sun"], "plan", "demo:hedgehog")

    def test_a_full_disk_is_told_and_nothing_is_taken_away(self):
        self.refused(2, ["/dev/full: cannot be written: the disk is full"], "plan", "demo:hare", "--json", "/dev/full")
        self.assertTrue(stat.S_ISCHR(os.stat("/dev/full").st_mode))
        link = self.path / "full.png"
        link.symlink_to("/dev/full")
        self.refused(2, ["full.png: cannot be written: the disk is full"], "picture", "demo:hare", "--size", "64x48", "--out", link)
        with open("/dev/full", "w") as full:
            self.refused(2, ["standard output: cannot be written"], "plan", "demo:hare", stdout=full)

    def test_places_that_can_not_be_written(self):
        self.refused(2, ["cannot be written: there is no such file or folder"], "plan", "demo:hare", "--json",
                     self.path / "none" / "plan.json")
        self.refused(2, ["cannot be written: this is a folder"], "lay", "demo:hare", "--out", self.path)
        plain = self.file("x", "plain")
        self.refused(2, ["plain", "the folder cannot be made"], "sheet", "demo:hare", "--out", plain)
        self.assertEqual(plain.read_text(), "x")
        if os.geteuid() != 0:  # root may write anywhere
            locked = self.path / "locked"
            locked.mkdir(mode=0o500)
            self.refused(2, ["cannot be written: there is no permission"], "plan", "demo:hare", "--json", locked / "plan.json")

    def test_a_piece_that_can_not_be_made_is_a_refusal(self):
        path = self.file(HEAD + '"slab": {"sheet_width_mm": 200}}')
        out = self.path / "plan.json"
        done = self.refused(1, [str(path) + ": slab.sheet_width_mm: is 200 mm"], "plan", path, "--json", out)
        self.assertIn("Clay to knead", done.stdout)
        plan = json.loads(out.read_text())
        self.assertTrue(plan["warnings"][0]["refusal"])
        self.refused(1, ["slab.sheet_width_mm"], "check", path)

    def test_bad_usage(self):
        self.refused(2, ["plan", "PIECE", "See 'leafwright help plan'"], "plan")
        self.refused(2, ["lay", "--out", "See 'leafwright help lay'"], "lay", "demo:hare")
        self.refused(2, ["--hurry", "See 'leafwright help"], "plan", "demo:hare", "--hurry")
        self.refused(2, ["See 'leafwright help"], "lay", "demo:hare", "--out", self.path / "o.json", "--seed", "many")
        self.refused(2, ["there is no command \"dance\""], "help", "dance")
        out = self.path / "o.png"
        self.refused(2, ["--stage", "knead, roll, drape"], "picture", "demo:hare", "--stage", "glaze", "--out", out)
        self.refused(2, ["--look", "piece, flat"], "picture", "demo:hare", "--look", "round", "--out", out)
        self.refused(2, ["--from", "front, side, above, quarter"], "picture", "demo:hare", "--from", "below", "--out", out)
        self.refused(2, ["--size", "WIDTHxHEIGHT"], "picture", "demo:hare", "--size", "big", "--out", out)
        self.refused(2, [], "picture", "demo:hare", "--size", "99999x2", "--out", out)
        self.refused(2, ["--paper", "a4, letter"], "sheet", "demo:hare", "--paper", "a5", "--out", self.path / "s")
        self.assertEqual(list(self.path.iterdir()), [])

    def test_the_bench_needs_a_screen(self):
        self.refused(2, ["neither DISPLAY nor WAYLAND_DISPLAY is set"], env=without_screen())
        self.refused(2, ["neither DISPLAY nor WAYLAND_DISPLAY is set"], "demo:owl", env=without_screen())
        self.refused(2, ["none.json: cannot be read"], "none.json", env=without_screen())

    def test_help_reads_on_one_page(self):
        for words in (["--help"], ["help"]):
            done = run(*words)
            self.assertEqual((done.returncode, done.stderr), (0, ""))
            for command in ("plan", "lay", "picture", "sheet", "check", "demo", "help"):
                self.assertIn("leafwright " + command, done.stdout)
            self.assertLess(done.stdout.count("\n"), 40)
            self.assertLessEqual(max(map(len, done.stdout.splitlines())), 100)
        for command in ("plan", "lay", "picture", "sheet", "check", "demo"):
            about = run("help", command)
            self.assertEqual(about.returncode, 0)
            self.assertEqual(about.stdout, run(command, "--help").stdout)
        self.assertIn("--seed", run("help", "lay").stdout)
        self.assertRegex(run("--version").stdout, r"^leafwright \d+\.\d+\.\d+\n$")

    def test_plan_prints_key_figures_and_writes_all_of_them(self):
        for demo in ("hare", "owl", "sun"):
            out = self.path / f"{demo}.json"
            done = run("plan", f"demo:{demo}", "--json", out)
            self.assertEqual((done.returncode, done.stderr), (0, ""))
            for words in ("Clay to knead", "Slab to roll", "Leaves", "Bare clay", "Wet weight", "Wall weight"):
                self.assertIn(words, done.stdout)
            plan = json.loads(out.read_text())
            self.assertEqual(run("plan", f"demo:{demo}", "--json", "-").stdout, out.read_text())
            self.assertIn(f"{plan['leaves']['count']} in {plan['leaves']['rows']} row", done.stdout)
            self.assertIn(f"{plan['clay']['knead_g']['value'] / 1000:.2f} kg", done.stdout)
            self.assertIn(" lb", run("plan", f"demo:{demo}", "--inches").stdout)

    def test_lay_gives_the_same_rows_for_the_same_seed(self):
        outs = [self.path / name for name in ("one.json", "two.json", "three.json")]
        for out, seed in zip(outs, (5, 5, 6)):
            done = run("lay", "demo:hare", "--out", out, "--seed", seed)
            self.assertEqual((done.returncode, done.stderr), (0, ""))
            self.assertIn("leaves in", done.stdout)
        self.assertEqual(outs[0].read_bytes(), outs[1].read_bytes())
        self.assertNotEqual(outs[0].read_bytes(), outs[2].read_bytes())
        piece = json.loads(outs[0].read_text())
        self.assertEqual(piece["seed"], 5)
        self.assertGreater(len(piece["leaves"]), 30)
        self.assertEqual(run("check", *outs).returncode, 0)

    def test_trace_takes_a_leaf_from_a_photograph_at_true_size(self):
        photo = self.file(leaf_on_paper(18, 35), "lane.png")
        out = self.path / "lane.leaf.json"
        done = run("trace", photo, "--paper", "a4", "--out", out, "--json", "-")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        told = json.loads(done.stdout)
        self.assertEqual(told["count"], 1)
        self.assertAlmostEqual(told["leaves"][0]["area_mm2"] / (math.pi * 18 * 35), 1, delta=0.01)  # of an ellipse
        self.assertAlmostEqual(told["leaves"][0]["length_mm"], 70, delta=0.7)
        self.assertAlmostEqual(told["leaves"][0]["width_mm"], 36, delta=0.4)
        leaf = json.loads(out.read_text())
        self.assertEqual((leaf["leafwright"], leaf["name"]), ("leaf", "lane"))

    def test_trace_refuses_in_a_sentence_and_writes_nothing(self):
        photo = self.file(leaf_on_paper(18, 35), "lane.png")
        bare = self.file(leaf_on_paper(18, 35, leaf=False), "bare.png")
        out = self.path / "out.leaf.json"
        for status, part, words in (
                (1, "shows no leaf", [bare, "--paper", "a4"]),
                (1, "letter", [photo, "--paper", "letter"]),
                (2, "known are a4, a5, letter", [photo, "--paper", "a3"]),
                (2, "needs to know the true size", [photo]),
                (2, "must be four points", [photo, "--paper", "a4", "--corners", "1,2 3,4"]),
                (2, "damaged", [self.file(photo.read_bytes()[:5000], "half.png"), "--paper", "a4"]),
                (2, "not a ", [self.file("a letter to a friend", "words.png"), "--paper", "a4"]),
                (2, "there is no such file", [self.path / "none.png", "--paper", "a4"])):
            with self.subTest(part=part):
                self.refused(status, [part], "trace", *words, "--out", out)
        self.assertFalse(out.exists())

    def test_outline_takes_a_leaf_from_a_drawing(self):
        drawing = self.file('<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'
                            '<ellipse cx="50" cy="50" rx="20" ry="40"/></svg>', "e.svg")
        out = self.path / "e.leaf.json"
        done = run("outline", drawing, "--out", out, "--json", "-")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        leaf = json.loads(done.stdout)["leaves"][0]
        self.assertAlmostEqual(leaf["area_mm2"] / (math.pi * 20 * 40), 1, delta=0.001)  # of an ellipse
        self.assertAlmostEqual(leaf["length_mm"], 80, delta=0.1)
        self.assertAlmostEqual(leaf["width_mm"], 40, delta=0.1)
        self.assertEqual(json.loads(out.read_text())["leafwright"], "leaf")
        # The guess put right by hand: the foot is above.
        done = run("outline", drawing, "--out", out, "--json", "-", "--base", "50,10", "--tip", "50, 90")
        turned = json.loads(done.stdout)["leaves"][0]
        self.assertEqual([turned["base_mm"], turned["tip_mm"]], [[50, 10], [50, 90]])
        self.assertAlmostEqual(turned["area_mm2"] / leaf["area_mm2"], 1, delta=1e-4)
        self.refused(2, ["--base", "a place in mm"], "outline", drawing, "--out", out, "--base", "50;10")

    def test_outline_refuses_in_a_sentence_and_writes_nothing(self):
        out = self.path / "out.leaf.json"
        sizeless = self.file('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h5v7z"/></svg>', "s.svg")
        for text, part in (("<svg", ""), ("", ""), ("a letter", ""), ('<svg xmlns="http://www.w3.org/2000/svg"/>', ""),
                           (sizeless.read_text(), "--length-mm")):
            with self.subTest(text=text):
                self.refused(2, [part], "outline", self.file(text, "bad.svg"), "--out", out)
        self.assertFalse(out.exists())
        done = run("outline", sizeless, "--out", out, "--length-mm", 70)
        self.assertEqual((done.returncode, done.stderr), (0, ""))

    def test_check_tells_each_file(self):
        good = self.file(HEAD + '"name": "g"}', "good.json")
        bad = self.file(HEAD + '"name": 1}', "bad.json")
        done = run("check", good, bad, "demo:sun")
        self.assertEqual(done.returncode, 2)
        self.assertIn("good.json: in order", done.stdout)
        self.assertIn("demo:sun: in order", done.stdout)
        self.assertIn("bad.json: name: is a number", done.stderr)

    def nest_instance(self, **changes):
        """Two rectangles and two right triangles that fill 40 x 30 without waste."""
        def item(number, demand, points):
            return {"id": number, "demand": demand, "allowed_orientations": [0, 180],
                    "shape": {"type": "simple_polygon", "data": points}}
        job = {"name": "four pieces", "strip_height": 30,
               "items": [item(0, 2, [[0, 0], [20, 0], [20, 15], [0, 15], [0, 0]]),
                         item(1, 2, [[0, 0], [20, 0], [0, 30], [0, 0]])]}
        return self.file(json.dumps({**job, **changes}), "a.nest.json")

    def test_nest_fills_what_can_be_filled(self):
        out, picture = self.path / "out.json", self.path / "out.svg"
        done = run("nest", self.nest_instance(), "--rounds", 40, "--json", out, "--svg", picture)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        for part in ("4 placed", "valid: no overlap", "four pieces"):
            self.assertIn(part, done.stdout)
        self.assertAlmostEqual(json.loads(out.read_text())["length_mm"], 40, delta=0.04)  # 1200 of area over 30
        self.assertGreaterEqual(json.loads(out.read_text())["length_mm"], 40 * (1 - 1e-9))
        self.assertEqual(picture.read_text().count("<path"), 4)
        again = run("nest", self.nest_instance(), "--rounds", 40, "--threads", 1, "--json", "-")
        for key in ("placements", "length_mm"):
            self.assertEqual(json.loads(again.stdout)[key], json.loads(out.read_text())[key])

    def test_nest_refuses_in_a_sentence(self):
        self.refused(2, ["a.nest.json", "is not JSON"], "nest", self.file('{"items":', "a.nest.json"))
        self.refused(2, ["strip_height"], "nest", self.nest_instance(strip_height=None))
        self.refused(1, ["does not fit"], "nest", self.nest_instance(strip_height=14))
        self.refused(2, ["there is no such file"], "nest", self.path / "none.json")

    def test_plan_json_tells_the_cutting_sheets(self):
        first, again = (run("plan", "demo:sun", "--json", "-") for _ in range(2))
        self.assertEqual((first.returncode, first.stderr), (0, ""))
        self.assertEqual(first.stdout, again.stdout)
        plan = json.loads(first.stdout)
        cutting = plan["cutting"]
        sheets = cutting["sheets"]
        rolled = sum(sheet["length_mm"] * sheet["width_mm"] for sheet in sheets)
        cut = sum(piece["area_mm2"] for sheet in sheets for piece in sheet["pieces"])
        self.assertAlmostEqual(cutting["rolled_mm2"] / rolled, 1, delta=1e-9)
        self.assertAlmostEqual(cutting["density"] / (cut / rolled), 1, delta=1e-9)
        leaves = [piece["id"] for sheet in sheets for piece in sheet["pieces"] if piece["kind"] == "leaf"]
        self.assertEqual(sorted(leaves), sorted(leaf["id"] for leaf in plan["leaves"]["each"]))
        self.assertGreater(cutting["offcut_g"]["value"], 0)

    def test_pictures_have_the_size_asked_for(self):
        for look, stage, view in (("piece", "features", "front"), ("flat", "leaves", "above"), ("piece", "knead", "quarter")):
            out = self.path / "p.png"
            done = run("picture", "demo:sun", "--out", out, "--size", "320x200", "--look", look, "--stage", stage, "--from", view)
            self.assertEqual((done.returncode, done.stderr), (0, ""))
            head = out.read_bytes()[:24]
            self.assertEqual(head[:8], b"\x89PNG\r\n\x1a\n")  # W3C PNG, sections 5.2 and 11.2.2
            self.assertEqual(struct.unpack(">II", head[16:24]), (320, 200))

    def test_demo_writes_everything(self):
        out = self.path / "deep" / "demo"
        done = run("demo", "--out", out)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        names = {p.name for p in out.iterdir()}
        self.assertTrue({"plan.json", "piece.piece.json", "piece-front.png", "piece-quarter.png", "laid-flat.png",
                         "hare-for-the-gatehouse-making-sheet.pdf"} <= names, names)
        self.assertEqual(run("check", out / "piece.piece.json").returncode, 0)
        self.assertFalse([name for name in names if name.startswith(".")])


unittest.main()
