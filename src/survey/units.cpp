#include "units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "cellstow/core/quantity.hpp"

namespace cellstow::survey {
namespace {

struct Unit {
  Kind kind;
  std::string_view spelling;
  double factor;  ///< times the amount gives unit_of(kind)
};

constexpr double inch_mm = 25.4;
constexpr double pound_kg = 0.45359237;
constexpr double g_m_per_s2 = core::standard_gravity_m_per_s2;
constexpr double lbf_n = pound_kg * g_m_per_s2;
constexpr double kgf_n = g_m_per_s2;
constexpr double mile_km = 1.609344;
constexpr double psi_mpa = lbf_n / (inch_mm * inch_mm);

constexpr Unit units[] = {
    {Kind::length, "mm", 1},
    {Kind::length, "cm", 10},
    {Kind::length, "m", 1000},
    {Kind::length, "in", inch_mm},
    {Kind::length, "inch", inch_mm},
    {Kind::length, "inches", inch_mm},
    {Kind::length, "\"", inch_mm},
    {Kind::length, "\u2033", inch_mm},
    {Kind::length, "ft", 12 * inch_mm},
    {Kind::length, "foot", 12 * inch_mm},
    {Kind::length, "feet", 12 * inch_mm},
    {Kind::length, "'", 12 * inch_mm},
    {Kind::length, "\u2032", 12 * inch_mm},
    {Kind::mass, "kg", 1},
    {Kind::mass, "g", 0.001},
    {Kind::mass, "lb", pound_kg},
    {Kind::mass, "lbs", pound_kg},
    {Kind::force, "N", 1},
    {Kind::force, "kN", 1000},
    {Kind::force, "lbf", lbf_n},
    {Kind::force, "kgf", kgf_n},
    {Kind::torque, "N m", 1},
    {Kind::torque, "Nm", 1},
    {Kind::torque, "N\u00b7m", 1},
    {Kind::torque, "kgf m", kgf_n},
    {Kind::torque, "lbf ft", lbf_n * 12 * inch_mm / 1000},
    {Kind::torque, "ft lbf", lbf_n * 12 * inch_mm / 1000},
    {Kind::torque, "lbf in", lbf_n* inch_mm / 1000},
    {Kind::torque, "in lbf", lbf_n* inch_mm / 1000},
    {Kind::spring_rate, "N/mm", 1},
    {Kind::spring_rate, "N/m", 0.001},
    {Kind::spring_rate, "kN/m", 1},
    {Kind::spring_rate, "lbf/in", lbf_n / inch_mm},
    {Kind::spring_rate, "kgf/mm", kgf_n},
    {Kind::stress, "MPa", 1},
    {Kind::stress, "N/mm2", 1},
    {Kind::stress, "N/mm\u00b2", 1},
    {Kind::stress, "kPa", 0.001},
    {Kind::stress, "GPa", 1000},
    {Kind::stress, "psi", psi_mpa},
    {Kind::stress, "ksi", 1000 * psi_mpa},
    {Kind::density, "kg/m3", 1},
    {Kind::density, "kg/m\u00b3", 1},
    {Kind::density, "g/cm3", 1000},
    {Kind::density, "g/cm\u00b3", 1000},
    {Kind::density, "lb/in3", pound_kg / (inch_mm * inch_mm * inch_mm) * 1e9},
    {Kind::angle, "deg", 1},
    {Kind::angle, "\u00b0", 1},
    {Kind::angle, "rad", 180 / std::numbers::pi},
    {Kind::voltage, "V", 1},
    {Kind::voltage, "mV", 0.001},
    {Kind::voltage, "kV", 1000},
    {Kind::current, "A", 1},
    {Kind::current, "mA", 0.001},
    {Kind::current, "kA", 1000},
    {Kind::charge, "Ah", 1},
    {Kind::charge, "mAh", 0.001},
    {Kind::resistance, "mohm", 1},
    {Kind::resistance, "m\u03a9", 1},
    {Kind::resistance, "m\u2126", 1},
    {Kind::resistance, "ohm", 1000},
    {Kind::resistance, "\u03a9", 1000},
    {Kind::resistance, "\u2126", 1000},
    {Kind::acceleration, "g", 1},
    {Kind::acceleration, "m/s2", 1 / g_m_per_s2},
    {Kind::acceleration, "m/s\u00b2", 1 / g_m_per_s2},
    {Kind::energy, "kWh", 1},
    {Kind::energy, "Wh", 0.001},
    {Kind::distance, "km", 1},
    {Kind::distance, "m", 0.001},
    {Kind::distance, "mi", mile_km},
    {Kind::consumption, "Wh/km", 1},
    {Kind::consumption, "kWh/100km", 10},
    {Kind::consumption, "kWh/100 km", 10},
    {Kind::consumption, "Wh/mi", 1 / mile_km},
};

/// Spaces as typed between number and unit; line breaks and tabs are not among them.
void skip_spaces(std::string_view& text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Digits with at most one decimal point and a digit on both sides of it.
std::optional<double> take_decimal(std::string_view& text) {
  std::size_t length = 0;
  while (length < text.size() && is_digit(text[length])) ++length;
  if (length == 0) return {};
  if (length < text.size() && text[length] == '.') {
    const std::size_t point = length++;
    while (length < text.size() && is_digit(text[length])) ++length;
    if (length == point + 1) return {};
  }
  double value = 0;
  const auto [end, fault] =
      std::from_chars(text.data(), text.data() + length, value, std::chars_format::fixed);
  if (fault != std::errc{} || end != text.data() + length) return {};
  text.remove_prefix(length);
  return value;
}

/// Digits only; nullopt leaves the text as it was.
std::optional<double> take_whole(std::string_view& text) {
  std::string_view rest = text;
  const std::optional<double> value = take_decimal(rest);
  if (!value) return {};
  const std::string_view used = text.substr(0, text.size() - rest.size());
  if (used.find('.') != std::string_view::npos) return {};
  text = rest;
  return value;
}

/// `5/8`; nullopt leaves the text as it was.
std::optional<double> take_fraction(std::string_view& text) {
  std::string_view rest = text;
  const std::optional<double> above = take_whole(rest);
  if (!above || rest.empty() || rest.front() != '/') return {};
  rest.remove_prefix(1);
  const std::optional<double> below = take_whole(rest);
  if (!below || *below <= 0) return {};
  text = rest;
  return *above / *below;
}

struct Amount {
  double value = 0;
  bool whole = false;  ///< written as digits only
};

/// `12.5`, `5/8` or `17 5/16`.
std::optional<Amount> take_amount(std::string_view& text) {
  if (const auto fraction = take_fraction(text)) return Amount{*fraction, false};
  if (const auto whole = take_whole(text)) {
    if (text.empty() || text.front() != ' ') return Amount{*whole, true};
    std::string_view rest = text;
    skip_spaces(rest);
    if (const auto fraction = take_fraction(rest)) {
      text = rest;
      // a fraction of one or more after a whole number is a slip of the pen
      return *fraction < 1 ? std::optional(Amount{*whole + *fraction, false}) : std::nullopt;
    }
    return Amount{*whole, true};
  }
  if (const auto decimal = take_decimal(text)) return Amount{*decimal, false};
  return {};
}

const Unit* find_unit(std::string_view spelling, Kind kind) {
  const auto same = [&](const Unit& unit) {
    return unit.kind == kind && unit.spelling == spelling;
  };
  const auto found = std::find_if(std::begin(units), std::end(units), same);
  return found == std::end(units) ? nullptr : &*found;
}

bool known_elsewhere(std::string_view spelling) {
  return std::any_of(std::begin(units), std::end(units),
                     [&](const Unit& unit) { return unit.spelling == spelling; });
}

std::string_view without_trailing_spaces(std::string_view text) {
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// Up to the next digit: the first of two units in `1 ft 3 in`.
std::string_view first_unit(std::string_view text) {
  return without_trailing_spaces(text.substr(0, text.find_first_of("0123456789")));
}

UnitProblem unit_problem(std::string_view spelling, Kind kind) {
  if (spelling.empty())
    return {UnitFault::no_unit,
            fmt::format("leave out the quotes for {}, or add the unit", unit_of(kind))};
  if (kind == Kind::torque && (spelling == "lb ft" || spelling == "ft lb" || spelling == "ft-lb"))
    return {UnitFault::not_a_quantity, "write \"lbf ft\" for a torque"};
  if (known_elsewhere(spelling)) return {UnitFault::other_kind, {}};
  if (spelling.front() == ',') return {UnitFault::not_a_quantity, "write decimals with a point"};
  return {UnitFault::not_a_quantity, {}};
}

/// `1 ft 3 1/2 in`: `feet` has been read, `text` starts at the inches.
tl::expected<double, UnitProblem> add_inches(double feet_mm, std::string_view text) {
  const UnitProblem slip{UnitFault::not_a_quantity,
                         "feet and inches read like \"1 ft 3 1/2 in\", inches below 12"};
  const std::optional<Amount> inches = take_amount(text);
  if (!inches || inches->value >= 12) return tl::unexpected(slip);
  skip_spaces(text);
  const Unit* unit = find_unit(text, Kind::length);
  if (!unit || unit->factor != inch_mm) return tl::unexpected(slip);
  return feet_mm + inches->value * inch_mm;
}

tl::expected<double, UnitProblem> parse_positive(std::string_view text, Kind kind) {
  const std::optional<Amount> amount = take_amount(text);
  if (!amount) return tl::unexpected(UnitProblem{});
  skip_spaces(text);
  if (const Unit* unit = find_unit(text, kind)) return amount->value * unit->factor;
  const std::string_view first = first_unit(text);
  const Unit* feet = kind == Kind::length ? find_unit(first, kind) : nullptr;
  if (feet && feet->factor == 12 * inch_mm && amount->whole) {
    text.remove_prefix(first.size());
    skip_spaces(text);
    return add_inches(amount->value * feet->factor, text);
  }
  return tl::unexpected(unit_problem(text, kind));
}

}  // namespace

std::string_view unit_of(Kind kind) {
  switch (kind) {
    case Kind::length:
      return "mm";
    case Kind::mass:
      return "kg";
    case Kind::force:
      return "N";
    case Kind::torque:
      return "N m";
    case Kind::spring_rate:
      return "N/mm";
    case Kind::stress:
      return "MPa";
    case Kind::density:
      return "kg/m3";
    case Kind::angle:
      return "deg";
    case Kind::voltage:
      return "V";
    case Kind::current:
      return "A";
    case Kind::charge:
      return "Ah";
    case Kind::resistance:
      return "mohm";
    case Kind::acceleration:
      return "g";
    case Kind::energy:
      return "kWh";
    case Kind::distance:
      return "km";
    case Kind::consumption:
      return "Wh/km";
  }
  return "";
}

std::string_view spellings_of(Kind kind) {
  switch (kind) {
    case Kind::length:
      return "mm, cm, m, in, ft";
    case Kind::mass:
      return "kg, g, lb";
    case Kind::force:
      return "N, kN, lbf, kgf";
    case Kind::torque:
      return "N m, lbf ft, lbf in, kgf m";
    case Kind::spring_rate:
      return "N/mm, kN/m, lbf/in, kgf/mm";
    case Kind::stress:
      return "MPa, N/mm2, GPa, psi, ksi";
    case Kind::density:
      return "kg/m3, g/cm3, lb/in3";
    case Kind::angle:
      return "deg, rad";
    case Kind::voltage:
      return "V, mV, kV";
    case Kind::current:
      return "A, mA, kA";
    case Kind::charge:
      return "Ah, mAh";
    case Kind::resistance:
      return "mohm, ohm";
    case Kind::acceleration:
      return "g, m/s2";
    case Kind::energy:
      return "kWh, Wh";
    case Kind::distance:
      return "km, m, mi";
    case Kind::consumption:
      return "Wh/km, kWh/100km, Wh/mi";
  }
  return "";
}

tl::expected<double, UnitProblem> parse_quantity(std::string_view text, Kind kind) {
  text = without_trailing_spaces(text);
  skip_spaces(text);
  const bool negative = !text.empty() && text.front() == '-';
  if (negative) text.remove_prefix(1);
  const auto value = parse_positive(text, kind);
  if (!value || !negative) return value;
  return -*value;
}

}  // namespace cellstow::survey
