#include "cellstow/choosing/choose.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

#include "candidates.hpp"
#include "cellstow/choosing/best.hpp"
#include "cellstow/wiring/string_window.hpp"

namespace cellstow::choosing {
namespace {

using Stances = std::vector<survey::Stance>;

bool comparable(const survey::Cell& cell) { return cell.voltage && cell.capacity; }

/// What one answer a cavity is kept for.
struct Key {
  std::size_t format;
  Stances stances;
  auto operator<=>(const Key&) const = default;
};

/// Asks, answers and looks closer; remembers the best answer to every question.
class Comparison {
 public:
  Comparison(const survey::Job& job, const std::vector<Format>& formats, const ChooseOptions& options, const Running& running)
      : job_(job), formats_(formats), options_(options), running_(running), bare_(bare_states(job)) {}

  /// Every format in all its stances at once; the job's own cell in each alone too, or all when asked for.
  void first_look() {
    std::vector<PackTask> together;
    std::set<std::size_t> alone;
    for (std::size_t f = 0; f < formats_.size(); ++f) {
      if (!comparable(formats_[f].cell)) continue;
      for (std::size_t c = 0; c < job_.cavities.size(); ++c) together.push_back(task(c, {f, formats_[f].cell.stances}, options_.quick));
      if (options_.each_stance || formats_[f].cell.name == job_.cell.name) alone.insert(f);
    }
    pack(together);
    each_stance(alone);
  }

  /// Each stance of what came out best alone; then more work for what is best and not proven.
  void closer_look() {
    std::set<std::size_t> formats;
    for (const Candidate& candidate : candidates()) {
      if (candidate.standing == Standing::best) formats.insert(candidate.format);
    }
    each_stance(formats);
    std::set<PackTask> tasks;
    for (const Candidate& candidate : candidates()) {
      if (candidate.standing != Standing::best) continue;
      for (std::size_t c = 0; c < job_.cavities.size(); ++c) {
        const Key key{candidate.format, candidate.stances};
        if (!best_.at({c, key}).proven) tasks.insert(task(c, key, closer_effort()));
      }
    }
    if (options_.closer != options_.quick) pack({tasks.begin(), tasks.end()});
  }

  std::vector<Candidate> candidates() const {
    std::vector<Candidate> all;
    for (const Filling& filling : fillings()) add_candidates(job_, formats_[filling.format], filling, bare_, options_.most_parallel, all);
    mark_best(all);
    return all;
  }

  Filling filling_of(const Key& key) const {
    Filling filling{key.format, key.stances, {}};
    for (std::size_t c = 0; c < job_.cavities.size(); ++c) {
      const PackedCavity &own = best_.at({c, key}), &together = best_.at({c, {key.format, formats_[key.format].cell.stances}});
      const bool serves = together.used == key.stances && std::tuple(together.cells, together.proven) > std::tuple(own.cells, own.proven);
      filling.cavities.push_back(serves ? together : own);
    }
    return filling;
  }

  const PackedFormats& packed() const { return packed_; }

 private:
  static PackTask task(std::size_t cavity, const Key& key, const Effort& effort) { return {cavity, key.format, key.stances, effort}; }

  Effort closer_effort() const {
    Effort effort = options_.closer;
    if (job_.rules.arrangement != survey::Arrangement::mixed) effort.mixed_budget = 0;
    return effort;
  }

  /// Where all stances at once used one only, that is its answer alone too: packing all at once looked at everything that packing it alone would.
  void each_stance(const std::set<std::size_t>& formats) {
    std::vector<PackTask> tasks;
    for (const std::size_t f : formats) {
      const Stances& stances = formats_[f].cell.stances;
      for (std::size_t c = 0; c < job_.cavities.size() && stances.size() > 1; ++c) {
        const PackedCavity together = best_.at({c, {f, stances}});
        for (const survey::Stance stance : stances) {
          const Key alone{f, {stance}};
          if (best_.contains({c, alone})) continue;
          if (together.used == alone.stances) {
            best_[{c, alone}] = together;
          } else {
            tasks.push_back(task(c, alone, options_.quick));
          }
        }
      }
    }
    pack(tasks);
  }

  void pack(const std::vector<PackTask>& tasks) {
    pack_tasks(job_, formats_, tasks, running_, packed_);
    for (const PackTask& one : tasks) {
      const PackedCavity& answer = packed_.answers.at(one);
      const auto [known, fresh] = best_.emplace(std::pair(one.cavity, Key{one.format, one.stances}), answer);
      if (!fresh && std::tuple(answer.cells, answer.proven) > std::tuple(known->second.cells, known->second.proven)) known->second = answer;
    }
  }

  /// Stances together are left out where one stance alone, told too, is all they use in every cavity.
  std::vector<Filling> fillings() const {
    std::vector<Filling> all;
    for (std::size_t f = 0; f < formats_.size(); ++f) {
      if (!comparable(formats_[f].cell)) continue;
      const Stances& stances = formats_[f].cell.stances;
      bool same_as_one = false;
      const Filling together = filling_of({f, stances});
      for (const survey::Stance stance : stances) {
        if (stances.size() < 2 || !best_.contains({0, Key{f, {stance}}})) continue;
        all.push_back(filling_of({f, {stance}}));
        same_as_one |= std::all_of(together.cavities.begin(), together.cavities.end(), [&](const PackedCavity& packed) { return packed.used.empty() || packed.used == Stances{stance}; });
      }
      if (!same_as_one) all.push_back(together);
    }
    return all;
  }

