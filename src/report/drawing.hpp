#pragma once
/// A drawing on paper: lines, areas, circles and lettering, in the order they are laid down.
/// One writer turns it into SVG (svg.hpp). Internal to report.

#include <string>
#include <variant>
#include <vector>

namespace cellstow::report {

/// A place on the sheet, mm from its upper left corner, y downward.
struct Spot { double x = 0, y = 0; };

/// An upright rectangle on the sheet.
struct Patch {
  double left = 0, top = 0, right = 0, bottom = 0;
  double width() const { return right - left; }
  double height() const { return bottom - top; }
  /// True when the two share area; touching edges do not count.
  bool overlaps(const Patch& other) const;
  Patch grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
};

/// What a line stands for; svg.cpp gives each its width, colour and dashes.
enum class Pen {
  none, wall, inner, section_1, section_2, section_3, section_4, section_5,
  keep_out, keep_out_in_front, cell, strap, fixing, dimension, leader, gap, gap_leader, frame, centre_line, seam
};

/// What an area stands for. Hatches keep it readable in black and white.
enum class Fill { none, paper, box, cell, end_plate, fitting, keep_out, moving, ink, gap, window };

enum class Anchor { start, middle, end };

struct Stroke { std::vector<Spot> points; bool closed = false; Pen pen = Pen::inner; Fill fill = Fill::none; };
struct Ring { Spot centre; double radius = 1; Pen pen = Pen::inner; Fill fill = Fill::none; };

/// One line of lettering; `at` is its anchor on the middle of the line's height.
struct Label {
  Spot at;
  std::string text;
  double size = 3.2;          ///< letter size (em), mm
  Anchor anchor = Anchor::start;
  bool bold = false;
  bool turned = false;        ///< reads upward, for dimensions along the height
};

using Item = std::variant<Stroke, Ring, Label>;

struct Drawing {
  std::string name;           ///< file name without ending; letters, digits, hyphens
  std::string title;          ///< for the reader
  double width = 0, height = 0;
  std::string scale;          ///< "1:5", empty when not to scale
  std::vector<Item> items;
};

/// Width of a line of lettering, mm. Generous: wider than the usual sans-serif faces draw it.
double text_width(const std::string& text, double size, bool bold);

/// Room a label takes.
Patch text_patch(const Label& label);

/// Breaks a text at spaces into lines no wider than `width`; a word that is wider is cut.
std::vector<std::string> wrap(const std::string& text, double size, double width);

Patch rectangle(Spot a, Spot b);
std::vector<Spot> corners(const Patch& patch);

/// A filled arrow head with its point at `tip`, pointing along (dx, dy).
Stroke arrow_head(Spot tip, double dx, double dy, double length, Pen pen);

}  // namespace cellstow::report
