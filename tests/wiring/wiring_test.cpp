/// Row parity, running voltage, pieces, and what must hold for every order.
#include "cellstow/wiring/wiring.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cellstow/wiring/creepage.hpp"
#include "layouts.hpp"

using namespace cellstow;
using namespace cellstow::wiring;
using namespace cellstow::wiring::testing;
using doctest::Approx;

namespace {

/// What any wiring must keep, from its posts alone.
void check_sound(const survey::Cell& cell, const std::vector<BoxLayout>& layouts, const Wiring& wiring, int parallel, double most_v) {
  std::set<std::pair<int, int>> seen;
  std::size_t cells = 0;
  for (const BoxLayout& layout : layouts) cells += layout.cells.size();
  REQUIRE(wiring.cells.size() == cells);
  for (std::size_t i = 0; i < cells; ++i) {
    const WiredCell& at = wiring.cells[i];
    CHECK(at.number == static_cast<int>(i) + 1);
    CHECK(at.group == static_cast<int>(i) / parallel + 1);
    CHECK(seen.insert({at.box, at.cell}).second);
    CHECK(distance_um(at.plus, at.minus) == 2 * cell.terminal_offset->um());
  }
  const std::size_t groups = cells / static_cast<std::size_t>(parallel);
  CHECK(wiring.links.size() == groups * 2 * static_cast<std::size_t>(parallel - 1) + groups - 1);
  int in_kinds = 0;
  for (const LinkKind& kind : wiring.kinds) in_kinds += kind.count;
  for (const Connection& link : wiring.links) {
    const WiredCell &from = wiring.cells[static_cast<std::size_t>(link.from) - 1], &to = wiring.cells[static_cast<std::size_t>(link.to) - 1];
    CHECK(to.number == from.number + 1);
    if (link.parallel) {
      CHECK(from.group == to.group);
      CHECK(link.from_pole == link.to_pole);
      CHECK_FALSE((link.removable && from.box == to.box));
    } else {
      CHECK(to.group == from.group + 1);
      CHECK(link.from_pole == Pole::plus);
      CHECK(link.to_pole == Pole::minus);
    }
    CHECK((link.join == Join::cable) == (from.box != to.box));
    if (link.join == Join::cable) continue;
    const Spot &a = link.from_pole == Pole::plus ? from.plus : from.minus, &b = link.to_pole == Pole::plus ? to.plus : to.minus;
    CHECK(std::abs(link.centre_mm - std::sqrt(std::pow(a.u - b.u, 2) + std::pow(a.v - b.v, 2) + std::pow(a.z - b.z, 2))) < 0.0006);
    CHECK((link.kind < 0) == (link.join == Join::jumper));
    if (link.kind >= 0) {
      --in_kinds;
      CHECK(link.centre_mm <= longest_link_mm);
      CHECK(std::abs(wiring.kinds[static_cast<std::size_t>(link.kind)].centre_mm - link.centre_mm) <= 0.5005);
      CHECK(wiring.kinds[static_cast<std::size_t>(link.kind)].slack_mm >= 3);
    }
  }
  CHECK(in_kinds == 0);
  int next = 1;
  double sum = 0;
  for (const Piece& piece : wiring.pieces) {
    CHECK(piece.first_group == next);
    next = piece.last_group + 1;
    sum += piece.max_v;
    CHECK(piece.max_v == Approx((piece.last_group - piece.first_group + 1) * cell.voltage->max.value()));
    CHECK(piece.max_v <= most_v);
  }
  CHECK(next == static_cast<int>(groups) + 1);
  CHECK(sum == Approx(static_cast<double>(groups) * cell.voltage->max.value()));
}

Spot first_end(const Wiring& wiring) { return wiring.cells.front().minus; }
Spot last_end(const Wiring& wiring) { return wiring.cells.back().plus; }

}  // namespace

TEST_CASE("closed form: rows even, both ends leave at the same end of the box; rows odd, at opposite ends") {
  for (int rows = 1; rows <= 8; ++rows) {
    for (int cells = 2; cells <= 5; ++cells) {
      CAPTURE(rows);
      CAPTURE(cells);
      const Wiring wiring = wire(a_cell(), {snake(a_cell(), rows, cells, 195)});
      CHECK(wiring.jumpers == 0);
      REQUIRE(wiring.fewest_proven);
      CHECK((first_end(wiring).u == last_end(wiring).u) == (rows % 2 == 0));
    }
  }
}

