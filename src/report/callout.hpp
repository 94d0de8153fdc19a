#pragma once
/// Where names go on a drawing without lying on one another. Internal to report.

#include <string>
#include <vector>

#include "report/drawing.hpp"

namespace cellstow::report {

/// A name for something on the drawing, put into a column at the side with a line leading to it.
struct Callout {
  Spot left, right;       ///< where the line ends when the name stands in the left or right column
  std::string text;
  bool bold = false;
  Pen pen = Pen::leader;
  Pen sample = Pen::none; ///< a piece of this line beside the name, so that dashes can be matched
};

/// Tops of stacked lines of the given heights, each as near to its wanted top as its neighbours
/// allow, none above `top`; none below `bottom` when all fit.
std::vector<double> stacked(const std::vector<double>& wanted, const std::vector<double>& heights,
                            double top, double bottom);

/// The two columns beside a drawing.
struct Columns { Patch left, right; };

/// Splits callouts between both columns; the taller column's height, mm.
class CalloutColumns {
 public:
  CalloutColumns(std::vector<Callout> callouts, double column_width, double middle_x);
  double height() const;
  /// Stacks the names from top to bottom in the order of what they name; columns at least height() tall.
  void draw(Drawing& drawing, const Columns& columns) const;

 private:
  struct Entry { Callout callout; std::vector<std::string> lines; double height = 0; };
  static double height_of(const std::vector<Entry>& entries);
  static void draw_column(Drawing& drawing, const std::vector<Entry>& entries, const Patch& column,
                          bool left);
  std::vector<Entry> left_, right_;
};

/// Puts short names close to what they name, where there is room.
class NearLabels {
 public:
  explicit NearLabels(Patch area) : area_(area) {}
  void block(const Patch& taken) { taken_.push_back(taken); }
  void block_all(const Drawing& drawing);   ///< every label that is on it so far
  /// Adds the label beside `at`, at least `clear` from it; false when no free place is close by.
  bool place(Drawing& drawing, Spot at, double clear, Label label);
  bool is_free(const Patch& patch) const;

 private:
  Patch area_;
  std::vector<Patch> taken_;
};

}  // namespace cellstow::report
