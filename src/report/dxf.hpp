#pragma once
/// Cut files. Internal to report.

#include <string>

#include "cellstow/box/box.hpp"

namespace cellstow::report {

/// One flat part, 1:1 in mm: closed outline and true circles on layer CUT, part mark and arrow on
/// layer MARK. No allowance for the width of the cut, no border, nothing twice. The part's datum
/// corner lies at the origin.
std::string to_dxf(const box::Panel& panel);

/// `mark_name_material_thickness_quantity.dxf`, without blanks or characters that file systems refuse.
std::string dxf_name(const box::Panel& panel);

}  // namespace cellstow::report
