#pragma once
/// Points over two labelled axes. Internal to report.

#include <string>
#include <vector>

#include "report/drawing.hpp"

namespace cellstow::report {

/// An axis from low to high with its ticks at round figures.
struct Axis {
  std::string label;            ///< what, with its unit: "energy in the cells, kWh"
  double low = 0, high = 1, tick = 1;
  int decimals = 0;
};

/// An axis that holds all values, ends at ticks, has about `ticks` of them at 1, 2 or 5 times a power of ten, none closer than `least_tick`.
Axis axis_for(std::string label, const std::vector<double>& values, int ticks, double least_tick = 0);

/// The field between the axes.
class Chart {
 public:
  /// Draws title, frame, ticks and labels into `drawing`, which keeps its width; its height is set.
  Chart(Drawing& drawing, Axis x, Axis y, double field_height);
  Spot at(double x, double y) const;
  const Patch& field() const { return field_; }

  /// A band of y across the field.
  void band(double low, double high, Fill fill);
  void dot(Spot spot, double radius, Fill fill, Pen pen);
  void cross(Spot spot, double half, Pen pen);

 private:
  friend class ChartKey;
  Drawing& drawing_;
  Axis x_, y_;
  Patch field_;
};

/// What the marks of a chart stand for, in a line under it.
class ChartKey {
 public:
  /// @param gap  between one word and the next mark, mm
  ChartKey(Chart& chart, double gap);
  void dot(double radius, Fill fill, Pen pen, const std::string& word);
  void cross(Pen pen, const std::string& word);
  void band(Fill fill, const std::string& word);

 private:
  void say(const std::string& word);
  Chart& chart_;
  double gap_;
  Spot at_;
};

}  // namespace cellstow::report
