#include "report/way_in_view.hpp"

#include <algorithm>
#include <cmath>

#include "report/callout.hpp"
#include "report/look.hpp"
#include "report/sheet.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double sheet = 180, picture_left = 4, picture_right = 116, picture_top = 14, picture_height = 74;
constexpr double words_at = 122;

Look look_of(core::Axis across) {
  if (across == core::Axis::z) return Look::from_above;
  return across == core::Axis::x ? Look::from_behind : Look::from_left;
}

std::vector<Flat> flat(const std::vector<core::Point2>& outline) {
  std::vector<Flat> out;
  for (const core::Point2& p : outline) out.push_back({p.a.mm(), p.b.mm()});
  return out;
}

std::vector<Flat> flat(const way_in::Figure& figure) {
  std::vector<Flat> out;
  for (const way_in::Spot& p : figure) out.push_back({p.a / 1000, p.b / 1000});
  return out;
}

/// A distance shown on the picture.
struct Shown { Flat from, to; std::string text; };

Shown least_gap(const std::vector<Flat>& opening, const way_in::Shadow& shadow) {
  Shown best;
  double least = 1e18;
  const auto offer = [&](const Flat& from, const std::vector<Flat>& to) {
    const Nearest near = nearest_on(to, true, from);
    if (!near.found || near.distance >= least) return;
    least = near.distance;
    best = {from, near.at, number(near.distance)};
  };
  for (const way_in::Figure& part : shadow.parts) {
    for (const Flat& corner : flat(part)) offer(corner, opening);
    for (const Flat& corner : opening) offer(corner, flat(part));
  }
  return best;
}

/// Places on paper for a picture of the plane.
struct Paper {
  Extent extent;
  double scale = 1;
  double height = 0;
  Spot at(const Flat& p) const {
    return {picture_left + (p.a - extent.a_low) / scale, picture_top + height - (p.b - extent.b_low) / scale};
  }
  std::vector<Spot> at(const std::vector<Flat>& points) const {
    std::vector<Spot> out;
    for (const Flat& p : points) out.push_back(at(p));
    return out;
  }
};

Paper paper_for(const std::vector<Flat>& opening, const way_in::Shadow& shadow) {
  Paper paper;
  for (const Flat& p : opening) paper.extent.take(p);
  for (const way_in::Figure& part : shadow.parts) {
    for (const Flat& p : flat(part)) paper.extent.take(p);
  }
  const Extent& e = paper.extent;
  paper.scale = scale_for(e.a_high - e.a_low, e.b_high - e.b_low, picture_right - picture_left, picture_height);
  paper.height = (e.b_high - e.b_low) / paper.scale;
  return paper;
}

void draw_shadow(Drawing& out, const Paper& paper, const way_in::Shadow& shadow) {
  // Wide lines first, areas over them: lines between the parts of one shadow vanish.
  for (const way_in::Figure& part : shadow.parts) {
    out.items.emplace_back(Stroke{paper.at(flat(part)), true, Pen::wall, Fill::none});
  }
  for (const way_in::Figure& part : shadow.parts) {
    out.items.emplace_back(Stroke{paper.at(flat(part)), true, Pen::seam, Fill::window});
  }
}

/// Lettering keeps off these lines.
void keep_off(const std::vector<Spot>& line, NearLabels& labels) {
  for (std::size_t k = 0; k < line.size(); ++k) {
    const Spot p = line[k], q = line[(k + 1) % line.size()];
    const int steps = 1 + static_cast<int>(std::hypot(q.x - p.x, q.y - p.y));
    for (int i = 0; i < steps; ++i) {
      const Spot at{p.x + (q.x - p.x) * i / steps, p.y + (q.y - p.y) * i / steps};
      labels.block({at.x - 0.3, at.y - 0.3, at.x + 0.3, at.y + 0.3});
    }
  }
}

void draw_distance(Drawing& out, const Paper& paper, const Shown& shown, NearLabels& labels) {
  const Spot from = paper.at(shown.from), to = paper.at(shown.to);
  out.items.emplace_back(Stroke{{from, to}, false, Pen::gap, Fill::none});
  const double dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
  if (length > 0.01) {
    const double ax = -dy / length * 1.1, ay = dx / length * 1.1;
    for (const Spot& end : {from, to}) {
      out.items.emplace_back(Stroke{{{end.x - ax, end.y - ay}, {end.x + ax, end.y + ay}}, false, Pen::gap, Fill::none});
    }
  }
  for (const double clear : {0.9, 3.0, 5.0, 7.0, 10.0}) {
    if (labels.place(out, {(from.x + to.x) / 2, (from.y + to.y) / 2}, clear, {{}, shown.text, 3.2, Anchor::middle, true, false})) break;
  }
}

