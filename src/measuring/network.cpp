#include "cellstow/measuring/network.hpp"

#include <cmath>

namespace cellstow::measuring {

double distance(Place from, Place to) { return std::hypot(to.a - from.a, to.b - from.b); }

double deviation(const Reading& reading) { return reading.give_or_take_mm / deviations_in_give_or_take; }

const std::string& Network::name(std::size_t place) const {
  return is_point(place) ? points[place - datums.size()].name : datums[place].name;
}

}  // namespace cellstow::measuring
