#pragma once
/// A sheet of paper with lines, arcs and lettering of measured width: what workshop drawings and the mock-up are made
/// of. paper_files.hpp turns sheets into PDF, SVG and pictures. Internal to report.

#include <string>
#include <variant>
#include <vector>

#include "report/drawing.hpp"

namespace cellstow::report {

/// Line widths of ISO 128-2, mm on paper.
inline constexpr double wide_line = 0.5, narrow_line = 0.25;
/// Heights of capitals, mm (ISO 3098-1 has 2.5 and 3.5; 3 reads as well in a shop). Common practice, no source.
inline constexpr double lettering = 3, small_lettering = 2.5;

enum class LineKind { full, dashed, chain };
enum class Area { none, white, black };

/// A corner of a trace and the way to the next: bulge = tan(sweep / 4), above 0 turning counter-clockwise as seen on
/// the paper, 0 straight.
struct TracePoint { Spot at; double bulge = 0; };

struct Trace {
  std::vector<TracePoint> points;
  bool closed = false;
  double width = narrow_line;      ///< 0: area without a line
  LineKind kind = LineKind::full;
  Area area = Area::none;
  std::vector<std::vector<Spot>> openings{};   ///< closed, straight; not filled
};

struct Circle {
  Spot centre;
  double radius = 1, width = wide_line;
  Area area = Area::none;
};

/// One line of lettering; `at` lies on the middle of the capitals' height.
struct Lettering {
  Spot at;
  std::string text;
  double height = lettering;       ///< of a capital letter, mm
  Anchor anchor = Anchor::start;
  bool bold = false;
  bool upward = false;             ///< reads from below
  bool boxed = false;              ///< a frame round it: a dimension that must be kept
};

/// From here on only what lies in the patch is drawn; an empty patch ends it.
struct Window { Patch patch; };

using Mark = std::variant<Trace, Circle, Lettering, Window>;

struct Paper {
  double width = 0, height = 0;    ///< mm
  Patch frame;                     ///< no lettering outside
  std::vector<Mark> marks;
};

/// Width of a line of lettering, mm, as it will be drawn.
double lettering_width(const std::string& text, double height, bool bold);

/// Room a line of lettering takes, its frame included.
Patch room_of(const Lettering& lettering);

void add_line(Paper& paper, Spot from, Spot to, double width = narrow_line, LineKind kind = LineKind::full);
void add_box(Paper& paper, const Patch& patch, double width = narrow_line);
/// A filled arrow head with its point at `tip`, pointing along (dx, dy).
void add_arrow(Paper& paper, Spot tip, double dx, double dy);

/// Breaks a text at spaces into lines no wider than `width`; a word that is wider keeps a line of its own, shortened.
std::vector<std::string> lettering_lines(const std::string& text, double height, double width);
/// The text, or as much of it as fits the width, ending in a full stop for what was cut.
std::string fitting(const std::string& text, double height, double width, bool bold = false);

}  // namespace cellstow::report
