#pragma once
/// Lettering drawn and measured by the same means. Internal to report.

#include <cairo.h>

#include "report/paper.hpp"

namespace cellstow::report {

/// @pre user units of the context are mm
void draw_lettering(cairo_t* cairo, const Lettering& lettering);

}  // namespace cellstow::report
