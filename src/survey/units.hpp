#pragma once
/// Text that carries its own unit, "17 5/16 in", turned into the unit its key asks for.

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace cellstow::survey {

/// What a key measures. Every kind has one unit in which bare numbers are meant.
enum class Kind {
  length,        ///< mm
  mass,          ///< kg
  force,         ///< N
  torque,        ///< N m
  spring_rate,   ///< N/mm
  stress,        ///< MPa
  density,       ///< kg/m3
  angle,         ///< deg
  voltage,       ///< V
  current,       ///< A
  charge,        ///< Ah
  resistance,    ///< mohm
  acceleration,  ///< g, standard acceleration of free fall
  energy,        ///< kWh
  distance,      ///< km
  consumption,   ///< Wh/km
};

/// "mm" for lengths and so on: the unit of a bare number.
std::string_view unit_of(Kind kind);

/// The unit spellings that text of this kind may use, "mm, cm, m, in, ft".
std::string_view spellings_of(Kind kind);

enum class UnitFault {
  not_a_quantity,  ///< not an amount followed by a known unit
  no_unit,         ///< a bare number in quotes
  other_kind,      ///< a known unit, but of another kind
};

struct UnitProblem {
  UnitFault fault = UnitFault::not_a_quantity;
  std::string hint;  ///< may be empty
};

/// Reads one amount with its unit: `12.5 mm`, `5/8 in`, `17 5/16 in`, `1 ft 3 1/2 in`, `-3/8"`.
///
/// Decimals take a point. Feet may be followed by inches below 12. Nothing else may stand in the
/// text.
///
/// @return the value in unit_of(kind)
/// Source of the factors: NIST Special Publication 811 (2008), appendix B (exact ones)
tl::expected<double, UnitProblem> parse_quantity(std::string_view text, Kind kind);

}  // namespace cellstow::survey
