#!/usr/bin/env python3
"""Draws the hand-worked houses of docs/framing.md as SVG, from their own figures."""
import math
import os

HERE = os.path.dirname(os.path.abspath(__file__))


class Drawing:
    """Lengths in inches, y up; `scale` is pixels an inch."""

    def __init__(self, name, box, scale):
        self.name, self.scale = name, scale
        self.x0, self.y0, self.x1, self.y1 = box
        self.parts = []

    def at(self, x, y):
        return (x - self.x0) * self.scale, (self.y1 - y) * self.scale

    def loop(self, points, fill="none", stroke="#333", width=1.2):
        text = " ".join("%.1f,%.1f" % self.at(*p) for p in points)
        self.parts.append('<polygon points="%s" fill="%s" stroke="%s" stroke-width="%.1f"/>'
                          % (text, fill, stroke, width))

    def line(self, a, b, stroke="#333", width=1.2, dash=""):
        (ax, ay), (bx, by) = self.at(*a), self.at(*b)
        self.parts.append('<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s" '
                          'stroke-width="%.1f" stroke-dasharray="%s"/>'
                          % (ax, ay, bx, by, stroke, width, dash))

    def text(self, p, words, anchor="middle", size=13):
        x, y = self.at(*p)
        self.parts.append('<text x="%.1f" y="%.1f" text-anchor="%s" font-size="%d">%s</text>'
                          % (x, y, anchor, size, words))

    def measure(self, a, b, words, off=0.0):
        """A dimension line from a to b, its words beside the middle."""
        self.line(a, b, "#1f5fa8", 1.0)
        upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
        tick = 5 / self.scale
        for p in (a, b):
            d = (tick, 0) if upright else (0, tick)
            self.line((p[0] - d[0], p[1] - d[1]), (p[0] + d[0], p[1] + d[1]), "#1f5fa8", 1.0)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        gap = 6 / self.scale
        if upright:
            self.text((middle[0] + gap + off, middle[1] - gap), words, "start")
        else:
            self.text((middle[0], middle[1] + gap + off), words)

    def save(self):
        width = (self.x1 - self.x0) * self.scale
        height = (self.y1 - self.y0) * self.scale
        with open(os.path.join(HERE, self.name + ".svg"), "w", encoding="utf-8") as file:
            file.write('<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" '
                       'font-family="sans-serif" fill="#222">\n'
                       '<rect width="100%%" height="100%%" fill="white"/>\n%s\n</svg>\n'
                       % (width, height, "\n".join(self.parts)))


def birdsmouth():
    """2x12 at 4/12, notched a quarter: seat 8 7/8 in."""
    d = Drawing("framing-birdsmouth", (-30, -16, 44, 26), 10)
    t = 4 / 12
    cosine = 1 / math.hypot(1, t)
    plumb = 11.25 / cosine
    cut = 2.8125 / cosine
    seat = cut / t
    top = plumb - cut  # over the plate at the wall's outer face
    d.loop([(0, 0), (12, 0), (12, -14), (0, -14)], "#e8e2d6")
    bottom = lambda x: t * x + top - plumb
    d.loop([(-18, bottom(-18)), (0, bottom(0)), (0, 0), (seat, 0), (40, bottom(40)),
            (40, t * 40 + top), (-18, t * -18 + top)], "#d9b27c")
    deck = 0.5 / cosine
    d.loop([(-18, t * -18 + top), (40, t * 40 + top), (40, t * 40 + top + deck),
            (-18, t * -18 + top + deck)], "#b98a4e")
    d.measure((0, -3), (seat, -3), "seat 8 7/8")
    d.measure((-1.2, bottom(0)), (-1.2, 0), "", 0)
    d.text((-1.9, -2.2), "heel cut 2.96", "end")
    d.measure((13.5, 0), (13.5, top + deck + t * 0), "", 0)
    d.text((14.4, 1.2), "heel 9.42: deck over plate at the wall's face", "start")
    d.line((0, 0), (0, top + deck), "#1f5fa8", 1.0, "4 3")
    d.line((0, top + deck), (13.5, top + deck), "#1f5fa8", 1.0, "4 3")
    d.measure((-18, -12), (0, -12), "overhang 18")
    d.text((-22, t * -6 + top + 3.4), "tail 18.97, along it", "start")
    d.text((6, -9), "wall", "middle")
    d.save()


