#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

constexpr Word<DrawingPaper> papers[] = {{"A4", DrawingPaper::a4}, {"A3", DrawingPaper::a3}};
constexpr Word<Projection> projections[] = {{"first", Projection::first}, {"third", Projection::third}};
constexpr Word<DrawnUnits> units[] = {{"mm", DrawnUnits::mm}, {"mm and in", DrawnUnits::mm_and_inch}};
constexpr Word<TilePaper> tile_papers[] = {{"A4", TilePaper::a4}, {"Letter", TilePaper::letter}};

/// Sawn and glued by hand: from veneer to a thick board.
constexpr double thinnest_ply_mm = 1, thickest_ply_mm = 50;

std::optional<Length> read_ply(const Node& node) {
  const auto mm = read_quantity(node, Kind::length, {thinnest_ply_mm, thickest_ply_mm});
  return mm ? std::optional(Length::from_mm(*mm)) : std::nullopt;
}

}  // namespace

std::optional<DrawingRules> read_drawings(const Node& node) {
  const auto fields = Fields::of(node, "drawings");
  if (!fields) return {};
  DrawingRules rules;
  set(*fields, "paper", rules.paper, [](const Node& n) { return read_choice(n, papers); });
  set(*fields, "projection", rules.projection, [](const Node& n) { return read_choice(n, projections); });
  set(*fields, "units", rules.units, [](const Node& n) { return read_choice(n, units); });
  set(*fields, "general_tolerance", rules.general_tolerance, read_name);
  set(*fields, "weld_tolerance", rules.weld_tolerance, read_name);
  set(*fields, "finish", rules.finish, read_name);
  set(*fields, "mock_up_paper", rules.tile_paper, [](const Node& n) { return read_choice(n, tile_papers); });
  set(*fields, "ply_mm", rules.ply, read_ply);
  return rules;
}

}  // namespace cellstow::survey
