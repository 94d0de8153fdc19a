#pragma once
/// Part mark, revision and arrow on the sheet. Internal to fabrication.

#include "cellstow/fabrication/sheet_part.hpp"

namespace cellstow::fabrication {

/// Adds to the part's flat: mark, revision and FRONT or UP with an arrow, wholly on metal, clear of holes and
/// bends; and a short tick at both ends of each bend. A part too small for lettering of 3 mm carries none: false.
bool etch(SheetPart& part);

}  // namespace cellstow::fabrication
