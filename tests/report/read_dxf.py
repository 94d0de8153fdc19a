"""Reads cut files with a general-purpose library and prints what is in them, one JSON object a file."""
import json
import sys

import ezdxf
from ezdxf.math import area


def contents(path):
    document = ezdxf.readfile(path)
    space = document.modelspace()
    outlines = [e for e in space if e.dxftype() == "LWPOLYLINE"]
    circles = [e for e in space if e.dxftype() == "CIRCLE"]
    return {
        "version": document.dxfversion,
        "units": document.header.get("$INSUNITS"),
        "errors": len(document.audit().errors),
        "layers": sorted({e.dxf.layer for e in space}),
        "kinds": sorted({e.dxftype() for e in space}),
        "closed": all(e.closed for e in outlines),
        "bulges": any(b for e in outlines for *_, b in e.get_points("xyb")),
        "outlines": len(outlines),
        "area": sum(abs(area([(x, y) for x, y in e.get_points("xy")])) for e in outlines),
        "circles": sorted([round(c.dxf.center.x, 6), round(c.dxf.center.y, 6), round(2 * c.dxf.radius, 6)]
                          for c in circles),
        "cut_layers": sorted({e.dxf.layer for e in outlines + circles}),
        "text": [e.dxf.text for e in space if e.dxftype() == "TEXT"],
    }


for path in sys.argv[1:]:
    print(json.dumps(contents(path)))