TEST_CASE("closed form: cells a row odd, every turn short; even, one short and the rest a row's distance long") {
  // Even: a row ends on the side it began. Only one turn can join facing sides, unless another reaches over the whole next row (315 mm: a cable).
  // posts 60 mm from the middle, rows 195 mm apart: 195 - 120 = 75 mm short, 195 mm long; 70 mm in the row
  for (int rows = 2; rows <= 7; ++rows) {
    for (int cells = 2; cells <= 7; ++cells) {
      CAPTURE(rows);
      CAPTURE(cells);
      const Wiring wiring = wire(a_cell(), {snake(a_cell(), rows, cells, 195)});
      const int turns = rows - 1;
      const int short_turns = cells % 2 != 0 ? turns : 1;
      REQUIRE(wiring.kinds.size() == (short_turns == turns ? 2u : 3u));
      CHECK(wiring.kinds[0].centre_mm == 70);
      CHECK(wiring.kinds[0].count == rows * (cells - 1));
      CHECK(wiring.kinds[1].centre_mm == 75);
      CHECK(wiring.kinds[1].count == short_turns);
      CHECK(wiring.kinds[1].letter == "B");
      if (short_turns < turns) {
        CHECK(wiring.kinds[2].centre_mm == 195);
        CHECK(wiring.kinds[2].count == turns - short_turns);
      }
      check_sound(a_cell(), {snake(a_cell(), rows, cells, 195)}, wiring, 1, 60);
    }
  }
}

TEST_CASE("a long turn passes its own cell's other post and vent, and says so") {
  const Wiring wiring = wire(a_cell(), {snake(a_cell(), 3, 2, 195)});
  int told = 0;
  for (const Connection& link : wiring.links) {
    if (link.centre_mm < 190) {
      CHECK(link.passes_post.empty());
      CHECK(link.over_vent.empty());
      continue;
    }
    ++told;
    CHECK(link.passes_post.size() == 1);
    CHECK(link.over_vent.size() == 1);
  }
  CHECK(told == 1);
}

TEST_CASE("slack: 3 mm at least, one cell's growth in the row, half of both blocks' at a turn") {
  survey::Cell cell = a_cell();
  Wiring wiring = wire(cell, {snake(cell, 2, 5, 195)});
  CHECK(wiring.kinds[0].slack_mm == 3);   // 70 x 3 % = 2.1
  CHECK(wiring.kinds[1].slack_mm == 11);  // (5 + 5) / 2 x 2.1 = 10.5
  cell.growth_percent = 6;
  CHECK(wire(cell, {snake(cell, 2, 5, 195)}).kinds[0].slack_mm == 5);
}

TEST_CASE("removable links: 16 cells of 3.65 V are 58.4 V, 17 are not below 60 V") {
  // UN R100 and ISO 6469-3: voltage class B above 60 V DC
  const auto removable = [](const Wiring& wiring) {
    return std::count_if(wiring.links.begin(), wiring.links.end(), [](const Connection& link) { return link.removable; });
  };
  const Wiring sixteen = wire(a_cell(), {snake(a_cell(), 2, 8, 195)});
  CHECK(removable(sixteen) == 0);
  CHECK(sixteen.pieces.size() == 1);
  CHECK(sixteen.pieces[0].max_v == Approx(58.4));
  const Wiring seventeen = wire(a_cell(), {snake(a_cell(), 1, 17, 195)});
  CHECK(removable(seventeen) == 1);
  CHECK(seventeen.checks.front().ok);
  const Wiring three = wire(a_cell(), {snake(a_cell(), 6, 7, 195)});
  CHECK(removable(three) == 2);  // 42 / 16 = 2.6 -> 3 pieces
  for (const Connection& link : three.links) {
    if (link.removable) CHECK(link.centre_mm == Approx(75));  // at turns, where they are found
  }
  const Wiring none = wire(a_cell(), {snake(a_cell(), 1, 3, 195)}, 1, 3.6);
  CHECK(removable(none) == 2);
  CHECK_FALSE(none.checks.front().ok);
}

