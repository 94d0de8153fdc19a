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

/// Two lengths to known places, and how they cross.
struct Pair {
  std::size_t first = 0, second = 0;
  bool meets = false;
  double off_square_deg = 90;
  double short_by_mm = 0;

  bool fixes() const { return meets && off_square_deg <= 90 - least_crossing_deg; }
};

/// Nearest to a right angle first; then those that nearly meet.
bool better(const Pair& pair, const Pair& other) {
  if (pair.meets != other.meets) return pair.meets;
  return pair.meets ? pair.off_square_deg < other.off_square_deg : pair.short_by_mm < other.short_by_mm;
}

std::vector<Pair> pairs_of(const std::vector<Known>& known) {
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < known.size(); ++i) {
    for (std::size_t j = i + 1; j < known.size(); ++j) {
      const double base = distance(known[i].at, known[j].at);
      if (base <= 0) continue;
      Pair pair{i, j, false, 90, short_by(known[i], known[j])};
      pair.meets = pair.short_by_mm == 0;
      if (pair.meets) pair.off_square_deg = std::abs(90 - angle_from_lengths_deg(known[i].mm, known[j].mm, base));
      pairs.push_back(pair);
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), better);
  return pairs;
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
    const std::vector<Pair> pairs = pairs_of(known);
    if (pairs.empty()) return {};
    const Pair& best = pairs.front();
    Fault fault{FaultKind::do_not_meet, point, {known[best.first].reading, known[best.second].reading}, {}, best.short_by_mm};
    if (!best.meets) return {Outcome::open, {}, fault};
    fault.candidates = crossing(known, best);
    fault.kind = FaultKind::too_flat;
    if (!best.fixes()) return {Outcome::open, {}, fault};
    return choose(point, known, pairs, std::move(fault));
  }

  static std::vector<Place> crossing(const std::vector<Known>& known, const Pair& pair) {
    return cross(known[pair.first].at, known[pair.first].mm, known[pair.second].at, known[pair.second].mm);
  }

  /// By what further lengths say clearly, whatever the side given; else by the side.
  Try choose(std::size_t point, const std::vector<Known>& known, const std::vector<Pair>& pairs, Fault fault) const {
    const std::optional<Side> side = network_.points[point].side;
    for (const Pair& pair : pairs) {
      if (!pair.fixes()) break;
      const std::optional<Place> clear = clear_choice(known, pair);
      if (!clear) continue;
      fault.kind = FaultKind::side_contradicted;
      if (side && contradicted(known, pairs, *side, *clear)) return {Outcome::open, {}, fault};
      return {Outcome::placed, *clear, {}};
    }
    fault.kind = side ? FaultKind::side_does_not_tell : FaultKind::side_open;
    if (!side) return {Outcome::open, {}, fault};
    for (const Pair& pair : pairs) {
      if (!pair.fixes()) break;
      const std::vector<Place> places = crossing(known, pair);
      const double lead = along(*side, places[0]) - along(*side, places[1]);
      if (std::abs(lead) >= 3 * largest_give_or_take(known)) return {Outcome::placed, places[lead > 0 ? 0 : 1], {}};
    }
    return {Outcome::open, {}, fault};
  }

  static std::optional<Place> clear_choice(const std::vector<Known>& known, const Pair& pair) {
    const std::vector<Place> places = crossing(known, pair);
    const double give_or_take = largest_give_or_take(known);
    const double first = worst_misfit(known, pair, places[0]), second = worst_misfit(known, pair, places[1]);
    if (clearly_worse(second, first, give_or_take)) return places[0];
    if (clearly_worse(first, second, give_or_take)) return places[1];
    return {};
  }

  /// True when the place lies on the given side of no line between two of the places it was measured from.
  static bool contradicted(const std::vector<Known>& known, const std::vector<Pair>& pairs, Side side, Place place) {
    return std::none_of(pairs.begin(), pairs.end(), [&](const Pair& pair) {
      if (!pair.meets) return false;
      const std::vector<Place> places = crossing(known, pair);
      const bool first_is_near = distance(places[0], place) < distance(places[1], place);
      return along(side, places[first_is_near ? 0 : 1]) >= along(side, places[first_is_near ? 1 : 0]);
    });
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
