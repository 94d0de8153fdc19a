#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "fabrication/boxes.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::fabrication;
using namespace cellstow::fabrication::testing;

bool any_contains(const std::vector<std::string>& lines, const std::string& text) {
  return std::any_of(lines.begin(), lines.end(), [&](const std::string& line) { return line.find(text) != std::string::npos; });
}

std::set<std::string> marks(const SheetWork& work) {
  std::set<std::string> out;
  for (const SheetPart& part : work.parts) out.insert(part.mark);
  return out;
}

const SheetPart& part(const SheetWork& work, const std::string& mark) {
  for (const SheetPart& p : work.parts) {
    if (p.mark == mark) return p;
  }
  FAIL("no part " << mark);
  return work.parts.front();
}

const core::Check* check(const SheetWork& work, const std::string& name) {
  for (const core::Check& c : work.checks) {
    if (c.name == name) return &c;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("folded pan: flat size by hand") {
  survey::Rules rules = plain_rules();
  const SheetWork work = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  CHECK(work.construction == Construction::folded_pan);
  const SheetPart& pan = part(work, "TW-PAN");
  // Outside legs: 400 across, walls 140 - 2 (lid) - 2 (gasket) = 136 high; two bends of 90 degrees, R 3, T 3, K 0.4:
  // deduction 2 x 6 - pi/2 x (3 + 1.2) = 5.4027 each.
  const double deduction = 12 - std::numbers::pi / 2 * 4.2;
  CHECK(extent_of(pan.flat.outline).width() == doctest::Approx(400 + 2 * 136 - 2 * deduction));
  CHECK(extent_of(pan.flat.outline).height() == doctest::Approx(300 + 2 * 136 - 2 * deduction));
  CHECK(pan.flat.bends.size() == 4);
  CHECK(pan.flat.bends[0].up);
  CHECK(pan.flat.bends[0].deduction == doctest::Approx(deduction));
  CHECK(marks(work) == std::set<std::string>{"TW-PAN", "TW-LID"});
}

TEST_CASE("the shop's bend test changes the flat, not the box") {
  survey::Rules rules = plain_rules();
  const double before = extent_of(make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A").parts[0].flat.outline).width();
  survey::BendTest test;
  test.material = rules.materials.wall.name;
  test.thickness = mm(3);
  test.inside_radius = mm(3);
  test.legs = {mm(50), mm(50)};
  test.flat = mm(95);  // deduction 5 in place of 5.4027
  rules.bend_tests = {test};
  const SheetWork work = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  CHECK(extent_of(work.parts[0].flat.outline).width() - before == doctest::Approx(2 * (12 - std::numbers::pi / 2 * 4.2 - 5)));
  CHECK_FALSE(any_contains(work.cautions, "K factor"));
}

TEST_CASE("construction follows depth, outline, sheet and the shop's wish") {
  survey::Rules rules = plain_rules();
  CHECK(make_sheet_work(rectangle_box(400, 300, 300, rules), rules, "A").construction == Construction::folded_wrap);
  CHECK(marks(make_sheet_work(rectangle_box(400, 300, 300, rules), rules, "A")) ==
        std::set<std::string>{"TW-WRAP", "TW-WALL-FRONT-1", "TW-WALL-REAR-1", "TW-LID"});
  CHECK(make_sheet_work(stepped_box(400, 300, 100, 100, 140, rules), rules, "A").construction == Construction::welded_panels);
  rules.floor = mm(4);
  const SheetWork unlike = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  CHECK(unlike.construction == Construction::welded_panels);
  CHECK(unlike.why.find("different sheet") != std::string::npos);
  rules.floor = rules.wall;
  rules.build = survey::Build::welded_panels;
  CHECK(make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A").construction == Construction::welded_panels);
}

TEST_CASE("a fold that would stand in the cells' way is not made") {
  survey::Rules rules = plain_rules();
  rules.liner = mm(0);
  const SheetWork work = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  CHECK(work.construction == Construction::welded_panels);
  CHECK(work.why.find("inside radius of 3.0 mm would stand") != std::string::npos);
  // A corner 1 mm from wall and floor clears a radius of 2 + sqrt 2 = 3.41 and no more.
  rules.liner = mm(1);
  CHECK(make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A").construction == Construction::folded_pan);
  rules.bend_radius = mm(3.5);
  CHECK(make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A").construction == Construction::welded_panels);
}

TEST_CASE("lid: tabs, cap or flange, by the room kept outside the walls") {
  survey::Rules rules = plain_rules();
  const auto style = [&](double flange) {
    rules.flange = mm(flange);
    return make_sheet_work(rectangle_box(500, 400, 140, rules), rules, "A").lid;
  };
  CHECK(style(0) == LidStyle::plate_on_tabs);
  CHECK(style(2.4) == LidStyle::plate_on_tabs);
  CHECK(style(2.5) == LidStyle::cap);
  CHECK(style(5) == LidStyle::cap);
  CHECK(style(15) == LidStyle::plate_on_flange);
  CHECK(part(make_sheet_work(rectangle_box(500, 400, 140, rules), rules, "A"), "TW-FLANGE").quantity == 1);
  CHECK(style(20) == LidStyle::plate_on_flange);
  CHECK(part(make_sheet_work(rectangle_box(500, 400, 140, rules), rules, "A"), "TW-PAN").flat.bends.size() == 8);
}

TEST_CASE("lid screws: holes in the lid stand over the nuts") {
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Made made = random_made(seed);
    std::vector<std::array<double, 2>> nuts, screws;
    std::vector<Space> pressed, slots;
    for (const SheetPart& p : made.work.parts) {
      for (const FoldedSolid& piece : p.folded) {
        for (const PlateSolid& plate : piece.plates) {
          for (const FlatHole& hole : plate.holes) {
            const Space at = in_space(plate.at, hole.centre);
            if (hole.what == "rivet nut M5") nuts.push_back({at[0], at[1]});
            if (hole.what == "lid screw M5") screws.push_back({at[0], at[1]});
            if (hole.what == "press nut M4") pressed.push_back(at);
            if (hole.what == "lid screw M4") slots.push_back(at);
          }
        }
      }
    }
    CHECK(nuts.size() == screws.size());
    CHECK(pressed.size() == slots.size());
    for (const Space& nut : pressed) {
      // Straight out through the wall's skin, the play and the lid's edge.
      CHECK(std::any_of(slots.begin(), slots.end(), [&](const Space& s) {
        return std::abs(std::hypot(s[0] - nut[0], s[1] - nut[1])) < made.rules.wall.mm() + made.rules.lid.mm() + 0.6 && std::abs(s[2] - nut[2]) < 0.01;
      }));
    }
    for (const auto& nut : nuts) {
      CHECK(std::any_of(screws.begin(), screws.end(), [&](const auto& s) { return std::hypot(s[0] - nut[0], s[1] - nut[1]) < 0.01; }));
    }
  }
}

TEST_CASE("too few places for tabs: a failing check that names the cure") {
  survey::Rules rules = plain_rules();
  const SheetWork full = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  const core::Check* screws = check(full, "lid screws");
  REQUIRE(screws);
  CHECK_FALSE(screws->ok);
  CHECK(screws->value == 0);
  CHECK(screws->cure.find("flange_mm to 5,") != std::string::npos);
  box::Box roomy = rectangle_box(400, 300, 140, rules);
  roomy.layout.blocks[0].body.low.x = roomy.layout.blocks[0].body.low.x + mm(60);
  roomy.layout.blocks[0].body.high.x = roomy.layout.blocks[0].body.high.x - mm(60);
  const SheetWork work = make_sheet_work(roomy, rules, "A");
  CHECK(check(work, "lid screws")->ok);
}

TEST_CASE("T6 sheet: crack caution with another alloy, weaker beside welds") {
  survey::Rules rules = plain_rules();
  survey::Material& m = rules.materials.wall;
  m.name = "EN AW-6061 T6";
  m.bend_may_crack = true;
  m.proof_strength = core::Mpa::of(240);
  m.welded_proof_strength = core::Mpa::of(115);
  const SheetWork work = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  CHECK(any_contains(work.cautions, "may crack"));
  CHECK(any_contains(work.cautions, "5754"));
  CHECK(any_contains(work.cautions, "115 instead of 240 MPa"));
}

TEST_CASE("outside of the folded box is the body's outline, to the micrometre of the layout") {
  survey::Rules rules = plain_rules();
  for (const double high : {140.0, 300.0}) {
    const box::Box box = rectangle_box(403.217, 296.4, high, rules);
    double low_u = 1e9, high_u = -1e9, low_z = 1e9;
    const SheetWork work = make_sheet_work(box, rules, "A");
    for (const PlateSolid& plate : work.parts[0].folded[0].plates) {
      for (const FlatPoint& p : straightened(plate.outline)) {
        for (const double c : {0.0, -plate.thickness}) {
          const Space at = in_space(plate.at, p, c);
          low_u = std::min(low_u, at[0]);
          high_u = std::max(high_u, at[0]);
          low_z = std::min(low_z, at[2]);
        }
      }
    }
    CHECK(low_u == doctest::Approx(2000));
    CHECK(high_u == doctest::Approx(2403.217));
    CHECK(low_z == doctest::Approx(300));
  }
}

TEST_CASE("welded panels: walls and floor by hand, marks hang on the outline alone") {
  survey::Rules rules = plain_rules();
  const box::Box box = stepped_box(600, 500, 350, 300, 300, rules);
  const SheetWork work = make_sheet_work(box, rules, "A");
  CHECK(marks(work) == std::set<std::string>{"TW-FLOOR", "TW-WALL-FRONT-1", "TW-WALL-LEFT-1", "TW-WALL-REAR-1", "TW-WALL-REAR-2",
                                             "TW-WALL-RIGHT-1", "TW-WALL-RIGHT-2", "TW-LID-TAB", "TW-LID"});
  // Left wall, 600 long: starts behind the front wall's 3 mm, its tab goes on through; 2 gasket, 2 lid, 3 floor, tabs 3 down.
  const FlatExtent left = extent_of(part(work, "TW-WALL-LEFT-1").flat.outline);
  CHECK(left.width() == doctest::Approx(600));
  CHECK(left.height() == doctest::Approx(300 - 2 - 2 - 3 + 3));
  const FlatExtent floor = extent_of(part(work, "TW-FLOOR").flat.outline);
  CHECK(floor.width() == doctest::Approx(600));
  CHECK(floor.height() == doctest::Approx(500));
  box::Box fewer = box;
  fewer.layout.blocks.clear();
  CHECK(marks(make_sheet_work(fewer, rules, "A")).contains("TW-WALL-REAR-2"));
}

TEST_CASE("mass: what is cut times thickness and density") {
  survey::Rules rules = plain_rules();
  const SheetWork work = make_sheet_work(rectangle_box(400, 300, 140, rules), rules, "A");
  double sum = 0;
  for (const SheetPart& p : work.parts) {
    CHECK(p.mass.value() == doctest::Approx(sheet_area(p.flat) * p.thickness * 2.7e-6));
    sum += p.mass.value() * p.quantity;
  }
  CHECK(work.mass.value() == doctest::Approx(sum));
  CHECK(part(work, "TW-LID").mass.value() == doctest::Approx(400 * 300 * 2 * 2.7e-6));
}

TEST_CASE("gland holes are cut where they are asked for, in every construction; a fold or edge too near fails a check") {
  survey::Rules rules = plain_rules();
  for (const double high : {140.0, 300.0}) {
    for (const survey::Build build : {survey::Build::simplest, survey::Build::welded_panels}) {
      rules.build = build;
      for (const std::size_t side : {0u, 1u, 2u, 3u}) {
        const std::vector<CableHole> cables = {{side, 120, 300 + high - 30, 25.5, "cable gland 1"}, {side, 180, 300 + high - 30, 25.5, "cable gland 2"}};
        const SheetWork work = make_sheet_work(rectangle_box(500, 400, high, rules), rules, "A", nullptr, cables);
        int found = 0;
        for (const SheetPart& p : work.parts) {
          for (const FoldedSolid& solid : p.folded) {
            for (const PlateSolid& plate : solid.plates) {
              for (const FlatHole& hole : plate.holes) {
                if (!hole.what.starts_with("cable gland")) continue;
                const double along = hole.what.ends_with("1") ? 120 : 180;
                const Space wanted = side == 0   ? Space{2000 + along, -300, 270 + high}
                                     : side == 1 ? Space{2500, -300 + along, 270 + high}
                                     : side == 2 ? Space{2500 - along, 100, 270 + high}
                                                 : Space{2000, 100 - along, 270 + high};
                double off = 1e9;  // on the outer face, whichever the drawn one is, plus or minus the weld gap
                for (const double deep : {0.0, -plate.thickness}) {
                  const Space at = in_space(plate.at, hole.centre, deep);
                  off = std::min(off, std::hypot(at[0] - wanted[0], at[1] - wanted[1], at[2] - wanted[2]));
                }
                CHECK(off < 0.3);
                ++found;
              }
            }
          }
        }
        CHECK(found == 2);
        REQUIRE(check(work, "sheet over a gland's hole"));
        CHECK(check(work, "sheet over a gland's hole")->ok);
        CHECK(any_contains(work.notes, "cable gland 1: 3.0 mm free behind it"));
      }
    }
  }
  const SheetWork high_up = make_sheet_work(rectangle_box(500, 400, 140, rules), rules, "A", nullptr, {{0, 120, 430, 25.5, "cable gland 1"}});
  CHECK_FALSE(check(high_up, "sheet over a gland's hole")->ok);
  CHECK(any_contains(make_sheet_work(rectangle_box(500, 400, 140, rules), rules, "A").notes, "no holes drawn for cable glands"));
}

TEST_CASE("the breather keeps clear of the glands") {
  const survey::Rules rules = plain_rules();
  const auto breather = [&](const std::vector<CableHole>& cables) {
    const SheetWork work = make_sheet_work(rectangle_box(500, 400, 300, rules), rules, "A", nullptr, cables);
    for (const SheetPart& p : work.parts) {
      for (const FlatHole& hole : p.flat.holes) {
        if (hole.what == "breather") return std::pair{hole, p.flat.holes};
      }
    }
    FAIL("no breather");
    return std::pair<FlatHole, std::vector<FlatHole>>{};
  };
  CHECK(breather({}).first.diameter == 12);
  const auto [hole, all] = breather({{0, 40, 578, 25.5, "cable gland 1"}, {0, 90, 578, 25.5, "cable gland 2"}});
  for (const FlatHole& other : all) {
    if (!other.what.starts_with("cable gland")) continue;
    CHECK(std::hypot(other.centre.a - hole.centre.a, other.centre.b - hole.centre.b) >= (12 + 25.5) / 2 + 25.5 - 1e-9);
  }
}

// Once and a half the gland's hole from centre to centre, beside the nut's own: common practice, no source.
TEST_CASE("a cap's nuts move aside for the glands, none is lost, and the lid's slots move with them") {
  survey::Rules rules = plain_rules();
  rules.flange = mm(5);
  constexpr double gland_mm = 25.5, wide_mm = 500, deep_mm = 400;
  const auto holes = [&](const SheetWork& work, const std::string& what) {
    std::vector<Space> out;
    for (const SheetPart& p : work.parts)
      for (const FoldedSolid& piece : p.folded)
        for (const PlateSolid& plate : piece.plates)
          for (const FlatHole& hole : plate.holes)
            if (hole.what.starts_with(what)) out.push_back(in_space(plate.at, hole.centre));
    return out;
  };
  for (const survey::Build build : {survey::Build::simplest, survey::Build::welded_panels}) {
    rules.build = build;
    const std::vector<Space> plain = holes(make_sheet_work(rectangle_box(wide_mm, deep_mm, 300, rules), rules, "A"), "press nut");
    REQUIRE(!plain.empty());
    int moved = 0;
    for (double along = 30; along <= wide_mm - 30; along += 10) {
      for (const double below : {0.0, 12.0, 30.0}) {
        CAPTURE(along);
        CAPTURE(below);
        const SheetWork work = make_sheet_work(rectangle_box(wide_mm, deep_mm, 300, rules), rules, "A", nullptr, {{0, along, plain.front()[2] - below, gland_mm, "cable gland 1"}});
        const std::vector<Space> nuts = holes(work, "press nut"), slots = holes(work, "lid screw M4");
        CHECK(nuts.size() == plain.size());
        CHECK(slots.size() == plain.size());
        const std::vector<Space> glands = holes(work, "cable gland");
        REQUIRE(glands.size() == 1);
        for (const Space& nut : nuts) {
          if (std::abs(nut[1] - glands[0][1]) < 10)  // in the same wall
            CHECK(std::hypot(nut[0] - glands[0][0], nut[2] - glands[0][2]) >= 0.75 * gland_mm);
          CHECK(std::any_of(slots.begin(), slots.end(), [&](const Space& s) { return std::hypot(s[0] - nut[0], s[1] - nut[1]) < 6 && std::abs(s[2] - nut[2]) < 0.01; }));
          moved += std::none_of(plain.begin(), plain.end(), [&](const Space& p) { return std::hypot(p[0] - nut[0], p[1] - nut[1], p[2] - nut[2]) < 0.01; });
        }
      }
    }
    CHECK(moved > 5);
  }
}

TEST_CASE("loose: nothing to make") {
  box::Box box;
  box.mark = "BO";
  const SheetWork work = make_sheet_work(box, plain_rules(), "A");
  CHECK(work.parts.empty());
  CHECK(work.construction == Construction::none);
}

TEST_CASE("fuse hatch: over the fuse, its cover round it, studs between opening and cover's edge; without room a check says by how much") {
  survey::Rules rules = plain_rules();
  rules.fuse_hatch = true;
  for (const double flange : {0.0, 5.0, 25.0}) {
    rules.flange = mm(flange);
    box::Box box = rectangle_box(600, 400, 200, rules);
    CHECK(any_contains(make_sheet_work(box, rules, "A").notes, "no fuse in this box"));
    packing::PlacedFitting fuse;
    fuse.name = "main fuse";
    fuse.body = {{mm(2200), mm(-200), mm(310)}, {mm(2370), mm(-120), mm(400)}};
    box.layout.fittings = {fuse};
    const SheetWork work = make_sheet_work(box, rules, "A");
    REQUIRE(check(work, "sheet round the fuse hatch"));
    CHECK(check(work, "sheet round the fuse hatch")->ok);
    CHECK(check(work, "hatch cover over the lid")->value == doctest::Approx(2 + 2 + 2.7 + 1));
    const SheetPart &lid = part(work, "TW-LID"), &cover = part(work, "TW-HATCH");
    CHECK(extent_of(cover.flat.outline).width() == doctest::Approx(170 + 36));
    CHECK(extent_of(cover.flat.outline).height() == doctest::Approx(80 + 36));
    // opening and studs where they stand, read off the solids
    const PlateSolid& top = lid.folded.at(0).plates.at(0);
    int openings = 0, studs = 0;
    for (const FlatHole& hole : top.holes) {
      const Space at = in_space(top.at, hole.centre);
      if (hole.what == "fuse hatch") {
        ++openings;
        CHECK(at[0] == doctest::Approx(2285));
        CHECK(at[1] == doctest::Approx(-160));
        // 170 x 80 less four corners of radius 8: (4 - pi) r^2
        CHECK(std::abs(signed_area(hole.contour)) == doctest::Approx(170 * 80 - (4 - std::numbers::pi) * 64));
      }
      if (hole.what != "press stud M5") continue;
      ++studs;
      const PlateSolid& plate = cover.folded.at(0).plates.at(0);
      CHECK(std::any_of(plate.holes.begin(), plate.holes.end(), [&](const FlatHole& over) {
        const Space p = in_space(plate.at, over.centre);
        return std::hypot(p[0] - at[0], p[1] - at[1]) < 1e-6;
      }));
    }
    CHECK(openings == 1);
    CHECK(studs == static_cast<int>(cover.flat.holes.size()));
    CHECK(check(work, "parts fit to cut") == nullptr);
    // 10 mm from the wall's inner face: 8 short
    box.layout.fittings[0].body = {{mm(2013 + flange), mm(-200), mm(310)}, {mm(2183 + flange), mm(-120), mm(400)}};
    const SheetWork tight = make_sheet_work(box, rules, "A");
    CHECK_FALSE(check(tight, "sheet round the fuse hatch")->ok);
    CHECK(check(tight, "sheet round the fuse hatch")->value == doctest::Approx(10).epsilon(0.001));
    CHECK_FALSE(marks(tight).contains("TW-HATCH"));
  }
}
