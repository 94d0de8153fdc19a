#include "report/dxf.hpp"

#include <dxflib/dl_dxf.h>

#include <memory>
#include <numbers>
#include <stdexcept>

#include "report/scratch_file.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr const char* cut = "CUT";
constexpr const char* etch = "ETCH";
constexpr const char* bend_up = "BEND_UP";
constexpr const char* bend_down = "BEND_DOWN";

DL_Attributes on(const char* layer) { return {layer, 256, -1, "BYLAYER", 1.0}; }

void write_header(DL_Dxf& dxf, DL_WriterA& out) {
  dxf.writeHeader(out);
  out.dxfString(9, "$INSUNITS");
  out.dxfInt(70, 4);   // millimetres
  out.dxfString(9, "$MEASUREMENT");
  out.dxfInt(70, 1);   // metric
  out.sectionEnd();
}

void write_layers(DL_Dxf& dxf, DL_WriterA& out) {
  out.tableLayers(5);
  const auto layer = [&](const char* name, int colour) {
    dxf.writeLayer(out, DL_LayerData(name, 0), DL_Attributes("", colour, 25, "CONTINUOUS", 1.0));
  };
  layer("0", 7);
  layer(cut, 7);
  layer(etch, 5);
  layer(bend_up, 3);
  layer(bend_down, 1);
  out.tableEnd();
}

void write_tables(DL_Dxf& dxf, DL_WriterA& out) {
  out.sectionTables();
  dxf.writeVPort(out);
  out.tableLinetypes(3);
  for (const char* name : {"BYBLOCK", "BYLAYER", "CONTINUOUS"}) {
    dxf.writeLinetype(out, DL_LinetypeData(name, "", 0, 0, 0.0));
  }
  out.tableEnd();
  write_layers(dxf, out);
  out.tableStyle(1);
  dxf.writeStyle(out, DL_StyleData("Standard", 0, 0.0, 1.0, 0.0, 0, 2.5, "txt", ""));
  out.tableEnd();
  dxf.writeView(out);
  dxf.writeUcs(out);
  out.tableAppid(1);
  dxf.writeAppid(out, "ACAD");
  out.tableEnd();
  dxf.writeDimStyle(out, 1, 1, 1, 1, 1);
  dxf.writeBlockRecord(out);
  out.tableEnd();
  out.sectionEnd();
}

void write_blocks(DL_Dxf& dxf, DL_WriterA& out) {
  out.sectionBlocks();
  for (const char* name : {"*Model_Space", "*Paper_Space", "*Paper_Space0"}) {
    dxf.writeBlock(out, DL_BlockData(name, 0, 0.0, 0.0, 0.0));
    dxf.writeEndBlock(out, name);
  }
  out.sectionEnd();
}

void write_path(DL_Dxf& dxf, DL_WriterA& out, const fabrication::Path& path) {
  const int closed = 1;
  dxf.writePolyline(out, DL_PolylineData(static_cast<int>(path.size()), 0, 0, closed), on(cut));
  for (const fabrication::PathPoint& p : path) dxf.writeVertex(out, DL_VertexData(p.a, p.b, 0, p.bulge));
  dxf.writePolylineEnd(out);
}

void write_cuts(DL_Dxf& dxf, DL_WriterA& out, const fabrication::FlatPattern& flat) {
  write_path(dxf, out, flat.outline);
  for (const fabrication::FlatHole& hole : flat.holes) {
    if (hole.kind == fabrication::HoleKind::round) {
      dxf.writeCircle(out, DL_CircleData(hole.centre.a, hole.centre.b, 0, hole.diameter / 2), on(cut));
    } else {
      write_path(dxf, out, fabrication::hole_path(hole));
    }
  }
}

void write_line(DL_Dxf& dxf, DL_WriterA& out, fabrication::FlatPoint from, fabrication::FlatPoint to, const char* layer) {
  dxf.writeLine(out, DL_LineData(from.a, from.b, 0, to.a, to.b, 0), on(layer));
}

void write_marks(DL_Dxf& dxf, DL_WriterA& out, const fabrication::FlatPattern& flat) {
  for (const fabrication::EtchText& text : flat.etch_texts) {
    const double angle = text.angle_deg * std::numbers::pi / 180;
    dxf.writeText(out, DL_TextData(text.at.a, text.at.b, 0, text.at.a, text.at.b, 0, text.height, 1.0, 0, 0, 0,
                                   ascii_line(text.text), "Standard", angle),
                  on(etch));
  }
  for (const fabrication::EtchLine& line : flat.etch_lines) write_line(dxf, out, line.from, line.to, etch);
  for (const fabrication::BendLine& bend : flat.bends) write_line(dxf, out, bend.from, bend.to, bend.up ? bend_up : bend_down);
}

}  // namespace

std::string to_dxf(const fabrication::SheetPart& part, survey::CutFiles what) {
  const ScratchFile scratch;
  DL_Dxf dxf;
  const std::unique_ptr<DL_WriterA> out(dxf.out(scratch.path().c_str(), DL_Codes::AC1015));
  if (!out) throw std::runtime_error("cannot write the temporary file " + scratch.path());
  write_header(dxf, *out);
  write_tables(dxf, *out);
  write_blocks(dxf, *out);
  out->sectionEntities();
  write_cuts(dxf, *out, part.flat);
  if (what == survey::CutFiles::marked) write_marks(dxf, *out, part.flat);
  out->sectionEnd();
  dxf.writeObjects(*out);
  dxf.writeObjectsEnd(*out);
  out->dxfEOF();
  out->close();
  return scratch.bytes();
}

std::string dxf_name(const fabrication::SheetPart& part) {
  return file_part(part.mark) + "_" + file_part(part.name) + "_" + file_part(part.material) + "_" + number(part.thickness, 2) +
         "mm_" + std::to_string(part.quantity) + "off_rev-" + file_part(part.revision) + ".dxf";
}

}  // namespace cellstow::report
