#pragma once
/// About how many cells a car needs and whether its plate allows them: from five numbers, before any measuring.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/survey/job.hpp"

namespace cellstow::choosing {

/// A figure that is only known as a band.
struct Band { double low = 0, high = 0; };
struct CountBand { int low = 0, high = 0; };

/// A rule of thumb of the trade: a default with its source, which the user may replace.
struct RoughRule {
  std::string key;     ///< as the option is called: "usable"
  std::string what;    ///< in words
  Band value;
  std::string unit;    ///< "", "kg", "% of the cells' mass"
  std::string source;
  bool given = false;  ///< replaced by the user
};

/// The rules in the order they are printed. Shares are fractions of 1.
struct RoughRules {
  RoughRule usable, consumption_scatter, box_share, cables_kg, drive_kg, filling, person_kg;
  RoughRules();
  std::vector<const RoughRule*> all() const;
};

/// What is known before measuring.
struct RoughInput {
  double range_km = 0;
  double consumption_wh_per_km = 0;
  double car_kg = 0;                  ///< as it came: full tank, nobody in it
  double out_kg = 0;                  ///< all that comes out
  double gross_limit_kg = 0;          ///< from the plate
  std::optional<survey::VoltRange> controller;
  std::optional<double> cavity_litres;
};

/// Cells in series and side by side that come to at least the count asked for.
struct RoughString {
  int series = 0, parallel = 1;
  int cells() const { return series * parallel; }
};

enum class PlateAnswer {
  yes,        ///< over the whole band there is room for the driver at least
  light_end,  ///< only at the light end of the band
  no,
};

/// One cell format worked out at both ends of the band.
struct RoughFormat {
  std::string cell;
  double cell_kwh = 0;
  CountBand needed;             ///< cells for the energy alone
  RoughString light, heavy;     ///< as strings; empty counts when no string suits the controller
  bool suits = true;            ///< some count in series suits the controller
  Band volts;                   ///< nominal
  Band kwh;                     ///< in the cells
  Band added_kg, car_kg;        ///< put in; car after, nobody in it
  Band left_kg;                 ///< under the gross limit, for people and luggage; light end first is the larger
  Band mass_change;             ///< (after - as it came) / as it came
  PlateAnswer plate = PlateAnswer::no;
  std::optional<CountBand> cavity_holds;  ///< by the litres given
};

struct RoughAnswer {
  Band needed_kwh;              ///< nominal energy for the range
  std::vector<RoughFormat> formats;       ///< in the order given; cells without capacity or voltage left out
  std::vector<std::string> left_out;      ///< those, with why
};

/// Band of the whole sum:
///
///   energy        = range x consumption x (1 -+ scatter) / usable
///   cells         = energy / (nominal voltage x capacity), rounded up, then up to a whole string that suits the controller
///   added         = cells x mass x (1 + box share) + cables + drive
///   car after     = car as it came - coming out + added
///   left          = gross limit - car after
///   cavity holds  = litres x filling / litres of the case, rounded down
///
/// The light end takes every rule at its favourable end, the heavy end at its other.
/// Source: arithmetic; rules of thumb as each says.
RoughAnswer rough_answer(const RoughInput& input, const RoughRules& rules, const std::vector<survey::Cell>& cells);

/// The string of fewest cells, then fewest side by side, that has `needed` cells at least and a count in series from
/// `lowest` to `highest`; one row of `needed` in series when `highest` is 0, meaning no window.
/// @return series 0 when the window is empty
RoughString rough_string(int needed, int lowest, int highest);

}  // namespace cellstow::choosing
