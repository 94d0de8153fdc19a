#include "cellstow/way_in/passage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cellstow/geometry/segment.hpp"
#include "overlap.hpp"

namespace cellstow::way_in {
namespace {

using geometry::Loop;
using geometry::PointUm;
using region::HeightSpan;

constexpr double rad_per_deg = std::numbers::pi / 180;
/// A slanting move is followed in steps no longer than this sideways, as long as these many steps do.
constexpr double step_um = 200;
constexpr int most_steps = 64;

double real(Um um) { return static_cast<double>(um); }

PointUm shifted(PointUm p, double ds, double dt) { return {p.s + std::llround(ds), p.t + std::llround(dt)}; }

/// What a convex plan sweeps from one shift to another.
Loop swept(const Loop& plan, Spot from, Spot to) {
  std::vector<PointUm> points;
  for (const PointUm& p : plan) {
    points.push_back(shifted(p, from.a, from.b));
    points.push_back(shifted(p, to.a, to.b));
  }
  return geometry::convex_hull(std::move(points));
}

bool comes_out(const survey::Cavity& cavity, int source) {
  if (source == 0) return false;
  const auto kind = cavity.keep_outs[static_cast<std::size_t>(source - 1)].kind;
  return kind == survey::KeepOutKind::removable || kind == survey::KeepOutKind::soft;
}

void add(Passage& passage, const std::string& what, bool out, double by_mm) {
  for (InTheWay& known : passage.in_the_way) {
    if (known.what != what) continue;
    known.by_mm = std::max(known.by_mm, by_mm);
    return;
  }
  passage.in_the_way.push_back({what, out, by_mm});
}

/// Upright travel along a move through an opening across z.
class Upright {
 public:
  Upright(const survey::WayIn& way, const OpenCavity& cavity) : way_(way), cavity_(cavity) {
    drift_ = {way.move[0] / way.move[2], way.move[1] / way.move[2]};
    from_above_ = way.move[2] < 0;
  }

  /// From the opening to `lift` above (below) the place, `aside` of the line through it; from a higher lift instead of the opening when one is given.
  void travel(const Body& body, double lift_um, Spot aside, Passage& passage, std::optional<double> from_um = {}) const {
    for (const Body::Part& part : body.parts()) {
      const double low = real(part.low) + lift_um, high = real(part.high) + lift_um;
      double end = from_above_ ? std::max(real(way_.station.um()), high) : std::min(real(way_.station.um()), low);
      if (from_um) end = from_above_ ? real(part.high) + *from_um : real(part.low) + *from_um;
      if (drift_.a == 0 && drift_.b == 0) {
        look_along(cavity_, swept(part.plan, aside, aside), span(from_above_ ? low : high, end), passage);
        continue;
      }
      slabs(part, lift_um, aside, end, passage);
    }
  }

  /// Sideways at one height.
  void slide(const Body& body, double lift_um, Spot from, Spot to, Passage& passage) const {
    const Spot d{drift_.a * lift_um, drift_.b * lift_um};
    for (const Body::Part& part : body.parts()) {
      look_along(cavity_, swept(part.plan, {from.a + d.a, from.b + d.b}, {to.a + d.a, to.b + d.b}),
                 span(real(part.low) + lift_um, real(part.high) + lift_um), passage);
    }
  }

  /// How far the body can be lifted from its place and still be wholly past the opening; negative when it never is.
  double room_um(const Body& body) const {
    return from_above_ ? real(way_.station.um() - body.high_um()) : real(body.low_um() - way_.station.um());
  }
  double lift_um(double way_um) const { return from_above_ ? way_um : -way_um; }
  bool from_above() const { return from_above_; }

 private:
  static HeightSpan span(double a, double b) {
    return {static_cast<Um>(std::floor(std::min(a, b))), static_cast<Um>(std::ceil(std::max(a, b)))};
  }

