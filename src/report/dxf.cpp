#include "report/dxf.hpp"

#include <dxflib/dl_dxf.h>

#include <algorithm>
#include <memory>
#include <set>
#include <stdexcept>
#include <tuple>

#include "report/part_mark.hpp"
#include "report/scratch_file.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr const char* cut = "CUT";
constexpr const char* mark = "MARK";

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
  out.tableLayers(3);
  const auto layer = [&](const char* name, int colour) {
    dxf.writeLayer(out, DL_LayerData(name, 0), DL_Attributes("", colour, 25, "CONTINUOUS", 1.0));
  };
  layer("0", 7);
  layer(cut, 7);
  layer(mark, 5);
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

void write_cuts(DL_Dxf& dxf, DL_WriterA& out, const box::Panel& panel) {
  const int corners = static_cast<int>(panel.outline.size());
  const int closed = 1;
  dxf.writePolyline(out, DL_PolylineData(corners, 0, 0, closed), on(cut));
  for (const core::Point2& p : panel.outline) {
    dxf.writeVertex(out, DL_VertexData(p.a.mm(), p.b.mm(), 0, 0));
  }
  dxf.writePolylineEnd(out);
  std::set<std::tuple<core::Point2, core::Length>> written;
  for (const box::Hole& hole : panel.holes) {
    if (!written.insert({hole.centre, hole.diameter}).second) continue;
    dxf.writeCircle(out, DL_CircleData(hole.centre.a.mm(), hole.centre.b.mm(), 0, hole.diameter.mm() / 2),
                    on(cut));
  }
}

void write_marks(DL_Dxf& dxf, DL_WriterA& out, const box::Panel& panel) {
  const std::optional<PartMark> found = part_mark(panel);
  if (!found) return;
  dxf.writeText(out, DL_TextData(found->at.a, found->at.b, 0, found->at.a, found->at.b, 0,
                                 found->letter_height, 1.0, 0, 0, 0, found->text, "Standard", 0.0),
                on(mark));
  for (const auto& [from, to] : found->arrow) {
    dxf.writeLine(out, DL_LineData(from.a, from.b, 0, to.a, to.b, 0), on(mark));
  }
}

}  // namespace

std::string to_dxf(const box::Panel& panel) {
  const ScratchFile scratch;
  DL_Dxf dxf;
  const std::unique_ptr<DL_WriterA> out(dxf.out(scratch.path().c_str(), DL_Codes::AC1015));
  if (!out) throw std::runtime_error("cannot write the temporary file " + scratch.path());
  write_header(dxf, *out);
  write_tables(dxf, *out);
  write_blocks(dxf, *out);
  out->sectionEntities();
  write_cuts(dxf, *out, panel);
  write_marks(dxf, *out, panel);
  out->sectionEnd();
  dxf.writeObjects(*out);
  dxf.writeObjectsEnd(*out);
  out->dxfEOF();
  out->close();
  return scratch.bytes();
}

std::string dxf_name(const box::Panel& panel) {
  return file_part(panel.mark) + "_" + file_part(panel.name) + "_" + file_part(panel.material) + "_" +
         mm_text(panel.thickness) + "mm_" + std::to_string(panel.quantity) + "off.dxf";
}

}  // namespace cellstow::report
