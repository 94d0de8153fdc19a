#include "cellstow/way_in/pass.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "angle_search.hpp"

namespace cellstow::way_in {
namespace {

Shadow moved(Shadow shadow, Spot by) {
  for (Figure& part : shadow.parts) {
    for (Spot& p : part) p.a += by.a, p.b += by.b;
  }
  return shadow;
}

/// One body before one opening.
class Trial {
 public:
  Trial(const Body& body, const survey::WayIn& way, Aim aim) : body_(body), opening_(way), aim_(aim) {
    pass_.opening = way.name;
  }

  Pass run(Handling handling) {
    if (upright() || turned() || (handling == Handling::may_tilt && tilted())) return pass_;
    stick();
    return pass_;
  }

 private:
  struct Held { Attitude attitude; Fit fit; };

  Held held(const Attitude& attitude, double floor_um = -1e18) const {
    return {attitude, best_fit(opening_, body_.shadow(opening_.way(), attitude), floor_um)};
  }

  void keep_if_better(const Held& held) {
    if (!tried_ || held.fit.margin_um > least_blocked_.fit.margin_um) least_blocked_ = held;
    tried_ = true;
  }

  bool take(Manner manner, const Held& held) {
    const Shadow shadow = body_.shadow(opening_.way(), held.attitude);
    pass_.manner = manner;
    pass_.attitude = held.attitude;
    pass_.gap_mm = held.fit.margin_um / 1000;
    pass_.shift = held.fit.shift;
    pass_.shadow = moved(shadow, held.fit.shift);
    return true;
  }

  bool upright() {
    const Held as_placed = held({});
    keep_if_better(as_placed);
    if (!as_placed.fit.fits) {
      pass_.upright_blocking = blocking_edges(opening_, as_placed.fit);
      return false;
    }
    if (aim_ == Aim::elsewhere) return take(Manner::upright, as_placed);
    const Shadow shadow = body_.shadow(opening_.way(), {});
    const double there_um = margin_um(opening_, shadow);
    if (there_um < (shadow.whole_um ? 0 : 1e-5)) {
      // Half the gap is kept, up to 3 mm, so that the way over to its place stays short.
      const double kept_um = std::clamp(as_placed.fit.margin_um / 2, 0.0, 3000.0);
      take(Manner::upright, as_placed);
      pass_.shift = nearest_shift(as_placed.fit, kept_um);
      pass_.shadow = moved(shadow, pass_.shift);
      pass_.gap_mm = margin_um(opening_, pass_.shadow) / 1000;
      return true;
    }
    take(Manner::upright, as_placed);
    pass_.straight = true;
    pass_.shift = {};
    pass_.gap_mm = there_um / 1000;
    pass_.shadow = shadow;
    return true;
  }

  /// Best angle of one kind of attitude, and the range about it that passes.
  bool search(Manner manner, double from, double to, double sweep_um, const auto& attitude_at) {
    const auto at = [&](double deg, double floor_um) {
      const Fit fit = best_fit(opening_, body_.shadow(opening_.way(), attitude_at(deg)), floor_um);
      return AtAngle{fit.margin_um, fit.fits};
    };
    const BestAngle best = best_angle(from, to, sweep_um, least_blocked_.fit.margin_um - 1, at);
    const Held there = held(attitude_at(best.deg));
    keep_if_better(there);
    if (!best.passes) return false;
    const double low = passing_until(best.deg, from, sweep_um, at), high = passing_until(best.deg, to, sweep_um, at);
    take(manner, held(attitude_at(least_with_room(best.deg, low, high, at))));
    pass_.from_deg = low;
    pass_.to_deg = high;
    return true;
  }

  /// Of the angles that pass, the smallest that leaves 10 mm all round, or as much as there is.
  static double least_with_room(double best, double low, double high, const auto& at) {
    constexpr double room_um = 10'000;
    constexpr int steps = 200;
    const double start = std::abs(low) < std::abs(high) ? low : high;
    const double wanted = std::min(room_um, at(best, -1e18).margin_um);
    for (int k = 0; k < steps; ++k) {
      const double deg = start + (best - start) * k / steps;
      const AtAngle here = at(deg, -1e18);
      if (here.fits && here.margin_um >= wanted) return deg;
    }
    return best;
  }

  bool turned() {
    for (const double deg : {90.0, 180.0, 270.0}) {
      const Held quarter = held({deg, 0, 0});
      keep_if_better(quarter);
      if (!quarter.fit.fits) continue;
      pass_.from_deg = pass_.to_deg = deg;
      return take(Manner::turned, quarter);
    }
    return search(Manner::turned, -180, 180, body_.sweep_of_turn_um(opening_.way()),
                  [](double deg) { return Attitude{deg, 0, 0}; });
  }

  /// The better of the tilts about a line along the body and one across it: up to 10 mm the one with more room, else the smaller tilt.
  bool tilted() {
    for (const double quarters : {0.0, 90.0, 180.0, 270.0}) {
      Pass best = pass_;
      for (const double line : {body_.long_side_deg(), body_.long_side_deg() + 90}) {
        const bool passes = search(Manner::tilted, -90, 90, body_.sweep_of_tilt_um(opening_.way(), line),
                                   [&](double deg) { return Attitude{quarters, deg, line}; });
        const auto worth = [](const Pass& p) { return std::pair(std::min(p.gap_mm, 10.0), -std::abs(p.attitude.tilt_deg)); };
        if (passes && (best.manner == Manner::blocked || worth(pass_) > worth(best))) best = pass_;
      }
      pass_ = best;
      if (best.manner != Manner::blocked) return true;
    }
    return false;
  }

  void stick() {
    pass_.attitude = least_blocked_.attitude;
    pass_.blocking = blocking_edges(opening_, least_blocked_.fit);
    pass_.shift = least_blocked_.fit.shift;
    pass_.shadow = moved(body_.shadow(opening_.way(), pass_.attitude), pass_.shift);
  }

  const Body& body_;
  Opening opening_;
  Aim aim_;
  Pass pass_;
  Held least_blocked_;
  bool tried_ = false;
};

}  // namespace

double Pass::blocked_mm() const {
  return manner != Manner::blocked || blocking.empty() ? 0 : blocking.front().by_um / 1000;
}

Pass pass_opening(const Body& body, const survey::WayIn& way, Handling handling, Aim aim) {
  return Trial(body, way, aim).run(handling);
}

std::string spoken(const Attitude& attitude) {
  std::string out;
  if (attitude.tilt_deg != 0) {
    // What goes down lies a quarter turn from the line; a negative tilt turns it round.
    static constexpr const char* ends[] = {"rear", "right", "front", "left"};
    const double down = attitude.line_deg + attitude.turn_deg + (attitude.tilt_deg > 0 ? 90 : -90);
    const auto quarter = static_cast<int>(std::lround((down + 720) / 90)) % 4;
    out = fmt::format("tilted {:.1f} degrees, {} side down", std::abs(attitude.tilt_deg), ends[quarter]);
  }
  if (attitude.turn_deg != 0) {
    out = fmt::format("turned {:.1f} degrees about the vertical", attitude.turn_deg) + (out.empty() ? "" : " and ") + out;
  }
  return out.empty() ? "upright" : out;
}

}  // namespace cellstow::way_in
