#include "report/walls_view.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/look.hpp"
#include "report/sheet.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using survey::Section;

struct Picture {
  std::string name, title, solid, dashed, farthest;
  Section first, second;
  core::Axis across = core::Axis::z;
  core::Point2 at;
};

Flat flat(core::Axis across, core::Point2 p) {
  const double a = p.a.mm(), b = p.b.mm();
  switch (across) {
    case core::Axis::x: return seen(Look::from_behind, 0, a, b);
    case core::Axis::y: return seen(Look::from_left, a, 0, b);
    case core::Axis::z: break;
  }
  return seen(Look::from_above, a, b, 0);
}

constexpr double left = 16, top = 16, room_width = 120, room_height = 80, row = 5;

/// From car mm to paper.
struct Paper {
  Extent extent;
  double scale = 1;
  Spot at(Flat p) const { return {left + (p.a - extent.a_low) / scale, top + (extent.b_high - p.b) / scale}; }
  double bottom() const { return top + (extent.b_high - extent.b_low) / scale; }
};

Paper paper_for(const Picture& picture) {
  Paper out;
  for (const Section* section : {&picture.first, &picture.second})
    for (const core::Point2& p : section->outline) out.extent.take(flat(picture.across, p));
  out.scale = scale_for(out.extent.a_high - out.extent.a_low, out.extent.b_high - out.extent.b_low, room_width, room_height);
  return out;
}

void draw_section(Drawing& out, const Paper& paper, const Picture& picture, const Section& section, Pen pen) {
  const auto ring = [&](const std::vector<core::Point2>& corners) {
    Stroke stroke{{}, true, pen, Fill::none};
    for (const core::Point2& p : corners) stroke.points.push_back(paper.at(flat(picture.across, p)));
    out.items.emplace_back(std::move(stroke));
  };
  ring(section.outline);
  for (const auto& hole : section.holes) ring(hole);
}

/// Which way is which, and how long 100 mm of the car are here.
void draw_directions(Drawing& out, const Paper& paper, const Picture& picture) {
  const double middle = (top + paper.bottom()) / 2;
  out.items.emplace_back(Label{{8, middle}, picture.across == core::Axis::x ? "left" : "front", 3, Anchor::middle, false, true});
  out.items.emplace_back(Label{{left, top - 4}, picture.across == core::Axis::z ? "from above, the car's right up" : picture.across == core::Axis::y ? "from the left" : "from behind", 3, Anchor::start, false, false});
  const double bar = 100 / paper.scale, y = paper.bottom() + 5;
  out.items.emplace_back(Stroke{{{left, y - 1}, {left, y + 1}}, false, Pen::dimension, Fill::none});
  out.items.emplace_back(Stroke{{{left, y}, {left + bar, y}}, false, Pen::dimension, Fill::none});
  out.items.emplace_back(Stroke{{{left + bar, y - 1}, {left + bar, y + 1}}, false, Pen::dimension, Fill::none});
  out.items.emplace_back(Label{{left + bar + 2, y}, "100 mm of the car", 3, Anchor::start, false, false});
}

void draw_key(Drawing& out, double y, const Picture& picture) {
  const auto line = [&](Pen pen, const std::string& text) {
    out.items.emplace_back(Stroke{{{left, y}, {left + 10, y}}, false, pen, Fill::none});
    out.items.emplace_back(Label{{left + 12, y}, shortened(text, 64), 3, Anchor::start, false, false});
    y += row;
  };
  line(Pen::wall, picture.solid);
  line(Pen::section_2, picture.dashed);
  out.items.emplace_back(Ring{{left + 5, y}, 1.8, Pen::gap, Fill::none});
  out.items.emplace_back(Label{{left + 12, y}, shortened(picture.farthest, 64), 3, Anchor::start, true, false});
}