  /// Height by height: the part passes z with lifts from z - high to z - low, as far as they are on the way.
  void slabs(const Body::Part& part, double lift_um, Spot aside, double end, Passage& passage) const {
    const double start = from_above_ ? real(part.low) + lift_um : real(part.high) + lift_um;
    const double sideways = std::hypot(drift_.a, drift_.b), way = std::abs(end - start);
    const int steps = std::clamp(static_cast<int>(std::ceil(way * sideways / step_um)), 1, most_steps);
    for (int k = 0; k < steps; ++k) {
      const double a = start + (end - start) * k / steps, b = start + (end - start) * (k + 1) / steps;
      const double low = std::min(a, b), high = std::max(a, b);
      double least = low - real(part.high), most = high - real(part.low);
      (from_above_ ? least : most) = from_above_ ? std::max(least, lift_um) : std::min(most, lift_um);
      look_along(cavity_,
                 swept(part.plan, {aside.a + drift_.a * least, aside.b + drift_.b * least},
                       {aside.a + drift_.a * most, aside.b + drift_.b * most}),
                 span(low, high), passage);
    }
    passage.given_away_mm = std::max(passage.given_away_mm, way * sideways / steps / 1000);
  }

  const survey::WayIn& way_;
  const OpenCavity& cavity_;
  Spot drift_;
  bool from_above_ = true;
};

/// Of several ways the first that is free, else the first.
Passage best_of(std::vector<Passage> ways) {
  const auto rank = [](const Passage& p) { return static_cast<int>(p.room); };
  return *std::min_element(ways.begin(), ways.end(),
                           [&](const Passage& a, const Passage& b) { return rank(a) < rank(b); });
}

/// Heights of things inside the cavity: where a body going down may have to go over sideways, just under or just over one of them.
std::vector<Um> thing_heights(const survey::Cavity& cavity) {
  std::vector<Um> out;
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    if (const auto* box = std::get_if<survey::BoxShape>(&keep_out.shape)) {
      out.insert(out.end(), {box->low.z.um(), box->high.z.um()});
    } else if (const auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape)) {
      out.insert(out.end(), {prism->z_low.um(), prism->z_high.um()});
    } else if (const auto* pipe = std::get_if<survey::CylinderShape>(&keep_out.shape)) {
      const auto [low, high] = std::minmax({pipe->from.z.um(), pipe->to.z.um()});
      out.insert(out.end(), {low - pipe->diameter.um() / 2, high + pipe->diameter.um() / 2});
    }
  }
  for (const survey::Section& section : cavity.sections.at) {
    if (cavity.sections.across == core::Axis::z) out.push_back(section.station.um());
    if (cavity.sections.across == core::Axis::z) continue;
    for (const core::Point2& p : section.outline) out.push_back(p.b.um());
  }
  return out;
}

