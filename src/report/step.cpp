#include "report/step.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Controller.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "report/scratch_file.hpp"
#include "report/step_order.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using fabrication::BendSolid;
using fabrication::FlatPoint;
using fabrication::Path;
using fabrication::Placement;
using fabrication::PlateSolid;
using fabrication::Space;

gp_Pnt point(const Space& at) { return {at[0], at[1], at[2]}; }
gp_Vec vector(const Space& along, double length) { return {along[0] * length, along[1] * length, along[2] * length}; }

/// Half way along an arc of this bulge.
FlatPoint middle_of_arc(const FlatPoint& from, const FlatPoint& to, double bulge) {
  return {(from.a + to.a) / 2 + bulge * (to.b - from.b) / 2, (from.b + to.b) / 2 - bulge * (to.a - from.a) / 2};
}

TopoDS_Wire wire_of(const Placement& at, const Path& path) {
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const FlatPoint from{path[i].a, path[i].b};
    const fabrication::PathPoint& next = path[(i + 1) % path.size()];
    const FlatPoint to{next.a, next.b};
    const gp_Pnt p = point(fabrication::in_space(at, from)), q = point(fabrication::in_space(at, to));
    if (p.Distance(q) < 1e-7) continue;
    if (path[i].bulge == 0) {
      wire.Add(BRepBuilderAPI_MakeEdge(p, q).Edge());
    } else {
      const gp_Pnt m = point(fabrication::in_space(at, middle_of_arc(from, to, path[i].bulge)));
      wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(p, m, q).Value()).Edge());
    }
  }
  if (!wire.IsDone()) throw std::runtime_error("STEP: an outline that does not close");
  return wire.Wire();
}

TopoDS_Shape solid_of(const PlateSolid& plate) {
  const gp_Pln plane(gp_Ax3(point(plate.at.origin), gp_Dir(vector(plate.at.normal, 1)), gp_Dir(vector(plate.at.a_axis, 1))));
  BRepBuilderAPI_MakeFace face(plane, wire_of(plate.at, plate.outline), true);
  for (const fabrication::FlatHole& hole : plate.holes) {
    Path path = fabrication::hole_path(hole);
    TopoDS_Wire wire = wire_of(plate.at, path);
    if (fabrication::signed_area(path) > 0) wire.Reverse();
    face.Add(wire);
  }
  if (!face.IsDone()) throw std::runtime_error("STEP: a face that cannot be made");
  return BRepPrimAPI_MakePrism(face.Face(), vector(plate.at.normal, -plate.thickness)).Shape();
}

TopoDS_Shape solid_of(const BendSolid& bend) {
  const auto corner = [&](double along, double out) {
    Space at = bend.axis_point;
    for (std::size_t i = 0; i < 3; ++i) at[i] += along * bend.along[i] + out * bend.start[i];
    return point(at);
  };
  const double inner = bend.inside_radius, outer = bend.inside_radius + bend.thickness;
  BRepBuilderAPI_MakeWire wire;
  const std::array<gp_Pnt, 4> corners{corner(0, inner), corner(bend.length, inner), corner(bend.length, outer), corner(0, outer)};
  for (std::size_t i = 0; i < 4; ++i) wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % 4]).Edge());
  const gp_Ax1 axis(point(bend.axis_point), gp_Dir(vector(bend.along, 1)));
  return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire(), true).Face(), axis, bend.angle_deg * std::numbers::pi / 180).Shape();
}