Drawing drawn(const Picture& picture) {
  const Paper paper = paper_for(picture);
  Drawing out{picture.name, picture.title, left + room_width + 14, paper.bottom() + 12 + 3 * row, "", {}};
  out.items.emplace_back(Label{{left, 5}, shortened(picture.title, 56), 3.6, Anchor::start, true, false});
  draw_section(out, paper, picture, picture.first, Pen::wall);
  draw_section(out, paper, picture, picture.second, Pen::section_2);
  out.items.emplace_back(Ring{paper.at(flat(picture.across, picture.at)), 2.4, Pen::gap, Fill::none});
  draw_directions(out, paper, picture);
  draw_key(out, paper.bottom() + 11, picture);
  return out;
}

const Section* at_station(const survey::Cavity& cavity, core::Length station) {
  const auto& at = cavity.sections.at;
  const auto found = std::find_if(at.begin(), at.end(), [&](const Section& section) { return section.station == station; });
  return found == at.end() ? nullptr : &*found;
}

std::string station_text(core::Axis across, core::Length station) {
  return fmt::format("{} {}", "xyz"[static_cast<std::size_t>(across)], number(station.mm(), 1));
}

Drawing sides_drawing(const survey::Cavity& cavity, const differences::FacingWalls& wall) {
  const bool side = wall.across == core::Axis::y;
  const Section& right = *at_station(cavity, wall.other_station);
  Picture out{file_part("left-and-right-" + cavity.name), cavity.name + ", " + station_text(wall.across, wall.station) + ": left against right", {}, {}, {}, right, right, wall.across, wall.at};
  out.second = side ? *at_station(cavity, wall.station) : differences::mirrored(right, wall.across);
  out.solid = side ? "right, at " + station_text(wall.across, wall.other_station) : "as measured";
  out.dashed = side ? "left, at " + station_text(wall.across, wall.station) : "its mirror image: where the right side is seen against the left";
  out.farthest = fmt::format("farthest apart: {} mm; more room on the {}", number(wall.mm, 1), wall.right_wider ? "right" : "left");
  return drawn(out);
}

const survey::Cavity* named(const std::vector<survey::Cavity>& cavities, const std::string& name) {
  const auto found = std::find_if(cavities.begin(), cavities.end(), [&](const survey::Cavity& cavity) { return cavity.name == name; });
  return found == cavities.end() ? nullptr : &*found;
}

/// The entry of each cavity with the most, in the order of the list.
template <class T, class Most>
std::vector<const T*> worst_of_each(const std::vector<T>& list, Most most) {
  std::vector<const T*> out;
  for (const T& one : list) {
    if (most(one) <= differences::same_mm) continue;
    const auto known = std::find_if(out.begin(), out.end(), [&](const T* other) { return other->cavity == one.cavity; });
    if (known == out.end())
      out.push_back(&one);
    else if (most(one) > most(**known))
      *known = &one;
  }
  return out;
}

}  // namespace

std::vector<Drawing> sides_drawings(const std::vector<survey::Cavity>& cavities, const differences::LeftRight& sides) {
  std::vector<Drawing> out;
  for (const differences::FacingWalls* wall : worst_of_each(sides.walls, [](const differences::FacingWalls& w) { return w.mm; }))
    if (const survey::Cavity* cavity = named(cavities, wall->cavity)) out.push_back(sides_drawing(*cavity, *wall));
  return out;
}

std::vector<Drawing> wall_drawings(const survey::Job& first, const survey::Job& second, const std::vector<differences::SectionDifference>& list) {
  std::vector<Drawing> out;
  const auto apart = [](const differences::SectionDifference& d) { return d.change == differences::Change::changed ? d.wall.mm : 0; };
  for (const differences::SectionDifference* worst : worst_of_each(list, apart)) {
    const Section* a = at_station(*named(first.cavities, worst->cavity), worst->station);
    const Section* b = at_station(*named(second.cavities, worst->cavity), worst->station);
    out.push_back(drawn({file_part("walls-" + worst->cavity), worst->cavity + ", " + station_text(worst->across, worst->station) + ": the two laid over each other", "first", "second",
                         fmt::format("farthest apart: {} mm; the {} is wider there", number(worst->wall.mm, 1), worst->wall.first_wider ? "first" : "second"), *a, *b, worst->across, worst->wall.at}));
  }
  return out;
}

}  // namespace cellstow::report
