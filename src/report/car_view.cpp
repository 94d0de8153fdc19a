#include <algorithm>
#include <cmath>

#include "report/callout.hpp"
#include "report/look.hpp"
#include "report/page_drawings.hpp"
#include "report/sheet.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

constexpr double sheet = 180;
constexpr double wheel_radius_mm = 290;  ///< for the picture only; the picture says so
constexpr double wheel_width_mm = 160;
constexpr double overhang_mm = 590;      ///< room before and behind the axles, for the picture only

/// One of the two pictures: a place on paper and a scale.
struct Picture {
  Look look;
  Extent extent;
  double scale, left, top;
  Spot at(const Flat& p) const { return {left + (p.a - extent.a_low) / scale, top + (extent.b_high - p.b) / scale}; }
  double bottom() const { return top + (extent.b_high - extent.b_low) / scale; }
};

struct Gravity { const char* text; double x, y, z; bool solid; };

std::vector<Gravity> centres(const plan::Plan& plan) {
  std::vector<Gravity> out;
  if (!plan.balance) return out;
  for (const balance::LoadState& s : plan.balance->states) {
    const bool before = s.name == "before";
    if (!before && s.name != "as_driven") continue;
    out.push_back({before ? "as it came" : "with the driver", s.cg_x_mm, s.cg_y_mm, s.cg_z_mm, !before});
  }
  return out;
}

void draw_wheels(Drawing& out, const Picture& view, const survey::Car& car) {
  const double track = car.track_front ? car.track_front->mm() : 1300;
  for (const double x : {0.0, car.wheelbase->mm()}) {
    if (view.look == Look::from_left) {
      out.items.emplace_back(Ring{view.at({x, wheel_radius_mm}), wheel_radius_mm / view.scale, Pen::inner, Fill::none});
      continue;
    }
    out.items.emplace_back(Stroke{{view.at({x, -track / 2 - 120}), view.at({x, track / 2 + 120})}, false, Pen::centre_line, Fill::none});
    for (const double y : {-track / 2, track / 2}) {
      const Patch patch = rectangle(view.at({x - wheel_radius_mm, y - wheel_width_mm / 2}), view.at({x + wheel_radius_mm, y + wheel_width_mm / 2}));
      out.items.emplace_back(Stroke{corners(patch), true, Pen::inner, Fill::none});
    }
  }
  out.items.emplace_back(Stroke{{view.at({view.extent.a_low, 0}), view.at({view.extent.a_high, 0})}, false,
                                view.look == Look::from_left ? Pen::inner : Pen::centre_line, Fill::none});
}

/// On the longest block, which never lies across a corner cut out of the box.
Spot name_place(const Picture& view, const packing::BoxLayout& layout, const Patch& patch) {
  const auto longest = std::max_element(layout.blocks.begin(), layout.blocks.end(), [](const auto& p, const auto& q) { return p.cells < q.cells; });
  if (longest == layout.blocks.end()) return {(patch.left + patch.right) / 2, (patch.top + patch.bottom) / 2};
  const std::vector<Flat> shape = seen(view.look, longest->body, layout.heading);
  return view.at({(shape[0].a + shape[2].a) / 2, (shape[0].b + shape[2].b) / 2});
}

void draw_boxes(Drawing& out, const Picture& view, const plan::Plan& plan, NearLabels& labels) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      const packing::BoxLayout& layout = box.box.layout;
      Extent extent;
      std::vector<Spot> outline;
      for (const core::Point2& p : core::to_car(layout.heading, layout.outline)) {
        outline.push_back(view.at({p.a.mm(), p.b.mm()}));
        extent.take(seen(view.look, p.a.mm(), p.b.mm(), layout.z_bottom.mm()));
        extent.take(seen(view.look, p.a.mm(), p.b.mm(), layout.lid_top.mm()));
      }
      if (extent.empty) continue;
      const Patch patch = rectangle(view.at({extent.a_low, extent.b_low}), view.at({extent.a_high, extent.b_high}));
      out.items.emplace_back(Stroke{view.look == Look::from_above ? outline : corners(patch), true, Pen::wall, Fill::cell});
      Label label{name_place(view, layout, patch), shortened(box.box.mark, 6), 3.6, Anchor::middle, true, false};
      while (label.size > 2 && text_width(label.text, label.size, true) + 1.2 > patch.width()) label.size -= 0.2;
      const double half = text_width(label.text, label.size, true) / 2 + 0.6;
      if (patch.width() > 2 * half) label.at.x = std::clamp(label.at.x, patch.left + half, patch.right - half);
      if (!labels.is_free(text_patch(label))) continue;
      labels.block(text_patch(label));
      out.items.emplace_back(label);
    }
  }
}

