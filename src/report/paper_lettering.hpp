#pragma once
/// Lettering drawn and measured by the same means. Internal to report.

#include "report/paper.hpp"

struct _cairo;   // cairo_t

namespace cellstow::report {

/// @pre user units of the context are mm
void draw_lettering(_cairo* cairo, const Lettering& lettering);

}  // namespace cellstow::report
