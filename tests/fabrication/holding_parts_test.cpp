#include "cellstow/fabrication/holding_parts.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "cellstow/fabrication/bend.hpp"
#include "cellstow/fabrication/cut_check.hpp"
#include "fabrication/boxes.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::fabrication;
using namespace cellstow::fabrication::testing;

/// One block, 400 over all along its run, 180 across, 210 high, standing at (100, 50, 306).
box::Box one_block(packing::Run runs) {
  box::Box box;
  box.mark = "TW";
  packing::Block block;
  block.id = 3;
  block.cells = 5;
  block.runs = runs;
  const bool u = runs == packing::Run::u;
  block.body = {{mm(100), mm(50), mm(306)}, {mm(u ? 500 : 280), mm(u ? 230 : 450), mm(516)}};
  box.layout.blocks = {block};
  return box;
}

restraint::StrapPlan two_straps(double radius) {
  restraint::Strap strap;
  strap.mark = "TW-S-B3";
  strap.block = 3;
  strap.quantity = 2;
  strap.width = mm(40);
  strap.thickness = mm(4);
  strap.bend_radius = mm(radius);
  strap.span = mm(388);
  strap.foot = mm(28);
  strap.leg = mm(210 - 28);
  strap.bolt = "M6";
  strap.bolt_hole = mm(7);
  strap.cut_length = mm(800);
  return {{strap}, {}, {}};
}

restraint::HoldDownPlan two_bars() {
  restraint::HoldDown bar;
  bar.mark = "TW-H-B3";
  bar.block = 3;
  bar.width = mm(20);
  bar.thickness = mm(6);
  bar.cut_length = mm(392);
  bar.beside = mm(35);
  bar.screw = "M5";
  bar.screw_hole = mm(5.5);
  restraint::HoldDownPlan plan;
  plan.bars = {bar};
  return plan;
}

survey::Rules rules() {
  survey::Rules out = plain_rules();
  out.end_plate = mm(10);
  out.strap_space = mm(6);
  out.materials.strap = sheet();
  out.materials.strap.name = "bar";
  out.materials.hold_down = sheet();
  return out;
}

const PlateSolid& holed(const FoldedSolid& solid, bool first) {
  const PlateSolid* found = nullptr;
  for (const PlateSolid& plate : solid.plates) {
    if (!plate.holes.empty() && (!found || !first)) found = &plate;
  }
  REQUIRE(found);
  return *found;
}

}  // namespace

TEST_CASE("holding parts: marks hang on the block, one kind each") {
  const std::vector<SheetPart> parts = holding_parts(one_block(packing::Run::u), two_straps(6), two_bars(), rules(), "B");
  REQUIRE(parts.size() == 3);
  CHECK(parts[0].mark == "TW-E-B3");
  CHECK(parts[1].mark == "TW-S-B3");
  CHECK(parts[2].mark == "TW-H-B3");
  for (const SheetPart& part : parts) {
    CHECK(part.quantity == 2);
    CHECK(part.folded.size() == 2);
    CHECK(part.revision == "B");
    if (part.kind == PartKind::plate) {
      for (const std::string& fault : cut_faults(drilled_later(part))) FAIL_CHECK(part.mark << ": " << fault);
    }
  }
  CHECK(parts[0].mass.value() == doctest::Approx((180 * 210 - 2 * 3.14159265 * 3.5 * 3.5) * 10 * 2.7e-6));
  CHECK(holding_parts(one_block(packing::Run::u), {}, {}, rules(), "A").size() == 1);
}

TEST_CASE("holding parts: the strap's flat is the developed length of DIN 6935, whatever the radius") {
  for (const double radius : {4.0, 6.0, 8.0, 12.0}) {
    const SheetPart strap = holding_parts(one_block(packing::Run::u), two_straps(radius), {}, rules(), "A").at(1);
    const FlatExtent size = extent_of(strap.flat.outline);
    // outside legs 210 + 4, outside back 388 + 2 x 4
    CHECK(size.width() == doctest::Approx(2 * 214 + 396 + 2 * din_6935_addition_mm(90, radius, 4)).epsilon(1e-9));
    CHECK(size.height() == doctest::Approx(40));
    CHECK(strap.flat.bends.size() == 2);
    for (const BendLine& bend : strap.flat.bends) CHECK_FALSE(bend.up);
  }
}