TEST_CASE("two boxes: the cable between them is opened too; main fuse at the positive end") {
  std::vector<BoxLayout> layouts = {snake(a_cell(), 2, 4, 195), snake(a_cell(), 3, 3, 195)};
  for (packing::PlacedCell& cell : layouts[1].cells) {
    cell.body.low.x = cell.body.low.x + Length::from_mm(2000), cell.body.high.x = cell.body.high.x + Length::from_mm(2000);
  }
  packing::PlacedFitting fuse{"Main fuse", survey::FittingPlace::beside, layouts[0].cells[0].body};
  layouts[0].fittings.push_back(fuse);
  const Wiring wiring = wire(a_cell(), layouts);
  CHECK(wiring.box_order == std::vector<int>{1, 0});
  CHECK(wiring.cells.front().box == 1);
  CHECK(wiring.pieces.size() == 2);
  check_sound(a_cell(), layouts, wiring, 1, 60);
  CHECK(std::count_if(wiring.links.begin(), wiring.links.end(), [](const Connection& link) { return link.join == Join::cable; }) == 1);
}

TEST_CASE("random: upright, on edge, along and across, one to three in parallel") {
  std::mt19937_64 random(7);
  for (int round = 0; round < 60; ++round) {
    CAPTURE(round);
    const int parallel = whole(random, 1, 3);
    std::vector<BlockSpec> blocks = scattered(random, whole(random, 1, 6), 6);
    const bool on_edge = whole(random, 0, 3) == 0;
    double v = 0;
    for (BlockSpec& block : blocks) {
      if (on_edge) block.stance = Stance::on_edge, block.v = v, v += (block.runs == Run::u ? 250 : block.cells * 70) + 30;
      block.cells = (block.cells + parallel - 1) / parallel * parallel;
    }
    if (!on_edge) {
      for (BlockSpec& block : blocks) block.v = v, v += (block.runs == Run::u ? 180 : block.cells * 70) + 10;
    }
    const std::vector<BoxLayout> layouts = {layout_of(a_cell(), blocks)};
    check_sound(a_cell(), layouts, wire(a_cell(), layouts, parallel, 20), parallel, 20);
  }
}

TEST_CASE("lying flat: plus meets minus across the joint between two cells") {
  const std::vector<BoxLayout> layouts = {layout_of(a_cell(), {{0, 0, 0, Run::u, 4, Stance::flat}})};
  const Wiring wiring = wire(a_cell(), layouts);
  REQUIRE(wiring.kinds.size() == 1);
  CHECK(wiring.kinds[0].centre_mm == 60);  // 180 - 2 x 60
  check_sound(a_cell(), layouts, wiring, 1, 60);
}

TEST_CASE("on edge: posts one above the other, on the side of the block") {
  const std::vector<BoxLayout> layouts = {layout_of(a_cell(), {{0, 0, 0, Run::u, 3, Stance::on_edge}, {380, 0, 0, Run::u, 2, Stance::on_edge}})};
  const Wiring wiring = wire(a_cell(), layouts);
  for (const WiredCell& cell : wiring.cells) {
    CHECK(cell.plus.u == cell.minus.u);
    CHECK(std::abs(cell.plus.z - cell.minus.z) == Approx(120));
    CHECK((cell.plus.v == 0 || cell.plus.v == 250));
  }
  CHECK(wiring.jumpers == 0);  // 380 + 35 - 175 = 240 mm in one plane; farther than 250 would be a cable
}

TEST_CASE("on edge: posts that look at another row a few millimetres away are told") {
  const Wiring tight = wire(a_cell(), {layout_of(a_cell(), {{0, 0, 0, Run::u, 3, Stance::on_edge}, {0, 256, 0, Run::u, 3, Stance::on_edge}, {0, 512, 0, Run::u, 3, Stance::on_edge}})});
  REQUIRE(tight.cautions.size() == 1);
  CHECK(tight.cautions[0].find("a gap of 6.0 mm") != std::string::npos);
  const Wiring alone = wire(a_cell(), {layout_of(a_cell(), {{0, 0, 0, Run::u, 3, Stance::on_edge}})});
  CHECK(alone.cautions.empty());
}

