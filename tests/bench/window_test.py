#!/usr/bin/env python3
"""The bench with real mouse and key events, on a display of its own.

Picks a leaf from the tray, lays it, drags it, reads that the key figures moved, undoes, saves under a name, closes, opens
again and finds the same plan. Run with the program bench_window; exit status 77 when Xvfb or xdotool is missing.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

PATIENCE_S = 60  # for one step, on a machine that draws in software and is busy


class Display:
    """An Xvfb of our own, on a number that is free."""

    def __init__(self):
        read, write = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x800x24", "-nolisten", "tcp"],
            pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as pipe:
            self.name = ":" + pipe.readline().strip()
        assert self.name != ":", "Xvfb did not start"

    def close(self):
        self.server.terminate()
        self.server.wait()


class Bench:
    """The running window: what it reports, and a hand on its mouse and keys."""

    def __init__(self, program, folder, display, arguments):
        self.report = folder / "report.json"
        self.report.unlink(missing_ok=True)
        self.environment = dict(os.environ, DISPLAY=display, XDG_CONFIG_HOME=str(folder / "config"),
                                XDG_STATE_HOME=str(folder / "state"), LIBGL_ALWAYS_SOFTWARE="1")
        self.process = subprocess.Popen([program, "--report", str(self.report), *arguments], env=self.environment)

    def until(self, words, wanted):
        end = time.monotonic() + PATIENCE_S
        seen = None
        while time.monotonic() < end:
            assert self.process.poll() is None, f"the bench ended while waiting until {words}"
            if self.report.exists():
                seen = json.loads(self.report.read_text())
                if wanted(seen):
                    return seen
            time.sleep(0.05)
        raise AssertionError(f"waited in vain until {words}; state: {seen and seen['state']}")

    def tool(self, *arguments):
        subprocess.run(["xdotool", *map(str, arguments)], env=self.environment, check=True)

    def move(self, at):
        self.tool("mousemove", round(at[0]), round(at[1]))

    def click(self, at):
        self.move(at)
        self.tool("mousedown", 1)
        time.sleep(0.15)
        self.tool("mouseup", 1)

    def drag(self, start, end, steps=6):
        self.move(start)
        self.tool("mousedown", 1)
        for i in range(1, steps + 1):
            time.sleep(0.05)
            self.move([start[k] + (end[k] - start[k]) * i / steps for k in (0, 1)])
        time.sleep(0.05)
        self.tool("mouseup", 1)

    def key(self, *names):
        self.tool("key", *names)

    def wheel(self, at, notches, pause_s=0.5):
        self.move(at)
        self.tool("click", "--repeat", abs(notches), "--delay", 15, 4 if notches > 0 else 5)
        time.sleep(pause_s)  # until the report tells where things went

    def close(self):
        self.key("ctrl+q")
        assert self.process.wait(PATIENCE_S) == 0


def middle(box):
    return [box[0] + box[2] / 2, box[1] + box[3] / 2]


def leaf(state, number):
    return next(l for l in state["leaves"] if l["id"] == number)


def scenario(program, folder, display):
    bench = Bench(program, folder, display, ["--demo", "hare"])
    try:
        first = bench.until("the plan is there", lambda s: "figures" in s and "tray.hornbeam" in s["boxes"])
        print(f"first frame after {first['first_frame_s']:.2f} s; fine picture in {first['picture_s']:.2f} s")
        picture = first["boxes"]["picture"]
        spot = [picture[0] + 0.5 * picture[2], picture[1] + 0.62 * picture[3]]

        bench.click(middle(first["boxes"]["tray.hornbeam"]))
        bench.until("the leaf is in hand", lambda s: s["state"]["in_hand"])
        bench.click(spot)
        laid = bench.until("the leaf is laid", lambda s: s["state"]["undo"] and
                           s["figures"]["leaves"] == first["figures"]["leaves"] + 1)
        bench.key("Escape")
        free = bench.until("the hand is free", lambda s: not s["state"]["in_hand"])
        assert free["figures"]["leaves"] == first["figures"]["leaves"] + 1
        assert laid["figures"]["knead_g"] > first["figures"]["knead_g"]
        assert free["figures"]["leaves_g"] > first["figures"]["leaves_g"]
        new = max(l["id"] for l in free["leaves"])
        assert leaf(free, new)["seen"], "the leaf laid last lies on top"

        at = leaf(free, new)["at"]
        bench.drag(at, [at[0] + 70, at[1] - 50])
        moved = bench.until("the leaf is moved", lambda s: s["state"]["undo"] != free["state"]["undo"] and
                            s["state"]["selected"] == [new])
        assert abs(leaf(moved, new)["azimuth_deg"] - leaf(free, new)["azimuth_deg"]) > 1
        assert moved["figures"]["union_mm2"] != free["figures"]["union_mm2"] or \
            moved["figures"]["lap"] != free["figures"]["lap"]
        assert moved["figures"]["leaves_g"] == free["figures"]["leaves_g"]
        assert moved["state"]["unsaved"]

        bench.key("ctrl+z")
        undone = bench.until("the move is undone", lambda s: s["state"]["undo"] == free["state"]["undo"])
        assert undone["figures"] == free["figures"]
        bench.key("ctrl+z")
        start = bench.until("the laying is undone", lambda s: s["state"]["undo"] == "")
        assert start["figures"] == first["figures"]
        bench.key("ctrl+y")
        bench.key("ctrl+y")
        again = bench.until("both are done again", lambda s: s["state"]["undo"] == moved["state"]["undo"])
        assert again["figures"] == moved["figures"]

        # At every stage and look: no two things share an id, for a press on one of them would be lost.
        for key in "1234567890":
            bench.key("ctrl+" + key)
            bench.until("the stage is shown", lambda s: s["frames"] > again["frames"])
            for _ in range(3):
                bench.wheel([1100, 400], -12, 0.2)
        bench.key("ctrl+4")
        at_leaves = bench.until("the leaves are shown", lambda s: s["state"]["stage"] == "leaves")
        assert at_leaves["state"]["twins"] == [], at_leaves["state"]["twins"]

        # A kind of a row's rule is ticked and unticked.
        tick = "check.Hart's-tongue fern"
        for _ in range(40):
            seen = bench.until("the panel is shown", lambda s: tick in s["boxes"])
            if 140 < middle(seen["boxes"][tick])[1] < 640:
                break
            bench.wheel([1100, 400], -2 if middle(seen["boxes"][tick])[1] >= 640 else 2)
        time.sleep(0.3)
        seen = bench.until("the panel rests", lambda s: tick in s["boxes"])
        bench.click(middle(seen["boxes"][tick]))
        ticked = bench.until("the rule is changed", lambda s: s["state"]["undo"] not in ("", again["state"]["undo"]))
        bench.key("ctrl+z")
        bench.until("and put back", lambda s: s["state"]["undo"] == again["state"]["undo"])
        print("rule:", ticked["state"]["undo"])

        file = folder / "kept.piece.json"
        bench.key("ctrl+shift+s")
        asked = bench.until("a name is asked for", lambda s: "chooser.typed" in s["boxes"])
        bench.click(middle(asked["boxes"]["chooser.typed"]))
        bench.key("ctrl+a")
        bench.tool("type", "--delay", "40", str(file))
        bench.key("Return")
        saved = bench.until("it is saved", lambda s: s["state"]["path"] == str(file) and not s["state"]["unsaved"])
        bench.close()
    finally:
        bench.process.kill()

    bench = Bench(program, folder, display, ["--piece", str(file)])
    try:
        opened = bench.until("the piece is open again", lambda s: "figures" in s and s["state"]["path"] == str(file))
        assert opened["figures"] == saved["figures"]
        placed = ("id", "kind", "row", "azimuth_deg", "from_crown_mm", "turn_deg", "scale")
        assert [[l[k] for k in placed] for l in opened["leaves"]] == [[l[k] for k in placed] for l in saved["leaves"]]
        assert not opened["state"]["unsaved"]
        bench.close()
    finally:
        bench.process.kill()


def main():
    if not (shutil.which("Xvfb") and shutil.which("xdotool")):
        print("Xvfb or xdotool is missing: skipped")
        return 77
    display = Display()
    try:
        with tempfile.TemporaryDirectory() as folder:
            scenario(sys.argv[1], pathlib.Path(folder), display.name)
    finally:
        display.close()
    print("the window test passed")
    return 0


sys.exit(main())
