#include "cellstow/measuring/placing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::measuring {
namespace {

/// Crossings flatter than this fix nothing: a millimetre on the tape is 19 mm of the point. Our choice.
constexpr double least_crossing_deg = 3;

/// A length from a known place to the point that is being placed.
struct Known {
  Place at;
  double mm, give_or_take_mm;
  std::size_t reading;
};

double angle_from_lengths_deg(double r, double s, double base) {
  const double cosine = (r * r + s * s - base * base) / (2 * r * s);
  return std::acos(std::clamp(cosine, -1.0, 1.0)) * 180 / std::numbers::pi;
}

/// How much the lengths lack, or are too much, to meet; 0 when they do.
double short_by(const Known& p, const Known& q) {
  const double base = distance(p.at, q.at);
  return std::max({0.0, base - p.mm - q.mm, std::abs(p.mm - q.mm) - base});
}

/// The two lengths that cross best: nearest to a right angle among those that meet; else those that nearly meet.
struct Pair {
  std::size_t first = 0, second = 0;
  bool meets = false;
  double off_square_deg = 90;
  double short_by_mm = 0;
};

bool better(const Pair& pair, const Pair& best) {
  if (pair.meets != best.meets) return pair.meets;
  return pair.meets ? pair.off_square_deg < best.off_square_deg : pair.short_by_mm < best.short_by_mm;
}

std::optional<Pair> best_pair(const std::vector<Known>& known) {
  std::optional<Pair> best;
  for (std::size_t i = 0; i < known.size(); ++i) {
    for (std::size_t j = i + 1; j < known.size(); ++j) {
      const double base = distance(known[i].at, known[j].at);
      if (base <= 0) continue;
      Pair pair{i, j, false, 90, short_by(known[i], known[j])};
      pair.meets = pair.short_by_mm == 0;
      if (pair.meets) pair.off_square_deg = std::abs(90 - angle_from_lengths_deg(known[i].mm, known[j].mm, base));
      if (!best || better(pair, *best)) best = pair;
    }
  }
  return best;
}

double along(Side side, Place place) {
  switch (side) {
    case Side::low_a: return -place.a;
    case Side::high_a: return place.a;
    case Side::low_b: return -place.b;
    case Side::high_b: return place.b;
  }
  return 0;
}

/// Largest misfit of the other lengths, and how far off a reading may be.
double worst_misfit(const std::vector<Known>& known, const Pair& pair, Place place) {
  double worst = 0;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (i != pair.first && i != pair.second) worst = std::max(worst, std::abs(distance(known[i].at, place) - known[i].mm));
  }
  return worst;
}

double largest_give_or_take(const std::vector<Known>& known) {
  double largest = 0;
  for (const Known& one : known) largest = std::max(largest, one.give_or_take_mm);
  return largest;
}

/// A place is ruled out when it fits clearly worse: even a slipped reading leaves the true place a fit of about the
/// slip, while the mirrored place is off by much of its distance. Factors are our choice.
bool clearly_worse(double misfit, double other, double give_or_take_mm) { return misfit > 3 * other + 4 * give_or_take_mm; }

enum class Outcome { placed, open, waits };

struct Try {
  Outcome outcome = Outcome::waits;
  Place at;
  std::optional<Fault> fault;
};

class Placer {
 public:
  explicit Placer(const Network& network) : network_(network), places_(network.places()) {
    for (std::size_t i = 0; i < network.datums.size(); ++i) places_[i] = network.datums[i].at;
  }

  tl::expected<std::vector<Place>, std::vector<Fault>> run() {
    while (pass()) {
    }
    std::vector<Place> points;
    for (std::size_t i = network_.datums.size(); i < places_.size(); ++i) {
      if (!places_[i]) return tl::unexpected(faults());
      points.push_back(*places_[i]);
    }
    return points;
  }

 private:
  /// @return true when it placed a point
  bool pass() {
    bool progress = false;
    for (std::size_t point = 0; point < network_.points.size(); ++point) {
      std::optional<Place>& place = places_[network_.datums.size() + point];
      if (place) continue;
      const Try got = try_point(point);
      if (got.outcome != Outcome::placed) continue;
      place = got.at;
      progress = true;
    }
    return progress;
  }

