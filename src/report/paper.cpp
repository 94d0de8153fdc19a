#include "report/paper.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {

Patch room_of(const Lettering& l) {
  const double width = lettering_width(l.text, l.height, l.bold), pad = l.boxed ? 0.7 : 0;
  // Accents above and tails below reach a third of a capital beyond it.
  const double half = l.height * 0.75 + (l.boxed ? 0.35 : 0);
  double start = 0;
  if (l.anchor == Anchor::middle) start = -width / 2;
  if (l.anchor == Anchor::end) start = -width;
  if (l.upward) return {l.at.x - half, l.at.y - start - width - pad, l.at.x + half, l.at.y - start + pad};
  return {l.at.x + start - pad, l.at.y - half, l.at.x + start + width + pad, l.at.y + half};
}

void add_line(Paper& paper, Spot from, Spot to, double width, LineKind kind) {
  paper.marks.emplace_back(Trace{{{from, 0}, {to, 0}}, false, width, kind, Area::none, {}});
}

void add_box(Paper& paper, const Patch& patch, double width) {
  Trace trace{{}, true, width, LineKind::full, Area::none, {}};
  for (const Spot& spot : corners(patch)) trace.points.push_back({spot, 0});
  paper.marks.emplace_back(std::move(trace));
}

void add_arrow(Paper& paper, Spot tip, double dx, double dy) {
  const double norm = std::hypot(dx, dy), length = 2.5;
  if (norm <= 0) return;
  const double ux = dx / norm * length, uy = dy / norm * length;
  paper.marks.emplace_back(Trace{{{tip, 0}, {{tip.x - ux - uy * 0.17, tip.y - uy + ux * 0.17}, 0}, {{tip.x - ux + uy * 0.17, tip.y - uy - ux * 0.17}, 0}},
                                 true, 0, LineKind::full, Area::black, {}});
}

std::string fitting(const std::string& text, double height, double width, bool bold) {
  std::string line = one_line(text);
  if (lettering_width(line, height, bold) <= width) return line;
  std::vector<std::string> letters = characters(line);
  while (!letters.empty()) {
    letters.pop_back();
    line.clear();
    for (const std::string& letter : letters) line += letter;
    if (lettering_width(line + ".", height, bold) <= width) return line + ".";
  }
  return {};
}

std::vector<std::string> lettering_lines(const std::string& text, double height, double width) {
  std::vector<std::string> lines;
  std::string rest = one_line(text), line;
  while (!rest.empty()) {
    const std::size_t space = rest.find(' ');
    const std::string word = rest.substr(0, space);
    const std::string longer = line.empty() ? word : line + " " + word;
    if (lettering_width(longer, height, false) > width && !line.empty()) {
      lines.push_back(fitting(line, height, width));
      line = word;
    } else {
      line = longer;
    }
    rest.erase(0, space == std::string::npos ? rest.size() : space + 1);
  }
  if (!line.empty()) lines.push_back(fitting(line, height, width));
  return lines;
}

}  // namespace cellstow::report
