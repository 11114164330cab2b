#!/usr/bin/env python3
"""Draws the hand-worked houses of docs/attic.md as SVG, from their own figures. Feet."""
import math

from draw_framing import Drawing

AIR = "#bfe3f5"
DECK = "#5a4632"
INSULATION = "#f3d9a0"
ARROW = "#c02020"


def arrow(drawing, points):
    for a, b in zip(points, points[1:]):
        drawing.line(a, b, ARROW, 2.0)
    (ax, ay), (bx, by) = points[-2], points[-1]
    turn = math.atan2(by - ay, bx - ax)
    size = 9 / drawing.scale
    for side in (0.45, -0.45):
        drawing.line((bx, by), (bx - size * math.cos(turn + side),
                                by - size * math.sin(turn + side)), ARROW, 2.0)


def cape():
    """Section: 24 ft wide, 12/12, knee walls 5 ft in, slope to 9 ft in, collar ties at 16 ft."""
    d = Drawing("attic-cape", (-4, 5.5, 28, 22.5), 27)
    deep = 7.25 / 12 * math.sqrt(2)  # rafter, plumb
    clear = 1.25 / 12 * math.sqrt(2)
    roof = lambda y: 8 + min(y, 24 - y)
    for turn in (False, True):
        x = (lambda y: 24 - y) if turn else (lambda y: y)
        d.loop([(x(0), 8), (x(5), 8), (x(5), roof(5)), (x(0), 8)], AIR, "#7aa", 1)
        d.loop([(x(5), roof(5)), (x(9), roof(9)), (x(9), roof(9) - clear),
                (x(5), roof(5) - clear)], AIR, "#7aa", 1)
        d.loop([(x(5), roof(5) - clear), (x(9), roof(9) - clear), (x(9), roof(9) - deep),
                (x(5), roof(5) - deep)], INSULATION, "#b90", 1)
        d.line((x(5), 8), (x(5), roof(5) - deep), "#333", 2.5)
        d.line((x(-1), 7), (x(12), 20), DECK, 3.5)
        d.line((x(0), 6), (x(0), 8), "#333", 5)
    d.loop([(9, 16), (15, 16), (15, 17), (12, 20), (9, 17)], AIR, "#7aa", 1)
    d.line((0, 8), (24, 8), "#333", 2)
    d.line((9, 16), (15, 16), "#333", 2)
    arrow(d, [(-1.1, 7.4), (1.4, 8.9), (5, 12.65), (9.4, 17.05), (11.4, 19.2), (11.9, 20.5)])
    d.text((3.35, 8.4), "south-knee", size=12)
    d.text((20.65, 8.4), "north-knee", size=12)
    d.text((12, 16.6), "loft", size=15)
    d.text((8.6, 12.8), "south-slope, insulation 6 in", "start", 12)
    d.line((8.5, 13.2), (6.6, 13.6), "#888", 1)
    d.text((8.6, 13.6), "1 1/4 in clear", "start", 12)
    d.text((12, 20.8), "ridge vent", size=13)
    d.text((-1.9, 7.8), "slot", size=13)
    d.text((8.0, 9.8), "knee wall", "start", 13)
    d.line((7.9, 9.9), (5.1, 9.9), "#888", 1)
    d.measure((0, 6.7), (5, 6.7), "5 ft", -0.75)
    d.measure((5, 6.7), (9, 6.7), "4 ft", -0.75)
    d.measure((9, 6.7), (15, 6.7), "6 ft", -0.75)
    d.measure((25.6, 8), (25.6, 16), "8 ft")
    d.measure((25.6, 16), (25.6, 20), "4 ft")
    d.save()


def hip():
    """Plan of a 40 x 24 ft hip roof with a sloped ceiling, rafters 24 in on centre."""
    d = Drawing("attic-hip", (-1.5, -2.5, 41.5, 26.5), 19)
    live, dead = "#cfe8c8", "#eec6c2"
    head = lambda x: min(x, 12, 40 - x)
    for k in range(20):
        a, b = 2 * k, 2 * k + 2
        fill = live if a >= 12 and b <= 28 else dead
        for turn in (False, True):
            y = (lambda v: 24 - v) if turn else (lambda v: v)
            d.loop([(a, y(0)), (b, y(0)), (b, y(head(b))), (a, y(head(a)))], fill, "#888", 0.8)
    for k in range(12):
        a, b = 2 * k, 2 * k + 2
        depth = lambda t: min(t, 24 - t)
        for x in ((lambda u: u), (lambda u: 40 - u)):
            d.loop([(x(0), a), (x(0), b), (x(depth(b)), b), (x(depth(a)), a)], dead, "#888", 0.8)
    for corner, peak in (((0, 0), (12, 12)), ((0, 24), (12, 12)), ((40, 0), (28, 12)),
                         ((40, 24), (28, 12))):
        d.line(corner, peak, "#333", 2.5)
    d.line((12, 12), (28, 12), "#333", 2.5)
    d.line((13, 12), (27, 12), ARROW, 5)
    d.text((20, 12.7), "ridge vent, 14 ft", size=13)
    d.text((20, 5), "commons: up the bay, out at the ridge", size=13)
    d.text((6.2, 1.0), "jacks: die at the hip", size=13)
    d.measure((0, -1), (12, -1), "12 ft", -1.1)
    d.measure((12, -1), (28, -1), "16 ft: 8 bays a side", -1.1)
    d.measure((28, -1), (40, -1), "12 ft", -1.1)
    d.save()


cape()
hip()
