#pragma once
/// Numbers and user text as the reader sees them, and their escaping. Internal to report.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/core/length.hpp"
#include "cellstow/core/quantity.hpp"

namespace cellstow::report {

/// At most `decimals` decimals, trailing zeros dropped, never "-0"; "not known" for NaN.
std::string number(double value, int decimals = 1);

/// Exactly `decimals` decimals: columns line up.
std::string fixed(double value, int decimals = 1);

std::string mm_text(core::Length length);   ///< "412.5", without the unit
std::string kg_text(core::Kg mass);         ///< "98.0", without the unit
std::string percent(double share, int decimals = 0);  ///< 0.834 -> "83 %"

/// Value and limit of a check with as many decimals as it takes to tell them apart.
struct ValueAndLimit { std::string value, limit, use; };
ValueAndLimit value_and_limit(const core::Check& check);

/// "12.3 mm", "4 fixings", "1 fixing": units that are counted lose their "s" at one.
std::string amount(const std::string& number, const std::string& unit);

/// Whether a failing check has too little of something, rather than too much.
bool falls_short(const core::Check& check);

/// "1 cell", "2 cells".
std::string count(int n, const std::string& one, const std::string& many);
std::string count(int n, const std::string& one);  ///< many: one + "s"

/// For element text and quoted attributes of HTML and SVG. Control characters become spaces:
/// XML 1.0 does not allow them even escaped.
std::string escape_markup(std::string_view text);

/// One CSV field, quoted where RFC 4180 section 2 asks for it.
std::string csv_field(std::string_view text);

/// Letters, digits, a dot behind a digit, hyphens; everything else one hyphen; never empty, never hidden, at most
/// 60 characters. Non-ASCII letters are dropped to hyphens: cutting shops' machines read old code pages.
std::string file_part(std::string_view text);

/// Control characters to spaces, runs of spaces to one: fit for one line of a drawing.
std::string one_line(std::string_view text);

/// At most `most` characters; a longer text ends in a full stop for what was cut.
std::string shortened(std::string_view text, std::size_t most);

/// Plain ASCII for cut files: other characters become '?'. Control characters become spaces.
std::string ascii_line(std::string_view text);

/// Every `prefix` and the figures behind it replaced by what `by` gives: for 1 the first time, then for 2, and so on.
std::string with_numbers_replaced(std::string_view text, std::string_view prefix, const std::function<std::string(int)>& by);

/// Splits into characters of UTF-8 (a broken byte counts as a character).
std::vector<std::string> characters(std::string_view text);

}  // namespace cellstow::report
