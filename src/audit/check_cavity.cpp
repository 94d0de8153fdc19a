#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

/// What has to find room in the cavity: a box, or without a box one of its contents.
struct Guest {
  std::string where;
  Upright body;                    ///< plan in the car's frame
  Tick slack = 0;
};

std::string at(const Conflict& conflict) {
  return fmt::format("x {}, y {}", told_mm(conflict.at_a_mm), told_mm(conflict.at_b_mm));
}

std::string told_conflict(const Conflict& conflict, Tick needed) {
  if (conflict.depth_mm > 0) {
    return fmt::format("reaches {} or more into {} at {}; {} clear is needed", told_mm(conflict.depth_mm), conflict.with,
                       at(conflict), told(needed));
  }
  return fmt::format("{} to {} at {}, needs {}: {} short", told_mm(conflict.gap_mm), conflict.with, at(conflict),
                     told(needed), told_mm(conflict.short_mm));
}

/// One guest against the walls of the cavity.
///
/// The rule has one reading: every plan point nearer than the clearance has its whole column free.
/// Which of the three names it goes by (sideways, below, above) is told by the smallest move that
/// would mend it; the middle of the height decides what can only be sideways.
class WallCheck {
 public:
  WallCheck(const Guest& guest, const Rules& rules, CavitySpace& space, Findings& findings)
      : guest_(guest), space_(space), findings_(findings), below_(rules.body_clearance), above_(rules.lid_clearance),
        sideways_(std::max<Tick>(0, rules.body_clearance - guest.slack)) {}

  void run() {
    Span column{guest_.body.height.low - below_, guest_.body.height.high + above_};
    clip_to_stations(column);
    if (column.low >= column.high) return;
    if (!worst(column, sideways_)) return;
    const Tick middle = (column.low + column.high) / 2;
    const Span thin{middle - 1, middle + 1};
    if (!worst(thin, sideways_)) {
      find_halves(column, middle, sideways_);
      return;
    }
    report_sideways(*worst(column, sideways_));
    if (!worst(thin, 0)) find_halves(column, middle, 0);
  }

 private:
  std::optional<Conflict> worst(Span height, Tick clearance) {
    return space_.worst_wall(guest_.body.plan, height, clearance);
  }

  void clip_to_stations(Span& column) {
    const std::optional<Span> measured = space_.measured_height();
    if (!measured) return;
    if (column.low < measured->low) report_below(measured->low - column.low, "the lowest section");
    if (column.high > measured->high) report_above(column.high - measured->high, "the highest section");
    column = {std::max(column.low, measured->low), std::min(column.high, measured->high)};
  }

  /// Least amount by which the column's far end has to come nearer to the middle. `end` gives the
  /// column for an amount; the answer is found by halving, since a shorter column is never worse.
  template <class Column>
  Tick least_amount(Tick most, Tick clearance, Column column) {
    Tick bad = 0, good = most;
    while (good - bad > 1) {
      const Tick half = bad + (good - bad) / 2;
      (worst(column(half), clearance) ? bad : good) = half;
    }
    return good;
  }

  void find_halves(Span column, Tick middle, Tick clearance) {
    if (const auto low = worst({column.low, middle + 1}, clearance)) {
      const Tick raise = least_amount(middle - 1 - column.low, clearance,
                                      [&](Tick amount) { return Span{column.low + amount, middle + 1}; });
      if (to_mm(raise) < low->short_mm) report_below(raise, low->with);
      else report_sideways(*low);
    }
    if (const auto high = worst({middle - 1, column.high}, clearance)) {
      const Tick drop = least_amount(column.high - middle - 1, clearance,
                                     [&](Tick amount) { return Span{middle - 1, column.high - amount}; });
      if (to_mm(drop) < high->short_mm) report_above(drop, high->with);
      else report_sideways(*high);
    }
  }

  void report_sideways(const Conflict& found) {
    if (told_sideways_) return;
    told_sideways_ = true;
    findings_.violated(Rule::sideways, guest_.where, told_conflict(found, sideways_));
  }
  void report_below(Tick missing, const std::string& with) {
    findings_.violated(Rule::below, guest_.where,
                       fmt::format("{} short of {} clear under z = {} ({})", told(missing), told(below_),
                                   told(guest_.body.height.low), with));
  }
  void report_above(Tick missing, const std::string& with) {
    findings_.violated(Rule::above, guest_.where,
                       fmt::format("{} short of {} clear above z = {} ({})", told(missing), told(above_),
                                   told(guest_.body.height.high), with));
  }

