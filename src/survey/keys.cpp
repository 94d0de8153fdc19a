#include "keys.hpp"

#include <algorithm>
#include <cassert>

namespace cellstow::survey {
namespace {

std::size_t letters_to_change(std::string_view from, std::string_view to) {
  std::vector<std::size_t> row(to.size() + 1);
  for (std::size_t j = 0; j < row.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= from.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j < row.size(); ++j) {
      const std::size_t change = diagonal + (from[i - 1] == to[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({change, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

const std::vector<ObjectKeys>& known_objects() {
  static const std::vector<ObjectKeys> objects = {
      {"job", {"format", "$schema", "based_on", "title", "revision", "car", "cell", "string", "rules", "stock", "drawings", "cavities"}},
      {"job_reference", {"file"}},
      {"stock", {"sheet_length_mm", "sheet_width_mm", "sheet_margin_mm", "part_gap_mm", "bar_mm", "saw_kerf_mm"}},
      {"car",
       {"name", "class", "wheelbase_mm", "track_front_mm", "track_rear_mm", "wheel_loads_kg",
        "axle_loads_kg", "cg_height_mm", "tilt_test", "axle_limits_kg", "gross_limit_kg",
        "front_share_target", "seats", "removed", "added", "wheel_rates_n_per_mm"}},
      {"wheel_loads", {"front_left", "front_right", "rear_left", "rear_right"}},
      {"axle_loads", {"front", "rear"}},
      {"wheel_rates", {"front", "rear"}},
      {"tilt_test", {"raised", "rise_mm", "front_axle_kg", "wheel_radius_mm"}},
      {"share_target", {"min", "max"}},
      {"seat", {"name", "at_mm", "mass_kg"}},
      {"placed_mass", {"name", "mass_kg", "at_mm"}},
      {"cell",
       {"name", "thickness_mm", "width_mm", "height_mm", "terminal_top_mm", "mass_kg",
        "capacity_ah", "voltage_v", "resistance_mohm", "terminal_offset_mm", "terminal_thread",
        "case", "clamp_force_n", "growth_percent", "stances"}},
      {"cell_file",
       {"format",
        "$schema",
        "source",
        "status",
        "note",
        "name",
        "thickness_mm",
        "width_mm",
        "height_mm",
        "terminal_top_mm",
        "mass_kg",
        "capacity_ah",
        "voltage_v",
        "resistance_mohm",
        "terminal_offset_mm",
        "terminal_thread",
        "case",
        "clamp_force_n",
        "growth_percent",
        "stances"}},
      {"cell_reference", {"file"}},
      {"voltage_window", {"min", "nominal", "max"}},
      {"string",
       {"series", "parallel", "controller", "charger", "converter", "continuous_a",
        "consumption_wh_per_km", "cable_route_mm"}},
      {"controller", {"min_v", "max_v", "peak_a"}},
      {"volt_range", {"min_v", "max_v"}},
      {"rules", {"body_clearance_mm",
                 "lid_clearance_mm",
                 "wall_mm",
                 "floor_mm",
                 "lid_mm",
                 "liner_mm",
                 "corner_relief_mm",
                 "between_cells_mm",
                 "end_plate_mm",
                 "strap_space_mm",
                 "between_blocks_mm",
                 "between_tiers_mm",
                 "headroom_mm",
                 "block_cells",
                 "box_outline",
                 "boxes_per_cavity",
                 "arrangement",
                 "heading",
                 "tiers",
                 "lift_limit_kg",
                 "open_link_max_v",
                 "pan_depth_max_mm",
                 "bracket_reach_mm",
                 "car_scatter_mm",
                 "flange_mm",
                 "build",
                 "cut_files",
                 "fuse_hatch",
                 "bend_radius_mm",
                 "leg_min_mm",
                 "bend_tests",
                 "materials",
                 "load_cases",
                 "load_case_set",
                 "safety_factor"}},
      {"block_cells", {"min", "max"}},
      {"materials", {"wall", "strap", "hold_down", "fasteners"}},
      {"material",
       {"name", "density_kg_per_m3", "elastic_modulus_mpa", "proof_strength_mpa",
        "ultimate_strength_mpa", "welded_proof_strength_mpa", "welded_ultimate_strength_mpa",
        "min_bend_radius_over_thickness", "bend_may_crack", "k_factor", "source", "status"}},
      {"material_file",
       {"format", "$schema", "note", "name", "density_kg_per_m3", "elastic_modulus_mpa",
        "proof_strength_mpa", "ultimate_strength_mpa", "welded_proof_strength_mpa",
        "welded_ultimate_strength_mpa", "min_bend_radius_over_thickness", "bend_may_crack",
        "k_factor", "source", "status"}},
      {"material_reference", {"file"}},
      {"fastener_class", {"name", "ultimate_strength_mpa", "proof_stress_mpa", "source", "status"}},
      {"fastener_class_file",
       {"format", "$schema", "note", "name", "ultimate_strength_mpa", "proof_stress_mpa", "source",
        "status"}},
      {"fastener_class_reference", {"file"}},
      {"load_case", {"name", "accel_g"}},
      {"load_case_set", {"name", "source", "status"}},
      {"safety_factor", {"yield", "ultimate"}},
      {"drawings",
       {"paper", "projection", "units", "general_tolerance", "weld_tolerance", "finish", "mock_up_paper", "ply_mm"}},
      {"bend_test",
       {"material", "thickness_mm", "inside_radius_mm", "angle_deg", "legs_mm", "flat_mm"}},
      {"cavity",
       {"name", "sections", "keep_outs", "way_in", "fixings", "fittings", "cells_wanted",
        "tape_error_mm"}},
      {"sections", {"across", "between", "at", "from_drawing", "from_scan", "slope_deg"}},
      {"slope", {"nose_up", "right_down"}},
      {"from_drawing_reference",
       {"file", "layers", "gap_mm", "unit", "mirrored", "known", "known_within_mm", "give_or_take_mm"}},
      {"section", {"station_mm", "outline_mm", "holes_mm", "measured", "tape", "drawing", "list", "picture"}},
      {"drawing_reference",
       {"file", "layer", "gap_mm", "unit", "mirrored", "known", "known_within_mm", "give_or_take_mm"}},
      {"drawing_known_reference", {"in_drawing", "at_mm"}},
      {"list_reference", {"file", "section", "unit", "give_or_take_mm"}},
      {"picture_reference", {"known", "points_px", "give_or_take_px", "known_give_or_take_mm"}},
      {"picture_known_reference", {"px", "at_mm"}},
      {"tape", {"datums", "points", "checks", "outline", "side", "give_or_take_mm"}},
      {"tape_datum", {"name", "at_mm"}},
      {"tape_point", {"name", "from_mm", "side", "give_or_take_mm"}},
      {"tape_check", {"between", "reading_mm", "give_or_take_mm"}},
      {"from_scan_reference",
       {"file", "unit", "known", "fit_max_mm", "stations_mm", "inside_mm", "corners_max", "loss_max_mm", "close_mm",
        "dirt_mm", "spike_mm", "scan_error_mm"}},
      {"scan_known_reference", {"name", "in_scan", "at_mm"}},
      {"measured", {"by", "corners", "remarks"}},
      {"measured_corner", {"name", "give_or_take_mm"}},
      {"keep_out", {"name", "kind", "clearance_mm", "box_mm", "cylinder_mm", "prism_mm"}},
      {"cylinder", {"from", "to", "diameter"}},
      {"prism", {"outline", "z"}},
      {"way_in", {"name", "across", "station_mm", "outline_mm", "move"}},
      {"fixing", {"name", "at_mm", "axis", "thread", "kind", "sheet_mm", "use", "limit_n"}},
      {"fitting", {"name", "size_mm", "count", "place"}},
  };
  return objects;
}

const ObjectKeys& keys_of(std::string_view object) {
  const auto found = std::find_if(known_objects().begin(), known_objects().end(),
                                  [&](const ObjectKeys& known) { return known.object == object; });
  assert(found != known_objects().end());
  return *found;
}

std::string_view nearest(std::string_view word, std::span<const std::string_view> known) {
  constexpr std::size_t longest = 60;  // nothing known is longer, and the cost grows with it
  if (word.size() > longest) return {};
  std::string_view best;
  std::size_t least = word.size() / 3 + 2;
  for (const std::string_view candidate : known) {
    const std::size_t changes = letters_to_change(word, candidate);
    if (changes < least) {
      least = changes;
      best = candidate;
    }
  }
  return best;
}

}  // namespace cellstow::survey
