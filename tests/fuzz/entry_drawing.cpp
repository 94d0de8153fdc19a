#include "entries.hpp"

#include <set>
#include <string>

#include "dxf_drawing.hpp"
#include "promises.hpp"

namespace cellstow::fuzz {

void drawing(std::string_view bytes) {
  survey::ProblemLog log("drawing.dxf");
  const auto parsed = survey::parse_dxf(bytes, log);
  if (!parsed) return check_told(log.in_file_order());
  std::set<std::string> layers{"S330"};
  for (const survey::DxfEntity& entity : parsed->entities)
    if (layers.size() < 4) layers.insert(entity.layer);
  for (const std::string& layer : layers) {
    check(survey::outline_from_dxf(bytes, "drawing.dxf", layer, {}));
    survey::DrawingWanted placed;
    placed.gap_mm = 50;
    placed.unit_mm = 1;
    placed.mirrored = true;
    placed.known = {{{0, 0}, {2000, -400}}, {{600, 0}, {2600, -400}}};
    placed.known_within_mm = 2000;
    placed.give_or_take = core::Length::from_um(2'000);
    check(survey::outline_from_dxf(bytes, "drawing.dxf", layer, placed));
  }
}

}  // namespace cellstow::fuzz
