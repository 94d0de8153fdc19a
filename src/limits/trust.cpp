#include "cellstow/limits/trust.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/packing/pack.hpp"

namespace cellstow::limits {
namespace {

using core::Point2;
using core::Um;
using geometry::PointUm;
using survey::Cavity;
using survey::Section;

std::string in_mm(Length length) { return fmt::format("{:g}", length.mm()); }

std::vector<Length> give_of(const Section& section, Length tape_error) {
  std::vector<Length> out(section.outline.size(), tape_error);
  if (!section.measured) return out;
  for (std::size_t i = 0; i < section.measured->corners.size() && i < out.size(); ++i) {
    if (const auto& own = section.measured->corners[i].give_or_take) out[i] = *own;
  }
  return out;
}

/// Where two lines meet that run beside edges a-b and b-c of the outline, by so much to their left.
Point2 shifted_corner(const Point2& a, const Point2& b, const Point2& c, double first_um, double second_um) {
  const double px = static_cast<double>((b.a - a.a).um()), py = static_cast<double>((b.b - a.b).um());
  const double qx = static_cast<double>((c.a - b.a).um()), qy = static_cast<double>((c.b - b.b).um());
  const double p = std::hypot(px, py), q = std::hypot(qx, qy), sine = (px * qy - py * qx) / (p * q);
  const double bx = static_cast<double>(b.a.um()), by = static_cast<double>(b.b.um());
  double x = 0, y = 0;
  if (std::abs(sine) < 0.02) {  // nearly straight on: both move alike, by the larger
    const double by_um = std::max(first_um, second_um);
    x = bx - by_um * (py / p + qy / q) / 2;
    y = by + by_um * (px / p + qx / q) / 2;
  } else {
    // n_p . (X - b) = first, n_q . (X - b) = second, with the left normals n.
    x = bx + (first_um * qx / q - second_um * px / p) / sine;
    y = by + (first_um * qy / q - second_um * py / p) / sine;
  }
  return {Length::from_um(std::llround(x)), Length::from_um(std::llround(y))};
}

PointUm grid(const Point2& p) { return {p.a.um(), p.b.um()}; }

/// Every edge still runs its own way, and none meets another.
bool still_an_outline(const std::vector<Point2>& was, const std::vector<Point2>& now) {
  const std::size_t n = was.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point2 &a = was[i], &b = was[(i + 1) % n], &p = now[i], &q = now[(i + 1) % n];
    const double along = static_cast<double>((b.a - a.a).um()) * static_cast<double>((q.a - p.a).um()) +
                         static_cast<double>((b.b - a.b).um()) * static_cast<double>((q.b - p.b).um());
    if (along <= 0) return false;
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j + 1 == n) continue;
      if (!geometry::segments_keep(grid(p), grid(q), grid(now[j]), grid(now[(j + 1) % n]), 1)) return false;
    }
  }
  return true;
}

/// The section with all its walls off towards the inside. Holes are clockwise, so their edges move outwards of the hole by the same rule.
bool draw_in(Section& section, Length tape_error) {
  const auto outline = drawn_in(section.outline, give_of(section, tape_error));
  if (!outline) return false;
  section.outline = *outline;
  for (auto& hole : section.holes) {
    const auto larger = drawn_in(hole, std::vector<Length>(hole.size(), tape_error));
    if (!larger) return false;
    hole = *larger;
  }
  return true;
}

void grow(survey::KeepOut& keep_out, Length by) {
  if (auto* box = std::get_if<survey::BoxShape>(&keep_out.shape)) {
    box->low = {box->low.x - by, box->low.y - by, box->low.z - by};
    box->high = {box->high.x + by, box->high.y + by, box->high.z + by};
  } else if (auto* cylinder = std::get_if<survey::CylinderShape>(&keep_out.shape)) {
    cylinder->diameter = cylinder->diameter + by + by;
  } else if (auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape)) {
    std::vector<Point2> turned(prism->outline.rbegin(), prism->outline.rend());  // clockwise: its left is the outside
    if (const auto larger = drawn_in(turned, std::vector<Length>(turned.size(), by))) prism->outline.assign(larger->rbegin(), larger->rend());
    prism->z_low = prism->z_low - by;
    prism->z_high = prism->z_high + by;
  }
}

class Judge {
 public:
  Judge(const Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules, int cells) : cavity_(cavity), cell_(cell), rules_(rules), cells_(cells) {}

  /// What the quick search loses against as measured, taken off the count: it looks at less than the packing did.
  int still_fit(const Cavity& changed) {
    if (!as_measured_) as_measured_ = quick(cavity_);
    return cells_ - std::max(0, *as_measured_ - quick(changed));
  }

