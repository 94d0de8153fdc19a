#include "cavity_stage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "cellstow/box/build_box.hpp"
#include "cellstow/fabrication/bracket_parts.hpp"
#include "cellstow/fabrication/holding_parts.hpp"
#include "cellstow/geometry/segment.hpp"
#include "cellstow/packing/nothing_packed.hpp"
#include "cellstow/packing/pack.hpp"
#include "cellstow/region/free_plan.hpp"
#include "gaps.hpp"

namespace cellstow::plan {
namespace {

using core::Check;

/// Cells asked for in this cavity, and every fitting in its place.
std::vector<Check> cavity_checks(const survey::Cavity& cavity, const packing::CavityPacking& packing) {
  std::vector<Check> checks;
  if (cavity.cells_wanted) {
    const double short_by = cavity.cells_wanted->min - packing.cells;
    checks.push_back(core::check_at_least(
        "cells wanted", cavity.name, packing.cells, cavity.cells_wanted->min, "cells",
        "count asked for in the job file",
        fmt::format("{:.0f} more cells needed here: see what each row lacks, and what each keep-out takes", short_by)));
    if (packing.cells > cavity.cells_wanted->max)
      checks.push_back(core::check_at_most("cells wanted", cavity.name, packing.cells, cavity.cells_wanted->max, "cells", "most asked for in the job file",
                                           "no block can lose one more cell: allow blocks of fewer cells (block_cells), or ask for another count"));
  }
  const std::size_t asked = [&] {
    std::size_t count = 0;
    for (const survey::Fitting& fitting : cavity.fittings) count += static_cast<std::size_t>(fitting.count);
    return count;
  }();
  if (asked > 0) {
    std::string missing;
    for (const std::string& name : packing.fittings_without_place) {
      missing += (missing.empty() ? "" : ", ") + name;
    }
    const double placed = static_cast<double>(asked - std::min(asked, packing.fittings_without_place.size()));
    const std::string cure = packing.cells > 0 ? "give room for: " : "the string is full without a box here: give another cavity: ";
    checks.push_back(core::check_at_least(
        "fittings placed", cavity.name, placed, static_cast<double>(asked), "pieces",
        "each fitting needs its place in the box", cure + missing));
  }
  return checks;
}

}  // namespace

CavityPlan without_box(const survey::Cavity& cavity, CavityPlan fullest) {
  CavityPlan plan = std::move(fullest);
  plan.packing.boxes.clear();
  plan.packing.cells = 0;
  plan.packing.fittings_without_place = packing::nothing_packed(cavity).fittings_without_place;
  plan.boxes.clear();
  plan.checks = cavity_checks(cavity, plan.packing);
  return plan;
}

CavityPlan plan_cavity(const survey::Job& job, const survey::Cavity& cavity,
                       const std::string& mark, std::optional<int> enough,
                       const Running& running) {
  CavityPlan plan;
  plan.name = cavity.name;
  plan.mark = mark;
  packing::PackOptions options;
  options.reading = cavity.sections.between;
  options.enough = enough;
  options.stop = running.stop;
  options.watch = [&](const packing::PackProgress& so_far) {
    running.tell(fmt::format("{}: {} cells so far{}", cavity.name, so_far.cells,
                             so_far.bound ? fmt::format(", no more than {}", *so_far.bound) : ""));
  };
  if (cavity.cells_wanted) {
    options.enough = std::min(enough.value_or(cavity.cells_wanted->max), cavity.cells_wanted->max);
  }
  plan.packing = packing::pack_cavity(cavity, job.cell, job.rules, options);
  plan.most_cells = plan.packing.cells;
  plan.bound = plan.packing.bound;
  plan.proven = plan.packing.proven;
  plan.checks = cavity_checks(cavity, plan.packing);
  int number = 0;
  for (const packing::BoxLayout& layout : plan.packing.boxes) {
    BoxPlan box{box::build_box(layout, cavity, job.cell, job.rules, mark, ++number), {}, {}};
    box.sheet = fabrication::make_sheet_work(box.box, job.rules, job.revision, &job.cell);
    if (!box.sheet.parts.empty()) box::take_sheet_mass(box.box, box.sheet.mass, job.rules);
    plan.boxes.push_back(std::move(box));
  }
  return plan;
}

namespace {

/// Mounted for its mass without brackets, then with the brackets that took: they are welded on and pull on the fixings as well.
void mount(const survey::Job& job, const survey::Cavity& cavity, const survey::Catalogue& catalogue, BoxPlan& box) {
  std::vector<fabrication::SheetPart> brackets;
  for (int round = 0; round < 2; ++round) {
    box.mounting = restraint::mount_box(box.box, cavity, job.rules, catalogue);
    brackets = fabrication::bracket_parts(box.mounting, box.box.layout.heading, job.rules, job.revision);
    core::Kg mass;
    for (const fabrication::SheetPart& part : brackets) mass += part.mass * part.quantity;
    if (brackets.empty() || box.box.mass_sheet >= box.sheet.mass + mass) break;
    box::take_sheet_mass(box.box, box.sheet.mass + mass, job.rules);
  }
  box.sheet.parts.insert(box.sheet.parts.end(), std::make_move_iterator(brackets.begin()), std::make_move_iterator(brackets.end()));
}

}  // namespace

void hold_boxes(const survey::Job& job, const survey::Cavity& cavity,
                const survey::Catalogue& catalogue, CavityPlan& plan) {
  for (BoxPlan& box : plan.boxes) {
    box.straps = restraint::design_straps(box.box, job.cell, job.rules, catalogue);
    mount(job, cavity, catalogue, box);
    box.hold_downs = restraint::design_hold_downs(box.box, job.cell, job.rules, catalogue, box.straps);
    box.holding = fabrication::holding_parts(box.box, box.straps, box.hold_downs, job.rules, job.revision);
    const std::vector<Gap> gaps = tightest_gaps(cavity, job.rules, cavity.sections.between, box.box);
    plan.tightest.insert(plan.tightest.end(), gaps.begin(), gaps.end());
  }
  std::stable_sort(plan.tightest.begin(), plan.tightest.end(), [](const Gap& a, const Gap& b) {
    return a.gap_mm - a.needed_mm < b.gap_mm - b.needed_mm;
  });
}

namespace {

bool inside_measured(const survey::Cavity& bare, const restraint::BracketPiece& piece) {
  geometry::Loop loop;
  for (const core::Point2& p : piece.outline) loop.push_back({p.a.um(), p.b.um()});
  if (geometry::doubled_area(loop) < 0) std::reverse(loop.begin(), loop.end());
  return region::free_plan(bare, {0, 0, 0}, bare.sections.between, {piece.low.um(), piece.high.um()}).admits(loop);
}

/// The piece cut back towards the box by fifths until it lies inside the measured cavity: feet lie on ledges of the car, which the
/// sections may run past. Nothing when none of it does. Corners 0 and 3 stand at the box.
std::optional<restraint::BracketPiece> inside(const survey::Cavity& bare, const restraint::BracketPiece& piece) {
  for (int fifths = 5; fifths > 0; --fifths) {
    restraint::BracketPiece cut = piece;
    const auto towards = [&](core::Point2 from, core::Point2 to) {
      return core::Point2{core::Length::from_um(from.a.um() + (to.a - from.a).um() * fifths / 5), core::Length::from_um(from.b.um() + (to.b - from.b).um() * fifths / 5)};
    };
    cut.outline[1] = towards(piece.outline[0], piece.outline[1]);
    cut.outline[2] = towards(piece.outline[3], piece.outline[2]);
    if (inside_measured(bare, cut)) return cut;
  }
  return std::nullopt;
}

std::vector<way_in::Piece> bracket_pieces(const survey::Cavity& cavity, const BoxPlan& box) {
  survey::Cavity bare = cavity;
  bare.keep_outs.clear();
  std::vector<way_in::Piece> out;
  for (const restraint::Bracket& bracket : box.mounting.brackets) {
    for (const restraint::BracketPiece& piece : bracket.pieces) {
      if (piece.name == "gusset") continue;
      if (const auto cut = inside(bare, piece)) out.push_back({bracket.mark, cut->outline, cut->low, cut->high});
    }
  }
  return out;
}

/// The better way first in the order of the enumeration; a blocked or undecided one is no better.
bool as_good(const way_in::BoxWay& with, const way_in::BoxWay& without) {
  return with.way <= without.way && with.check.ok >= without.check.ok && with.decided >= without.decided;
}

}  // namespace

void add_way_in(const survey::Job& job, const survey::Cavity& cavity, CavityPlan& plan) {
  if (cavity.way_in.empty()) return;
  for (const BoxPlan& box : plan.boxes) {
    way_in::BoxWay way = way_in::find_way_in(box.box, cavity, job.cell, job.rules);
    const std::vector<way_in::Piece> brackets = bracket_pieces(cavity, box);
    if (!brackets.empty()) {
      way_in::BoxWay with = way_in::find_way_in(box.box, cavity, job.cell, job.rules, brackets);
      if (as_good(with, way)) {
        way = std::move(with);
        way.notes.push_back("counted with its brackets on, as far as they lie inside the measured sections");
      } else {
        way.cautions.push_back(fmt::format("Box {}: it goes in without its brackets only. Make the brackets to bolt on: each with its plate on the wall, "
                                           "threaded inserts in the wall before the liner goes in, and have that joint looked at by the engineer.",
                                           box.box.mark));
        way.notes.push_back("counted without brackets: with them it does not go in as well");
      }
    }
    plan.way_in.push_back(std::move(way));
    plan.checks.push_back(plan.way_in.back().check);
  }
}

}  // namespace cellstow::plan
