#include "cellstow/differences/left_right.hpp"
#include "report/compare_tables.hpp"
#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/walls_view.hpp"

namespace cellstow::report {

std::string page_sides(const survey::Job& job) {
  const differences::LeftRight sides = differences::left_right(job.cavities);
  if (sides.holes.empty() && sides.walls.empty()) return {};
  std::string out = "<section>\n<h2>Left and right</h2>\n";
  out += element("p", "Each side as it was measured; neither was mirrored from the other. Every hole stands against the mirror image of the one that faces it, every section against its own mirror image.");
  if (const std::string lead = sides_lead(sides); !lead.empty()) out += element("p", lead);
  out += "<div class=\"wide\">" + html_table(facing_holes(sides), facing_hole_numbers, "Holes that face each other") + "</div>\n";
  out += "<div class=\"wide\">" + html_table(facing_walls(sides), facing_wall_numbers, "Walls") + "</div>\n";
  for (const Drawing& drawing : sides_drawings(job.cavities, sides)) out += figure(drawing, false);
  return out + "</section>\n";
}

}  // namespace cellstow::report
