#include "cellstow/measuring/doubts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "cellstow/measuring/placing.hpp"

namespace cellstow::measuring {
namespace {

/// Two explanations are both told when the misfits they leave differ by less: likelihoods within e^2.
constexpr double told_apart = 4;
/// Readings whose test is a smaller part of the largest are not tried. Our choice.
constexpr double worth_trying = 0.5;
/// Exchanged readings must fit this well: true ones do 99 times in 100 (normal distribution), chance fits seldom.
constexpr double swap_fits = 2.5;
/// Readings that differ by less than 3 give or takes are not told as swapped: it would change little. Where the slip
/// that would explain the same is above 10, a swap that fits is the likelier story. Both are our choice.
constexpr double swap_least = 3, slip_unlikely = 10;

bool shares_one_end(const Reading& r, const Reading& s) {
  const bool first = r.from == s.from || r.from == s.to, second = r.to == s.from || r.to == s.to;
  return first != second;
}

bool touches(const Reading& r, const Reading& s) { return r.from == s.from || r.from == s.to || r.to == s.from || r.to == s.to; }

class Snooper {
 public:
  Snooper(const Network& network, const Fit& fit)
      : network_(network), fit_(fit), left_out_(network.readings.size(), false) {}

  std::vector<Doubt> run() {
    std::vector<Doubt> found;
    for (std::size_t round = 0; round < network_.readings.size(); ++round) {
      const std::size_t worst = worst_reading();
      if (std::abs(fit_.readings[worst].test) <= doubt_limit) break;
      Doubt doubt = explain(worst);
      if (doubt.explanations.empty() || !set_right(doubt.explanations.front())) break;
      found.push_back(std::move(doubt));
    }
    return found;
  }

 private:
  std::size_t worst_reading() const {
    std::size_t worst = 0;
    double largest = -1;
    for (std::size_t i = 0; i < fit_.readings.size(); ++i) {
      const double test = left_out_[i] ? 0 : std::abs(fit_.readings[i].test);
      // equal but for rounding: the first reading of the file
      if (test > largest * (1 + 1e-9)) {
        largest = test;
        worst = i;
      }
    }
    return worst;
  }

  std::optional<Fit> without(std::size_t reading) const {
    std::vector<bool> left_out = left_out_;
    left_out[reading] = true;
    return fit_points(network_, fit_.points, left_out);
  }

  /// A slip of this reading, and the misfit that is left without it; if it explains the worst test.
  std::optional<std::pair<double, Explanation>> slip(std::size_t reading, std::size_t worst) const {
    const std::optional<Fit> fit = without(reading);
    if (!fit || (reading != worst && std::abs(fit->readings[worst].test) > doubt_limit)) return {};
    return std::pair(fit->misfit, Explanation{DoubtKind::slipped, reading, reading, fit->readings[reading].residual_mm, fit->points});
  }

  /// By the misfit left, least first. The tests of the fit with all readings only choose which to try: with a large slip they
  /// are no longer exact, for the places it pulls points to are wrong.
  std::vector<Explanation> slips(std::size_t worst) const {
    std::vector<std::pair<double, Explanation>> tried;
    for (std::size_t i = 0; i < fit_.readings.size(); ++i) {
      if (left_out_[i] || std::abs(fit_.readings[i].test) < worth_trying * std::abs(fit_.readings[worst].test)) continue;
      if (auto one = slip(i, worst)) tried.push_back(std::move(*one));
    }
    // misfits equal but for rounding: in the order of the file
    std::stable_sort(tried.begin(), tried.end(), [](const auto& s, const auto& t) { return std::round(s.first * 1e6) < std::round(t.first * 1e6); });
    std::vector<Explanation> out;
    for (auto& [misfit, explanation] : tried) {
      if (misfit - tried.front().first <= told_apart) out.push_back(std::move(explanation));
    }
    return out;
  }

  /// The better of two ways to the least: from where the points lie, and placed anew.
  std::optional<Fit> fit_of(const Network& network) const {
    std::optional<Fit> near = fit_points(network, fit_.points, left_out_);
    const auto placed = place_points(network);
    if (!placed) return near;
    std::optional<Fit> anew = fit_points(network, *placed, left_out_);
    return anew && (!near || anew->misfit < near->misfit) ? anew : near;
  }

