#include "cellstow/plan/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <future>
#include <map>

#include "cautions.hpp"
#include "cavity_stage.hpp"
#include "cellstow/box/build_box.hpp"
#include "cellstow/core/side_by_side.hpp"
#include "cellstow/packing/pack.hpp"
#include "share.hpp"

namespace cellstow::plan {
namespace {

using balance::Lump;

/// Times the chosen split is built, weighed and, when the weighing disagrees with the estimate, chosen again.
constexpr int most_rounds = 3;
constexpr std::size_t most_splits_told = 12;

std::vector<Lump> lumps_of(const std::vector<CavityPlan>& cavities) {
  std::vector<Lump> lumps;
  for (const CavityPlan& cavity : cavities) {
    for (const BoxPlan& box : cavity.boxes) lumps.push_back(lump_of(box.box));
  }
  return lumps;
}

std::optional<double> front_share_as_driven(const survey::Job& job, const std::vector<Lump>& lumps) {
  if (!job.car) return std::nullopt;
  const balance::Balance balance = balance::balance_car(*job.car, lumps);
  for (const balance::LoadState& state : balance.states) {
    if (state.name == "as_driven") return state.front_share;
  }
  return std::nullopt;
}

Offer offer_in(const survey::Cavity& cavity, const CavityPlan& plan) {
  std::vector<Lump> boxes;
  for (const BoxPlan& box : plan.boxes) boxes.push_back(lump_of(box.box));
  Offer offer = offer_of(boxes, plan.packing.cells);
  offer.least = cavity.cells_wanted ? std::min(cavity.cells_wanted->min, offer.most) : 0;
  return offer;
}

/// Cells the string takes of what the cavities hold.
int series_for(const survey::Job& job, int places) {
  const survey::StringSpec& string = *job.string;
  const int fit = places / string.parallel;
  if (string.series) return std::min(*string.series, fit);
  if (!job.cell.voltage) return fit;
  const wiring::CountWindow window = wiring::count_window(job.cell, string);
  return window.highest > 0 ? std::min(window.highest, fit) : fit;
}

/// Each cavity packed for its share of the string; packings already made are used again.
class SharedPacking {
 public:
  SharedPacking(const survey::Job& job, const Running& running, std::vector<CavityPlan> fullest)
      : job_(job), running_(running), fullest_(std::move(fullest)) {}

  std::vector<CavityPlan> build(const std::vector<int>& cells) {
    std::vector<CavityPlan> cavities = core::side_by_side(cells.size(), [&](std::size_t i) { return packed(i, cells[i]); });
    for (std::size_t i = 0; i < cells.size(); ++i) {
      CavityPlan& cavity = cavities[i];
      made_[{i, cells[i]}] = cavity;
      cavity.most_cells = fullest_[i].packing.cells;
      cavity.bound = fullest_[i].bound;
      cavity.proven = fullest_[i].proven;
      cavity.packing.shortfalls = fullest_[i].packing.shortfalls;
    }
    return cavities;
  }

  const std::vector<CavityPlan>& fullest() const { return fullest_; }

 private:
  CavityPlan packed(std::size_t i, int cells) const {
    if (cells == fullest_[i].packing.cells) return fullest_[i];
    if (cells == 0) return without_box(job_.cavities[i], fullest_[i]);
    const auto found = made_.find({i, cells});
    if (found != made_.end()) return found->second;
    return plan_cavity(job_, job_.cavities[i], fullest_[i].mark, cells, running_);
  }

