#pragma once
/// Which measurements a cavity stands on: well measured, doubtful or missing, and how many cells hang on each.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::limits {

using core::Length;

enum class Trust { good, doubtful, missing };

/// One measurement, or one that was not taken.
struct TrustItem {
  Trust trust = Trust::good;
  std::string what;                ///< "section at 330 mm", "filler neck", "fixing T3"
  std::string why;                 ///< what makes it doubtful, or what the lack means; empty for good ones
  Length give_or_take;             ///< of its worst corner; nothing for what is missing
  /// Cells that still fit when it is off by its give or take the worst way, all its corners at once; empty: not asked, or not to be told.
  std::optional<int> cells_if_off;
};

struct TrustList {
  int cells = 0;                   ///< as measured
  std::optional<int> cells_if_all_off;  ///< everything off the worst way at once
  std::vector<TrustItem> items;    ///< doubtful first, those that cost most before others; then missing; then good; each in job order
};

/// The outline with every edge moved inwards by the larger give or take of its two corners, corner for corner.
///
/// @param give_or_take  one a corner
/// @return nothing when so little is left that edges turn round or meet
std::optional<std::vector<core::Point2>> drawn_in(const std::vector<core::Point2>& outline, const std::vector<Length>& give_or_take);

/// Doubtful is what has a corner with more give or take than the cavity's `tape_error`, or a remark on its measuring; what a drawing
/// or a list says of itself is told, and is no doubt. Missing: a section where both readings between sections differ, the body sheet at a fixing that carries, any opening.
///
/// Every doubtful section is packed again as if all its corners were off the worst way (rows only, as many as fit now are enough), and once more
/// with everything off, keep-outs too. Pure; at most `most_probes` packings and one.
///
/// @param reading   the reading its sections ask for was packed with; `readings` compares both
TrustList trust_of(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules, int cells,
                   const packing::ReadingComparison& readings);

/// Doubtful things packed one by one; those beyond are told without a count.
inline constexpr int most_probes = 12;

}  // namespace cellstow::limits