  const Guest& guest_;
  CavitySpace& space_;
  Findings& findings_;
  Tick below_, above_, sideways_;
  bool told_sideways_ = false;
};

void check_keep_outs(const Guest& guest, const CavityJob& job, const Rules& rules, Findings& findings) {
  for (const KeepOut& keep_out : job.keep_outs) {
    findings.looked_at(Rule::keep_outs);
    if (is_slanted(keep_out)) {
      findings.not_checked("slanted cylinders are looked at as bodies of 256 flats inside them: within one part in 13,000 of the radius, plus a micrometre, a conflict may be missed");
    }
    const Tick needed = keep_out.clearance.value_or(rules.body_clearance);
    const auto found = keep_out_conflict(guest.body, keep_out, std::max<Tick>(0, needed - guest.slack));
    if (!found) continue;
    std::string detail = told_conflict(found->plan, needed);
    if (found->vertical_short_mm < found->plan.short_mm) {
      detail = fmt::format("{} short of {} clear of {} in height, at {}", told_mm(found->vertical_short_mm), told(needed),
                           keep_out.name, at(found->plan));
    }
    findings.violated(Rule::keep_outs, guest.where, detail);
  }
}

Spot out_of_box_frame(Spot spot, const Box& box) {
  if (box.heading_deg == 0) return spot;
  const double angle = box.heading_deg * std::numbers::pi / 180.0;
  const double a = static_cast<double>(spot.a), b = static_cast<double>(spot.b);
  return {std::llround(a * std::cos(angle) - b * std::sin(angle)), std::llround(a * std::sin(angle) + b * std::cos(angle))};
}

Guest guest_of(const BoxContext& context, const std::string& where, const Body& body, Tick top) {
  Guest out{where, {{}, {body.low[2], top}}, context.box.slack};
  for (const Spot corner : ring_of(body)) out.body.plan.push_back(out_of_box_frame(corner, context.box));
  return out;
}

/// Without a box, each block needs the heights from its base to its own headroom; cells are looked at
/// on their own only where they stick out of their block.
std::vector<Guest> loose_guests(const BoxContext& context, const CavityJob& job) {
  std::vector<Guest> out;
  const Box& box = context.box;
  for (const Block& block : box.blocks) {
    const Tick top = live_top(context.cell, stance_of(block, context), block.body.low[2]) + context.rules.headroom;
    out.push_back(guest_of(context, block_name(context, block.id), block.body, top));
  }
  for (const Cell& cell : box.cells) {
    const bool covered = std::any_of(box.blocks.begin(), box.blocks.end(),
                                     [&](const Block& block) { return is_within(cell.body, block.body); });
    const Tick top = live_top(context.cell, cell.stance, cell.body.low[2]) + context.rules.headroom;
    if (!covered) out.push_back(guest_of(context, cell_name(context, cell), cell.body, top));
  }
  for (const Fitting& fitting : box.fittings) {
    if (place_of(fitting, job) == FittingPlace::wall) continue;
    out.push_back(guest_of(context, fitting_name(context, fitting), fitting.body, fitting.body.high[2]));
  }
  return out;
}

bool has_plan(const Guest& guest) {
  return guest.body.height.low < guest.body.height.high && is_simple_ring(guest.body.plan);
}

}  // namespace

void check_box_in_cavity(const BoxContext& context, const CavityJob& job, CavitySpace& space, Findings& findings) {
  std::vector<Guest> guests;
  if (context.rules.outline == OutlineKind::loose) {
    guests = loose_guests(context, job);
  } else {
    guests.push_back({context.where, {context.box.outline, context.box.height}, 0});
    findings.not_checked("a lid's flange or a seam that stands out beyond the box outline: the plan file gives the outline only");
  }
  if (job.between == Between::straight) {
    findings.not_checked("walls read straight between sections: looked at on the stations and on nine levels between them, not in between");
  }
  for (const Guest& guest : guests) {
    if (!has_plan(guest)) continue;
    findings.looked_at(Rule::sideways);
    findings.looked_at(Rule::below);
    findings.looked_at(Rule::above);
    WallCheck(guest, context.rules, space, findings).run();
    check_keep_outs(guest, job, context.rules, findings);
  }
}

}  // namespace cellstow::audit
