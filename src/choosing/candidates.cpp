#include "candidates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "cellstow/wiring/string_window.hpp"

namespace cellstow::choosing {
namespace {

/// More ways to share one count out are not looked at one by one.
constexpr double most_ways = 2'000;
/// Builders' reports for small older cars; used when the job gives no consumption.
constexpr Band usual_wh_per_km{155, 190};

struct Count { int series, parallel; };

/// Counts that suit the drive and for which there are places.
std::vector<Count> counts_of(const survey::Job& job, const survey::Cell& cell, int places, int most_parallel) {
  const survey::StringSpec string = job.string.value_or(survey::StringSpec{});
  const wiring::CountWindow window = wiring::count_window(cell, string);
  std::vector<Count> counts;
  if (window.empty) return counts;
  const int lowest = std::max(1, window.lowest);
  if (!string.series && window.highest_by.empty()) {
    const int series = places / string.parallel;
    if (series >= lowest) counts.push_back({series, string.parallel});
    return counts;
  }
  for (int parallel = 1; parallel <= most_parallel; ++parallel) {
    const int fit = places / parallel;
    if (string.series) {
      if (*string.series <= fit) counts.push_back({*string.series, parallel});
      continue;
    }
    for (int series = std::min(window.highest, fit); series >= lowest; --series) counts.push_back({series, parallel});
  }
  return counts;
}

std::optional<Band> range_of(const survey::Job& job, double kwh) {
  if (job.string && job.string->consumption) {
    const double wh_per_km = job.string->consumption->value();
    return Band{kwh * 1000 * wiring::usable_low / wh_per_km, kwh * 1000 * wiring::usable_high / wh_per_km};
  }
  return Band{kwh * 1000 * wiring::usable_low / usual_wh_per_km.high, kwh * 1000 * wiring::usable_high / usual_wh_per_km.low};
}

struct Weighed {
  std::vector<std::string> breaks;
  double over_kg = 0;                      ///< by how much limits are passed, together
  std::optional<double> front_share, cg_height_mm;
  double miss_points = 0;
};

void break_if(Weighed& weighed, double over_kg, const std::string& what) {
  if (!(over_kg > 0)) return;
  weighed.over_kg += over_kg;
  weighed.breaks.push_back(fmt::format("{}: {:.0f} kg over", what, std::ceil(over_kg)));
}

const char* state_words(const balance::LoadState& state) {
  if (state.name == "empty") return "nobody in the car";
  return state.name == "as_driven" ? "driver only" : "all seats taken";
}

Weighed weigh(const survey::Car& car, const BareStates& bare, const std::vector<Offer>& offers, const std::vector<int>& cells) {
  Weighed weighed;
  for (const balance::LoadState* state : {&bare.empty, &bare.as_driven, &bare.full}) {
    AxleSums sums(*state, bare.wheelbase_mm);
    for (std::size_t i = 0; i < cells.size(); ++i) sums.add(offers[i].kg_per_cell * cells[i], offers[i].x_mm, offers[i].z_mm);
    if (state == &bare.as_driven) {
      weighed.front_share = sums.front_share();
      if (std::isfinite(sums.cg_height_mm())) weighed.cg_height_mm = sums.cg_height_mm();
    }
    if (car.axle_limits) {
      break_if(weighed, sums.front_kg() - car.axle_limits->front.value(), std::string("front axle, ") + state_words(*state));
      break_if(weighed, sums.rear_kg() - car.axle_limits->rear.value(), std::string("rear axle, ") + state_words(*state));
    }
    if (car.gross_limit && state == &bare.full) break_if(weighed, sums.total_kg() - car.gross_limit->value(), "gross limit, all seats taken");
  }
  if (const auto& target = car.front_share_target) {
    weighed.miss_points = 100 * std::max({0.0, target->min - *weighed.front_share, *weighed.front_share - target->max});
  }
  return weighed;
}

int boxes_of(const std::vector<Offer>& offers, const std::vector<int>& cells) {
  int boxes = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) boxes += cells[i] > 0 ? offers[i].boxes : 0;
  return boxes;
}

double boxes_height_mm(const std::vector<Offer>& offers, const std::vector<int>& cells) {
  double kg = 0, moment = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    kg += offers[i].kg_per_cell * cells[i];
    moment += offers[i].kg_per_cell * cells[i] * offers[i].z_mm;
  }
  return moment / kg;
}

/// One way of sharing with what decides it: limits kept, then target met, then fewest boxes, then nearest to the middle of the target; the
/// fuller first cavity where all that is the same.
struct Way { std::vector<int> cells; Weighed weighed; int boxes = 0; };

auto rank_of(const Way& way, const std::optional<survey::ShareTarget>& target) {
  const double off = target && way.weighed.front_share ? std::abs(*way.weighed.front_share - (target->min + target->max) / 2) : 0.0;
  return std::tuple(way.weighed.over_kg, way.weighed.miss_points > 0 ? way.weighed.miss_points : 0.0, way.boxes, off);
}