const char* directions_of(Look look) {
  if (look == Look::from_above) return "Seen from above: front of the car on the left, its right side on top";
  if (look == Look::from_behind) return "Seen from behind: the car's left on the left";
  return "Seen from the left: front of the car on the left";
}

/// What stands beside the picture.
std::vector<std::string> words_of(const way_in::Pass& pass, const way_in::BodyWay& body, const survey::WayIn& way) {
  const char* axes[] = {"x", "y", "z"};
  std::vector<std::string> out{body.what + ", " + number(body.mass_kg) + " kg",
                               std::string("opening at ") + axes[static_cast<int>(way.across)] + " " + mm_text(way.station)};
  if (pass.manner == way_in::Manner::blocked) {
    out.push_back("held " + spoken(pass.attitude));
    for (const way_in::Blocking& edge : pass.blocking) out.push_back(edge.edge + ": " + number(edge.by_um / 1000) + " in the way");
    return out;
  }
  out.push_back(spoken(pass.attitude));
  if (pass.to_deg != pass.from_deg) {
    const auto [low, high] = std::minmax({std::abs(pass.from_deg), std::abs(pass.to_deg)});
    out.push_back("any angle from " + number(low) + " to " + number(high) + " degrees passes");
  }
  out.push_back("least gap " + number(pass.gap_mm));
  if (pass.straight) out.push_back("straight on to its place");
  return out;
}

void draw_words(Drawing& out, const std::vector<std::string>& words) {
  double y = picture_top + 3;
  for (const std::string& line : words) {
    for (const std::string& piece : wrap(line, 3, sheet - words_at - 1)) {
      out.items.emplace_back(Label{{words_at, y}, piece, 3, Anchor::start, false, false});
      y += 4.4;
    }
    y += 1.2;
  }
  out.height = std::max(out.height, y + 2);
}

Drawing drawing_of(const survey::WayIn& way, const way_in::Pass& pass, const way_in::BodyWay& body, const std::string& mark, std::size_t number_of) {
  const std::vector<Flat> opening = flat(way.outline);
  const Paper paper = paper_for(opening, pass.shadow);
  const std::string title = "Box " + mark + " through the " + pass.opening + (pass.manner == way_in::Manner::blocked ? ": DOES NOT PASS" : "");
  Drawing out{file_part(mark) + "-way-in-" + std::to_string(number_of), title, sheet, picture_top + paper.height + 4, "1:" + number(paper.scale), {}};
  const std::string shown = shortened(title + ", " + out.scale, 70);
  out.items.emplace_back(Label{{1, 4}, shown, std::min(4.2, 176 / text_width(shown, 1, true)), Anchor::start, true, false});
  out.items.emplace_back(Label{{1, 9}, std::string("Thick: opening. Filled: box along its way. Mm. ") + directions_of(look_of(way.across)) + ".",
                               2.6, Anchor::start, false, false});
  draw_shadow(out, paper, pass.shadow);
  out.items.emplace_back(Stroke{paper.at(opening), true, Pen::wall, Fill::none});
  NearLabels labels({picture_left - 3, picture_top - 3, picture_right + 4, picture_top + paper.height + 3});
  keep_off(paper.at(opening), labels);
  for (const way_in::Figure& part : pass.shadow.parts) keep_off(paper.at(flat(part)), labels);
  if (pass.manner == way_in::Manner::blocked) {
    for (const way_in::Blocking& edge : pass.blocking) {
      const Flat contact{edge.contact.a / 1000, edge.contact.b / 1000};
      draw_distance(out, paper, {contact, nearest_on(opening, true, contact).at, number(edge.by_um / 1000)}, labels);
    }
  } else {
    draw_distance(out, paper, least_gap(opening, pass.shadow), labels);
  }
  draw_words(out, words_of(pass, body, way));
  return out;
}

}  // namespace

std::vector<Drawing> way_in_drawings(const survey::Cavity& cavity, const way_in::BoxWay& way) {
  std::vector<Drawing> out;
  const way_in::BodyWay* body = way.shown();
  if (body == nullptr) return out;
  for (std::size_t k = 0; k < body->passes.size() && k < cavity.way_in.size(); ++k) {
    if (body->passes[k].shadow.parts.empty()) continue;
    out.push_back(drawing_of(cavity.way_in[k], body->passes[k], *body, way.mark, k + 1));
  }
  return out;
}

}  // namespace cellstow::report
