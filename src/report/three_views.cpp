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
        const std::optional<ViewPoint> spot = out.views[view].spot(j);
        if (!spot) continue;
        out.balloons[view].push_back({name, *spot});
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

/// Names in a column right of the view's patch.
void add_balloons(Paper& sheet, Placer& placer, std::vector<Balloon> balloons, const SolidView& view, Spot origin, double scale,
                  const Patch& patch) {
  const double right = patch.right, top = patch.top, height = patch.height();
  const auto at = [&](ViewPoint p) { return Spot{origin.x + (p.a - view.extent().low.a) / scale, origin.y - (p.b - view.extent().low.b) / scale}; };
  // A long line that ran level would look like an edge: it is given a slope, towards the middle of the view.
  const double middle = top + height / 2;
  const auto wanted_at = [&](const Balloon& b) {
    const Spot spot = at(b.at);
    return spot.y + (spot.y < middle ? 0.14 : -0.14) * (right - spot.x);
  };
  std::stable_sort(balloons.begin(), balloons.end(), [&](const Balloon& x, const Balloon& y) { return at(x.at).y < at(y.at).y; });
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

/// Where the views stand on paper: the whole extent along u, v, z, and each view's own low corner.
struct Places {
  std::array<Patch, 3> views;
  std::array<Spot, 3> origins;
};

/// First angle: the view from behind stands left of the side view, the plan below it. Third angle: right and above.
Places places_of(const Prepared& p, survey::Projection projection, const Patch& room, double scale) {
  const Sizes s = sizes(p, scale);
  const bool first = projection == survey::Projection::first;
  const double spare_x = (room.width() - s.end_column - s.plan_column) / 3, spare_y = (room.height() - s.upper_row - s.plan_row) / 3;
  const double end_x = room.left + end_margin + (first ? spare_x : 2 * spare_x + s.plan_column);
  const double plan_x = room.left + left_margin + (first ? 2 * spare_x + s.end_column : spare_x);
  const double upper_y = room.top + head + (first ? spare_y : 2 * spare_y + s.plan_row);
  const double plan_y = room.top + head + (first ? 2 * spare_y + s.upper_row : spare_y);
  const double u = (p.u.high - p.u.low) / scale, v = (p.v.high - p.v.low) / scale, z = (p.z.high - p.z.low) / scale;
  const auto origin = [&](const SolidView& view, const Patch& patch, double low_a, double low_b) {
    return Spot{patch.left + (view.extent().low.a - low_a) / scale, patch.bottom - (view.extent().low.b - low_b) / scale};
  };
  Places out;
  out.views = {Patch{plan_x, upper_y, plan_x + u, upper_y + z}, Patch{plan_x, plan_y, plan_x + u, plan_y + v}, Patch{end_x, upper_y, end_x + v, upper_y + z}};
  out.origins = {origin(p.views[0], out.views[0], p.u.low, p.z.low), origin(p.views[1], out.views[1], p.u.low, p.v.low),
                 origin(p.views[2], out.views[2], p.v.low, p.z.low)};
  return out;
}

/// Outside sizes on the outer lines, inside sizes boxed on the inner ones; heights at the side view.
void add_sizes(Paper& sheet, Placer& placer, const ThreeViews& views, const Prepared& p, const Places& at, double scale) {
  constexpr double outer = 14.5, inner = 5.5, outer_below = 16, inner_below = 7.5;
  const Patch &side = at.views[0], &plan = at.views[1];
  const auto up = [&](const Patch& patch, const Between& whole, const Between& b, double off, const char* where, bool boxed) {
    const double low = patch.bottom - (b.low - whole.low) / scale, high = patch.bottom - (b.high - whole.low) / scale;
    add_height(sheet, placer, high, low, patch.left, patch.left - off, size(b, where, boxed, views.units));
  };
  const auto across = [&](const Between& b, double off, const char* where, bool boxed) {
    const double low = plan.left + (b.low - p.u.low) / scale, high = plan.left + (b.high - p.u.low) / scale;
    add_width(sheet, placer, low, high, plan.bottom, plan.bottom + off, size(b, where, boxed, views.units));
  };
  across(p.u, outer_below, "outside", false);
  up(plan, p.v, p.v, outer, "outside", false);
  up(side, p.z, p.z, outer, "outside", false);
  if (views.inside[0]) across(*views.inside[0], inner_below, "inside", true);
  if (views.inside[1]) up(plan, p.v, *views.inside[1], inner, "inside", true);
  if (views.inside[2]) up(side, p.z, *views.inside[2], inner, "inside", true);
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
  const Places at = places_of(p, views.projection, room, scale);
  Placer placer(room);
  const bool lid_off = std::find(views.off_in_plan.begin(), views.off_in_plan.end(), true) != views.off_in_plan.end();
  for (const Aspect aspect : {Aspect::from_left, Aspect::from_behind, Aspect::from_above}) {
    const std::size_t i = static_cast<std::size_t>(aspect);
    const Patch& patch = at.views[i];
    p.views[i].draw(sheet, at.origins[i], scale);
    add_title(sheet, placer, aspect, lid_off && aspect == Aspect::from_above, {patch.left, patch.top - head + 3});
    add_balloons(sheet, placer, p.balloons[i], p.views[i], at.origins[i], scale, patch);
  }
  add_sizes(sheet, placer, views, p, at, scale);
  return p.unseen;
}

}  // namespace cellstow::report
