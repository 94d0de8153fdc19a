#include <algorithm>

#include "report/callout.hpp"
#include "report/chart.hpp"
#include "report/split_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using choosing::SplitRow;

/// The first cavity whose cells differ from way to way.
std::size_t first_that_differs(const choosing::SplitStudy& study) {
  for (std::size_t i = 0; i < study.cavities.size(); ++i) {
    for (const SplitRow& row : study.rows) {
      if (row.cells[i] != study.rows.front().cells[i]) return i;
    }
  }
  return 0;
}

void draw_key(Chart& chart, bool target) {
  ChartKey key(chart, 5);
  key.dot(1.5, Fill::ink, Pen::wall, "as planned");
  key.dot(1.1, Fill::paper, Pen::inner, "another way");
  key.cross(Pen::inner, "an axle over its limit");
  if (target) key.band(Fill::window, "front share wanted");
}

}  // namespace

std::optional<Drawing> split_drawing(const choosing::SplitStudy& study) {
  if (study.rows.size() < 2) return std::nullopt;
  const std::size_t of = first_that_differs(study);
  std::vector<double> counts, shares;
  for (const SplitRow& row : study.rows) {
    counts.push_back(row.cells[of]);
    shares.push_back(100 * row.front_share);
  }
  if (study.target) shares.insert(shares.end(), {100 * study.target->min, 100 * study.target->max});
  Drawing out{"splits", "Front share by how the cells are split", 180, 0, "", {}};
  Chart chart(out, axis_for("cells in: " + shortened(one_line(study.cavities[of]), 50), counts, 10, 1), axis_for("front share, driver only, %", shares, 6), 70);
  if (study.target) chart.band(100 * study.target->min, 100 * study.target->max, Fill::window);
  for (const SplitRow& row : study.rows) {
    const Spot spot = chart.at(row.cells[of], 100 * row.front_share);
    if (row.chosen) continue;
    if (row.within_limits) {
      chart.dot(spot, 1.1, Fill::paper, Pen::inner);
    } else {
      chart.cross(spot, 1, Pen::inner);
    }
  }
  for (const SplitRow& row : study.rows) {
    if (!row.chosen) continue;
    const Spot spot = chart.at(row.cells[of], 100 * row.front_share);
    chart.dot(spot, 1.5, Fill::ink, Pen::wall);
    if (!row.within_limits) chart.cross(spot, 2.2, Pen::wall);
  }
  draw_key(chart, study.target.has_value());
  return out;
}

}  // namespace cellstow::report
