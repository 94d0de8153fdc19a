#pragma once
/// The paper round a view: title, direction arrows, rulers, scale bar, legend. Internal to report.

#include <string>
#include <vector>

#include "report/callout.hpp"
#include "report/drawing.hpp"
#include "report/look.hpp"

namespace cellstow::report {

inline constexpr double sheet_width = 267;       ///< A4 across, less 15 mm margins
inline constexpr double column_width = 42;
inline constexpr double view_width = 150;        ///< most room for the view itself
inline constexpr double view_height = 122;

/// The coarsest of the usual picture scales (1 : result) that still lets the extent fit.
double scale_for(double width_mm, double height_mm, double room_width, double room_height);

/// Paper places for one view.
class Sheet {
 public:
  /// @param scale  car mm per paper mm
  /// @param columns_height  what the names at both sides need
  /// @param dimension_rows  rows kept below and columns kept at the right for dimensions
  Sheet(const Extent& extent, double scale, double columns_height, int dimension_rows);

  Spot to_paper(const Flat& p) const;
  std::vector<Spot> to_paper(const std::vector<Flat>& points) const;
  double scale() const { return scale_; }
  const Patch& area() const { return area_; }
  Columns columns() const;
  double dimension_y(int row) const { return area_.bottom + 9 + 6 * row; }
  double dimension_x(int row) const { return area_.right + 4 + 5.5 * row; }
  double width() const { return sheet_width; }
  double height() const { return height_; }
  double body_top() const { return body_top_; }
  double body_bottom() const { return body_bottom_; }
  const Extent& extent() const { return extent_; }

 private:
  Extent extent_;
  double scale_;
  Patch area_;
  double body_top_ = 0, body_bottom_ = 0, height_ = 0;
};

/// Title, direction arrows, scale bar and the note on scale.
void draw_frame(Drawing& drawing, const Sheet& sheet, Look look, const std::string& title);

/// Coordinates along the lower and the left edge, every so many mm of the car.
void draw_rulers(Drawing& drawing, const Sheet& sheet, Look look, NearLabels& labels);

/// A dimension along the paper's width at height y, or along its height at x, with its text beside
/// or on the line.
void draw_width(Drawing& drawing, double from_x, double to_x, double object_y, double y,
                const std::string& text, NearLabels& labels);
void draw_height(Drawing& drawing, double from_y, double to_y, double object_x, double x,
                 const std::string& text, NearLabels& labels);

/// A dimension along a line of any direction, its text written level beside it, away from the object.
struct Line { Spot from, to; };
void draw_aligned(Drawing& drawing, const Line& object, const Line& at, const std::string& text, NearLabels& labels);

/// The symbol of one of the car's own fixings.
void draw_fixing_mark(Drawing& drawing, Spot at, bool carries, bool never);

/// Symbols used on cavity views and what they mean, one row at the sheet's foot.
void draw_legend(Drawing& drawing, double y);

}  // namespace cellstow::report
