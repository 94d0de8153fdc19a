#include "cellstow/way_in/fit.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <queue>

#include "highest_margin.hpp"

namespace cellstow::way_in {
namespace {

/// Contact this close is left open where corners are not whole um.
constexpr double rounding_um = 1e-5;
constexpr int most_choices = 20'000;

double dot(Spot a, Spot b) { return a.a * b.a + a.b * b.b; }
double length(Spot a) { return std::hypot(a.a, a.b); }

/// The point of a figure farthest along a direction.
Spot farthest(const Figure& figure, Spot along) {
  return *std::max_element(figure.begin(), figure.end(),
                           [&](Spot p, Spot q) { return dot(along, p) < dot(along, q); });
}

Spot farthest(const Shadow& shadow, Spot along) {
  Spot best = shadow.parts.front().front();
  for (const Figure& part : shadow.parts) {
    const Spot p = farthest(part, along);
    if (dot(along, p) > dot(along, best)) best = p;
  }
  return best;
}

/// The shadow inside the hull.
std::vector<Bound> hull_bounds(const Opening& opening, const Shadow& shadow) {
  std::vector<Bound> out;
  for (const Side& side : opening.hull()) {
    const Spot p = farthest(shadow, side.normal);
    out.push_back({side.normal, side.limit - dot(side.normal, p), p, true, side.edge});
  }
  return out;
}

/// Every way of keeping two convex figures apart: a side of one of them between both.
std::vector<Bound> ways_apart(const Opening::Material& material, const Figure& part) {
  std::vector<Bound> out;
  for (const Side& side : material.sides) {
    const Spot away{-side.normal.a, -side.normal.b};
    const Spot p = farthest(part, away);
    out.push_back({away, -side.limit - dot(away, p), p, true, side.edge});
  }
  for (std::size_t k = 0; k < part.size(); ++k) {
    const Spot from = part[k], to = part[(k + 1) % part.size()];
    const Spot normal{to.b - from.b, from.a - to.a};
    const Spot m = farthest(material.figure, {-normal.a, -normal.b});
    out.push_back({normal, dot(normal, m) - dot(normal, from), m, false, -1});
  }
  return out;
}

double slack(const Bound& bound, Spot shift) {
  const double long_um = length(bound.normal);
  return long_um == 0 ? -1e18 : (bound.limit - dot(bound.normal, shift)) / long_um;
}

double best_slack(const std::vector<Bound>& ways, Spot shift) {
  double best = -1e18;
  for (const Bound& way : ways) best = std::max(best, slack(way, shift));
  return best;
}

/// A set of choices made so far, with the best margin they allow.
struct Choice {
  double margin_um;
  int order;                  ///< ties end at the earliest made
  Spot shift;
  std::vector<Bound> bounds;
  std::vector<int> apart;     ///< pairs already kept apart
  bool operator<(const Choice& other) const {
    return margin_um != other.margin_um ? margin_um < other.margin_um : order > other.order;
  }
};

/// All pairs of material and shadow part, each with its ways apart.
std::vector<std::vector<Bound>> pairs(const Opening& opening, const Shadow& shadow) {
  std::vector<std::vector<Bound>> out;
  for (const Opening::Material& material : opening.material()) {
    for (const Figure& part : shadow.parts) out.push_back(ways_apart(material, part));
  }
  return out;
}

/// The pair that is worst off at this shift and still nearer than the margin; -1 when all are kept apart.
int worst_pair(const std::vector<std::vector<Bound>>& all, const Choice& choice) {
  int worst = -1;
  double least = choice.margin_um - 1e-7;
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (std::count(choice.apart.begin(), choice.apart.end(), static_cast<int>(k)) > 0) continue;
    const double apart = best_slack(all[k], choice.shift);
    if (apart >= least) continue;
    least = apart;
    worst = static_cast<int>(k);
  }
  return worst;
}

/// Exact for whole-um corners: some shift keeps every bound with margin 0.
bool keeps_all(const std::vector<Bound>& bounds) {
  __extension__ typedef __int128 Wide;
  const auto whole = [](double v) { return static_cast<Wide>(std::llround(v)); };
  for (std::size_t i = 0; i < bounds.size(); ++i) {
    for (std::size_t k = i + 1; k < bounds.size(); ++k) {
      const Bound &p = bounds[i], &q = bounds[k];
      Wide det = whole(p.normal.a) * whole(q.normal.b) - whole(p.normal.b) * whole(q.normal.a);
      if (det == 0) continue;
      Wide a = whole(p.limit) * whole(q.normal.b) - whole(q.limit) * whole(p.normal.b);
      Wide b = whole(p.normal.a) * whole(q.limit) - whole(q.normal.a) * whole(p.limit);
      if (det < 0) det = -det, a = -a, b = -b;
      if (std::all_of(bounds.begin(), bounds.end(), [&](const Bound& r) {
            return whole(r.normal.a) * a + whole(r.normal.b) * b <= whole(r.limit) * det;
          })) {
        return true;
      }
    }
  }
  return false;
}

bool decide(const Fit& fit, const Shadow& shadow) {
  if (!shadow.whole_um) return fit.margin_um >= rounding_um;
  return fit.margin_um >= rounding_um || (fit.margin_um > -rounding_um && keeps_all(fit.bounds));
}

}  // namespace