  bool fits_after(const Network& network, const Fit& fit, std::size_t i, std::size_t k) const {
    if (fit_.misfit - fit.misfit < doubt_limit * doubt_limit) return false;
    for (std::size_t j = 0; j < fit.readings.size(); ++j) {
      const Reading& reading = network.readings[j];
      const bool near = touches(reading, network.readings[i]) || touches(reading, network.readings[k]);
      if (near && !left_out_[j] && std::abs(fit.readings[j].test) > swap_fits) return false;
    }
    return true;
  }

  bool may_be_swapped(std::size_t i, std::size_t k) const {
    const Reading &r = network_.readings[i], &s = network_.readings[k];
    const double least = swap_least * std::max(r.give_or_take_mm, s.give_or_take_mm);
    return i != k && !left_out_[k] && shares_one_end(r, s) && std::abs(r.mm - s.mm) >= least;
  }

  /// Readings of the points that the suspects were taken to.
  std::vector<std::size_t> around(const std::vector<Explanation>& suspects) const {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      const bool near = std::any_of(suspects.begin(), suspects.end(), [&](const Explanation& e) {
        const Reading &r = network_.readings[i], &s = network_.readings[e.reading];
        return (network_.is_point(s.from) && (r.from == s.from || r.to == s.from)) || (network_.is_point(s.to) && (r.from == s.to || r.to == s.to));
      });
      if (near && !left_out_[i]) out.push_back(i);
    }
    return out;
  }

  /// The exchange after which everything fits best.
  std::optional<Explanation> swap(const std::vector<Explanation>& suspects) const {
    std::optional<Explanation> best;
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t i : around(suspects)) {
      for (std::size_t k = 0; k < network_.readings.size(); ++k) {
        if (!may_be_swapped(i, k)) continue;
        Network exchanged = network_;
        std::swap(exchanged.readings[i].mm, exchanged.readings[k].mm);
        const std::optional<Fit> fit = fit_of(exchanged);
        if (!fit || fit->misfit >= least || !fits_after(exchanged, *fit, i, k)) continue;
        least = fit->misfit;
        best = Explanation{DoubtKind::swapped, std::min(i, k), std::max(i, k), 0, fit->points};
      }
    }
    return best;
  }

  /// Whether nothing round the reading is doubted any more without it.
  bool explains_all(const Explanation& e) const {
    const std::optional<Fit> fit = without(e.reading);
    if (!fit) return false;
    for (std::size_t i = 0; i < fit->readings.size(); ++i) {
      const bool near = i != e.reading && !left_out_[i] && touches(network_.readings[i], network_.readings[e.reading]);
      if (near && std::abs(fit->readings[i].test) > doubt_limit) return false;
    }
    return true;
  }

  /// A swap that fits goes before slips that are all unlikely, and takes the place of slips that leave doubts.
  Doubt explain(std::size_t worst) const {
    Doubt doubt{slips(worst)};
    std::optional<Explanation> exchanged = swap(doubt.explanations);
    if (!exchanged) return doubt;
    std::vector<Explanation>& all = doubt.explanations;
    all.erase(std::remove_if(all.begin(), all.end(), [&](const Explanation& e) { return !explains_all(e); }), all.end());
    const bool unlikely = std::all_of(all.begin(), all.end(), [&](const Explanation& e) {
      return std::abs(e.off_mm) > slip_unlikely * network_.readings[e.reading].give_or_take_mm;
    });
    all.insert(unlikely ? all.begin() : all.end(), std::move(*exchanged));
    return doubt;
  }

  /// For the search only.
  bool set_right(const Explanation& explanation) {
    if (explanation.kind == DoubtKind::swapped) {
      std::swap(network_.readings[explanation.reading].mm, network_.readings[explanation.other].mm);
    } else {
      left_out_[explanation.reading] = true;
    }
    std::optional<Fit> fit = fit_points(network_, explanation.points, left_out_);
    if (!fit) return false;
    fit_ = std::move(*fit);
    return true;
  }

  Network network_;
  Fit fit_;
  std::vector<bool> left_out_;
};

}  // namespace

double least_slip_mm(const Reading& reading, double share) {
  if (share < least_share) return std::numeric_limits<double>::infinity();
  return slip_found * deviation(reading) / std::sqrt(share);
}

std::vector<Doubt> doubts(const Network& network, const Fit& fit) {
  if (network.readings.empty()) return {};
  return Snooper(network, fit).run();
}

}  // namespace cellstow::measuring