  const survey::Job& job_;
  const std::vector<Format>& formats_;
  const ChooseOptions& options_;
  const Running& running_;
  std::optional<BareStates> bare_;
  PackedFormats packed_;
  std::map<std::pair<std::size_t, Key>, PackedCavity> best_;
};

/// Best first, then by falling energy, rising mass; indices in `beaten_by` follow.
void put_in_order(std::vector<Candidate>& candidates) {
  std::vector<std::size_t> order(candidates.size());
  std::iota(order.begin(), order.end(), 0);
  const auto rank = [&](std::size_t i) {
    const Candidate& c = candidates[i];
    return std::tuple(c.standing, c.breaks.size(), -c.kwh, c.boxes_kg, i);
  };
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
  std::vector<std::size_t> place(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  std::vector<Candidate> sorted;
  for (const std::size_t i : order) {
    sorted.push_back(candidates[i]);
    sorted.back().beaten_by = place[candidates[i].beaten_by];
  }
  candidates = std::move(sorted);
}

void note_left_out(const survey::Job& job, const std::vector<Format>& formats, Choice& choice) {
  std::set<std::size_t> shown;
  for (const Candidate& candidate : choice.candidates) shown.insert(candidate.format);
  for (std::size_t f = 0; f < formats.size(); ++f) {
    if (shown.contains(f)) continue;
    const survey::Cell& cell = formats[f].cell;
    if (!comparable(cell)) {
      choice.left_out.push_back(cell.name + ": its " + (cell.voltage ? "capacity_ah" : "voltage_v") + " is not given");
    } else {
      choice.left_out.push_back(cell.name + ": " + (job.string ? "too few places for any count in series that suits the drive" : "no cell fits"));
    }
  }
}

void note_method(const survey::Job& job, const ChooseOptions& options, Choice& choice) {
  choice.notes.push_back(fmt::format(
      "a quick look at every format ({} strip evaluations a cavity, rows, box square with the car, all its stances at once), then each stance alone of the best ones, and a closer look ({}) at those "
      "that were not proven",
      options.quick.step_budget, options.closer.step_budget));
  if (job.rules.heading == survey::Heading::free) choice.notes.push_back("boxes were not turned here, though the rules allow it: a plan may hold more");
  choice.notes.push_back("masses of cavities that are not filled are in proportion to the cells; sheet counted as plain plates");
  choice.notes.push_back("not looked at: straps and end plates, the car's own fixings, the way in. Plan the one you choose before you buy");
  if (!job.string || !job.string->consumption) choice.notes.push_back("the job gives no consumption_wh_per_km: range for 155 to 190 Wh/km, builders' reports for small older cars");
  if (job.string && job.string->controller && job.string->controller->peak) {
    choice.notes.push_back("what current a cell may give is not compared: the controller's peak over the capacity stands in choice.csv, to be held against the data sheet");
  }
  choice.notes.push_back("range for 80 to 85 % of the energy usable (common practice for LFP, no source)");
}

/// Splits of the job's own cell where it was compared and runs; else of the first of all.
void add_splits(const survey::Job& job, const std::vector<Format>& formats, const std::vector<survey::ChangeLimit>& limits, const Comparison& comparison, Choice& choice) {
  if (choice.candidates.empty()) return;
  std::size_t of = 0;
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) {
    if (formats[choice.candidates[i].format].cell.name != job.cell.name) continue;
    of = i;
    break;
  }
  const Candidate& candidate = choice.candidates[of];
  const Filling filling = comparison.filling_of({candidate.format, candidate.stances});
  SplitInput input{offers_of(job, filling), candidate.per_cavity, candidate.parallel, {}, 0};
  if (job.string && !job.string->series) input.fewest = wiring::count_window(formats[candidate.format].cell, *job.string).lowest * candidate.parallel;
  for (std::size_t c = 0; c < input.offers.size(); ++c) {
    const Offer& offer = input.offers[c];
    if (candidate.per_cavity[c] == 0) continue;
    input.boxes.push_back({job.cavities[c].name + (offer.boxes > 1 ? ", boxes" : ", box"), core::Kg::of(offer.kg_per_cell * candidate.per_cavity[c]), offer.x_mm, offer.y_mm, offer.z_mm});
  }
  choice.splits = study_splits(job, input, limits);
  if (choice.splits) choice.split_of = of;
}

}  // namespace

Choice choose(const survey::Job& job, const std::vector<Format>& formats, const std::vector<survey::ChangeLimit>& change_limits,
              const ChooseOptions& options, const Running& running) {
  Comparison comparison(job, formats, options, running);
  comparison.first_look();
  Choice choice;
  comparison.closer_look();
  choice.candidates = comparison.candidates();
  put_in_order(choice.candidates);
  choice.has_cost = std::all_of(formats.begin(), formats.end(), [](const Format& format) { return format.cost_each.has_value(); });
  const auto bare = bare_states(job);
  choice.cg_of_car = bare && std::isfinite(bare->as_driven.cg_z_mm);
  if (job.car) choice.target = job.car->front_share_target;
  note_left_out(job, formats, choice);
  note_method(job, options, choice);
  if (running.stop != nullptr && *running.stop) choice.notes.push_back("stopped by hand: counts are the most found until then");
  add_splits(job, formats, change_limits, comparison, choice);
  choice.packed = comparison.packed().packed;
  choice.from_store = comparison.packed().from_store;
  return choice;
}

}  // namespace cellstow::choosing
