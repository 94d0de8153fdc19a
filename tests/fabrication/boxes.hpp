#pragma once
/// Boxes made up for the tests: invented sizes, seeded.

#include <cstdint>
#include <random>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/fabrication/sheet_work.hpp"

namespace cellstow::fabrication::testing {

using core::Length;
using core::Point2;

inline Length mm(double value) { return Length::from_mm(value); }
inline Point2 at(double a, double b) { return {mm(a), mm(b)}; }

/// Whole numbers from a fixed generator; the library's own distributions differ from one system to the next.
class Dice {
 public:
  explicit Dice(std::uint32_t seed) : bits_(seed) {}
  int from(int low, int high) { return low + static_cast<int>(bits_() % static_cast<std::uint64_t>(high - low + 1)); }
  template <class T>
  T one_of(std::initializer_list<T> values) {
    return *(values.begin() + from(0, static_cast<int>(values.size()) - 1));
  }

 private:
  std::mt19937_64 bits_;
};

inline survey::Material sheet() {
  survey::Material m;
  m.name = "EN AW-5754 O/H111";
  m.density_kg_per_m3 = 2700;
  m.proof_strength = core::Mpa::of(80);
  m.ultimate_strength = core::Mpa::of(180);
  m.min_bend_radius_over_thickness = 1.0;
  m.k_factor = 0.40;
  return m;
}

inline survey::Rules plain_rules() {
  survey::Rules rules;
  rules.materials.wall = sheet();
  return rules;
}

/// A box of this outline, `high` from the floor's underside to the lid's top, filled with one block as large as fits in the
/// rectangle given (already inside walls and liner).
inline box::Box box_of(std::vector<Point2> outline, double high, Point2 low, Point2 top, const survey::Rules& rules) {
  box::Box box;
  box.mark = "TW";
  box.name = "tank well";
  box.layout.outline = std::move(outline);
  box.layout.z_bottom = mm(300);
  box.layout.lid_top = mm(300 + high);
  packing::Block block;
  block.id = 1;
  const Length base = box.layout.z_bottom + rules.floor + rules.liner;
  block.body = {{low.a, low.b, base}, {top.a, top.b, box.layout.lid_top - rules.lid - rules.headroom}};
  box.layout.blocks = {block};
  return box;
}

inline box::Box rectangle_box(double width, double depth, double high, const survey::Rules& rules) {
  const double in = (rules.flange + rules.wall + rules.liner).mm();
  return box_of({at(2000, -300), at(2000 + width, -300), at(2000 + width, -300 + depth), at(2000, -300 + depth)}, high,
                at(2000 + in, -300 + in), at(2000 + width - in, -300 + depth - in), rules);
}

/// An L: a corner of cut_a x cut_b left out at high u, high v.
inline box::Box stepped_box(double width, double depth, double cut_a, double cut_b, double high, const survey::Rules& rules) {
  const double in = (rules.flange + rules.wall + rules.liner).mm();
  return box_of({at(0, 0), at(width, 0), at(width, depth - cut_b), at(width - cut_a, depth - cut_b), at(width - cut_a, depth), at(0, depth)},
                high, at(in, in), at(width - cut_a - in, depth - in), rules);
}

/// A rectangle with its high-u, high-v corner cut off slantwise.
inline box::Box slanted_box(double width, double depth, double cut_a, double cut_b, double high, const survey::Rules& rules) {
  const double in = (rules.flange + rules.wall + rules.liner).mm();
  return box_of({at(0, 0), at(width, 0), at(width, depth - cut_b), at(width - cut_a, depth), at(0, depth)}, high, at(in, in),
                at(width - cut_a - in, depth - cut_b - in), rules);
}

struct Made {
  box::Box box;
  survey::Rules rules;
  SheetWork work;
};

/// A box of any kind with rules of any kind.
inline Made random_made(std::uint32_t seed) {
  Dice dice(seed);
  Made made;
  made.rules = plain_rules();
  made.rules.wall = mm(dice.one_of({2.0, 2.5, 3.0, 4.0}));
  made.rules.floor = dice.from(0, 3) == 0 ? mm(4) : made.rules.wall;
  made.rules.lid = mm(dice.one_of({1.5, 2.0, 3.0}));
  made.rules.liner = mm(dice.one_of({0.0, 2.0, 3.0}));
  made.rules.flange = mm(dice.one_of({0.0, 3.0, 4.5, 12.0, 15.0, 17.0, 22.0, 30.0}));
  made.rules.pan_depth_max = mm(dice.one_of({0.0, 150.0, 400.0}));
  made.rules.corner_relief = mm(dice.one_of({0.0, 5.0}));
  made.rules.materials.wall.min_bend_radius_over_thickness = dice.one_of({1.0, 1.5, 2.0});
  const double width = dice.from(160, 700), depth = dice.from(160, 600), high = dice.from(110, 360);
  const int cut_a = dice.from(60, static_cast<int>(width) - 90), cut_b = dice.from(60, static_cast<int>(depth) - 90);
  const int kind = dice.from(0, 3);
  made.box = kind <= 1   ? rectangle_box(width, depth, high, made.rules)
             : kind == 2 ? stepped_box(width, depth, cut_a, cut_b, high, made.rules)
                         : slanted_box(width, depth, cut_a, cut_b, high, made.rules);
  // A narrower block leaves room for tabs in some of them.
  if (dice.from(0, 1) == 0) {
    core::Point3& top = made.box.layout.blocks[0].body.high;
    const Length less = mm(dice.from(0, 60));
    if (top.x - made.box.layout.blocks[0].body.low.x > less + less) top.x = top.x - less;
  }
  made.work = make_sheet_work(made.box, made.rules, "A");
  return made;
}

}  // namespace cellstow::fabrication::testing