/// Plates and bends of one piece as one body.
TopoDS_Shape shape_of(const fabrication::FoldedSolid& solid) {
  TopTools_ListOfShape first, rest;
  for (const PlateSolid& plate : solid.plates) (first.IsEmpty() ? first : rest).Append(solid_of(plate));
  for (const BendSolid& bend : solid.bends) rest.Append(solid_of(bend));
  if (first.IsEmpty()) throw std::runtime_error("STEP: a part without plates");
  if (rest.IsEmpty()) return first.First();
  BRepAlgoAPI_Fuse fuse;
  fuse.SetArguments(first);
  fuse.SetTools(rest);
  fuse.Build();
  if (!fuse.IsDone()) throw std::runtime_error("STEP: the plates of a part do not join");
  ShapeUpgrade_UnifySameDomain joined(fuse.Shape());
  joined.Build();
  TopExp_Explorer solids(joined.Shape(), TopAbs_SOLID);
  if (!solids.More()) throw std::runtime_error("STEP: a part without volume");
  const TopoDS_Shape body = solids.Current();
  solids.Next();
  return solids.More() ? joined.Shape() : body;
}

/// From the frame of the box to that of the car.
gp_Trsf turned(core::Heading heading) {
  gp_Trsf turn;
  if (!heading.is_square()) turn.SetRotation(gp::OZ(), heading.degrees() * std::numbers::pi / 180);
  return turn;
}

gp_Ax3 frame_of(const Placement& at) { return {point(at.origin), gp_Dir(vector(at.normal, 1)), gp_Dir(vector(at.a_axis, 1))}; }

bool lies(const gp_Pnt& moved, const Space& at) { return moved.Distance(point(at)) < 1e-6; }
bool points(const gp_Vec& moved, const Space& along) { return (moved - vector(along, 1)).Magnitude() < 1e-9; }

bool same_path(const Path& a, const Path& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const fabrication::PathPoint& p, const fabrication::PathPoint& q) {
    return std::abs(p.a - q.a) < 1e-6 && std::abs(p.b - q.b) < 1e-6 && std::abs(p.bulge - q.bulge) < 1e-9;
  });
}

bool same_plate(const PlateSolid& a, const PlateSolid& b, const gp_Trsf& move) {
  const auto same_hole = [](const fabrication::FlatHole& p, const fabrication::FlatHole& q) { return same_path(fabrication::hole_path(p), fabrication::hole_path(q)); };
  return lies(point(a.at.origin).Transformed(move), b.at.origin) && points(vector(a.at.a_axis, 1).Transformed(move), b.at.a_axis) &&
         points(vector(a.at.normal, 1).Transformed(move), b.at.normal) && std::abs(a.thickness - b.thickness) < 1e-9 && same_path(a.outline, b.outline) &&
         std::equal(a.holes.begin(), a.holes.end(), b.holes.begin(), b.holes.end(), same_hole);
}

bool same_bend(const BendSolid& a, const BendSolid& b, const gp_Trsf& move) {
  return lies(point(a.axis_point).Transformed(move), b.axis_point) && points(vector(a.along, 1).Transformed(move), b.along) &&
         points(vector(a.start, 1).Transformed(move), b.start) && std::abs(a.length - b.length) < 1e-6 && std::abs(a.angle_deg - b.angle_deg) < 1e-9 &&
         std::abs(a.inside_radius - b.inside_radius) < 1e-9 && std::abs(a.thickness - b.thickness) < 1e-9;
}

/// How the one is moved to become the other; nothing when no move does.
std::optional<gp_Trsf> move_between(const fabrication::FoldedSolid& from, const fabrication::FoldedSolid& to) {
  if (from.plates.empty() || to.plates.empty()) return std::nullopt;
  gp_Trsf move;
  move.SetDisplacement(frame_of(from.plates.front().at), frame_of(to.plates.front().at));
  const bool same = std::equal(from.plates.begin(), from.plates.end(), to.plates.begin(), to.plates.end(),
                               [&](const PlateSolid& a, const PlateSolid& b) { return same_plate(a, b, move); }) &&
                    std::equal(from.bends.begin(), from.bends.end(), to.bends.begin(), to.bends.end(),
                               [&](const BendSolid& a, const BendSolid& b) { return same_bend(a, b, move); });
  return same ? std::optional(move) : std::nullopt;
}