  const survey::Job& job_;
  const Running& running_;
  std::vector<CavityPlan> fullest_;
  std::map<std::pair<std::size_t, int>, CavityPlan> made_;
};

/// Chooses the split, builds it, weighs it; where the real front share leaves the target that the estimate met,
/// tries the next. At most most_rounds times.
void share_string(const survey::Job& job, int cells, SharedPacking& packing, Plan& plan) {
  std::vector<Offer> offers;
  for (std::size_t i = 0; i < job.cavities.size(); ++i) {
    offers.push_back(offer_in(job.cavities[i], packing.fullest()[i]));
  }
  const auto target = job.car ? job.car->front_share_target : std::nullopt;
  plan.splits = rank_splits(offers, cells, job.string->parallel, target, [&](const std::vector<Lump>& lumps) {
    return front_share_as_driven(job, lumps);
  });
  for (std::size_t round = 0; round < plan.splits.size() && round < most_rounds; ++round) {
    std::vector<CavityPlan> built = packing.build(plan.splits[round].cells);
    Split& split = plan.splits[round];
    split.front_share = front_share_as_driven(job, lumps_of(built));
    split.boxes = 0;
    for (const CavityPlan& cavity : built) split.boxes += static_cast<int>(cavity.boxes.size());
    const bool met = split.meets_target;
    split.meets_target = target && split.front_share && *split.front_share >= target->min &&
                         *split.front_share <= target->max;
    if (round == 0 || split.meets_target) plan.cavities = std::move(built);
    if (round > 0 && split.meets_target) std::swap(plan.splits[0], plan.splits[round]);
    if (!met || split.meets_target) break;
  }
  if (plan.splits.empty()) {
    plan.cavities = packing.fullest();
    return;
  }
  plan.splits[0].chosen = true;
  if (plan.splits.size() > most_splits_told) plan.splits.resize(most_splits_told);
}

void add_totals(const survey::Job& job, Plan& plan) {
  Totals& totals = plan.totals;
  int places = 0;
  for (const CavityPlan& cavity : plan.cavities) {
    totals.cells += cavity.packing.cells;
    places += cavity.most_cells;
    for (const BoxPlan& box : cavity.boxes) {
      ++totals.boxes;
      totals.mass_added_kg += box.box.mass_full.value();
    }
  }
  if (job.car) {
    for (const survey::PlacedMass& added : job.car->added) totals.mass_added_kg += added.mass.value();
  }
  totals.series = totals.cells;
  if (job.string) {
    totals.parallel = job.string->parallel;
    totals.series = totals.cells / totals.parallel;
  }
  totals.spare_places = places - totals.series * totals.parallel;
  if (job.cell.voltage) totals.nominal_v = job.cell.voltage->nominal.value() * totals.series;
  if (job.cell.voltage && job.cell.capacity) {
    totals.energy_kwh = totals.nominal_v * job.cell.capacity->value() * totals.parallel / 1000;
  }
}

/// Fuse and cable; only where the volts and the current are known.
void add_cabling(const survey::Job& job, Plan& plan) {
  if (!plan.string) return;
  wiring::Cabling cabling = wiring::choose_cabling(job.cell, *job.string, *plan.string);
  if (cabling.why_not.empty()) {
    plan.cabling = std::move(cabling);
  } else {
    plan.left_out.push_back({"fuse and cable", cabling.why_not});
  }
}

/// Order and links of the string, from the boxes as built.
void add_wiring(const survey::Job& job, Plan& plan) {
  if (!job.string || plan.totals.series == 0) return;
  std::vector<wiring::BoxOfCells> boxes;
  for (const CavityPlan& cavity : plan.cavities) {
    for (const BoxPlan& box : cavity.boxes) boxes.push_back({box.box.mark, &box.box.layout});
  }
  wiring::Wiring wiring = wiring::wire_string(job.cell, *job.string, job.rules, boxes);
  if (wiring.why_not.empty()) {
    plan.wiring = std::move(wiring);
    if (plan.cabling) plan.exits = wiring::find_exits(job.cell, job.rules, boxes, *plan.wiring, *plan.cabling->cable);
  } else {
    plan.left_out.push_back({"links inside the boxes", wiring.why_not});
  }
}

/// The way of the loads, link by link; here, because the string's voltage decides how far metal keeps from live parts.
void follow_loads(const survey::Job& job, const survey::Catalogue& catalogue, Plan& plan) {
  std::optional<core::Volt> most;
  if (job.cell.voltage && plan.totals.series > 0) most = job.cell.voltage->max * plan.totals.series;
  for (CavityPlan& cavity : plan.cavities) {
    for (BoxPlan& box : cavity.boxes) {
      box.load_path = restraint::follow_load(box.box, job.cell, job.rules, catalogue, box.straps, box.hold_downs, box.mounting, most);
    }
  }
}

/// The gland holes of one box, where its cables leave.
std::vector<fabrication::CableHole> cable_holes(const Plan& plan, int box) {
  std::vector<fabrication::CableHole> holes;
  for (const wiring::BoxExit& exit : plan.exits->exits) {
    if (exit.box != box || !exit.way) continue;
    holes.push_back({static_cast<std::size_t>(exit.way->wall), exit.way->along_mm, exit.z_mm, plan.cabling->cable->gland_hole_mm,
                     fmt::format("gland {}, {} of cell {}", plan.cabling->cable->gland, exit.pole == wiring::Pole::plus ? "plus" : "minus", exit.cell)});
  }
  return holes;
}

/// The sheet parts once more, with the holes their cables need. Masses stay those of the uncut walls: grams, on the heavy side.
void cut_glands(const survey::Job& job, Plan& plan) {
  int index = 0;
  for (CavityPlan& cavity : plan.cavities) {
    for (BoxPlan& box : cavity.boxes) {
      const auto holes = plan.exits ? cable_holes(plan, index) : std::vector<fabrication::CableHole>{};
      if (!holes.empty()) box.sheet = fabrication::make_sheet_work(box.box, job.rules, job.revision, &job.cell, holes);
      ++index;
    }
  }
}

void judge_string(const survey::Job& job, Plan& plan) {
  if (job.string && job.cell.voltage && plan.totals.series > 0) {
    plan.string = wiring::judge_string(job.cell, *job.string, plan.totals.series);
    plan.totals.range_km = plan.string->range_km;
  } else if (!job.string) {
    plan.left_out.push_back({"string", "the job has no \"string\" section"});
  } else {
    plan.left_out.push_back({"string", plan.totals.series == 0 ? "no cell fits" : "the cell has no \"voltage_v\""});
  }
  add_cabling(job, plan);
  add_wiring(job, plan);
  cut_glands(job, plan);
}

void judge(const survey::Job& job, int places, Plan& plan) {
  if (job.string && job.string->series) {
    const int needed = *job.string->series * job.string->parallel;
    plan.checks.push_back(core::check_at_least(
        "cells for the string", "all cavities", places, needed, "cells", "series x parallel of the job file",
        fmt::format("{} places are missing: see what each row lacks, or choose a shorter string", needed - places)));
  }
  if (job.car) {
    plan.balance = balance::balance_car(*job.car, lumps_of(plan.cavities));
  } else {
    plan.left_out.push_back({"balance", "the job has no \"car\" section"});
  }
}

void gather_checks(Plan& plan) {
  const auto add = [&](const std::vector<core::Check>& checks) {
    plan.checks.insert(plan.checks.end(), checks.begin(), checks.end());
  };
  for (const CavityPlan& cavity : plan.cavities) {
    add(cavity.checks);
    for (const BoxPlan& box : cavity.boxes) {
      add(box.sheet.checks);
      add(box.straps.checks);
      add(box.mounting.checks);
      add(box.hold_downs.checks);
      add(box.load_path.checks);
    }
  }
  if (plan.string) add(plan.string->checks);
  if (plan.wiring) add(plan.wiring->checks);
  if (plan.cabling) add(plan.cabling->checks);
  if (plan.exits) add(plan.exits->checks);
  if (plan.balance) {
    add(plan.balance->checks);
    plan.left_out.insert(plan.left_out.end(), plan.balance->left_out.begin(), plan.balance->left_out.end());
  }
  core::sort_worst_first(plan.checks);
}

std::vector<CavityPlan> pack_all(const survey::Job& job, const Running& running) {
  const std::vector<std::string> marks = box::cavity_marks(job.cavities);
  running.tell("packing");
  return core::side_by_side(job.cavities.size(), [&](std::size_t i) {
    return plan_cavity(job, job.cavities[i], marks[i], std::nullopt, running);
  });
}

/// How sure it is that the cut boxes go in; where they should come in a little, whether the cells still fit.
void add_fit(const survey::Job& job, const survey::Cavity& cavity, CavityPlan& plan) {
  for (BoxPlan& box : plan.boxes) {
    if (box.box.layout.outline.empty()) continue;
    box.fit = limits::chance_of_fit(cavity, box.box.layout);
    if (box.fit->samples == 0 || !box.fit->shrink || *box.fit->shrink <= core::Length{}) continue;
    survey::Rules tighter = job.rules;
    tighter.body_clearance = tighter.body_clearance + *box.fit->shrink;
    packing::PackOptions options;
    options.reading = cavity.sections.between;
    options.enough = plan.packing.cells;
    options.mixed_budget = 0;
    options.step_budget = 400'000;
    box.fit->cells_at_shrink = packing::pack_cavity(cavity, job.cell, tighter, options).cells;
  }
}

/// What stands in the way of more cells, cavity by cavity; each uses all cores for itself.
void add_limits(const survey::Job& job, const std::vector<CavityPlan>& fullest, const Running& running, Plan& plan) {
  running.tell("what limits the count, and whether the cut boxes go in");
  plan.per_cell = limits::cell_worth(job.cell, job.string);
  limits::LimitsOptions options;
  options.stop = running.stop;
  for (std::size_t i = 0; i < plan.cavities.size(); ++i) {
    add_fit(job, job.cavities[i], plan.cavities[i]);
    if (job.cavities[i].tape_error <= core::Length{}) {
      plan.left_out.push_back({"chance that the cut box goes in, " + job.cavities[i].name, "\"tape_error_mm\" is 0: nothing is said of how far off points may be"});
    }
    const auto& wanted = job.cavities[i].cells_wanted;
    if (wanted && fullest[i].packing.cells >= wanted->max) {
      plan.cavities[i].limits.emplace().cells = fullest[i].packing.cells;
      plan.cavities[i].limits->notes.push_back("as many cells as were asked for are in: nothing limits them");
      continue;
    }
    plan.cavities[i].limits = limits::what_limits(job.cavities[i], job.cell, job.rules, fullest[i].packing, options);
    if (plan.totals.spare_places > 0) {
      plan.cavities[i].limits->notes.push_back(fmt::format(
          "the string leaves {} of the places found empty as it is: more room gives spare places, not more cells, unless the "
          "string takes more", plan.totals.spare_places));
    }
  }
}

/// How much hangs on the reading between a cavity's sections, and on each measurement.
struct Doubts { packing::ReadingComparison readings; limits::TrustList trust; };

Doubts doubts_of(const survey::Job& job, const survey::Cavity& cavity, int cells) {
  Doubts out{packing::compare_readings(cavity, job.cell, job.rules, cells), {}};
  out.trust = limits::trust_of(cavity, job.cell, job.rules, cells, out.readings);
  return out;
}

/// Straps, fixings, gaps and way in of every cavity; beside them, for that hangs on none of it, what to doubt.
void finish_cavities(const survey::Job& job, const survey::Catalogue& catalogue,
                     const Running& running, Plan& plan) {
  running.tell("straps, fixings, the way in, and both readings between sections");
  const std::size_t count = plan.cavities.size();
  auto doubts = std::async(std::launch::async, [&] {
    return core::side_by_side(count, [&](std::size_t i) { return doubts_of(job, job.cavities[i], plan.cavities[i].most_cells); });
  });
  std::vector<CavityPlan> held = core::side_by_side(count, [&](std::size_t i) {
    CavityPlan cavity = plan.cavities[i];
    hold_boxes(job, job.cavities[i], catalogue, cavity);
    add_way_in(job, job.cavities[i], cavity);
    return cavity;
  });
  std::vector<Doubts> doubted = doubts.get();
  for (std::size_t i = 0; i < count; ++i) {
    held[i].readings = std::move(doubted[i].readings);
    held[i].trust = std::move(doubted[i].trust);
  }
  plan.cavities = std::move(held);
}

}  // namespace

Plan make_plan(const survey::Job& job, const survey::Catalogue& catalogue, const Progress& progress,
               const std::atomic<bool>* stop) {
  Plan plan;
  const Running running(progress, stop);
  SharedPacking packing(job, running, pack_all(job, running));
  int places = 0;
  for (const CavityPlan& cavity : packing.fullest()) places += cavity.packing.cells;
  if (job.string) {
    running.tell("sharing the string among the cavities");
    share_string(job, series_for(job, places) * job.string->parallel, packing, plan);
  } else {
    plan.cavities = packing.fullest();
  }
  add_totals(job, plan);
  judge_string(job, plan);
  finish_cavities(job, catalogue, running, plan);
  follow_loads(job, catalogue, plan);
  add_limits(job, packing.fullest(), running, plan);
  judge(job, places, plan);
  gather_checks(plan);
  add_cautions(job, plan);
  return plan;
}

Plan make_packing_only(const survey::Job& job, const Progress& progress, const std::atomic<bool>* stop) {
  Plan plan;
  plan.cavities = pack_all(job, Running(progress, stop));
  add_totals(job, plan);
  for (const CavityPlan& cavity : plan.cavities) {
    plan.checks.insert(plan.checks.end(), cavity.checks.begin(), cavity.checks.end());
  }
  core::sort_worst_first(plan.checks);
  plan.left_out.push_back({"everything after packing", "only the packing was asked for"});
  return plan;
}

}  // namespace cellstow::plan
