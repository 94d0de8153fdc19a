#include "report/compare_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

using differences::Change;

std::string axis_letter(core::Axis axis) { return std::string(1, "xyz"[static_cast<std::size_t>(axis)]); }

/// "x -41, y 374".
std::string place(core::Point2 at, core::Axis across) {
  const char* first = across == core::Axis::x ? "y" : "x";
  const char* second = across == core::Axis::z ? "y" : "z";
  return fmt::format("{} {}, {} {}", first, number(at.a.mm(), 1), second, number(at.b.mm(), 1));
}

std::string only_in(Change change) {
  return change == Change::only_first ? "only in the first" : change == Change::only_second ? "only in the second" : "";
}

std::string sentence(const std::vector<std::string>& remarks) {
  std::string text;
  for (const std::string& remark : remarks) text += (text.empty() ? "" : "; ") + remark;
  return text;
}

std::vector<std::string> hole_row(const differences::HoleDifference& hole) {
  if (hole.change != Change::changed) return {hole.cavity, hole.fixing, "", "", "", "", only_in(hole.change)};
  return {hole.cavity, hole.fixing, number(hole.dx_mm, 2), number(hole.dy_mm, 2), number(hole.dz_mm, 2), number(hole.distance_mm, 2), sentence(hole.remarks)};
}

std::vector<std::string> wall_row(const differences::SectionDifference& section) {
  const std::string station = axis_letter(section.across) + " " + number(section.station.mm(), 1);
  const auto area = [](double mm2) { return mm2 > 0 ? fixed(mm2 / 1e4, 2) : std::string(); };
  if (section.change != Change::changed)
    return {section.cavity, station, "", only_in(section.change), "", area(section.first_mm2), area(section.second_mm2)};
  return {section.cavity, station, number(section.wall.mm, 2), place(section.wall.at, section.across), section.wall.first_wider ? "first" : "second", area(section.first_mm2), area(section.second_mm2)};
}

std::string direction(const std::array<double, 3>& along) {
  for (std::size_t k = 0; k < 3; ++k)
    if (std::abs(along[k]) > 1 - 1e-9) return "along " + std::string(1, "xyz"[k]);
  const double sign = along[0] < 0 || (along[0] == 0 && along[1] < 0) ? -1 : 1;
  if (std::abs(along[2]) < 1e-9)
    return fmt::format("turned {:.0f} degrees from x towards the {}", std::abs(std::atan2(sign * along[1], sign * along[0])) * 180 / M_PI, sign * along[1] > 0 ? "right" : "left");
  return fmt::format("along x {:.2f}, y {:.2f}, z {:.2f}", along[0], along[1], along[2]);
}

/// "2 mm rearward, 2.5 mm to the left"; empty when nothing moves.
std::string moved_text(const std::array<double, 3>& moved_mm) {
  constexpr const char* ways[3][2] = {{"forward", "rearward"}, {"to the left", "to the right"}, {"below", "above"}};
  std::string text;
  for (std::size_t k = 0; k < 3; ++k)
    if (std::abs(moved_mm[k]) > differences::same_mm) text += fmt::format("{}{} mm {}", text.empty() ? "" : ", ", number(std::abs(moved_mm[k]), 1), ways[k][moved_mm[k] > 0 ? 1 : 0]);
  return text;
}

std::string there(Change change, Change absent, const std::string& text) { return change == absent ? "not there" : text; }

void add_values(Table& table, const std::vector<differences::ValueDifference>& values) {
  for (const auto& value : values) table.rows.push_back({value.group, value.what, there(value.change, Change::only_second, value.first), there(value.change, Change::only_first, value.second)});
}

}  // namespace

std::string hole_text(const differences::SharedHole& hole) {
  if (hole.round) return "round hole " + number(hole.width_mm, 1);
  return fmt::format("slot {} x {} {}", number(hole.width_mm, 1), number(hole.length_mm, 1), direction(hole.along));
}

Table hole_differences(const Comparison& comparison) {
  Table out{{"cavity", "fixing", "rearward mm", "to the right mm", "up mm", "in all mm", "remarks"}, {}};
  for (const auto& hole : comparison.holes) out.rows.push_back(hole_row(hole));
  return out;
}

Table wall_differences(const Comparison& comparison) {
  Table out{{"cavity", "station", "walls apart mm", "where", "wider there", "first dm2", "second dm2"}, {}};
  for (const auto& section : comparison.sections) out.rows.push_back(wall_row(section));
  return out;
}

Table value_differences(const Comparison& comparison) {
  Table out{{"of", "what", "first", "second"}, {}};
  add_values(out, comparison.values);
  return out;
}

Table shared_hole_rows(const Comparison& comparison) {
  Table out{{"serves both", "cavity", "fixing", "hole", "centre x", "y", "z", "shim mm", "remarks"}, {}};
  for (const auto& shared : comparison.shared)
    for (const auto& hole : shared.holes) {
      std::vector<std::string> remarks = hole.remarks;
      if (!hole.why_not.empty()) remarks.insert(remarks.begin(), hole.why_not);
      out.rows.push_back({hole.why_not.empty() ? "yes" : "NO", shared.cavity, hole.fixing, hole_text(hole), number(hole.centre.x.mm(), 1), number(hole.centre.y.mm(), 1), number(hole.centre.z.mm(), 1),
                          number(hole.shim_mm, 1), sentence(remarks)});
    }
  return out;
}

