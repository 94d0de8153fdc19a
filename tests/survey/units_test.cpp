#include "units.hpp"

#include <doctest/doctest.h>

using cellstow::survey::Kind;
using cellstow::survey::parse_quantity;
using cellstow::survey::UnitFault;

TEST_CASE("published: conversion factors") {
  struct Case {
    const char* text;
    Kind kind;
    double value;
    double relative;  ///< half a unit in the last printed digit; 0 for exact ones
    const char* source;
  };
  // NIST Special Publication 811 (2008), appendix B.8, as printed there (from memory)
  const char* nist = "NIST SP 811, B.8";
  const Case cases[] = {
      {"1 in", Kind::length, 25.4, 0, nist},
      {"1 ft", Kind::length, 304.8, 0, nist},
      {"1 lb", Kind::mass, 0.45359237, 0, nist},
      {"1 lbf", Kind::force, 4.448222, 5e-7, nist},
      {"1 kgf", Kind::force, 9.80665, 0, nist},
      {"1 lbf ft", Kind::torque, 1.355818, 5e-7, nist},
      {"1 lbf in", Kind::torque, 0.1129848, 5e-7, nist},
      {"1 lbf/in", Kind::spring_rate, 0.1751268, 5e-7, nist},
      {"1 psi", Kind::stress, 0.006894757, 5e-7, nist},
      {"1 ksi", Kind::stress, 6.894757, 5e-7, nist},
      {"1 mi", Kind::distance, 1.609344, 0, nist},
      {"1 lb/in3", Kind::density, 27679.90, 5e-7, nist},
      {"1 rad", Kind::angle, 57.29578, 5e-7, nist},
  };
  for (const Case& c : cases) {
    CAPTURE(c.text);
    const auto value = parse_quantity(c.text, c.kind);
    REQUIRE(value);
    CHECK(*value == doctest::Approx(c.value).epsilon(c.relative > 0 ? c.relative : 1e-15));
  }
}

TEST_CASE("amounts as they are written down") {
  struct Case {
    const char* text;
    Kind kind;
    double value;
  };
  const Case cases[] = {
      {"12 3/8 in", Kind::length, 314.325},
      {"17 5/16 in", Kind::length, 439.7375},
      {"1.2 m", Kind::length, 1200},
      {"31.5 cm", Kind::length, 315},
      {"5/8 in", Kind::length, 15.875},
      {"440 mm", Kind::length, 440},
      {"17.3in", Kind::length, 439.42},
      {"12\"", Kind::length, 304.8},
      {"-3/8 in", Kind::length, -9.525},
      {"-12.5 mm", Kind::length, -12.5},
      {"1 ft 3 1/2 in", Kind::length, 393.7},
      {"-1 ft 3 in", Kind::length, -381},
      {"1' 3 1/2\"", Kind::length, 393.7},
      {"2 ft", Kind::length, 609.6},
      {"1.5 ft", Kind::length, 457.2},
      {"  8 mm  ", Kind::length, 8},
      {"0 mm", Kind::length, 0},
      {"14 lb", Kind::mass, 6.35029318},
      {"950 g", Kind::mass, 0.95},
      {"7 1/2 lbf ft", Kind::torque, 10.1686346125},
      {"2 kN", Kind::force, 2000},
      {"3300 mV", Kind::voltage, 3.3},
      {"0.4 kV", Kind::voltage, 400},
      {"500 mA", Kind::current, 0.5},
      {"160 Ah", Kind::charge, 160},
      {"0.5 mohm", Kind::resistance, 0.5},
      {"0.002 ohm", Kind::resistance, 2},
      {"20 g", Kind::acceleration, 20},
      {"9.80665 m/s2", Kind::acceleration, 1},
      {"12 kWh", Kind::energy, 12},
      {"16.5 kWh/100km", Kind::consumption, 165},
      {"45 deg", Kind::angle, 45},
      {"70 GPa", Kind::stress, 70000},
      {"25 N/mm", Kind::spring_rate, 25},
  };
  for (const Case& c : cases) {
    CAPTURE(c.text);
    const auto value = parse_quantity(c.text, c.kind);
    REQUIRE(value);
    CHECK(*value == doctest::Approx(c.value).epsilon(1e-9));
  }
}

TEST_CASE("text that is no amount is refused, and why") {
  struct Case {
    const char* text;
    Kind kind;
    UnitFault fault;
  };
  constexpr auto nothing = UnitFault::not_a_quantity;
  const Case cases[] = {
      {"", Kind::length, nothing},
      {"mm", Kind::length, nothing},
      {"12,5 mm", Kind::length, nothing},
      {"1,250 mm", Kind::length, nothing},
      {"12.5.1 mm", Kind::length, nothing},
      {"12. mm", Kind::length, nothing},
      {".5 mm", Kind::length, nothing},
      {"1e3 mm", Kind::length, nothing},
      {"+5 mm", Kind::length, nothing},
      {"- 5 mm", Kind::length, nothing},
      {"--5 mm", Kind::length, nothing},
      {"1/0 in", Kind::length, nothing},
      {"12 9/8 in", Kind::length, nothing},
      {"12.5 1/8 in", Kind::length, nothing},
      {"12-3/8 in", Kind::length, nothing},
      {"1/2/3 in", Kind::length, nothing},
      {"1 2 in", Kind::length, nothing},
      {"12 furlong", Kind::length, nothing},
      {"12 MM", Kind::length, nothing},
      {"12 mm long", Kind::length, nothing},
      {"12 mm 3 mm", Kind::length, nothing},
      {"1 ft 12 in", Kind::length, nothing},
      {"1 ft 3 mm", Kind::length, nothing},
      {"1 ft 3", Kind::length, nothing},
      {"1.5 ft 3 in", Kind::length, nothing},
      {"about 5 mm", Kind::length, nothing},
      {"nan mm", Kind::length, nothing},
      {"inf mm", Kind::length, nothing},
      {"0x10 mm", Kind::length, nothing},
      {"5\tmm", Kind::length, nothing},
      {"5\u00a0mm", Kind::length, nothing},
      {"5 lb ft", Kind::torque, nothing},
      {"12", Kind::length, UnitFault::no_unit},
      {"12 3/8", Kind::length, UnitFault::no_unit},
      {"14 lb", Kind::length, UnitFault::other_kind},
      {"5 kg", Kind::force, UnitFault::other_kind},
      {"14 lb", Kind::force, UnitFault::other_kind},
      {"12 in", Kind::mass, UnitFault::other_kind},
      {"3 V", Kind::current, UnitFault::other_kind},
  };
  for (const Case& c : cases) {
    CAPTURE(c.text);
    const auto value = parse_quantity(c.text, c.kind);
    REQUIRE_FALSE(value);
    CHECK(value.error().fault == c.fault);
  }
}

TEST_CASE("the hint for a decimal comma names the point") {
  CHECK(parse_quantity("12,5 mm", Kind::length).error().hint == "write decimals with a point");
}

TEST_CASE("property: every 64th of an inch up to ten feet keeps its micrometre") {
  for (int sixty_fourths = 1; sixty_fourths < 64 * 120; ++sixty_fourths) {
    const std::string text =
        std::to_string(sixty_fourths / 64) + " " + std::to_string(sixty_fourths % 64) + "/64 in";
    const auto value = parse_quantity(text, Kind::length);
    REQUIRE(value);
    // 25.4 mm / 64 = 396.875 um: eighths of a micrometre, exact in int64
    const double eighths_um = static_cast<double>(std::int64_t{sixty_fourths} * 3175);
    REQUIRE(*value * 8000 == doctest::Approx(eighths_um).epsilon(1e-14));
  }
}
