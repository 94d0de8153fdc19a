#pragma once
/// What is measured of one section with the tape: datums, points, and lengths read between them.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace cellstow::measuring {

/// A place in the plane of a section, mm along the section's two axes.
struct Place {
  double a = 0, b = 0;
};

double distance(Place from, Place to);

/// A place whose coordinates are known before the tape comes out.
struct Datum {
  std::string name;
  Place at;
};

/// Of the two places that two lengths leave open, the one farther this way.
enum class Side { low_a, high_a, low_b, high_b };

struct Point {
  std::string name;
  std::optional<Side> side;
};

/// One length read off the tape. Both ends are numbers of places: datums first, points after them.
struct Reading {
  std::size_t from = 0, to = 0;
  double mm = 0;               ///< more than 0
  double give_or_take_mm = 2;  ///< 19 such readings in 20 are off by no more; more than 0
};

/// 19 in 20 of a normal distribution lie within this many standard deviations.
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1 (table of the normal distribution)
inline constexpr double deviations_in_give_or_take = 1.959964;

/// Standard deviation of a reading, mm.
double deviation(const Reading& reading);

struct Network {
  std::vector<Datum> datums;
  std::vector<Point> points;
  std::vector<Reading> readings;

  std::size_t places() const { return datums.size() + points.size(); }
  bool is_point(std::size_t place) const { return place >= datums.size(); }
  const std::string& name(std::size_t place) const;
};

}  // namespace cellstow::measuring
