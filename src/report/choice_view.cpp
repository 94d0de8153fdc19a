#include <algorithm>

#include "report/callout.hpp"
#include "report/chart.hpp"
#include "report/choice_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using choosing::Candidate;
using choosing::Choice;
using choosing::Standing;

struct Dot { double x, y; std::size_t number; Standing standing; bool breaks; };

void draw_key(Chart& chart, bool target) {
  ChartKey key(chart, 4);
  key.dot(1.4, Fill::ink, Pen::wall, "best, with its number in the table");
  key.dot(0.9, Fill::paper, Pen::leader, "beaten");
  key.cross(Pen::leader, "goes past a limit");
  if (target) key.band(Fill::window, "front share wanted");
}

void draw_dots(Drawing& drawing, Chart& chart, const std::vector<Dot>& dots) {
  NearLabels labels(chart.field().grown(-0.5));
  for (const Dot& dot : dots) {
    if (dot.standing == Standing::best) continue;
    const Spot spot = chart.at(dot.x, dot.y);
    if (dot.breaks) {
      chart.cross(spot, 0.9, Pen::leader);
    } else {
      chart.dot(spot, 0.9, Fill::paper, Pen::leader);
    }
  }
  for (const Dot& dot : dots) {
    if (dot.standing != Standing::best) continue;
    const Spot spot = chart.at(dot.x, dot.y);
    chart.dot(spot, 1.4, Fill::ink, Pen::wall);
    if (dot.breaks) chart.cross(spot, 2.2, Pen::wall);
    labels.block({spot.x - 1.6, spot.y - 1.6, spot.x + 1.6, spot.y + 1.6});
  }
  for (const Dot& dot : dots) {
    if (dot.standing == Standing::best) labels.place(drawing, chart.at(dot.x, dot.y), 2.0, {{}, std::to_string(dot.number), 2.9, Anchor::start, true, false});
  }
}

Drawing picture(const std::string& name, const std::string& title, const std::string& y_label, const std::vector<Dot>& dots, const std::optional<survey::ShareTarget>& target) {
  std::vector<double> xs, ys;
  for (const Dot& dot : dots) {
    xs.push_back(dot.x);
    ys.push_back(dot.y);
  }
  if (target) ys.insert(ys.end(), {100 * target->min, 100 * target->max});
  Drawing out{name, title, 180, 0, "", {}};
  Chart chart(out, axis_for("energy in the cells, kWh", xs, 9), axis_for(y_label, ys, 6), 80);
  if (target) chart.band(100 * target->min, 100 * target->max, Fill::window);
  draw_dots(out, chart, dots);
  draw_key(chart, target.has_value());
  return out;
}

}  // namespace

std::vector<Drawing> choice_drawings(const Choice& choice) {
  std::vector<Dot> masses, shares;
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) {
    const Candidate& c = choice.candidates[i];
    if (!c.fullest) continue;
    masses.push_back({c.kwh, c.boxes_kg, i + 1, c.standing, !c.breaks.empty()});
    if (c.front_share) shares.push_back({c.kwh, 100 * *c.front_share, i + 1, c.standing, !c.breaks.empty()});
  }
  std::vector<Drawing> out;
  if (masses.empty()) return out;
  out.push_back(picture("choice-mass", "Energy and mass: each format with its most cells", "full boxes, kg", masses, std::nullopt));
  if (!shares.empty()) out.push_back(picture("choice-front-share", "Energy and front share: each format with its most cells", "front share, driver only, %", shares, choice.target));
  return out;
}

}  // namespace cellstow::report
