#include <doctest/doctest.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBndLib.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "cellstow/fabrication/holding_parts.hpp"
#include "cellstow/box/build_box.hpp"
#include "cellstow/packing/pack.hpp"
#include "cellstow/survey/read_job.hpp"
#include "report/outside.hpp"
#include "report/step.hpp"

namespace {

using namespace cellstow;

struct Sample { survey::Job job; plan::BoxPlan box; };

/// A cavity of a shipped sample, packed and boxed.
Sample boxed(const std::string& name, std::size_t cavity, core::Heading heading = {}) {
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  REQUIRE(catalogue.has_value());
  const auto job = survey::read_job(std::filesystem::path(CELLSTOW_SHAPES) / "samples" / (name + ".json"), {}, CELLSTOW_SHAPES, *catalogue);
  REQUIRE(job.has_value());
  Sample sample{*job, {}};
  const survey::Cavity& bay = sample.job.cavities.at(cavity);
  packing::CavityPacking packing = packing::pack_cavity(bay, sample.job.cell, sample.job.rules);
  REQUIRE(!packing.boxes.empty());
  packing.boxes[0].heading = heading;
  sample.box.box = box::build_box(packing.boxes[0], bay, sample.job.cell, sample.job.rules, "TW", 1);
  sample.box.straps = restraint::design_straps(sample.box.box, sample.job.cell, sample.job.rules, *catalogue);
  sample.box.sheet = fabrication::make_sheet_work(sample.box.box, sample.job.rules, "A");
  sample.box.holding = fabrication::holding_parts(sample.box.box, sample.box.straps, {}, sample.job.rules, "A");
  return sample;
}

struct Body { std::string name; TopoDS_Shape shape; double volume_mm3 = 0; std::array<double, 6> bounds{}; bool coloured = false; };

std::string name_of(const TDF_Label& label) {
  Handle(TDataStd_Name) name;
  if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return "";
  std::ostringstream text;
  text << name->Get();
  return text.str();
}

/// Every part of the file, read by the reader of the same general-purpose library.
std::vector<Body> read_back(const std::string& step) {
  const outside::Folder folder("step");
  const auto path = folder.path() / "box.step";
  std::ofstream(path, std::ios::binary) << step;
  Handle(TDocStd_Document) document;
  const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
  application->NewDocument("MDTV-XCAF", document);
  STEPCAFControl_Reader reader;
  reader.SetNameMode(true);
  reader.SetColorMode(true);
  REQUIRE(reader.ReadFile(path.string().c_str()) == IFSelect_RetDone);
  REQUIRE(reader.Transfer(document));
  const auto shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const auto colours = XCAFDoc_DocumentTool::ColorTool(document->Main());
  TDF_LabelSequence roots, components;
  shapes->GetFreeShapes(roots);
  REQUIRE(roots.Length() == 1);
  shapes->GetComponents(roots.Value(1), components);
  std::vector<Body> bodies;
  for (int i = 1; i <= components.Length(); ++i) {
    Body body;
    // A place without a name of its own bears its number; the part's name is then that of the product.
    TDF_Label product;
    REQUIRE(shapes->GetReferredShape(components.Value(i), product));
    body.name = name_of(components.Value(i));
    if (body.name == std::to_string(i)) body.name = name_of(product);
    body.shape = shapes->GetShape(components.Value(i));
    Quantity_Color colour;
    body.coloured = colours->GetColor(product, XCAFDoc_ColorSurf, colour);
    GProp_GProps properties;
    BRepGProp::VolumeProperties(body.shape, properties);
    body.volume_mm3 = properties.Mass();
    Bnd_Box bounds;
    BRepBndLib::AddOptimal(body.shape, bounds, false);
    bounds.Get(body.bounds[0], body.bounds[1], body.bounds[2], body.bounds[3], body.bounds[4], body.bounds[5]);
    bodies.push_back(std::move(body));
  }
  application->Close(document);
  return bodies;
}

void check_same(const report::Assembly& assembly, const std::vector<Body>& bodies) {
  REQUIRE(bodies.size() == assembly.parts.size());
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const std::string& name = bodies[i].name;
    CAPTURE(name);
    CHECK(bodies[i].name == assembly.parts[i].name);
    CHECK(bodies[i].coloured);
    CHECK(BRepCheck_Analyzer(bodies[i].shape).IsValid());
    CHECK(bodies[i].volume_mm3 == doctest::Approx(fabrication::volume_mm3(assembly.parts[i].solid)).epsilon(1e-6));
  }
}

/// Smallest upright box round a piece's plates; a bend adds at most its outer radius beyond them.
std::array<double, 6> bounds_of(const fabrication::FoldedSolid& solid) {
  std::array<double, 6> out{1e9, 1e9, 1e9, -1e9, -1e9, -1e9};
  for (const fabrication::PlateSolid& plate : solid.plates) {
    for (const fabrication::FlatPoint& corner : fabrication::straightened(plate.outline)) {
      for (const double deep : {0.0, -plate.thickness}) {
        const fabrication::Space at = fabrication::in_space(plate.at, corner, deep);
        for (std::size_t k = 0; k < 3; ++k) out[k] = std::min(out[k], at[k]), out[k + 3] = std::max(out[k + 3], at[k]);
      }
    }
  }
  return out;
}