Fit best_fit(const Opening& opening, const Shadow& shadow, double floor_um) {
  const std::vector<std::vector<Bound>> all = pairs(opening, shadow);
  std::priority_queue<Choice> open;
  int made = 0;
  const auto add = [&](std::vector<Bound> bounds, std::vector<int> apart) {
    const Margin best = highest_margin(bounds);
    open.push({best.margin_um, made++, best.shift, std::move(bounds), std::move(apart)});
  };
  add(hull_bounds(opening, shadow), {});
  while (true) {
    const Choice choice = open.top();
    const bool given_up = made > most_choices || choice.margin_um < floor_um;
    const int worst = given_up ? -1 : worst_pair(all, choice);
    if (worst < 0) {
      Fit fit{false, choice.margin_um, choice.shift, choice.bounds};
      fit.fits = !given_up && decide(fit, shadow);
      return fit;
    }
    open.pop();
    for (const Bound& way : all[static_cast<std::size_t>(worst)]) {
      if (length(way.normal) == 0) continue;
      std::vector<Bound> bounds = choice.bounds;
      std::vector<int> apart = choice.apart;
      bounds.push_back(way);
      apart.push_back(worst);
      add(std::move(bounds), std::move(apart));
    }
  }
}

double margin_um(const Opening& opening, const Shadow& shadow) {
  double least = 1e18;
  for (const Bound& bound : hull_bounds(opening, shadow)) least = std::min(least, slack(bound, {}));
  for (const auto& ways : pairs(opening, shadow)) least = std::min(least, best_slack(ways, {}));
  return least;
}

Spot nearest_shift(const Fit& fit, double gap_um) {
  const auto kept = [&](Spot t, double by_um) {
    return std::all_of(fit.bounds.begin(), fit.bounds.end(),
                       [&](const Bound& b) { return slack(b, t) >= gap_um - by_um; });
  };
  if (kept({}, 0)) return {};
  // The nearest shift lies on one bound, square to it, or where two of them meet.
  const auto limit = [&](const Bound& b) { return b.limit - gap_um * length(b.normal); };
  std::vector<Spot> candidates;
  for (const Bound& p : fit.bounds) {
    const double square = dot(p.normal, p.normal);
    candidates.push_back({p.normal.a * limit(p) / square, p.normal.b * limit(p) / square});
    for (const Bound& q : fit.bounds) {
      const double det = p.normal.a * q.normal.b - p.normal.b * q.normal.a;
      if (det == 0) continue;
      candidates.push_back({(limit(p) * q.normal.b - limit(q) * p.normal.b) / det,
                            (p.normal.a * limit(q) - q.normal.a * limit(p)) / det});
    }
  }
  std::optional<Spot> best;
  for (const Spot& t : candidates) {
    if (kept(t, 1e-6) && (!best || length(t) < length(*best) - 1e-6)) best = t;
  }
  return best.value_or(fit.shift);
}

std::vector<Blocking> blocking_edges(const Opening& opening, const Fit& fit) {
  struct Place { double sum = 1e18; int edges = 0; double most = 0; Spot shift; };
  const auto place_at = [&](Spot shift) {
    Place place{0, 0, 0, shift};
    for (const Bound& bound : fit.bounds) {
      const double over = -slack(bound, shift);
      if (over <= 1e-3) continue;
      place.sum += over;
      ++place.edges;
      place.most = std::max(place.most, over);
    }
    return place;
  };
  const auto better = [](const Place& p, const Place& q) {
    if (std::abs(p.sum - q.sum) > 1e-2) return p.sum < q.sum;
    if (p.edges != q.edges) return p.edges < q.edges;
    return p.most > q.most + 1e-2;
  };
  Place best;
  for (const Bound& p : fit.bounds) {
    for (const Bound& q : fit.bounds) {
      const double det = p.normal.a * q.normal.b - p.normal.b * q.normal.a;
      if (det == 0) continue;
      const Place place = place_at({(p.limit * q.normal.b - q.limit * p.normal.b) / det,
                                    (p.normal.a * q.limit - q.normal.a * p.limit) / det});
      if (better(place, best)) best = place;
    }
  }
  std::vector<Blocking> out;
  for (const Bound& bound : fit.bounds) {
    const double over = -slack(bound, best.shift);
    if (over <= 1e-3) continue;
    const Spot at = bound.moves ? Spot{bound.contact.a + best.shift.a, bound.contact.b + best.shift.b} : bound.contact;
    const int edge = bound.edge >= 0 ? bound.edge : opening.nearest_edge(at);
    out.push_back({opening.edge_name(edge), over, at});
  }
  std::stable_sort(out.begin(), out.end(), [](const Blocking& p, const Blocking& q) { return p.by_um > q.by_um; });
  return out;
}

}  // namespace cellstow::way_in