/// Lifts at which to try going over, lowest first: in its place, just past the opening, just past anything inside.
std::vector<double> lifts_to_try(const Body& body, const Upright& upright, const survey::Cavity& cavity) {
  const double most = upright.room_um(body);
  std::vector<double> out{0};
  if (most > 0) out.push_back(most);
  for (const Um z : thing_heights(cavity)) {
    const double under = real(z - body.high_um()), over = real(z - body.low_um());
    for (const double lift : {upright.from_above() ? under : -under, upright.from_above() ? over : -over}) {
      if (lift > 0 && lift < most) out.push_back(lift);
    }
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

/// The least push, in whole cm straight along or across the car, that keeps the body clear of opening and overhangs down to a lift; none
/// when there is none within 0.6 m. Moves straight up or down only.
std::optional<Spot> beside(const Body& body, double lift_um, const survey::WayIn& way, const OpenCavity& cavity) {
  constexpr double step = 10'000;
  constexpr int most = 60;
  const Opening opening(way);
  std::vector<region::FreePlan> columns;
  for (const Body::Part& part : body.parts()) {
    const Um low = part.low + std::llround(lift_um), high = part.high + std::llround(lift_um);
    columns.push_back(region::free_plan(cavity.cavity, {}, cavity.reading,
                                        way.move[2] < 0 ? HeightSpan{low, std::max(high, way.station.um())}
                                                        : HeightSpan{std::min(low, way.station.um()), high}));
  }
  const auto clear = [&](Spot by) {
    Shadow shadow = body.shadow(way, {});
    for (Figure& part : shadow.parts) {
      for (Spot& p : part) p.a += by.a, p.b += by.b;
    }
    if (margin_um(opening, shadow) < 0) return false;
    for (std::size_t k = 0; k < columns.size(); ++k) {
      const Loop plan = swept(body.parts()[k].plan, by, by);
      const auto& walls = columns[k].walls(region::Strips::along_x);
      if (std::any_of(walls.begin(), walls.end(), [&](const geometry::Wall& wall) { return meets(plan, wall); })) return false;
    }
    return true;
  };
  for (int k = 1; k <= most; ++k) {
    for (const Spot by : {Spot{k * step, 0}, Spot{-k * step, 0}, Spot{0, k * step}, Spot{0, -k * step}}) {
      if (clear(by)) return by;
    }
  }
  return {};
}

/// Through the opening beside the line to its place, over sideways at a lift, then on.
Passage over_at(const Body& body, double room_um, Spot aside, const Upright& upright) {
  Passage over;
  const double lift_um = upright.lift_um(room_um);
  upright.travel(body, lift_um, aside, over);
  upright.slide(body, lift_um, aside, {}, over);
  upright.travel(body, 0, {}, over, lift_um);
  conclude(over);
  const double way_mm = std::hypot(aside.a, aside.b) / 1000;
  over.notes.push_back(room_um > 0
      ? fmt::format("it goes through the opening {:.0f} mm beside the line to its place, over sideways {:.0f} mm {} its place, then on", way_mm,
                    room_um / 1000, upright.from_above() ? "above" : "below")
      : fmt::format("it goes through the opening {:.0f} mm beside the line to its place and is pushed over at the height of its place", way_mm));
  return over;
}

Passage upright_passage(const Body& body, Spot aside, const survey::WayIn& way, const OpenCavity& cavity) {
  const Upright upright(way, cavity);
  const bool straight_line = aside.a == 0 && aside.b == 0;
  Passage straight;
  if (straight_line) {
    upright.travel(body, 0, {}, straight);
    conclude(straight);
    if (straight.room != Room::blocked || way.move[0] != 0 || way.move[1] != 0) return straight;
  }
  std::vector<Passage> ways;
  for (const double lift_um : lifts_to_try(body, upright, cavity.cavity)) {
    const std::optional<Spot> by = straight_line ? beside(body, upright.lift_um(lift_um), way, cavity) : std::optional(aside);
    if (!by) continue;
    ways.push_back(over_at(body, lift_um, *by, upright));
    if (ways.back().room == Room::free) return ways.back();
  }
  if (straight_line) ways.insert(ways.begin(), straight);
  return best_of(std::move(ways));
}

Passage not_decided(std::string why) {
  Passage out;
  out.room = Room::not_decided;
  out.notes.push_back(std::move(why));
  return out;
}

/// The body within a turned-round cylinder just past the opening; then as upright.
Passage turned_passage(const Body& body, const Pass& pass, const survey::WayIn& way, const OpenCavity& cavity) {
  constexpr int sides = 48;
  const double radius = body.sweep_of_turn_um(way) / std::cos(std::numbers::pi / sides) + 2;
  std::vector<core::Point2> round;
  for (int k = 0; k < sides; ++k) {
    const double angle = 2 * std::numbers::pi * k / sides;
    round.push_back({Length::from_um(std::llround(body.middle().a + radius * std::cos(angle))),
                     Length::from_um(std::llround(body.middle().b + radius * std::sin(angle)))});
  }
  const Body drum("turning", {{"turning", round, Length::from_um(body.low_um()), Length::from_um(body.high_um())}});
  Passage out = upright_passage(drum, pass.shift, way, cavity);
  if (out.room == Room::free || out.room == Room::after_taking_out) return out;
  return not_decided("past the opening it has to be turned back; the sections do not show room for that all round, so try it with the mock-up");
}

/// Set down about its lower end, wholly past the opening.
Passage tilted_passage(const Body& body, const Pass& pass, const survey::WayIn& way, const OpenCavity& cavity) {
  const double tilt = std::abs(pass.attitude.tilt_deg) * rad_per_deg;
  const double down_deg = pass.attitude.line_deg + (pass.attitude.tilt_deg > 0 ? 90 : -90);
  const double broad = body.extent_um(down_deg), high = real(body.high_um() - body.low_um());
  const double needed = tilt > std::atan2(broad, high) ? std::hypot(broad, high) : body.height_um(pass.attitude);
  const double there = std::abs(real(way.station.um() - (way.move[2] < 0 ? body.low_um() : body.high_um())));
  if (needed > there || std::fmod(pass.attitude.turn_deg, 360) != 0) {
    return not_decided(fmt::format(
        "to be set down freely it needs {:.0f} mm from its floor to the opening, there are {:.0f}: it has to swing down while "
        "still in the opening, so try it with the mock-up", needed / 1000, there / 1000));
  }
  const double lean = high * std::sin(tilt);
  const Spot out{lean * std::cos(down_deg * rad_per_deg), lean * std::sin(down_deg * rad_per_deg)};
  std::vector<PointUm> points;
  for (const Body::Part& part : body.parts()) {
    for (const PointUm& p : part.plan) points.insert(points.end(), {p, shifted(p, out.a, out.b)});
  }
  for (const Figure& part : pass.shadow.parts) {
    for (const Spot& p : part) points.push_back({std::llround(p.a), std::llround(p.b)});
  }
  Passage passage;
  look_along(cavity, geometry::convex_hull(std::move(points)),
             way.move[2] < 0 ? HeightSpan{body.low_um(), way.station.um()} : HeightSpan{way.station.um(), body.high_um()}, passage);
  conclude(passage);
  if (passage.room == Room::free || passage.room == Room::after_taking_out) return passage;
  return not_decided("the sections do not show room to set it down about its lower end, so try it with the mock-up");
}

/// Level travel: only keep-outs, and walls where sections stand across the move.
Passage level_passage(const Body& body, const Pass& pass, const survey::WayIn& way, const OpenCavity& cavity) {
  if (way.move[2] != 0 || pass.manner != Manner::upright || !pass.straight) {
    return not_decided("the way from this opening to its place is not level and straight: it was not followed");
  }
  Passage passage;
  const std::size_t axis = way.across == core::Axis::x ? 0 : 1;
  for (const Body::Part& part : body.parts()) {
    double far = 0;
    for (const PointUm& p : part.plan) {
      far = std::max(far, std::abs(real(way.station.um() - (axis == 0 ? p.s : p.t))));
    }
    const double steps = -far / std::abs(way.move[axis]);
    look_along(cavity, swept(part.plan, {}, {way.move[0] * steps, way.move[1] * steps}), {part.low, part.high}, passage);
  }
  if (!cavity.walls_known) {
    std::erase_if(passage.in_the_way, [](const InTheWay& it) { return it.what == "cavity wall"; });
  }
  conclude(passage);
  if (passage.room == Room::free && !cavity.walls_known) {
    passage.room = Room::not_decided;
    passage.notes.push_back("no keep-out is in the way from the opening to its place; which wall of the sections faces the opening cannot be told");
  }
  return passage;
}

}  // namespace

void look_along(const OpenCavity& cavity, const Loop& plan, HeightSpan span, Passage& passage) {
  const region::FreePlan free = region::free_plan(cavity.cavity, {}, cavity.reading, span);
  for (const geometry::Wall& wall : free.walls(region::Strips::along_x)) {
    const std::string& what = free.names()[static_cast<std::size_t>(wall.source())];
    if (meets(plan, wall)) {
      add(passage, what, comes_out(cavity.cavity, wall.source()), depth_um(plan, wall) / 1000);
      continue;
    }
    const double gap_mm = gap_um(plan, wall) / 1000;
    if (passage.gap_mm && *passage.gap_mm <= gap_mm) continue;
    passage.gap_mm = std::max(0.0, gap_mm);
    passage.gap_to = what;
  }
}

void conclude(Passage& passage) {
  auto& all = passage.in_the_way;
  std::stable_sort(all.begin(), all.end(), [](const InTheWay& a, const InTheWay& b) { return a.by_mm > b.by_mm; });
  const bool out = std::all_of(all.begin(), all.end(), [](const InTheWay& it) { return it.comes_out; });
  passage.room = all.empty() ? Room::free : out ? Room::after_taking_out : Room::blocked;
}

Passage passage_to_place(const Body& body, const Pass& pass, const survey::WayIn& way,
                         const OpenCavity& cavity) {
  Passage out;
  if (way.across != core::Axis::z) {
    out = level_passage(body, pass, way, cavity);
  } else if (pass.manner == Manner::upright) {
    out = upright_passage(body, pass.shift, way, cavity);
  } else if (pass.manner == Manner::turned) {
    out = turned_passage(body, pass, way, cavity);
  } else {
    out = tilted_passage(body, pass, way, cavity);
  }
  out.notes.insert(out.notes.end(), cavity.notes.begin(), cavity.notes.end());
  return out;
}

}  // namespace cellstow::way_in