std::optional<Way> share_out(const survey::Job& job, const std::vector<Offer>& offers, const std::optional<BareStates>& bare, const Count& count) {
  std::optional<Way> best;
  const auto target = job.car ? job.car->front_share_target : std::nullopt;
  const int step = step_for(offers, count.parallel, most_ways);
  for_each_split(offers, count.series * count.parallel, step, [&](const std::vector<int>& cells) {
    Way way{cells, {}, boxes_of(offers, cells)};
    if (bare) way.weighed = weigh(*job.car, *bare, offers, cells);
    if (!best || rank_of(way, target) < rank_of(*best, target)) best = std::move(way);
  });
  return best;
}

std::vector<survey::Stance> used_in(const Filling& filling, const std::vector<int>& cells) {
  std::vector<survey::Stance> used;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (cells[i] > 0) used.insert(used.end(), filling.cavities[i].used.begin(), filling.cavities[i].used.end());
  }
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  return used;
}

Candidate candidate_of(const survey::Job& job, const Format& format, const Filling& filling, const std::vector<Offer>& offers, const Count& count, Way way) {
  Candidate c;
  c.format = filling.format;
  c.stances = filling.stances;
  c.series = count.series;
  c.parallel = count.parallel;
  c.cells = count.series * count.parallel;
  c.proven = true;
  for (std::size_t i = 0; i < filling.cavities.size(); ++i) {
    const PackedCavity& packed = filling.cavities[i];
    c.places += packed.cells;
    c.proven = c.proven && packed.proven;
    c.boxes_kg += offers[i].kg_per_cell * way.cells[i];
    if (way.cells[i] > 0 && packed.fittings_missing > 0) way.weighed.breaks.push_back(fmt::format("{}: {} without a place", job.cavities[i].name, packed.fittings_missing == 1 ? "a fitting" : "fittings"));
  }
  c.used = used_in(filling, way.cells);
  c.nominal_v = count.series * format.cell.voltage->nominal.value();
  c.kwh = c.cells * format.cell.voltage->nominal.value() * format.cell.capacity->value() / 1000;
  c.range_km = range_of(job, c.kwh);
  c.boxes = way.boxes;
  c.front_share = way.weighed.front_share;
  c.share_miss_points = way.weighed.miss_points;
  c.cg_height_mm = way.weighed.cg_height_mm ? way.weighed.cg_height_mm : boxes_height_mm(offers, way.cells);
  if (format.cost_each) c.cost = *format.cost_each * c.cells;
  if (job.string && job.string->controller && job.string->controller->peak) c.peak_per_hour = job.string->controller->peak->value() / (count.parallel * format.cell.capacity->value());
  c.breaks = std::move(way.weighed.breaks);
  c.per_cavity = std::move(way.cells);
  return c;
}

/// One of those from `first` on: fewest limits gone past, then most cells, then fewest side by side.
void mark_fullest(std::vector<Candidate>& candidates, std::size_t first) {
  const auto rank = [](const Candidate& c) { return std::tuple(c.breaks.size(), -c.cells, c.parallel); };
  const auto start = candidates.begin() + static_cast<std::ptrdiff_t>(first);
  const auto fullest = std::min_element(start, candidates.end(), [&](const Candidate& a, const Candidate& b) { return rank(a) < rank(b); });
  if (fullest != candidates.end()) fullest->fullest = true;
}

}  // namespace

std::optional<BareStates> bare_states(const survey::Job& job) {
  if (!job.car) return std::nullopt;
  const balance::Balance balance = balance::balance_car(*job.car, {});
  if (balance.states.empty()) return std::nullopt;
  return BareStates{balance.states[2], balance.states[3], balance.states[4], job.car->wheelbase->mm()};
}

std::vector<Offer> offers_of(const survey::Job& job, const Filling& filling) {
  std::vector<Offer> offers;
  for (std::size_t i = 0; i < filling.cavities.size(); ++i) {
    const PackedCavity& packed = filling.cavities[i];
    const auto& wanted = job.cavities[i].cells_wanted;
    const double kg_per_cell = packed.cells > 0 ? packed.kg / packed.cells : 0;
    offers.push_back({wanted ? std::min(wanted->min, packed.cells) : 0, packed.cells, packed.boxes, kg_per_cell, packed.x_mm, packed.y_mm, packed.z_mm});
  }
  return offers;
}

void add_candidates(const survey::Job& job, const Format& format, const Filling& filling, const std::optional<BareStates>& bare, int most_parallel,
                    std::vector<Candidate>& candidates) {
  const std::vector<Offer> offers = offers_of(job, filling);
  int places = 0;
  for (const Offer& offer : offers) places += offer.most;
  const std::size_t first = candidates.size();
  for (const Count& count : counts_of(job, format.cell, places, most_parallel)) {
    std::optional<Way> way = share_out(job, offers, bare, count);
    if (!way) continue;
    candidates.push_back(candidate_of(job, format, filling, offers, count, std::move(*way)));
  }
  mark_fullest(candidates, first);
}

}  // namespace cellstow::choosing
