#include "report/three_views.hpp"

#include <algorithm>
#include <cmath>

#include "report/callout.hpp"
#include "report/drawing_sheet.hpp"

namespace cellstow::report {
namespace {

constexpr double left_margin = 20, foot = 20, head = 9, balloon_pitch = 5.6, balloon_gap = 6, end_margin = 4;

/// A name with the point it leads to.
struct Balloon { std::string name; ViewPoint at; };

struct Prepared {
  std::array<SolidView, 3> views;                  ///< in the order of Aspect
  std::array<std::vector<Balloon>, 3> balloons;
  std::vector<std::string> unseen;
  Between u, v, z;                                  ///< over all views
};

SolidView view_of(const ThreeViews& views, Aspect aspect) {
  std::vector<const fabrication::FoldedSolid*> shown = views.solids;
  for (std::size_t i = 0; i < views.off_in_plan.size(); ++i) {
    if (aspect == Aspect::from_above && views.off_in_plan[i]) shown[i] = nullptr;
  }
  return {shown, aspect};
}

/// Where the name is put: the view on which it would stand with the fewest others, of those that show its part.
void put_balloons(const ThreeViews& views, Prepared& out) {
  std::vector<std::string> done;
  for (std::size_t i = 0; i < views.names.size(); ++i) {
    const std::string& name = views.names[i];
    if (name.empty() || std::find(done.begin(), done.end(), name) != done.end()) continue;
    done.push_back(name);
    bool seen = false;
    // Walls stand on edge in the plan: it is asked last of the three for parts that the others show in full.
    std::array<std::size_t, 3> order{0, 2, 1};
    std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) { return out.balloons[x].size() < out.balloons[y].size(); });
    for (std::size_t j = i; j < views.names.size() && !seen; ++j) {
      if (views.names[j] != name) continue;
      for (const std::size_t view : order) {
        const std::vector<ViewPoint> spots = out.views[view].spots(j);
        if (spots.empty()) continue;
        out.balloons[view].push_back({name, spots.front()});
        seen = true;
        break;
      }
    }
    if (!seen) out.unseen.push_back(name);
  }
}

Prepared prepare(const ThreeViews& views) {
  Prepared out{{view_of(views, Aspect::from_left), view_of(views, Aspect::from_above), view_of(views, Aspect::from_behind)}, {}, {}, {}, {}, {}};
  const auto& [side, plan, end] = out.views;
  out.u = {std::min(side.extent().low.a, plan.extent().low.a), std::max(side.extent().high.a, plan.extent().high.a)};
  out.v = {std::min(end.extent().low.a, plan.extent().low.b), std::max(end.extent().high.a, plan.extent().high.b)};
  out.z = {side.extent().low.b, side.extent().high.b};
  put_balloons(views, out);
  return out;
}

double balloon_room(const std::vector<Balloon>& balloons) {
  double width = 0;
  for (const Balloon& b : balloons) width = std::max(width, lettering_width(b.name, lettering, false) + 1.4);
  return balloons.empty() ? 4 : width + balloon_gap + 1;
}

double balloon_height(const std::vector<Balloon>& balloons) { return static_cast<double>(balloons.size()) * balloon_pitch; }

struct Sizes { double end_column, plan_column, upper_row, plan_row; };

Sizes sizes(const Prepared& p, double scale) {
  const double u = (p.u.high - p.u.low) / scale, v = (p.v.high - p.v.low) / scale, z = (p.z.high - p.z.low) / scale;
  const double title = lettering_width(to_text(Aspect::from_behind), lettering, true) + 2;
  return {end_margin + std::max(v + balloon_room(p.balloons[2]), title),
          left_margin + std::max(u + std::max(balloon_room(p.balloons[0]), balloon_room(p.balloons[1])), title),
          head + std::max(z, std::max(balloon_height(p.balloons[0]), balloon_height(p.balloons[2]))) + 6,
          head + std::max(v, balloon_height(p.balloons[1])) + foot};
}

void add_balloons(Paper& sheet, Placer& placer, std::vector<Balloon> balloons, const SolidView& view, Spot origin, double scale, double right, double top, double height) {
  const auto at = [&](ViewPoint p) { return Spot{origin.x + (p.a - view.extent().low.a) / scale, origin.y - (p.b - view.extent().low.b) / scale}; };
  // A long line that ran level would look like an edge: it is given a slope, towards the middle of the view.
  const double middle = top + height / 2;
  const auto wanted_at = [&](const Balloon& b) {
    const Spot spot = at(b.at);
    return spot.y + (spot.y < middle ? 0.14 : -0.14) * (right - spot.x);
  };
  std::stable_sort(balloons.begin(), balloons.end(), [&](const Balloon& x, const Balloon& y) { return wanted_at(x) < wanted_at(y); });
  std::vector<double> wanted, heights(balloons.size(), balloon_pitch);
  for (const Balloon& b : balloons) wanted.push_back(wanted_at(b) - balloon_pitch / 2);
  const std::vector<double> tops = stacked(wanted, heights, top, top + std::max(height, balloon_height(balloons)) + 0.01);
  for (std::size_t i = 0; i < balloons.size(); ++i) {
    Lettering name{{right + balloon_gap, tops[i] + balloon_pitch / 2}, balloons[i].name, lettering, Anchor::start, false, false, true};
    const Spot point = at(balloons[i].at);
    add_line(sheet, point, {right + 3, name.at.y});
    add_line(sheet, {right + 3, name.at.y}, {room_of(name).left, name.at.y});
    sheet.marks.emplace_back(Circle{point, 0.6, 0, Area::black});
    placer.take(room_of(name));
    sheet.marks.emplace_back(std::move(name));
  }
}

