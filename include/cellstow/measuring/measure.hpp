#pragma once
/// One section measured with the tape, worked out whole.

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "cellstow/measuring/doubts.hpp"
#include "cellstow/measuring/fit.hpp"
#include "cellstow/measuring/next_reading.hpp"
#include "cellstow/measuring/placing.hpp"

namespace cellstow::measuring {

/// Crossings outside these are flat. Common practice in surveying, no single source.
inline constexpr double flat_below_deg = 30, flat_above_deg = 150;

struct MeasuredPoint {
  Place at;
  Ellipse ellipse;                 ///< from readings as good as they are said to be, or as bad as they prove
  double shift_mm = 0;             ///< how far the point moves if a doubted reading is set right
  double crossing_deg = 0;         ///< of the two lengths that cross best
  bool flat = false;
  bool checked = false;            ///< a slip in any of its readings would show

  /// 95 times in 100 the point is no farther off, in whatever direction; with a doubted reading, so much more.
  double give_or_take_mm() const { return ellipse.major_mm + shift_mm; }
};

struct MeasuredSection {
  std::vector<MeasuredPoint> points;
  Fit fit;
  std::vector<Doubt> doubts;
  double worse_by = 1;             ///< readings scatter so many times more than said; 1 unless that is certain
  std::optional<NextReading> next;
};

/// Nothing is repaired and no reading is left out: doubts are told, and make the give or take larger.
///
/// @param  give_or_take_mm  of a reading that may be taken next
/// @return the section, or every fault of its points
tl::expected<MeasuredSection, std::vector<Fault>> measure(const Network& network, double give_or_take_mm);

/// What the one who measured should read, most telling first: doubts, flat crossings, what nothing checks, how good
/// the corners are, what to measure next.
std::vector<std::string> remarks(const Network& network, const MeasuredSection& section);

/// A reading in words: "D2 to point 9"; places by name.
std::string in_words(const Network& network, const Reading& reading);

}  // namespace cellstow::measuring
