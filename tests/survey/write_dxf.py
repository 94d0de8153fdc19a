"""Drawings written by a library that shares nothing with the program: python3 write_dxf.py FOLDER

The same two sections in several ways of drawing them, in R12 and in R2010, in mm and in inches.
"""
import math
import random
import sys

import ezdxf
from ezdxf import units

# A well of 600 x 850 with its far right corner rounded by 50, the left wall pushed in by an arc, and a round post.
CORNERS = [(0, 0), (600, 0), (600, 800), (550, 850), (0, 850), (0, 525), (0, 325)]
ROUND_CORNER = ((550, 800), 50, 0, 90)  # centre, radius, from, to
POST = ((300, 400), 20)
# The arc of the left wall: half a circle of radius 100 into the space.
PUSHED_IN = ((0, 425), 100, 270, 90)
SECOND = [(-10, -10), (610, -10), (610, 860), (-10, 860)]


def straight_pieces():
    c = CORNERS
    return [(c[0], c[1]), (c[1], c[2]), (c[3], c[4]), (c[4], c[5]), (c[6], c[0])]


def as_pieces(space, scale, shuffled):
    """Lines and arcs one by one, out of order and half of them reversed when shuffled."""
    s = lambda p: (p[0] * scale, p[1] * scale)
    pieces = [("line", a, b) for a, b in straight_pieces()] + [("arc", ROUND_CORNER), ("arc", PUSHED_IN)]
    rng = random.Random(4)
    if shuffled:
        rng.shuffle(pieces)
    for piece in pieces:
        if piece[0] == "line":
            a, b = piece[1], piece[2]
            if shuffled and rng.random() < 0.5:
                a, b = b, a
            space.add_line(s(a), s(b), dxfattribs={"layer": "S330"})
        else:
            centre, radius, start, end = piece[1]
            space.add_arc(s(centre), radius * scale, start, end, dxfattribs={"layer": "S330"})
    space.add_circle(s(POST[0]), POST[1] * scale, dxfattribs={"layer": "S330"})


def as_polyline(space, scale, light):
    """One closed polyline with bulges; the post as a polyline of two half turns."""
    quarter = math.tan(math.radians(90) / 4)
    bulges = {2: quarter, 5: -1}
    points = [(x * scale, y * scale, bulges.get(i, 0)) for i, (x, y) in enumerate(CORNERS)]
    (cx, cy), r = POST
    post = [((cx - r) * scale, cy * scale, 1), ((cx + r) * scale, cy * scale, 1)]
    add = space.add_lwpolyline if light else space.add_polyline2d
    for outline in (points, post):
        add(outline, format="xyb", close=True, dxfattribs={"layer": "S330"})


def second(space, scale):
    for a, b in zip(SECOND, SECOND[1:] + SECOND[:1]):
        space.add_line((a[0] * scale, a[1] * scale), (b[0] * scale, b[1] * scale), dxfattribs={"layer": "S700"})


def write(folder, name, version, draw, unit, scale, mirrored_arcs=False):
    document = ezdxf.new(version)
    document.units = unit
    for layer in ("S330", "S700"):
        document.layers.new(layer)
    space = document.modelspace()
    draw(space, scale)
    second(space, scale)
    space.add_text("station 330", dxfattribs={"layer": "S330", "height": 5 * scale})
    document.saveas(f"{folder}/{name}.dxf")


def write_below(folder):
    """Drawn from below: arcs whose extrusion points down, as some programs write a mirrored arc."""
    document = ezdxf.new("R2010")
    document.units = units.MM
    space = document.modelspace()
    down = {"layer": "S330", "extrusion": (0, 0, -1)}
    for a, b in straight_pieces():
        space.add_line(a, b, dxfattribs={"layer": "S330"})
    (cx, cy), r, start, end = ROUND_CORNER
    space.add_arc((-cx, cy), r, 180 - end, 180 - start, dxfattribs=down)
    (cx, cy), r, start, end = PUSHED_IN
    space.add_lwpolyline([(0, 525, 1), (0, 325, 0)], format="xyb", dxfattribs=down)
    (cx, cy), r = POST
    space.add_circle((-cx, cy), r, dxfattribs=down)
    document.saveas(f"{folder}/below.dxf")


def write_curves(folder):
    document = ezdxf.new("R2010")
    document.units = units.MM
    space = document.modelspace()
    space.add_spline([(0, 0), (300, 20), (600, 0)], dxfattribs={"layer": "S330"})
    space.add_ellipse((0, 0), (100, 0), 0.5, dxfattribs={"layer": "S330"})
    block = document.blocks.new("BRACKET")
    block.add_line((0, 0), (1, 1))
    space.add_blockref("BRACKET", (0, 0), dxfattribs={"layer": "S330"})
    document.saveas(f"{folder}/curves.dxf")


def main(folder):
    pieces = lambda space, scale: as_pieces(space, scale, shuffled=True)
    in_order = lambda space, scale: as_pieces(space, scale, shuffled=False)
    light = lambda space, scale: as_polyline(space, scale, light=True)
    heavy = lambda space, scale: as_polyline(space, scale, light=False)
    write(folder, "pieces_r2010", "R2010", pieces, units.MM, 1)
    write(folder, "in_order_r2010", "R2010", in_order, units.MM, 1)
    write(folder, "light_r2010", "R2010", light, units.MM, 1)
    write(folder, "heavy_r2010", "R2010", heavy, units.MM, 1)
    write(folder, "light_r2000_inch", "R2000", light, units.IN, 1 / 25.4)
    write(folder, "pieces_r2010_cm", "R2010", pieces, units.CM, 0.1)
    write(folder, "pieces_r12", "R12", pieces, units.MM, 1)
    write(folder, "heavy_r12", "R12", heavy, units.MM, 1)
    write(folder, "pieces_r12_inch", "R12", pieces, units.IN, 1 / 25.4)
    write_below(folder)
    write_curves(folder)


main(sys.argv[1])