Lettering size(const Between& between, const char* where, bool boxed, survey::DrawnUnits units) {
  return {{}, size_text(between.high - between.low, units) + " " + where, lettering, Anchor::middle, false, false, boxed};
}

void add_title(Paper& sheet, Placer& placer, Aspect aspect, bool off, Spot at) {
  Lettering title{at, to_text(aspect) + (off ? ", lid off" : ""), lettering, Anchor::start, true, false, false};
  placer.take(room_of(title));
  sheet.marks.emplace_back(std::move(title));
}

}  // namespace

double views_scale(const ThreeViews& views, const Patch& room) {
  const Prepared p = prepare(views);
  for (const double scale : {1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    const Sizes s = sizes(p, scale);
    if (s.end_column + s.plan_column <= room.width() && s.upper_row + s.plan_row <= room.height()) return scale;
  }
  return 200;
}

std::vector<std::string> add_views(Paper& sheet, const ThreeViews& views, const Patch& room, double scale) {
  const Prepared p = prepare(views);
  const Sizes s = sizes(p, scale);
  const bool first = views.projection == survey::Projection::first;
  const double spare_x = (room.width() - s.end_column - s.plan_column) / 3, spare_y = (room.height() - s.upper_row - s.plan_row) / 3;
  // First angle: the view from behind stands left of the side view, the plan below it. Third angle: right and above.
  const double end_x = first ? room.left + spare_x : room.left + 2 * spare_x + s.plan_column;
  const double plan_x = first ? room.left + 2 * spare_x + s.end_column : room.left + spare_x;
  const double upper_y = first ? room.top + spare_y : room.top + 2 * spare_y + s.plan_row;
  const double plan_y = first ? room.top + 2 * spare_y + s.upper_row : room.top + spare_y;
  const double u = (p.u.high - p.u.low) / scale, v = (p.v.high - p.v.low) / scale, z = (p.z.high - p.z.low) / scale;
  Placer placer(room);
  const auto& [side, plan, end] = p.views;
  const auto low = [&](double value, const Between& from) { return (value - from.low) / scale; };
  const double side_left = plan_x + left_margin, upper_foot = upper_y + head + z, plan_foot = plan_y + head + v, end_left = end_x + end_margin;
  side.draw(sheet, {side_left + low(side.extent().low.a, p.u), upper_foot}, scale);
  end.draw(sheet, {end_left + low(end.extent().low.a, p.v), upper_foot}, scale);
  plan.draw(sheet, {side_left + low(plan.extent().low.a, p.u), plan_foot - low(plan.extent().low.b, p.v)}, scale);
  const bool lid_off = std::find(views.off_in_plan.begin(), views.off_in_plan.end(), true) != views.off_in_plan.end();
  add_title(sheet, placer, Aspect::from_left, false, {side_left, upper_y + 3});
  add_title(sheet, placer, Aspect::from_behind, false, {end_left, upper_y + 3});
  add_title(sheet, placer, Aspect::from_above, lid_off, {side_left, plan_y + 3});
  add_balloons(sheet, placer, p.balloons[0], side, {side_left + low(side.extent().low.a, p.u), upper_foot}, scale, side_left + u, upper_y + head, z);
  add_balloons(sheet, placer, p.balloons[2], end, {end_left + low(end.extent().low.a, p.v), upper_foot}, scale, end_left + v, upper_y + head, z);
  add_balloons(sheet, placer, p.balloons[1], plan, {side_left + low(plan.extent().low.a, p.u), plan_foot - low(plan.extent().low.b, p.v)}, scale, side_left + u, plan_y + head, v);
  add_width(sheet, placer, side_left, side_left + u, plan_foot, plan_foot + 16, size(p.u, "outside", false, views.units));
  add_height(sheet, placer, plan_foot - v, plan_foot, side_left, side_left - 14.5, size(p.v, "outside", false, views.units));
  add_height(sheet, placer, upper_foot - z, upper_foot, side_left, side_left - 14.5, size(p.z, "outside", false, views.units));
  if (const auto& in = views.inside[0]) {
    add_width(sheet, placer, side_left + low(in->low, p.u), side_left + low(in->high, p.u), plan_foot, plan_foot + 7.5, size(*in, "inside", true, views.units));
  }
  if (const auto& in = views.inside[1]) {
    add_height(sheet, placer, plan_foot - low(in->high, p.v), plan_foot - low(in->low, p.v), side_left, side_left - 5.5, size(*in, "inside", true, views.units));
  }
  if (const auto& in = views.inside[2]) {
    add_height(sheet, placer, upper_foot - low(in->high, p.z), upper_foot - low(in->low, p.z), side_left, side_left - 5.5, size(*in, "inside", true, views.units));
  }
  return p.unseen;
}

}  // namespace cellstow::report
