"""Reads drawings with a strict XML reader; prints every coordinate that is not finite or not on the paper."""
import math
import re
import sys
import xml.etree.ElementTree as tree

NUMBER = re.compile(r"-?[\d.]+(?:[eE][-+]?\d+)?|nan|inf")


def points(element):
    tag = element.tag.split("}")[1]
    if tag in ("polygon", "polyline"):
        numbers = [float(n) for n in NUMBER.findall(element.get("points"))]
    elif tag == "path":
        numbers = [float(n) for n in NUMBER.findall(element.get("d"))]
    elif tag == "circle":
        x, y, r = (float(element.get(k)) for k in ("cx", "cy", "r"))
        numbers = [x - r, y - r, x + r, y + r]
    elif tag == "text" and element.get("x"):
        numbers = [float(element.get("x")), float(element.get("y"))]
    elif tag == "text":
        numbers = [float(n) for n in NUMBER.findall(element.get("transform"))][:2]
    else:
        numbers = []
    return list(zip(numbers[::2], numbers[1::2]))


for path in sys.argv[1:]:
    root = tree.parse(path).getroot()
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    if left or top or root.get("width") != root.get("viewBox").split()[2] + "mm":
        print(path, "size", root.get("width"), root.get("viewBox"))
    for element in root.iter():
        for x, y in points(element):
            if not (math.isfinite(x) and math.isfinite(y) and -0.01 <= x <= width + 0.01 and -0.01 <= y <= height + 0.01):
                print(path, element.tag, x, y)
