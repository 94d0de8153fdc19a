#include "report/callout.hpp"

#include <algorithm>
#include <cmath>

namespace cellstow::report {
namespace {

constexpr double letter = 3.0;
constexpr double line_height = 3.9;
constexpr double between = 1.6;

}  // namespace

/// Pushed down from above, then up from the foot.
std::vector<double> stacked(const std::vector<double>& wanted, const std::vector<double>& heights,
                            double top, double bottom) {
  std::vector<double> tops;
  double free_from = top;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    tops.push_back(std::max(wanted[i], free_from));
    free_from = tops.back() + heights[i];
  }
  double free_to = bottom;
  for (std::size_t i = tops.size(); i-- > 0;) {
    tops[i] = std::min(tops[i], free_to - heights[i]);
    free_to = tops[i];
  }
  return tops;
}

CalloutColumns::CalloutColumns(std::vector<Callout> callouts, double column_width,
                               double middle_x) {
  std::stable_sort(callouts.begin(), callouts.end(), [](const Callout& p, const Callout& q) {
    return p.left.x + p.right.x < q.left.x + q.right.x;
  });
  for (Callout& callout : callouts) {
    Entry entry;
    entry.lines = wrap(callout.text, callout.bold ? letter * 1.08 : letter, column_width);
    entry.height = line_height * static_cast<double>(entry.lines.size()) + between;
    const bool left = (callout.left.x + callout.right.x) / 2 < middle_x;
    entry.callout = std::move(callout);
    (left ? left_ : right_).push_back(std::move(entry));
  }
  // The names nearest to the middle may change sides, as long as that evens the columns out.
  while (!left_.empty() && height_of(left_) - left_.back().height > height_of(right_)) {
    right_.insert(right_.begin(), std::move(left_.back()));
    left_.pop_back();
  }
  while (!right_.empty() && height_of(right_) - right_.front().height > height_of(left_)) {
    left_.push_back(std::move(right_.front()));
    right_.erase(right_.begin());
  }
  const auto sort_down = [](std::vector<Entry>& entries, bool left) {
    std::stable_sort(entries.begin(), entries.end(), [left](const Entry& p, const Entry& q) {
      return (left ? p.callout.left.y : p.callout.right.y) <
             (left ? q.callout.left.y : q.callout.right.y);
    });
  };
  sort_down(left_, true);
  sort_down(right_, false);
}

double CalloutColumns::height_of(const std::vector<Entry>& entries) {
  double total = 0;
  for (const Entry& entry : entries) total += entry.height;
  return total;
}

double CalloutColumns::height() const { return std::max(height_of(left_), height_of(right_)); }

void CalloutColumns::draw(Drawing& drawing, const Columns& columns) const {
  draw_column(drawing, left_, columns.left, true);
  draw_column(drawing, right_, columns.right, false);
}

void CalloutColumns::draw_column(Drawing& drawing, const std::vector<Entry>& entries,
                                 const Patch& column, bool left) {
  std::vector<double> wanted, heights;
  for (const Entry& entry : entries) {
    wanted.push_back((left ? entry.callout.left.y : entry.callout.right.y) - entry.height / 2);
    heights.push_back(entry.height);
  }
  const std::vector<double> tops = stacked(wanted, heights, column.top, column.bottom);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Entry& entry = entries[i];
    const double edge = left ? column.right : column.left;
    const double middle = tops[i] + (entry.height - between) / 2;
    const Spot end = left ? entry.callout.left : entry.callout.right;
    const double out = left ? 1 : -1;
    const bool sampled = entry.callout.sample != Pen::none;
    const Spot start{edge + (sampled ? 8.6 : 0.6) * out, middle};
    drawing.items.emplace_back(
        Stroke{{start, {start.x + 1.9 * out, middle}, end}, false, entry.callout.pen, Fill::none});
    if (sampled) {
      drawing.items.emplace_back(Stroke{{{edge + 0.8 * out, middle}, {start.x - 0.4 * out, middle}},
                                        false, entry.callout.sample, Fill::none});
    }
    double y = tops[i] + line_height / 2;
    for (const std::string& line : entry.lines) {
      drawing.items.emplace_back(Label{{edge, y}, line, letter, left ? Anchor::end : Anchor::start,
                                       entry.callout.bold, false});
      y += line_height;
    }
  }
}

void NearLabels::block_all(const Drawing& drawing) {
  for (const Item& item : drawing.items) {
    if (const auto* label = std::get_if<Label>(&item)) block(text_patch(*label));
  }
}

bool NearLabels::is_free(const Patch& patch) const {
  if (patch.left < area_.left || patch.right > area_.right || patch.top < area_.top ||
      patch.bottom > area_.bottom) {
    return false;
  }
  return std::none_of(taken_.begin(), taken_.end(),
                      [&](const Patch& other) { return other.overlaps(patch); });
}

bool NearLabels::place(Drawing& drawing, Spot at, double clear, Label label) {
  struct Try { double dx, dy; Anchor anchor; };
  const double half = 0.6 * label.size;
  for (const double out : {clear, clear + 1.5}) {
    const Try tries[] = {{out, 0, Anchor::start},      {-out, 0, Anchor::end},
                         {0, -out - half, Anchor::middle}, {0, out + half, Anchor::middle},
                         {out, -half, Anchor::start},  {out, half, Anchor::start},
                         {-out, -half, Anchor::end},   {-out, half, Anchor::end}};
    for (const Try& t : tries) {
      label.at = {at.x + t.dx, at.y + t.dy};
      label.anchor = t.anchor;
      const Patch patch = text_patch(label).grown(0.3);
      if (!is_free(patch)) continue;
      block(patch);
      drawing.items.emplace_back(label);
      return true;
    }
  }
  return false;
}

}  // namespace cellstow::report