namespace {

/// Three cells on edge in a box whose walls stand so far before and behind the block's long sides; wall and liner 3 mm each.
BoxLayout edge_box(double before, double behind) {
  BoxLayout layout = layout_of(a_cell(), {{0, 0, 0, Run::u, 3, Stance::on_edge}});
  const auto at = [](double u, double v) { return core::Point2{Length::from_mm(u), Length::from_mm(v)}; };
  layout.outline = {at(-20, -behind - 6), at(230, -behind - 6), at(230, 250 + before + 6), at(-20, 250 + before + 6)};
  return layout;
}

const core::Check& post_room(const Wiring& wiring) {
  const auto found = std::find_if(wiring.checks.begin(), wiring.checks.end(), [](const core::Check& check) { return check.name == "room before posts that look sideways"; });
  REQUIRE(found != wiring.checks.end());
  return *found;
}

}  // namespace

TEST_CASE("on edge: posts look to the side with room for them; where neither has it, a check tells by how much") {
  // Posts stand out 20 mm, and 5 mm are kept beyond (common practice, no source): 25 mm.
  for (const bool mirrored : {false, true}) {
    CAPTURE(mirrored);
    const BoxLayout layout = mirrored ? edge_box(24.9, 64) : edge_box(64, 24.9);
    const Wiring wiring = wire(a_cell(), {layout});
    for (const WiredCell& cell : wiring.cells) CHECK(cell.plus.v == (mirrored ? 0 : 250));
    CHECK(post_room(wiring).value == Approx(64));
    CHECK(post_room(wiring).limit == Approx(25));
    CHECK(post_room(wiring).ok);
    CHECK(wiring.cautions.empty());
  }
  const Wiring hand = wire(a_cell(), {edge_box(40, 24)});
  CHECK(post_room(hand).ok);
  REQUIRE(hand.cautions.size() == 1);
  CHECK(hand.cautions[0].find("a gap of 40.0 mm, towards the box wall") != std::string::npos);
  const Wiring tight = wire(a_cell(), {edge_box(14, 14)});
  CHECK(post_room(tight).value == Approx(14));
  CHECK_FALSE(post_room(tight).ok);
  // Posts counted into the height ask for no more room; a hand still does not get in.
  survey::Cell counted = a_cell();
  counted.terminal_top = counted.height;
  const Wiring flush = wire(counted, {edge_box(14, 14)});
  CHECK(std::none_of(flush.checks.begin(), flush.checks.end(), [](const core::Check& check) { return check.name == "room before posts that look sideways"; }));
  CHECK(flush.cautions.size() == 1);
  // A fitting in front of the posts takes room as a wall does; one beside them does not.
  BoxLayout fitted = edge_box(200, 10);
  const auto mm = [](double value) { return Length::from_mm(value); };
  packing::PlacedFitting fuse{"main fuse", survey::FittingPlace::beside, {{mm(60), mm(300), mm(0)}, {mm(120), mm(350), mm(180)}}};
  fitted.fittings = {fuse};
  CHECK(post_room(wire(a_cell(), {fitted})).value == Approx(50));
  fitted.fittings[0].body.low.z = mm(165), fitted.fittings[0].body.high.z = mm(180);   // above the upper post: 90 + 60 mm, and half a lug
  CHECK(post_room(wire(a_cell(), {fitted})).value == Approx(200));
}

TEST_CASE("nothing is said without the place of the posts") {
  survey::Cell cell = a_cell();
  cell.terminal_offset.reset();
  CHECK(wire(cell, {snake(cell, 2, 2, 195)}).why_not.find("terminal_offset_mm") != std::string::npos);
  cell = a_cell();
  cell.voltage.reset();
  const Wiring wiring = wire(cell, {snake(cell, 4, 9, 195)});
  CHECK(wiring.links.size() == 35);
  CHECK(wiring.checks.empty());
}

TEST_CASE("published: creepage, IEC 60664-1 Table F.4, pollution degree 3, material group III") {
  CHECK(creepage_mm(63) == 2.0);
  CHECK(creepage_mm(131.4) == 2.5);  // the row of 160 V
  CHECK(creepage_mm(250) == 4.0);
  CHECK(creepage_mm(400) == 6.3);
  CHECK(creepage_mm(401) == 8.0);
  CHECK(creepage_mm(801) == 0);
}