def hip_trusses():
    """Plan of a hip end, 24 ft wide at 6/12, trusses 24 in on centre."""
    d = Drawing("framing-hip-trusses", (-20, -30, 260, 310), 2.4)
    d.loop([(0, 0), (230, 0), (230, 288), (0, 288)], "#f4f1ea", "#f4f1ea")
    names = {24: "jack", 48: "jack", 72: "jack", 96: "girder", 120: "step-down", 144: "common",
             168: "common", 192: "common", 216: "common"}
    for s, name in names.items():
        full = s >= 144
        for y in (0, 288):
            end = 144 if full else (s if y == 0 else 288 - s)
            colour = {"jack": "#7a8f3a", "girder": "#b3261e", "step-down": "#b8761d"}.get(name, "#555")
            d.line((s, y), (s, end), colour, 3.4 if name == "girder" else 2.0)
        if name in ("girder", "step-down"):
            d.line((s, s), (s, 288 - s), colour, 2.6, "7 4")
            d.text((s + 3, 148), "flat %d ft" % (24 - s // 6), "start")
        d.text((s, -11), "%d" % (s // 12), "middle")
    for y in range(24, 288, 24):
        d.line((0, y), (min(y, 288 - y), y), "#7a8f3a", 2.0)
    d.line((0, 0), (144, 144), "#4a1d5c", 2.6)
    d.line((0, 288), (144, 144), "#4a1d5c", 2.6)
    d.line((144, 144), (230, 144), "#b34700", 2.0, "2 3")
    d.text((110, -24), "feet from the end wall: jacks 2, 4, 6 - girder 8 - step-down 10 - commons from 12")
    d.text((60, 297), "side jacks", "middle")
    d.text((4, 137), "end jacks", "start")
    d.save()


def verge_bays():
    """The measured house's verge, in centimetres: doubled rafters, bays, and a slot's first end."""
    d = Drawing("framing-verge", (-62, -30, 140, 62), 5)
    d.loop([(-50, 0), (130, 0), (130, 45), (-50, 45)], "#f4f1ea", "#c9c2b4")
    for c in (-46, -30, 40, 110):
        d.loop([(c - 4, 0), (c + 4, 0), (c + 4, 45), (c - 4, 45)], "#d9b27c")
    d.line((0, -4), (0, 49), "#333", 1.4, "6 3")
    d.text((1, 50), "wall's outer face, x = 0", "start")
    d.measure((-42, 50), (-34, 50), "8")
    d.measure((-26, 36), (36, 36), "")
    d.text((16, 37.5), "bay 62")
    d.measure((44, 36), (106, 36), "bay 62")
    d.loop([(15.24, 16), (130, 16), (130, 20), (15.24, 20)], "#2b3a4a", "#2b3a4a")
    d.measure((0, 9), (15.24, 9), "15.24")
    d.measure((15.24, 25), (36, 25), "20.76")
    d.measure((44, 25), (106, 25), "62 open")
    d.text((75, 10), "slot, from 6 in inside the wall")
    for c in (-46, -30, 40, 110):
        d.text((c, -8), "%.2f" % (c / 100))
    d.text((36, -22), "centres in metres from the wall's outer face; rafters 8 cm")
    d.save()


def dormer():
    """Plan of the dormer of the tests: 8 ft wide, front wall 3 ft in."""
    d = Drawing("framing-dormer", (160, -22, 330, 158), 4)
    d.loop([(166, 0), (316, 0), (316, 144), (166, 144)], "#f4f1ea", "#c9c2b4")
    wood = "#d9b27c"
    def rafter(c, low, high, fill=wood):
        d.loop([(c - 0.75, low), (c + 0.75, low), (c + 0.75, high), (c - 0.75, high)], fill, "#555", 0.8)
    for c in (168, 312):
        rafter(c, 0, 143.25)
    for c in (192.75, 194.25, 285.75, 287.25):
        rafter(c, 0, 143.25, "#b3261e")
    for c in (216, 240, 264):
        rafter(c, 0, 36)
        rafter(c, 86.12, 143.25)
    for c in (216, 264):
        rafter(c, 72, 84)
    for low in (36, 84):
        d.loop([(195, low), (285, low), (285, low + 2.12), (195, low + 2.12)], "#b8761d", "#555", 0.8)
    d.line((192, 60), (240, 84), "#00695c", 2.0)
    d.line((288, 60), (240, 84), "#00695c", 2.0)
    d.loop([(192, 36), (288, 36), (288, 60), (192, 60)], "none", "#333", 1.4)
    d.text((240, 48), "dormer", "middle")
    d.measure((195, 30), (285, 30), "header 7 ft 6 in")
    d.measure((300, 0), (300, 36), "3 ft")
    d.measure((300, 36), (300, 84), "4 ft")
    d.text((240, -8), "eave; rafters 24 in on centre, doubled at 16 and 24 ft under the cheeks")
    d.text((240, 149), "ridge; the dormer's own runs out 7 ft in")
    d.save()


if __name__ == "__main__":
    for draw in (birdsmouth, hip_trusses, verge_bays, dormer):
        draw()
