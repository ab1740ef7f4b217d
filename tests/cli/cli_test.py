#!/usr/bin/env python3
"""The commands from outside: exit status, sentences on standard error, and that no file is ever left half written.

Argument: the program.
"""
import json
import os
import pathlib
import stat
import struct
import subprocess
import sys
import tempfile
import unittest

PROGRAM = sys.argv.pop(1)
HEAD = '{"leafwright": "piece", "version": 1, '


def run(*words, env=None, stdout=subprocess.PIPE):
    return subprocess.run([PROGRAM, *map(str, words)], stdout=stdout, stderr=subprocess.PIPE, text=True, timeout=120,
                          env=None if env is None else {**os.environ, **env})


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

    def test_check_tells_each_file(self):
        good = self.file(HEAD + '"name": "g"}', "good.json")
        bad = self.file(HEAD + '"name": 1}', "bad.json")
        done = run("check", good, bad, "demo:sun")
        self.assertEqual(done.returncode, 2)
        self.assertIn("good.json: in order", done.stdout)
        self.assertIn("demo:sun: in order", done.stdout)
        self.assertIn("bad.json: name: is a number", done.stderr)

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