/// Numbers in the squares, of all seats at one place; the names stand below the pictures.
void draw_seats(Drawing& out, const Picture& view, const survey::Car& car, NearLabels& labels) {
  constexpr double half = 3.2, one_place = 1;
  std::vector<Spot> spots;
  for (const survey::Seat& seat : car.seats) spots.push_back(view.at(seen(view.look, seat.at)));
  const auto at_one_place = [](const Spot& p, const Spot& q) { return std::hypot(p.x - q.x, p.y - q.y) < one_place; };
  for (std::size_t i = 0; i < spots.size(); ++i) {
    const Flat at = seen(view.look, car.seats[i].at);
    if (at.a < view.extent.a_low || at.a > view.extent.a_high || at.b < view.extent.b_low || at.b > view.extent.b_high) continue;
    if (std::any_of(spots.begin(), spots.begin() + static_cast<std::ptrdiff_t>(i), [&](const Spot& before) { return at_one_place(before, spots[i]); })) continue;
    const Spot& spot = spots[i];
    const Patch square{spot.x - half, spot.y - half, spot.x + half, spot.y + half};
    out.items.emplace_back(Stroke{corners(square), true, Pen::inner, Fill::paper});
    std::string numbers;
    for (std::size_t j = i; j < spots.size(); ++j) {
      if (at_one_place(spots[j], spot)) numbers += (numbers.empty() ? "" : " ") + number(static_cast<double>(j + 1));
    }
    const Label label{spot, numbers, 3, Anchor::middle, false, false};
    if (!labels.is_free(text_patch(label))) continue;
    labels.block(square);
    out.items.emplace_back(label);
  }
}

/// Open ring before, filled after: told apart without colour.
void draw_gravity(Drawing& out, const Picture& view, const plan::Plan& plan) {
  for (const Gravity& g : centres(plan)) {
    const Flat at = seen(view.look, g.x, g.y, g.z);
    if (!std::isfinite(at.a) || !std::isfinite(at.b)) continue;
    const Spot spot = view.at(at);
    if (spot.x < 4 || spot.x > sheet - 4 || spot.y < view.top || spot.y > view.bottom()) continue;
    out.items.emplace_back(Ring{spot, 1.6, Pen::wall, g.solid ? Fill::ink : Fill::paper});
  }
}

/// What rings and numbers stand for. @return where the last line stands
double draw_legend(Drawing& out, const survey::Car& car, const plan::Plan& plan, double y) {
  constexpr double letter = 2.8, line = 4.2;
  double x = 1;
  for (const Gravity& g : centres(plan)) {
    const std::string name = std::string("centre of gravity, ") + g.text;
    out.items.emplace_back(Ring{{x + 1.6, y}, 1.6, Pen::wall, g.solid ? Fill::ink : Fill::paper});
    out.items.emplace_back(Label{{x + 4.4, y}, name, letter, Anchor::start, false, false});
    x += 4.4 + text_width(name, letter, false) + 6;
  }
  if (x > 1) y += line;
  std::string seats;
  for (std::size_t i = 0; i < car.seats.size(); ++i) {
    seats += (i > 0 ? "; " : "") + number(static_cast<double>(i + 1)) + " " + car.seats[i].name;
  }
  for (const std::string& text : wrap(seats, letter, sheet - 2)) {
    out.items.emplace_back(Label{{1, y}, text, letter, Anchor::start, false, false});
    y += line;
  }
  return y;
}

/// Room for the wheels, a little more at both ends, and every box.
Extent extent_of(Look look, const survey::Car& car, const plan::Plan& plan) {
  const double length = car.wheelbase->mm(), track = car.track_front ? car.track_front->mm() : 1300;
  Extent extent{-overhang_mm, length + overhang_mm, look == Look::from_above ? -track / 2 - 200 : -20,
                look == Look::from_above ? track / 2 + 200 : 1000, false};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const core::Point2& p : core::to_car(box.box.layout.heading, box.box.layout.outline)) {
        for (const core::Length z : {box.box.layout.z_bottom, box.box.layout.lid_top}) {
          extent.take(seen(look, p.a.mm(), p.b.mm(), z.mm()));
        }
      }
    }
  }
  return extent;
}

Picture picture(Look look, const Extent& extent, double scale, double top) {
  return {look, extent, scale, (sheet - (extent.a_high - extent.a_low) / scale) / 2, top};
}

}  // namespace

std::optional<Drawing> car_drawing(const survey::Job& job, const plan::Plan& plan) {
  if (!job.car || !job.car->wheelbase) return std::nullopt;
  const survey::Car& car = *job.car;
  const Extent plan_extent = extent_of(Look::from_above, car, plan), side_extent = extent_of(Look::from_left, car, plan);
  const double length = plan_extent.a_high - plan_extent.a_low;
  const double scale = scale_for(length, plan_extent.b_high - plan_extent.b_low, 174, 100);
  const Picture above = picture(Look::from_above, plan_extent, scale, 14);
  const Picture side = picture(Look::from_left, side_extent, scale, above.bottom() + 6);
  Drawing out{"car", "the car with its boxes, from above and from the left", sheet, 0, "1:" + number(scale), {}};
  out.items.emplace_back(Label{{1, 4}, "The car with its boxes, 1:" + number(scale), 4.2, Anchor::start, true, false});
  out.items.emplace_back(Label{{1, 9.5}, "Front to the left. From above (right side of the car upward) and from the left.", 2.8, Anchor::start, false, false});
  out.items.emplace_back(Label{{1, side.bottom() + 5}, "Wheels and ends of the car are drawn for the eye only; axles, boxes, seats and centres of gravity are to scale.", 2.6, Anchor::start, false, false});
  out.height = draw_legend(out, car, plan, side.bottom() + 10);
  for (const Picture& view : {above, side}) {
    NearLabels labels({1, view.top, sheet - 1, view.bottom()});
    draw_wheels(out, view, car);
    draw_boxes(out, view, plan, labels);
    draw_seats(out, view, car, labels);
    draw_gravity(out, view, plan);
  }
  return out;
}

}  // namespace cellstow::report