Table box_differences(const Comparison& comparison) {
  Table out{{"of", "what", "first", "second"}, {}};
  if (!comparison.made) return out;
  add_values(out, comparison.made->totals);
  add_values(out, comparison.made->boxes);
  return out;
}

Table part_differences(const Comparison& comparison) {
  Table out{{"mark", "part", "first", "second"}, {}};
  if (!comparison.made) return out;
  for (const auto& part : comparison.made->parts)
    out.rows.push_back({part.mark, part.what, there(part.change, Change::only_second, part.first), there(part.change, Change::only_first, part.second)});
  return out;
}

Table facing_holes(const differences::LeftRight& sides) {
  Table out{{"cavity", "left", "right", "right farther rearward mm", "farther out mm", "higher mm", "in all mm", "paired by"}, {}};
  for (const auto& pair : sides.holes)
    out.rows.push_back({pair.cavity, pair.left, pair.right, number(pair.dx_mm, 2), number(pair.dy_mm, 2), number(pair.dz_mm, 2), number(pair.distance_mm, 2), pair.by_name ? "name" : "place"});
  return out;
}

Table facing_walls(const differences::LeftRight& sides) {
  Table out{{"cavity", "station", "left and right differ by mm", "where, on the right", "more room"}, {}};
  for (const auto& wall : sides.walls) {
    const std::string station = axis_letter(wall.across) + " " + number(wall.station.mm(), 1) + (wall.across == core::Axis::y ? " against y " + number(wall.other_station.mm(), 1) : "");
    const bool alike = wall.mm <= differences::same_mm;
    out.rows.push_back({wall.cavity, station, number(wall.mm, 2), alike ? "" : place(wall.at, wall.across), alike ? "" : wall.right_wider ? "right" : "left"});
  }
  return out;
}

std::string holes_lead(const Comparison& comparison) {
  const differences::HoleDifference* most = nullptr;
  for (const auto& hole : comparison.holes)
    if (hole.change == Change::changed && (!most || hole.distance_mm > most->distance_mm)) most = &hole;
  if (!most || most->distance_mm <= differences::same_mm) return {};
  return fmt::format("Farthest off: {} in {}, {} mm.", most->fixing, most->cavity, number(most->distance_mm, 1));
}

std::string walls_lead(const Comparison& comparison) {
  const differences::SectionDifference* most = nullptr;
  for (const auto& section : comparison.sections)
    if (section.change == Change::changed && (!most || section.wall.mm > most->wall.mm)) most = &section;
  if (!most) return {};
  return fmt::format("Most: {} at {} {}, {} mm at {}; the {} is wider there.", most->cavity, axis_letter(most->across), number(most->station.mm(), 1), number(most->wall.mm, 1),
                     place(most->wall.at, most->across), most->wall.first_wider ? "first" : "second");
}

std::string shared_lead(const differences::SharedHoles& shared) {
  const auto refused = std::count_if(shared.holes.begin(), shared.holes.end(), [](const auto& hole) { return !hole.why_not.empty(); });
  const auto round = std::find_if(shared.holes.begin(), shared.holes.end(), [](const auto& hole) { return hole.round; });
  std::string text = shared.cavity + ": ";
  if (shared.holes.empty()) return text + "no fixing that both have and that may be used.";
  text += refused == 0 ? "every bracket can serve both." : fmt::format("{} of {} holes cannot serve both.", refused, shared.holes.size());
  if (round == shared.holes.end()) return text;
  text += fmt::format(" Round hole at {}; ", round->fixing);
  const std::string moved = moved_text(shared.moved_mm);
  return text + (moved.empty() ? "the box stands in the same place in both." : "in the second the box then stands " + moved + " of where it stands in the first.");
}

std::string sides_lead(const differences::LeftRight& sides) {
  std::string text;
  const auto hole = std::max_element(sides.holes.begin(), sides.holes.end(), [](const auto& a, const auto& b) { return a.distance_mm < b.distance_mm; });
  if (hole != sides.holes.end() && hole->distance_mm > differences::same_mm)
    text += fmt::format("Holes: most {} mm, {} against {}. ", number(hole->distance_mm, 1), hole->left, hole->right);
  const auto wall = std::max_element(sides.walls.begin(), sides.walls.end(), [](const auto& a, const auto& b) { return a.mm < b.mm; });
  if (wall != sides.walls.end() && wall->mm > differences::same_mm)
    text += fmt::format("Walls: most {} mm, {} at {} {}, {}; more room on the {}.", number(wall->mm, 1), wall->cavity, axis_letter(wall->across), number(wall->station.mm(), 1),
                        place(wall->at, wall->across), wall->right_wider ? "right" : "left");
  return text;
}

}  // namespace cellstow::report
