#pragma once
/// Physical quantities that carry their unit in the type.

#include <compare>

namespace cellstow::core {

/// A number in one fixed unit. Build with of(), read with value(): the unit is
/// named on the way in and on the way out by the type's own name.
///
/// Only operations that keep the unit are offered; a formula that mixes units
/// leaves the type with value() and carries the unit in its local names.
template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  static constexpr Quantity of(double value) { return Quantity(value); }
  constexpr double value() const { return value_; }

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator-() const { return Quantity(-value_); }
  constexpr Quantity operator+(Quantity other) const { return Quantity(value_ + other.value_); }
  constexpr Quantity operator-(Quantity other) const { return Quantity(value_ - other.value_); }
  constexpr Quantity operator*(double factor) const { return Quantity(value_ * factor); }
  constexpr Quantity operator/(double divisor) const { return Quantity(value_ / divisor); }
  constexpr double operator/(Quantity other) const { return value_ / other.value_; }
  constexpr Quantity& operator+=(Quantity other) {
    value_ += other.value_;
    return *this;
  }

 private:
  constexpr explicit Quantity(double value) : value_(value) {}
  double value_ = 0;
};

using Kg = Quantity<struct KgTag>;                  ///< mass
using Newton = Quantity<struct NewtonTag>;          ///< force
using NewtonMetre = Quantity<struct NewtonMetreTag>;///< moment, tightening torque
using Mpa = Quantity<struct MpaTag>;                ///< stress, N/mm2
using Deg = Quantity<struct DegTag>;                ///< angle
using AccelG = Quantity<struct AccelGTag>;          ///< acceleration in units of g
using NewtonPerMm = Quantity<struct NewtonPerMmTag>;///< spring rate
using Volt = Quantity<struct VoltTag>;
using Ampere = Quantity<struct AmpereTag>;
using AmpereHour = Quantity<struct AmpereHourTag>;
using Milliohm = Quantity<struct MilliohmTag>;
using KilowattHour = Quantity<struct KilowattHourTag>;
using WattHourPerKm = Quantity<struct WattHourPerKmTag>;
using Km = Quantity<struct KmTag>;

/// Standard acceleration of free fall, m/s2. Source: ISO 80000-3 (CGPM 1901).
inline constexpr double standard_gravity_m_per_s2 = 9.80665;

}  // namespace cellstow::core
