#include "probe.hpp"

#include "cellstow/packing/pack.hpp"

namespace cellstow::limits {
namespace {

using core::Um;

constexpr Um tenth_um = 100;
Answer ask(const Prober& prober, const Situation& changed, int beyond, std::optional<int> enough,
           const std::optional<Length>& floor) {
  packing::PackOptions options;
  options.reading = changed.cavity.sections.between;
  options.more_than = prober.cells + beyond;
  options.enough = enough;
  options.first_will_do = enough.has_value();
  options.step_budget = prober.probe_budget;
  options.mixed_budget = 0;
  options.heading_budget = prober.probe_budget;
  options.stop = prober.stop;
  options.only_floor = floor;
  const packing::CavityPacking packing = packing::pack_cavity(changed.cavity, prober.cell, changed.rules, options);
  Answer answer;
  answer.steps = packing.steps;
  answer.probes = 1;
  // A fitting left out makes room, but that is not the box that was asked for.
  const bool same_fittings = packing.fittings_without_place.size() <= prober.unplaced;
  if (packing.cells > prober.cells + beyond && same_fittings) {
    answer.more = packing.cells - prober.cells;
    answer.found_at = floor_of(packing);
  }
  answer.ruled_out = packing.bound <= prober.cells + beyond;
  return answer;
}

/// The next amount to try between `fails` and `does`: the middle one of the hints there; just below the last success
/// when that was a hint; else the middle.
Um next_to_try(Um fails, Um does, const std::vector<Um>& hints) {
  const auto first = std::upper_bound(hints.begin(), hints.end(), fails);
  const auto last = std::lower_bound(hints.begin(), hints.end(), does);
  if (first < last) return *(first + (last - first) / 2);
  if (std::binary_search(hints.begin(), hints.end(), does)) return does - 1;
  return (fails + does) / 2;
}

Um tenths_up(Um um) { return (um + tenth_um - 1) / tenth_um; }

}  // namespace

std::optional<Length> floor_of(const packing::CavityPacking& packing) {
  return packing.boxes.empty() ? std::nullopt : std::optional(packing.boxes.front().z_bottom);
}

Answer Prober::most(const Situation& changed, const std::optional<Length>& floor) const {
  return ask(*this, changed, 0, std::nullopt, floor);
}

Answer Prober::holds(const Situation& changed, int more, const std::optional<Length>& floor) const {
  return ask(*this, changed, more - 1, cells + more, floor);
}

Length least_amount(const Prober& prober, const Change& change, int more, Length fails, Length does,
                    Length floor, bool follows, const std::vector<Um>& hints, Answer& work) {
  Um low = fails.um() / tenth_um, high = tenths_up(does.um());
  std::vector<Um> tenths;
  for (const Um hint : hints) tenths.push_back(tenths_up(hint));
  std::sort(tenths.begin(), tenths.end());
  const auto amount = [&](Um u) { return std::min(Length::from_um(u * tenth_um), change.largest); };
  while (high - low > 1) {
    const Um middle = next_to_try(low, high, tenths);
    const Answer answer = prober.holds(change.apply(prober.as_is, amount(middle)), more, follows ? floor + does - amount(middle) : floor);
    work.steps += answer.steps;
    work.probes += answer.probes;
    (answer.more >= more ? high : low) = middle;
  }
  return amount(high);
}

}  // namespace cellstow::limits