  TrustItem section(std::size_t i) {
    const Section& section = cavity_.sections.at[i];
    TrustItem item;
    item.what = fmt::format("section at {} mm", in_mm(section.station));
    const std::vector<Length> give = give_of(section, cavity_.tape_error);
    const auto worst = std::max_element(give.begin(), give.end());
    item.give_or_take = *worst;
    if (*worst > cavity_.tape_error) {
      const std::size_t corner = static_cast<std::size_t>(worst - give.begin());
      const std::string name = section.measured->corners[corner].name;
      add(item, fmt::format("corner {} give or take {} mm, the cavity's tape error is {}", name.empty() ? std::to_string(corner + 1) : name, in_mm(*worst),
                            in_mm(cavity_.tape_error)));
    }
    if (section.measured) {
      // A drawing's or a list's remarks say where it came from; how good it is stands at its corners.
      const survey::MeasuredBy by = section.measured->by;
      const bool tells_only = by == survey::MeasuredBy::drawing || by == survey::MeasuredBy::list;
      for (const std::string& remark : section.measured->remarks) {
        if (tells_only) tell(item, remark);
        else add(item, remark);
      }
    }
    if (item.trust == Trust::doubtful && probes_ < most_probes) {
      Cavity off = cavity_;
      ++probes_;
      if (draw_in(off.sections.at[i], cavity_.tape_error)) item.cells_if_off = still_fit(off);
    }
    return item;
  }

  /// Everything off at once; nothing when some section has no outline left.
  std::optional<int> all_off() {
    Cavity off = cavity_;
    for (Section& section : off.sections.at) {
      if (!draw_in(section, cavity_.tape_error)) return std::nullopt;
    }
    for (survey::KeepOut& keep_out : off.keep_outs) grow(keep_out, cavity_.tape_error);
    return still_fit(off);
  }

 private:
  int quick(const Cavity& cavity) const {
    packing::PackOptions options;
    options.reading = cavity_.sections.between;
    options.enough = cells_;
    options.mixed_budget = 0;
    options.step_budget = options.heading_budget = 400'000;
    return std::min(cells_, packing::pack_cavity(cavity, cell_, rules_, options).cells);
  }

  static void add(TrustItem& item, const std::string& why) {
    item.trust = Trust::doubtful;
    tell(item, why);
  }

  static void tell(TrustItem& item, const std::string& why) {
    item.why += (item.why.empty() ? "" : "; ") + why;
  }

  const Cavity& cavity_;
  const survey::Cell& cell_;
  const survey::Rules& rules_;
  int cells_ = 0, probes_ = 0;
  std::optional<int> as_measured_;
};

void add_missing(const Cavity& cavity, const packing::ReadingComparison& readings, TrustList& list) {
  if (readings.measure_at && readings.decided_there > 0) {
    list.items.push_back({Trust::missing, fmt::format("a section at about {:.0f} mm", readings.measure_at->mm()),
                          fmt::format("if the walls run straight there, {} cell{} more fit", readings.decided_there, readings.decided_there == 1 ? "" : "s"), {}, {}});
  }
  for (const survey::Fixing& fixing : cavity.fixings) {
    if (fixing.use != survey::FixingUse::carry || fixing.sheet || fixing.limit) continue;
    list.items.push_back({Trust::missing, "body sheet at fixing " + fixing.name, "how thick it is: what the fixing carries hangs on it", {}, {}});
  }
  if (cavity.way_in.empty()) list.items.push_back({Trust::missing, "openings", "whether the box goes in was not looked at", {}, {}});
}

}  // namespace

std::optional<std::vector<Point2>> drawn_in(const std::vector<Point2>& outline, const std::vector<Length>& give_or_take) {
  const std::size_t n = outline.size();
  std::vector<double> by(n);
  for (std::size_t i = 0; i < n; ++i) by[i] = static_cast<double>(std::max(give_or_take[i], give_or_take[(i + 1) % n]).um());
  std::vector<Point2> out;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t before = (i + n - 1) % n;
    out.push_back(shifted_corner(outline[before], outline[i], outline[(i + 1) % n], by[before], by[i]));
  }
  if (!still_an_outline(outline, out)) return std::nullopt;
  return out;
}

TrustList trust_of(const Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules, int cells, const packing::ReadingComparison& readings) {
  TrustList list;
  list.cells = cells;
  Judge judge(cavity, cell, rules, cells);
  for (std::size_t i = 0; i < cavity.sections.at.size(); ++i) list.items.push_back(judge.section(i));
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    list.items.push_back({Trust::good, keep_out.name, "", cavity.tape_error, {}});
  }
  if (cells > 0 && cavity.tape_error > Length{}) list.cells_if_all_off = judge.all_off();
  add_missing(cavity, readings, list);
  const auto rank = [](const TrustItem& item) {
    const int group = item.trust == Trust::doubtful ? 0 : item.trust == Trust::missing ? 1 : 2;
    return std::pair(group, item.cells_if_off.value_or(1'000'000));
  };
  std::stable_sort(list.items.begin(), list.items.end(), [&](const TrustItem& a, const TrustItem& b) { return rank(a) < rank(b); });
  return list;
}

}  // namespace cellstow::limits
