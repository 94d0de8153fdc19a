#pragma once
/// Where the part mark and its arrow go on a flat part. Internal to report.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "report/look.hpp"

namespace cellstow::report {

/// Lettering and arrow, panel mm, b upward.
struct PartMark {
  std::string text;                       ///< "TW-F FRONT"
  Flat at;                                ///< lower left of the lettering
  double letter_height = 0;
  std::vector<std::pair<Flat, Flat>> arrow;
};

/// A place wholly inside the outline and clear of every hole; empty when the part is too small.
/// Floors and lids point FRONT (towards -a), walls UP (towards +b), other parts carry the mark alone.
std::optional<PartMark> part_mark(const box::Panel& panel);

}  // namespace cellstow::report