TEST_CASE("holding parts: every foot lies flat on its end plate, hole on hole; straps share the breadth evenly") {
  for (const packing::Run runs : {packing::Run::u, packing::Run::v}) {
    const std::vector<SheetPart> parts = holding_parts(one_block(runs), two_straps(6), {}, rules(), "A");
    const SheetPart &plates = parts.at(0), &strap = parts.at(1);
    const std::size_t along = runs == packing::Run::u ? 0 : 1, across = 1 - along;
    const double start = along == 0 ? 100 : 50, low = along == 0 ? 50 : 100;
    int met = 0;
    for (const FoldedSolid& piece : strap.folded) {
      for (const PlateSolid& leg : piece.plates) {
        for (const FlatHole& hole : leg.holes) {
          const Space outer = in_space(leg.at, hole.centre), inner = in_space(leg.at, hole.centre, -leg.thickness);
          CHECK(outer[2] == doctest::Approx(306 + 14));
          const bool first = outer[along] < start + 200;
          CHECK(inner[along] == doctest::Approx(first ? start + 6 : start + 394));   // strap space 6: against the end plate
          CHECK(outer[along] == doctest::Approx(first ? start + 2 : start + 398));   // within the block's own length
          for (const FoldedSolid& end : plates.folded) {
            for (const FlatHole& tapped : end.plates.at(0).holes) {
              const Space at = in_space(end.plates.at(0).at, tapped.centre);
              met += std::hypot(at[0] - inner[0], at[1] - inner[1], at[2] - inner[2]) < 1e-6;
            }
          }
          const double w = inner[across] - low;
          CHECK((w == doctest::Approx(45) || w == doctest::Approx(135)));
        }
      }
    }
    CHECK(met == 4);
    // plates stand from 6 to 16 mm in from both ends, over the block's breadth and height
    for (const FoldedSolid& end : plates.folded) {
      const PlateSolid& plate = end.plates.at(0);
      const Space outer = in_space(plate.at, {0, 0}), inner = in_space(plate.at, {180, 210}, -10);
      const bool first = outer[along] < start + 200;
      CHECK(outer[along] == doctest::Approx(first ? start + 6 : start + 394));
      CHECK(inner[along] == doctest::Approx(first ? start + 16 : start + 384));
      CHECK(std::min(outer[across], inner[across]) == doctest::Approx(low));
      CHECK(std::max(outer[across], inner[across]) == doctest::Approx(low + 180));
      CHECK(inner[2] == doctest::Approx(516));
      // right-handed
      const Placement& p = plate.at;
      CHECK(p.a_axis[1] * p.b_axis[2] - p.a_axis[2] * p.b_axis[1] == doctest::Approx(p.normal[0]));
      CHECK(p.a_axis[2] * p.b_axis[0] - p.a_axis[0] * p.b_axis[2] == doctest::Approx(p.normal[1]));
    }
  }
}

TEST_CASE("holding parts: bars lie on the block, their holes over the middles of the end plates") {
  const SheetPart bar = holding_parts(one_block(packing::Run::v), {}, two_bars(), rules(), "A").at(1);
  for (std::size_t i = 0; i < 2; ++i) {
    const PlateSolid& plate = holed(bar.folded.at(i), true);
    REQUIRE(plate.holes.size() == 2);
    for (const FlatHole& hole : plate.holes) {
      const Space at = in_space(plate.at, hole.centre, -plate.thickness);
      CHECK(at[2] == doctest::Approx(516));
      CHECK(std::abs(at[0] - 190) == doctest::Approx(35));
      CHECK((at[1] == doctest::Approx(50 + 6 + 5) || at[1] == doctest::Approx(450 - 6 - 5)));
    }
  }
}

TEST_CASE("holding parts: holes too small for the thickness are marked to drill, the others are cut") {
  const SheetPart plate = holding_parts(one_block(packing::Run::u), two_straps(6), {}, rules(), "A").at(0);   // 10 mm, holes of 7
  const SheetPart cut = drilled_later(plate);
  CHECK(plate.flat.holes.size() == 2);
  CHECK(cut.flat.holes.empty());
  CHECK(cut.flat.etch_lines.size() == plate.flat.etch_lines.size() + 4);
  const EtchLine cross = cut.flat.etch_lines.back();
  CHECK((cross.from.a + cross.to.a) / 2 == doctest::Approx(plate.flat.holes.back().centre.a));
  CHECK((cross.from.b + cross.to.b) / 2 == doctest::Approx(plate.flat.holes.back().centre.b));
  survey::Rules thin = rules();
  thin.end_plate = mm(6);
  CHECK(drilled_later(holding_parts(one_block(packing::Run::u), two_straps(6), {}, thin, "A").at(0)).flat.holes.size() == 2);
}
