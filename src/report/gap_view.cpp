#include "report/gap_view.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// How far a drawn distance may be off the computed one and still show the same gap, mm. The
/// reading between two sections lies a little off both outlines.
constexpr double same_gap_mm = 0.3;

/// The drawn line at exactly the gap's distance from its point, if this view has one.
Nearest shown_at(const survey::Cavity& cavity, const plan::Gap& gap, Look look) {
  const Flat from = seen(look, gap.at);
  Nearest best;
  double off = same_gap_mm;
  const auto offer = [&](const std::vector<Flat>& line, bool closed) {
    const Nearest near = nearest_on(line, closed, from);
    if (!near.found || std::abs(near.distance - gap.gap_mm) >= off) return;
    off = std::abs(near.distance - gap.gap_mm);
    best = near;
  };
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    if (keep_out.name == gap.what) offer(seen(look, keep_out), true);
  }
  if (best.found) return best;
  for (const survey::Section& section : cavity.sections.at) {
    const SeenSection view = seen(look, cavity.sections.across, section);
    offer(view.outline, view.square_on);
    for (const auto& hole : view.holes) offer(hole, true);
  }
  return best;
}

bool is_keep_out(const survey::Cavity& cavity, const std::string& name) {
  return std::any_of(cavity.keep_outs.begin(), cavity.keep_outs.end(),
                     [&](const survey::KeepOut& keep_out) { return keep_out.name == name; });
}

}  // namespace

std::vector<SeenGap> seen_gaps(const survey::Cavity& cavity,
                               const plan::CavityPlan& plan, Look look) {
  std::vector<SeenGap> out;
  for (const plan::Gap& gap : plan.tightest) {
    const Nearest near = shown_at(cavity, gap, look);
    if (!near.found || near.distance < 1e-6) continue;
    const Flat from = seen(look, gap.at);
    bool again = false;
    for (const SeenGap& other : out) {
      again = again || std::hypot(other.from.a - from.a, other.from.b - from.b) < 1;
      again = again || (other.what == gap.what && is_keep_out(cavity, gap.what));
    }
    if (again) continue;
    out.push_back({from, near.at, gap.what,
                   number(gap.gap_mm) + " to " + gap.what + " (" + number(gap.needed_mm) + " needed)"});
    if (out.size() == 5) break;
  }
  return out;
}

void draw_gap(Drawing& drawing, const Sheet& sheet, const SeenGap& gap) {
  const Spot from = sheet.to_paper(gap.from), to = sheet.to_paper(gap.to);
  const double dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
  drawing.items.emplace_back(Stroke{{from, to}, false, Pen::gap, Fill::none});
  if (length < 0.01) return;
  // Small gaps get end strokes instead of arrow heads, which would hide them.
  const double ax = -dy / length * 1.1, ay = dx / length * 1.1;
  for (const Spot& end : {from, to}) {
    drawing.items.emplace_back(
        Stroke{{{end.x - ax, end.y - ay}, {end.x + ax, end.y + ay}}, false, Pen::gap, Fill::none});
  }
}

}  // namespace cellstow::report
