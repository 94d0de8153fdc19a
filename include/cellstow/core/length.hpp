#pragma once
/// Lengths on the 1 um grid on which every packing decision is made.

#include <compare>
#include <cstdint>

namespace cellstow::core {

/// Whole micrometres. Plain integers inside geometry and packing code, where
/// every local that holds one ends in `_um`. Coordinates stay within +-10 m
/// (10^7 um), so differences and cross products fit int64 with room to spare.
using Um = std::int64_t;

/// A length or coordinate held as whole micrometres: sums, differences and
/// comparisons are exact, so a gap met exactly is met.
class Length {
 public:
  constexpr Length() = default;
  static constexpr Length from_um(Um um) { return Length(um); }
  /// Nearest micrometre: right for measured coordinates.
  static Length from_mm(double mm);
  /// Next micrometre at or above, forgiving 1e-4 um of binary noise: right for
  /// clearances, cell sizes and all else that must not come out smaller.
  static Length from_mm_up(double mm);

  constexpr Um um() const { return um_; }
  constexpr double mm() const { return static_cast<double>(um_) / 1000.0; }

  constexpr auto operator<=>(const Length&) const = default;
  constexpr Length operator-() const { return Length(-um_); }
  constexpr Length operator+(Length other) const { return Length(um_ + other.um_); }
  constexpr Length operator-(Length other) const { return Length(um_ - other.um_); }
  constexpr Length operator*(std::int64_t factor) const { return Length(um_ * factor); }

 private:
  constexpr explicit Length(Um um) : um_(um) {}
  Um um_ = 0;
};

}  // namespace cellstow::core
