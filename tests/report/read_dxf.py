"""Reads cut files with a general-purpose library and prints what is in them, one JSON object a file."""
import json
import sys

import ezdxf
from ezdxf.math import area
from ezdxf.path import make_path


def enclosed(line):
    """Area inside a closed polyline, arcs followed to a thousandth."""
    return abs(area(list(make_path(line).flattening(0.001))))


def contents(path):
    document = ezdxf.readfile(path)
    space = document.modelspace()
    closed = [e for e in space if e.dxftype() == "LWPOLYLINE"]
    circles = [e for e in space if e.dxftype() == "CIRCLE"]
    bends = [e for e in space if e.dxf.layer.startswith("BEND")]
    return {
        "version": document.dxfversion,
        "units": document.header.get("$INSUNITS"),
        "errors": len(document.audit().errors),
        "layers": sorted({e.dxf.layer for e in space}),
        "kinds": sorted({e.dxftype() for e in space}),
        "closed": all(e.closed for e in closed),
        "bulges": sum(1 for e in closed for *_, b in e.get_points("xyb") if b),
        "areas": sorted((enclosed(e) for e in closed), reverse=True),
        "circles": sorted([round(c.dxf.center.x, 6), round(c.dxf.center.y, 6), round(2 * c.dxf.radius, 6)]
                          for c in circles),
        "cut_layers": sorted({e.dxf.layer for e in closed + circles}),
        "bends": sorted([e.dxf.layer, round(e.dxf.start.x, 4), round(e.dxf.start.y, 4), round(e.dxf.end.x, 4),
                         round(e.dxf.end.y, 4)] for e in bends),
        "text": [e.dxf.text for e in space if e.dxftype() == "TEXT"],
    }


for path in sys.argv[1:]:
    print(json.dumps(contents(path)))
