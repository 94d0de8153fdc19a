#include "report/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// Share of the letter size, from the wider of the common faces, rounded up (common practice, no source).
double letter_width(const std::string& character) {
  if (character.size() >= 3) return 1.05;
  if (character.size() == 2) return 0.8;
  const char c = character[0];
  if (std::string_view("ijl.,:;'|!").find(c) != std::string_view::npos) return 0.36;
  if (std::string_view("ft()[] -/\"r").find(c) != std::string_view::npos) return 0.46;
  if (std::string_view("mwMW@%").find(c) != std::string_view::npos) return 1.0;
  if (c >= 'A' && c <= 'Z') return 0.76;
  return 0.65;
}

std::string fitting_head(const std::string& word, double size, double width) {
  std::string head;
  for (const std::string& character : characters(word)) {
    if (!head.empty() && text_width(head + character, size, false) > width) break;
    head += character;
  }
  return head;
}

}  // namespace

bool Patch::overlaps(const Patch& other) const {
  return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
}

double text_width(const std::string& text, double size, bool bold) {
  double width = 0;
  for (const std::string& character : characters(text)) width += letter_width(character);
  return width * size * (bold ? 1.08 : 1.0);
}

Patch text_patch(const Label& label) {
  const double width = text_width(label.text, label.size, label.bold);
  const double half = 0.58 * label.size;
  double start = 0;
  if (label.anchor == Anchor::middle) start = -width / 2;
  if (label.anchor == Anchor::end) start = -width;
  if (label.turned) {
    return {label.at.x - half, label.at.y - start - width, label.at.x + half, label.at.y - start};
  }
  return {label.at.x + start, label.at.y - half, label.at.x + start + width, label.at.y + half};
}

std::vector<std::string> wrap(const std::string& text, double size, double width) {
  std::vector<std::string> lines;
  std::string rest = one_line(text), line;
  while (!rest.empty()) {
    const std::size_t space = rest.find(' ');
    std::string word = rest.substr(0, space);
    const std::string longer = line.empty() ? word : line + " " + word;
    if (text_width(longer, size, false) <= width) {
      line = longer;
      rest.erase(0, space == std::string::npos ? rest.size() : space + 1);
      continue;
    }
    if (!line.empty()) {
      lines.push_back(line);
      line.clear();
      continue;
    }
    word = fitting_head(word, size, width);
    lines.push_back(word);
    rest.erase(0, word.size());
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

Patch rectangle(Spot a, Spot b) {
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

std::vector<Spot> corners(const Patch& p) {
  return {{p.left, p.top}, {p.right, p.top}, {p.right, p.bottom}, {p.left, p.bottom}};
}

Stroke arrow_head(Spot tip, double dx, double dy, double length, Pen pen) {
  const double norm = std::hypot(dx, dy);
  if (norm <= 0) return {{tip}, false, Pen::none, Fill::none};
  const double ux = dx / norm * length, uy = dy / norm * length;
  const Spot left{tip.x - ux - uy * 0.3, tip.y - uy + ux * 0.3};
  const Spot right{tip.x - ux + uy * 0.3, tip.y - uy - ux * 0.3};
  return {{tip, left, right}, true, pen, pen == Pen::gap ? Fill::gap : Fill::ink};
}

}  // namespace cellstow::report
