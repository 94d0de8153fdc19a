"""Prints a workbook as JSON, {sheet: rows}; standard library only, after ISO/IEC 29500-1."""
import json
import sys
import xml.etree.ElementTree as tree
import zipfile

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"

with zipfile.ZipFile(sys.argv[1]) as book:
    assert book.testzip() is None
    shared = [
        "".join(t.text or "" for t in item.iter(MAIN + "t"))
        for item in tree.fromstring(book.read("xl/sharedStrings.xml"))
    ]
    sheets = {}
    for number, sheet in enumerate(tree.fromstring(book.read("xl/workbook.xml")).find(MAIN + "sheets"), 1):
        rows = []
        for row in tree.fromstring(book.read(f"xl/worksheets/sheet{number}.xml")).iter(MAIN + "row"):
            cells = []
            for cell in row:
                value = cell.find(MAIN + "v").text
                cells.append(shared[int(value)] if cell.get("t") == "s" else float(value))
            rows.append(cells)
        sheets[sheet.get("name")] = rows
    print(json.dumps(sheets))
