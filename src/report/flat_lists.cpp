#include "report/flat_lists.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

using namespace fabrication;

/// Without B, which stands at bend lines, and without I and O, which are read as figures.
constexpr std::string_view hole_letters = "ACDEFGHJKLMNPQRSTUVWXYZ";

constexpr double same = 0.05;   // mm: shown with one decimal, the same figure

/// Radius of the way from a corner to the next, from its bulge.
std::string way_on(const PathPoint& from, const PathPoint& to, survey::DrawnUnits units) {
  if (std::abs(from.bulge) < 1e-9) return "straight";
  const double chord = std::hypot(to.a - from.a, to.b - from.b), b = std::abs(from.bulge);
  return "R" + size_text(chord * (1 + b * b) / (4 * b), units) + (from.bulge > 0 ? " out" : " in");
}

}  // namespace

bool is_level(const BendLine& bend) { return std::abs(bend.from.b - bend.to.b) < same; }
bool is_upright(const BendLine& bend) { return std::abs(bend.from.a - bend.to.a) < same; }

std::vector<Path> cornered(const FlatPattern& flat) {
  std::vector<Path> out{flat.outline};
  for (const FlatHole& hole : flat.holes) {
    if (hole.kind == HoleKind::contour) out.push_back(hole.contour);
  }
  return out;
}

std::string hole_size(const FlatHole& hole, survey::DrawnUnits units) {
  if (hole.kind == HoleKind::round) return "Ø" + size_text(hole.diameter, units);
  if (hole.kind == HoleKind::slot) {
    const double turned = std::fmod(std::fmod(hole.angle_deg, 180) + 180, 180);
    return "slot " + size_text(hole.diameter, units) + " × " + size_text(hole.length, units) + (turned < 0.05 ? "" : " at " + number(turned, 1) + "°");
  }
  return "opening";
}

std::vector<std::string> hole_marks(const std::vector<FlatHole>& holes) {
  std::vector<std::string> kinds, marks;
  std::vector<int> counts;
  for (const FlatHole& hole : holes) {
    const std::string kind = hole_size(hole, survey::DrawnUnits::mm) + "|" + hole.what;
    const auto found = std::find(kinds.begin(), kinds.end(), kind);
    const std::size_t i = static_cast<std::size_t>(found - kinds.begin());
    if (found == kinds.end()) kinds.push_back(kind), counts.push_back(0);
    const std::string letter(1, hole_letters[i % hole_letters.size()]);
    marks.push_back((i < hole_letters.size() ? letter : letter + letter) + std::to_string(++counts[i]));
  }
  return marks;
}

DrawnTable hole_table(const std::vector<FlatHole>& holes, survey::DrawnUnits units) {
  DrawnTable table{"Holes: centres from the datum", {"mark", "x", "y", "size", "what"}, {}, {1, 2}};
  const std::vector<std::string> marks = hole_marks(holes);
  std::vector<std::size_t> order(holes.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto number_of = [&](std::size_t i) { return std::stoi(marks[i].substr(marks[i].find_first_of("0123456789"))); };
  const auto letters_of = [&](std::size_t i) { return marks[i].substr(0, marks[i].find_first_of("0123456789")); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) {
    return std::pair(letters_of(x), number_of(x)) < std::pair(letters_of(y), number_of(y));
  });
  for (const std::size_t i : order) {
    if (holes[i].kind == HoleKind::contour) continue;
    table.rows.push_back({marks[i], size_text(holes[i].centre.a, units), size_text(holes[i].centre.b, units), hole_size(holes[i], units), holes[i].what});
  }
  return table;
}

DrawnTable bend_table(const std::vector<BendLine>& bends, survey::DrawnUnits units) {
  DrawnTable table{"Bends", {"line", "way", "angle", "inside R", "deduction", "what"}, {}, {}};
  for (std::size_t i = 0; i < bends.size(); ++i) {
    const BendLine& b = bends[i];
    std::string what = b.what;
    if (!is_level(b) && !is_upright(b)) {
      what += (what.empty() ? "" : "; ") + std::string("from ") + size_text(b.from.a, units) + ", " + size_text(b.from.b, units) + " to " + size_text(b.to.a, units) + ", " + size_text(b.to.b, units);
    }
    table.rows.push_back({"B" + std::to_string(i + 1), b.up ? "up" : "down", number(b.angle_deg, 1) + "°", size_text(b.inside_radius, units), number(b.deduction, 2), what});
  }
  return table;
}

DrawnTable corner_table(const FlatPattern& flat, survey::DrawnUnits units) {
  DrawnTable table{"Corners of outline and openings from the datum", {"no.", "x", "y", "on to the next"}, {}, {}};
  for (const Path& path : cornered(flat)) {
    for (std::size_t i = 0; i < path.size(); ++i) {
      const PathPoint& p = path[i];
      std::string way = way_on(p, path[(i + 1) % path.size()], units);
      if (i + 1 == path.size()) way += ", to no. " + std::to_string(table.rows.size() + 2 - path.size());
      table.rows.push_back({std::to_string(table.rows.size() + 1), size_text(p.a, units), size_text(p.b, units), way});
    }
  }
  return table;
}

std::vector<std::pair<std::string, FlatPoint>> radius_notes(const Path& outline, survey::DrawnUnits units) {
  std::map<std::string, std::pair<int, FlatPoint>> found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const PathPoint &p = outline[i], &q = outline[(i + 1) % outline.size()];
    if (std::abs(p.bulge) < 1e-9) continue;
    const std::string way = way_on(p, q, units);
    const std::string radius = way.substr(0, way.rfind(' '));
    const double dx = q.a - p.a, dy = q.b - p.b;
    const FlatPoint middle{p.a + dx / 2 + p.bulge * dy / 2, p.b + dy / 2 - p.bulge * dx / 2};
    found.try_emplace(radius, 0, middle).first->second.first += 1;
  }
  std::vector<std::pair<std::string, FlatPoint>> out;
  for (const auto& [radius, entry] : found) out.push_back({(entry.first > 1 ? std::to_string(entry.first) + " × " : "") + radius, entry.second});
  return out;
}

}  // namespace cellstow::report
