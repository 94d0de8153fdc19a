#pragma once
/// Lines and curves of a drawing file, read back from its text.

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

namespace paper_marks {

/// What a path covers, and how it is made.
struct Extent {
  double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
  int curved = 0, straight = 0;
  double width() const { return right - left; }
  double height() const { return bottom - top; }
  double middle_x() const { return (left + right) / 2; }
  double middle_y() const { return (top + bottom) / 2; }
};

/// End points of its pieces count, and for curves the point in their middle: near enough for circular arcs of up to a
/// quarter whose ends lie on the axes.
inline Extent extent(const std::string& d) {
  Extent out;
  const auto take = [&](double x, double y) {
    out.left = std::min(out.left, x), out.right = std::max(out.right, x);
    out.top = std::min(out.top, y), out.bottom = std::max(out.bottom, y);
  };
  static const std::regex token("[MLCZ]|-?[0-9.]+");
  std::vector<double> numbers;
  double x = 0, y = 0;
  char kind = 'M';
  for (std::sregex_iterator it(d.begin(), d.end(), token), end; it != end; ++it) {
    const std::string word = it->str();
    if (std::string("MLCZ").find(word[0]) != std::string::npos) {
      kind = word[0];
      numbers.clear();
      continue;
    }
    numbers.push_back(std::stod(word));
    if (kind != 'C' && numbers.size() == 2) {
      if (kind == 'L') ++out.straight;
      x = numbers[0], y = numbers[1];
      take(x, y);
      numbers.clear();
    }
    if (kind == 'C' && numbers.size() == 6) {
      ++out.curved;
      take((x + 3 * numbers[0] + 3 * numbers[2] + numbers[4]) / 8, (y + 3 * numbers[1] + 3 * numbers[3] + numbers[5]) / 8);
      x = numbers[4], y = numbers[5];
      take(x, y);
      numbers.clear();
    }
  }
  return out;
}

inline std::vector<Extent> paths(const std::string& svg) {
  std::vector<Extent> out;
  // Shapes of letters stand between the tags of their definitions.
  const std::size_t start = svg.find("</defs>");
  const std::string body = svg.substr(start == std::string::npos ? 0 : start);
  static const std::regex path(" d=\"([^\"]*)\"");
  for (std::sregex_iterator it(body.begin(), body.end(), path), end; it != end; ++it) out.push_back(extent((*it)[1].str()));
  return out;
}

/// Paths of curves alone: circles and arcs.
inline std::vector<Extent> curves(const std::string& svg) {
  std::vector<Extent> out = paths(svg);
  std::erase_if(out, [](const Extent& e) { return e.curved == 0 || e.straight > 0; });
  return out;
}

}  // namespace paper_marks