  std::vector<Known> known_of(std::size_t point) const {
    const std::size_t own = network_.datums.size() + point;
    std::vector<Known> known;
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      const Reading& reading = network_.readings[i];
      if (reading.from != own && reading.to != own) continue;
      const std::optional<Place>& other = places_[reading.from == own ? reading.to : reading.from];
      if (other) known.push_back({*other, reading.mm, reading.give_or_take_mm, i});
    }
    return known;
  }

  std::size_t readings_of(std::size_t point) const {
    const std::size_t own = network_.datums.size() + point;
    return static_cast<std::size_t>(std::count_if(network_.readings.begin(), network_.readings.end(), [&](const Reading& r) {
      return r.from == own || r.to == own;
    }));
  }

  Try try_point(std::size_t point) const {
    const std::vector<Known> known = known_of(point);
    const std::optional<Pair> pair = best_pair(known);
    if (!pair) return {};
    Fault fault{FaultKind::do_not_meet, point, {known[pair->first].reading, known[pair->second].reading}, {}, pair->short_by_mm};
    if (!pair->meets) return {Outcome::open, {}, fault};
    fault.candidates = cross(known[pair->first].at, known[pair->first].mm, known[pair->second].at, known[pair->second].mm);
    fault.kind = FaultKind::too_flat;
    if (pair->off_square_deg > 90 - least_crossing_deg) return {Outcome::open, {}, fault};
    return choose(point, known, *pair, std::move(fault));
  }

  Try choose(std::size_t point, const std::vector<Known>& known, const Pair& pair, Fault fault) const {
    const double give_or_take = largest_give_or_take(known);
    const double misfit[] = {worst_misfit(known, pair, fault.candidates[0]), worst_misfit(known, pair, fault.candidates[1])};
    const bool out[] = {clearly_worse(misfit[0], misfit[1], give_or_take), clearly_worse(misfit[1], misfit[0], give_or_take)};
    const std::optional<Side> side = network_.points[point].side;
    if (!side) {
      fault.kind = FaultKind::side_open;
      if (!out[0] && !out[1]) return {Outcome::open, {}, fault};
      return {Outcome::placed, fault.candidates[out[0] ? 1 : 0], {}};
    }
    const double lead = along(*side, fault.candidates[0]) - along(*side, fault.candidates[1]);
    const std::size_t chosen = lead > 0 ? 0 : 1;
    fault.kind = FaultKind::side_does_not_tell;
    if (std::abs(lead) < 3 * give_or_take) return {Outcome::open, {}, fault};
    fault.kind = FaultKind::side_contradicted;
    if (out[chosen]) return {Outcome::open, {}, fault};
    return {Outcome::placed, fault.candidates[chosen], {}};
  }

  /// Points that only wait for a faulty one are not told.
  std::vector<Fault> faults() const {
    std::vector<Fault> roots, waiting;
    for (std::size_t point = 0; point < network_.points.size(); ++point) {
      if (places_[network_.datums.size() + point]) continue;
      if (readings_of(point) < 2) {
        roots.push_back({FaultKind::too_few_readings, point, {}, {}, 0});
      } else if (const Try got = try_point(point); got.fault) {
        roots.push_back(*got.fault);
      } else {
        waiting.push_back({FaultKind::hang_on_each_other, point, {}, {}, 0});
      }
    }
    return roots.empty() ? waiting : roots;
  }

  const Network& network_;
  std::vector<std::optional<Place>> places_;
};

}  // namespace

std::vector<Place> cross(Place p, double r_mm, Place q, double s_mm) {
  const double base = distance(p, q);
  if (base <= 0) return {};
  const double x = (base * base + r_mm * r_mm - s_mm * s_mm) / (2 * base);
  const double h2 = r_mm * r_mm - x * x;
  if (h2 < 0) return {};
  const double h = std::sqrt(h2);
  const double ua = (q.a - p.a) / base, ub = (q.b - p.b) / base;
  return {{p.a + x * ua - h * ub, p.b + x * ub + h * ua}, {p.a + x * ua + h * ub, p.b + x * ub - h * ua}};
}

double crossing_angle_deg(Place point, Place p, Place q) {
  const double r = distance(point, p), s = distance(point, q);
  return r > 0 && s > 0 ? angle_from_lengths_deg(r, s, distance(p, q)) : 0;
}

tl::expected<std::vector<Place>, std::vector<Fault>> place_points(const Network& network) { return Placer(network).run(); }

}  // namespace cellstow::measuring
