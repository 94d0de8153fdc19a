#include "highest_margin.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace cellstow::way_in {
namespace {

/// A bound with a normal of length 1: a t_a + b t_b + m <= limit.
struct Unit { double a, b, limit; };
using Basis = std::array<std::size_t, 3>;

constexpr double broken_um = 1e-7;

double over(const Unit& u, const Margin& at) {
  return u.a * at.shift.a + u.b * at.shift.b + at.margin_um - u.limit;
}

/// Where three bounds meet, if their normals balance: some weights >= 0 add them up to nothing. Then no
/// margin above theirs keeps all three.
std::optional<Margin> meeting(const std::vector<Unit>& u, const Basis& k) {
  const Unit &p = u[k[0]], &q = u[k[1]], &r = u[k[2]];
  // Weights are the cross products of the other two normals.
  const double wp = q.a * r.b - q.b * r.a, wq = r.a * p.b - r.b * p.a, wr = p.a * q.b - p.b * q.a;
  const double sum = wp + wq + wr;
  constexpr double flat = 1e-12;
  if (std::abs(sum) < flat) return {};
  const double low = -1e-12 * std::abs(sum);
  if (wp * (sum > 0 ? 1 : -1) < low || wq * (sum > 0 ? 1 : -1) < low || wr * (sum > 0 ? 1 : -1) < low) return {};
  Margin at;
  at.margin_um = (wp * p.limit + wq * q.limit + wr * r.limit) / sum;
  // Of the three pairs the one that crosses best gives the shift.
  const std::array<std::array<std::size_t, 2>, 3> pairs{{{1, 2}, {2, 0}, {0, 1}}};
  const std::array<double, 3> dets{wp, wq, wr};
  std::size_t best = 0;
  for (std::size_t i = 1; i < 3; ++i) {
    if (std::abs(dets[i]) > std::abs(dets[best])) best = i;
  }
  const Unit &x = u[k[pairs[best][0]]], &y = u[k[pairs[best][1]]];
  const double lx = x.limit - at.margin_um, ly = y.limit - at.margin_um;
  at.shift = {(lx * y.b - ly * x.b) / dets[best], (x.a * ly - y.a * lx) / dets[best]};
  return at;
}

double worst_over(const std::vector<Unit>& u, const Margin& at) {
  double worst = 0;
  for (const Unit& unit : u) worst = std::max(worst, over(unit, at));
  return worst;
}

/// Any three bounds that balance.
std::optional<std::pair<Basis, Margin>> first_meeting(const std::vector<Unit>& u) {
  for (std::size_t i = 0; i < u.size(); ++i) {
    for (std::size_t k = i + 1; k < u.size(); ++k) {
      for (std::size_t n = k + 1; n < u.size(); ++n) {
        if (const auto at = meeting(u, {i, k, n})) return {{{i, k, n}, *at}};
      }
    }
  }
  return {};
}

/// Every three bounds in turn, for the rare case in which steps go round in circles: the least margin is the
/// answer (duality of linear programmes); of several meetings there, one that breaks nothing.
Margin by_trying_all(const std::vector<Unit>& u) {
  Margin least{1e18, {}};
  for (std::size_t i = 0; i < u.size(); ++i) {
    for (std::size_t k = i + 1; k < u.size(); ++k) {
      for (std::size_t n = k + 1; n < u.size(); ++n) {
        const auto at = meeting(u, {i, k, n});
        if (!at || at->margin_um > least.margin_um + broken_um) continue;
        if (at->margin_um < least.margin_um - broken_um || worst_over(u, *at) < worst_over(u, least)) least = *at;
      }
    }
  }
  return least;
}

}  // namespace

Margin highest_margin(const std::vector<Bound>& bounds) {
  std::vector<Unit> u;
  for (const Bound& bound : bounds) {
    const double long_um = std::hypot(bound.normal.a, bound.normal.b);
    if (long_um > 0) u.push_back({bound.normal.a / long_um, bound.normal.b / long_um, bound.limit / long_um});
  }
  auto at = first_meeting(u);
  if (!at) return {-1e18, {}};
  for (std::size_t step = 0; step < 20 * u.size(); ++step) {
    std::size_t worst = 0;
    for (std::size_t k = 1; k < u.size(); ++k) {
      if (over(u[k], at->second) > over(u[worst], at->second)) worst = k;
    }
    if (over(u[worst], at->second) <= broken_um) return at->second;
    std::optional<std::pair<Basis, Margin>> next;
    for (std::size_t leave = 0; leave < 3; ++leave) {
      Basis basis = at->first;
      const std::size_t left = basis[leave];
      basis[leave] = worst;
      const auto meet = meeting(u, basis);
      if (!meet || over(u[left], *meet) > broken_um) continue;
      if (!next || meet->margin_um < next->second.margin_um) next = {{basis, *meet}};
    }
    if (!next) break;
    at = next;
  }
  return by_trying_all(u);
}

}  // namespace cellstow::way_in