/// Pieces of one mark share a product and are placed again: each must still stand in its own place.
void check_places(const report::Assembly& assembly, const std::vector<Body>& bodies) {
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const std::string& name = bodies[i].name;
    CAPTURE(name);
    const fabrication::FoldedSolid& solid = assembly.parts[i].solid;
    double reach = 1e-3;
    for (const fabrication::BendSolid& bend : solid.bends) reach = std::max(reach, bend.inside_radius + bend.thickness);
    const std::array<double, 6> wanted = bounds_of(solid);
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(bodies[i].bounds[k] <= wanted[k] + 1e-3);
      CHECK(bodies[i].bounds[k] >= wanted[k] - reach);
      CHECK(bodies[i].bounds[k + 3] >= wanted[k + 3] - 1e-3);
      CHECK(bodies[i].bounds[k + 3] <= wanted[k + 3] + reach);
    }
  }
}

/// Bodies that share room. Faces that touch share none.
std::vector<std::string> clashes(const std::vector<Body>& bodies) {
  std::vector<std::string> found;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    for (std::size_t j = i + 1; j < bodies.size(); ++j) {
      bool near = true;
      for (std::size_t k = 0; k < 3; ++k) {
        near &= bodies[i].bounds[k] < bodies[j].bounds[k + 3] - 1e-4 && bodies[j].bounds[k] < bodies[i].bounds[k + 3] - 1e-4;
      }
      if (!near) continue;
      GProp_GProps properties;
      BRepGProp::VolumeProperties(BRepAlgoAPI_Common(bodies[i].shape, bodies[j].shape).Shape(), properties);
      if (properties.Mass() > 0.01) found.push_back(bodies[i].name + " and " + bodies[j].name + ": " + std::to_string(properties.Mass()) + " mm3");
    }
  }
  return found;
}

}  // namespace

TEST_CASE("solids: read back, every part has its name, a colour and its volume; no two share room") {
  for (const auto& [name, cavity] : {std::pair{"coupe", 0}, std::pair{"estate", 1}, std::pair{"van", 0}}) {
    const std::string sample_name = name;
    CAPTURE(sample_name);
    const Sample sample = boxed(name, static_cast<std::size_t>(cavity));
    const report::Assembly assembly = report::assembly_of(sample.box, sample.job);
    const std::vector<Body> bodies = read_back(report::to_step(assembly));
    check_same(assembly, bodies);
    check_places(assembly, bodies);
    for (const std::string& clash : clashes(bodies)) FAIL_CHECK(clash);
    // The whole lies within the outline and the heights that packing proved clear, and reaches them.
    const packing::BoxLayout& layout = sample.box.box.layout;
    double low = 1e9, high = -1e9, top = -1e9, bottom = 1e9;
    for (const Body& body : bodies) {
      low = std::min(low, body.bounds[0]), high = std::max(high, body.bounds[3]);
      bottom = std::min(bottom, body.bounds[2]), top = std::max(top, body.bounds[5]);
    }
    double first = 1e9, last = -1e9;
    for (const core::Point2& corner : layout.outline) first = std::min(first, corner.a.mm()), last = std::max(last, corner.a.mm());
    // A cap may leave some of the room that flange_mm keeps.
    CHECK(low > first - 1e-3);
    CHECK(high < last + 1e-3);
    CHECK(low < first + sample.job.rules.flange.mm() + 1e-3);
    CHECK(high > last - sample.job.rules.flange.mm() - 1e-3);
    CHECK(bottom == doctest::Approx(layout.z_bottom.mm()).epsilon(1e-6));
    CHECK(top == doctest::Approx(layout.lid_top.mm()).epsilon(1e-6));
  }
}

TEST_CASE("solids: a box that is turned stands turned in the car's frame") {
  const Sample sample = boxed("coupe", 0, core::Heading::from_degrees(30));
  const report::Assembly assembly = report::assembly_of(sample.box, sample.job);
  const std::vector<Body> bodies = read_back(report::to_step(assembly));
  check_same(assembly, bodies);
  const packing::PlacedCell& cell = sample.box.box.layout.cells.front();
  const double u = (cell.body.low.x.mm() + cell.body.high.x.mm()) / 2, v = (cell.body.low.y.mm() + cell.body.high.y.mm()) / 2;
  for (const Body& body : bodies) {
    if (body.name != "cell 1") continue;
    GProp_GProps properties;
    BRepGProp::VolumeProperties(body.shape, properties);
    CHECK(properties.CentreOfMass().X() == doctest::Approx(u * std::cos(std::acos(-1.0) / 6) - v * 0.5));
    CHECK(properties.CentreOfMass().Y() == doctest::Approx(u * 0.5 + v * std::cos(std::acos(-1.0) / 6)));
  }
}

TEST_CASE("solids: same box, same bytes") {
  const Sample sample = boxed("coupe", 0);
  const report::Assembly assembly = report::assembly_of(sample.box, sample.job);
  CHECK((report::to_step(assembly) == report::to_step(assembly)));
}

TEST_CASE("solids: pieces of one mark are one product, placed as often as there are pieces") {
  const Sample sample = boxed("coupe", 0);
  const report::Assembly assembly = report::assembly_of(sample.box, sample.job);
  std::set<std::string> marks;
  std::size_t pieces = 0;
  for (const report::AssemblyPart& part : assembly.parts) {
    if (part.substance == report::Substance::cell) continue;
    marks.insert(part.name);
    ++pieces;
  }
  const std::string step = report::to_step(assembly);
  std::size_t solids = 0;
  for (std::size_t at = step.find("MANIFOLD_SOLID_BREP("); at != std::string::npos; at = step.find("MANIFOLD_SOLID_BREP(", at + 1)) ++solids;
  CHECK(pieces > marks.size() + 3);   // end plates stand in pairs
  CHECK(solids >= marks.size() + 1);  // and one for the cells
  CHECK(solids < pieces);
}
