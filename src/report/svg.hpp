#pragma once
/// The one writer of drawings. Internal to report.

#include <string>

#include "report/drawing.hpp"

namespace cellstow::report {

enum class SvgUse { inline_in_page, own_file };

/// The drawing as SVG: one user unit is 1 mm on paper. As a file of its own it carries its size in
/// mm, so printing at 100 % gives the stated scale; in the page it shrinks with the column.
std::string to_svg(const Drawing& drawing, SvgUse use);

}  // namespace cellstow::report
