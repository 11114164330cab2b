#!/usr/bin/env python3
"""Takes pictures of the window at work: build/ridgeward on a display of its own (Xvfb), with mouse
and keys by xdotool, aimed by what the program tells of its widgets. From the top folder:
docs/pictures/window.py [NAME...]"""
import json
import os
import subprocess
import sys
import tempfile
import time


class Window:
    def __init__(self, *arguments):
        self.folder = tempfile.mkdtemp()
        self.dump = self.folder + "/widgets.jsonl"
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.environment = dict(os.environ, DISPLAY=":" + self.server.stdout.readline().strip(),
                                XDG_STATE_HOME=self.folder, XDG_CONFIG_HOME=self.folder)
        self.program = subprocess.Popen(
            ["build/ridgeward", "view", "--dialogs", "window", "--units", "ft-in", "--ui-dump",
             self.dump, *arguments], env=self.environment, stdout=subprocess.PIPE, text=True)
        self.program.stdout.readline()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def close(self):
        self.program.kill()
        self.server.kill()

    def hand(self, *words):
        subprocess.run(["xdotool", *map(str, words)], env=self.environment, check=True)

    def find(self, widget):
        for _ in range(600):
            try:
                for line in open(self.dump):
                    item = json.loads(line)
                    if item["id"] == widget:
                        return item
            except (OSError, ValueError):
                pass
            time.sleep(0.05)
        raise SystemExit("no widget " + widget)

    def rest(self):
        """Waits until nothing is drawn any more, since nothing changes."""
        frames, since = None, time.time()
        while time.time() - since < 0.8:
            now = self.find("state/frames")["state"]
            if now != frames:
                frames, since = now, time.time()
            time.sleep(0.05)

    def point(self, widget):
        item = self.find(widget)
        self.hand("mousemove", round(item["x"] + item["width"] / 2),
                  round(item["y"] + item["height"] / 2))

    def click(self, widget):
        self.point(widget)
        self.rest()
        self.hand("click", 1)
        self.rest()

    def key(self, *names):
        for name in names:
            self.hand("key", name)
            self.rest()

    def type(self, text):
        self.hand("type", "--delay", 20, text)
        self.rest()

    def take(self, name):
        self.rest()
        subprocess.run(["import", "-window", "root", f"docs/pictures/{name}.png"],
                       env=self.environment, check=True)


def house(name):
    return f"models/houses/{name}.roof.json"


def at_place(window, x_m, y_m):
    scale = window.find("plan/scale")
    window.hand("mousemove", round(scale["x"] + x_m * float(scale["state"])),
                round(scale["y"] - y_m * float(scale["state"])))
    window.rest()


def editing_draw():
    with Window() as window:
        window.click("bar/file/new")
        at_place(window, 0, 0)
        window.hand("click", 1)
        window.rest()
        at_place(window, 8, 0.1)
        window.type("40'")
        window.key("Return")
        at_place(window, 12.3, 6)
        window.type("28")
        window.key("Return")
        at_place(window, 5, 8.6)
        window.take("editing-draw")


def editing_plan():
    with Window(house("sorrel-lane")) as window:
        window.key("h")
        window.click("plan/edge/main/2")
        window.take("editing-plan")


def editing_import():
    with Window(house("plain-gable")) as window:
        window.key("ctrl+i")
        window.find("browser/name")
        window.type(os.path.abspath("importers/cityjson/samples/house-and-shed.city.json"))
        window.key("Return")
        window.find("import/take")
        window.hand("mousemove", 640, 790)
        window.take("editing-import")


def editing_fields():
    with Window(house("wren-cape")) as window:
        window.click("plane/main/0")
        window.key("e")
        window.find("edge/kind")
        for group in ["framing/ties", "part/holes"]:
            show(window, "group/" + group)
            window.click("group/" + group)
        show(window, "hole/add")
        window.click("hole/add")
        show(window, "hole/0/remove")
        window.hand("mousemove", 640, 790)
        window.take("editing-fields")


def show(window, widget):
    """Scrolls the fields until the widget is in sight."""
    for _ in range(40):
        y = window.find(widget)["y"]
        if 330 < y < 740:
            return
        window.hand("mousemove", 1100, 640)
        window.rest()
        window.hand("click", 5 if y >= 740 else 4)
        window.rest()


PICTURES = {"editing-draw": editing_draw, "editing-plan": editing_plan,
            "editing-fields": editing_fields, "editing-import": editing_import}

if __name__ == "__main__":
    for wanted in sys.argv[1:] or PICTURES:
        PICTURES[wanted]()