class StepDocument {
 public:
  StepDocument() : application_(XCAFApp_Application::GetApplication()) {
    application_->NewDocument("MDTV-XCAF", document_);
    shapes_ = XCAFDoc_DocumentTool::ShapeTool(document_->Main());
    colours_ = XCAFDoc_DocumentTool::ColorTool(document_->Main());
  }
  ~StepDocument() { application_->Close(document_); }
  StepDocument(const StepDocument&) = delete;
  StepDocument& operator=(const StepDocument&) = delete;

  void add(const Assembly& assembly) {
    const TDF_Label whole = shapes_->NewShape();
    name(whole, assembly.name);
    const gp_Trsf turn = turned(assembly.heading);
    for (const AssemblyPart& part : assembly.parts) {
      gp_Trsf place = turn;
      const TDF_Label shape = product_of(part, place);
      name(shapes_->AddComponent(whole, shape, TopLoc_Location(place)), part.name);
    }
    shapes_->UpdateAssemblies();
  }

  std::string bytes(const std::string& file_name) {
    STEPCAFControl_Writer writer;
    writer.SetColorMode(true);
    writer.SetNameMode(true);
    if (!writer.Transfer(document_, STEPControl_AsIs)) throw std::runtime_error("STEP: the assembly cannot be translated");
    APIHeaderSection_MakeHeader header(writer.ChangeWriter().Model());
    header.SetName(new TCollection_HAsciiString(file_name.c_str()));
    header.SetTimeStamp(new TCollection_HAsciiString("2000-01-01T00:00:00"));
    header.SetAuthorValue(1, new TCollection_HAsciiString(""));
    header.SetOriginatingSystem(new TCollection_HAsciiString("cellstow"));
    const ScratchFile scratch;
    if (writer.Write(scratch.path().c_str()) != IFSelect_RetDone) throw std::runtime_error("STEP: cannot write " + scratch.path());
    return in_one_order(scratch.bytes());
  }

 private:
  /// The shape of a part. Pieces of one mark, and cells of one size, share one; `place` moves it to where it stands.
  TDF_Label product_of(const AssemblyPart& part, gp_Trsf& place) {
    const bool is_cell = part.substance == Substance::cell;
    const std::string title = is_cell ? "cell" : part.name;
    std::vector<Made>& made = made_[title];
    for (const Made& known : made) {
      if (const auto move = move_between(known.solid, part.solid)) {
        place = place * *move;
        return known.label;
      }
    }
    fabrication::FoldedSolid solid = part.solid;
    // A cell's shape stands at the origin: in the file a place that moves nothing would lose its own name, "cell 1".
    if (is_cell) {
      solid.plates.front().at.origin = {};
      place = place * *move_between(solid, part.solid);
    }
    made.push_back({solid, product(part, shape_of(solid), title)});
    return made.back().label;
  }

  TDF_Label product(const AssemblyPart& part, const TopoDS_Shape& shape, const std::string& title) {
    const TDF_Label label = shapes_->AddShape(shape, false);
    name(label, title);
    const Colour colour = colour_of(part.substance);
    colours_->SetColor(label, Quantity_Color(colour.red, colour.green, colour.blue, Quantity_TOC_sRGB), XCAFDoc_ColorSurf);
    return label;
  }

  static void name(const TDF_Label& label, const std::string& text) {
    TDataStd_Name::Set(label, TCollection_ExtendedString(ascii_line(text).c_str()));
  }

  Handle(XCAFApp_Application) application_;
  Handle(TDocStd_Document) document_;
  Handle(XCAFDoc_ShapeTool) shapes_;
  Handle(XCAFDoc_ColorTool) colours_;
  struct Made { fabrication::FoldedSolid solid; TDF_Label label; };
  std::map<std::string, std::vector<Made>> made_;
};

}  // namespace

std::string to_step(const Assembly& assembly) {
  // The library keeps settings and counters of its own, once for the whole program.
  static std::mutex one_at_a_time;
  const std::lock_guard lock(one_at_a_time);
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  StepDocument document;
  document.add(assembly);
  return document.bytes(file_part(assembly.name) + ".step");
}

}  // namespace cellstow::report
