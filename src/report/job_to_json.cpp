#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "json_values.hpp"

namespace cellstow::report {
namespace {

template <class Q>
Json number(Q quantity) {
  return tidy(quantity.value());
}

/// Sets the key only when there is a value: what is not known is left out.
template <class T, class Write>
void put(Json& out, const char* key, const std::optional<T>& value, Write write) {
  if (value) out[key] = write(*value);
}

template <class T, class Write>
Json list(const std::vector<T>& values, Write write) {
  Json out = Json::array();
  for (const T& value : values) out.push_back(write(value));
  return out;
}

Json direction(const std::array<double, 3>& parts) {
  return Json::array({tidy(parts[0]), tidy(parts[1]), tidy(parts[2])});
}

// ---- words -----------------------------------------------------------------

template <class E, std::size_t n>
const char* word(E value, const char* const (&words)[n]) {
  return words[static_cast<std::size_t>(value)];
}

const char* word(core::Axis axis) { return word(axis, {"x", "y", "z"}); }
const char* word(survey::Stance stance) { return word(stance, {"upright", "on_edge", "flat"}); }

// ---- car -------------------------------------------------------------------

Json axle_pair(const survey::AxleLoads& loads) {
  return {{"front", number(loads.front)}, {"rear", number(loads.rear)}};
}

Json wheel_loads(const survey::WheelLoads& loads) {
  return {{"front_left", number(loads.front_left)},
          {"front_right", number(loads.front_right)},
          {"rear_left", number(loads.rear_left)},
          {"rear_right", number(loads.rear_right)}};
}

Json tilt_test(const survey::TiltTest& test) {
  return {{"raised", word(test.raised, {"front", "rear"})},
          {"rise_mm", mm(test.rise)},
          {"front_axle_kg", number(test.front_axle)},
          {"wheel_radius_mm", mm(test.wheel_radius)}};
}

Json seat(const survey::Seat& seat) {
  return {{"name", seat.name}, {"at_mm", point(seat.at)}, {"mass_kg", number(seat.mass)}};
}

Json placed_mass(const survey::PlacedMass& part) {
  return {{"name", part.name}, {"mass_kg", number(part.mass)}, {"at_mm", point(part.at)}};
}

void put_weighing(Json& out, const survey::Car& car) {
  if (const auto* wheels = std::get_if<survey::WheelLoads>(&car.weighed))
    out["wheel_loads_kg"] = wheel_loads(*wheels);
  if (const auto* axles = std::get_if<survey::AxleLoads>(&car.weighed))
    out["axle_loads_kg"] = axle_pair(*axles);
  if (const auto* height = std::get_if<core::Length>(&car.cg_height))
    out["cg_height_mm"] = mm(*height);
  if (const auto* test = std::get_if<survey::TiltTest>(&car.cg_height))
    out["tilt_test"] = tilt_test(*test);
}

Json car_json(const survey::Car& car) {
  Json out = Json::object();
  if (!car.name.empty()) out["name"] = car.name;
  out["class"] = car.vehicle_class;
  put(out, "wheelbase_mm", car.wheelbase, mm);
  put(out, "track_front_mm", car.track_front, mm);
  put(out, "track_rear_mm", car.track_rear, mm);
  put_weighing(out, car);
  put(out, "axle_limits_kg", car.axle_limits, axle_pair);
  put(out, "gross_limit_kg", car.gross_limit, number<core::Kg>);
  put(out, "front_share_target", car.front_share_target, [](const survey::ShareTarget& target) {
    return Json{{"min", tidy(target.min)}, {"max", tidy(target.max)}};
  });
  out["seats"] = list(car.seats, seat);
  out["removed"] = list(car.removed, placed_mass);
  out["added"] = list(car.added, placed_mass);
  put(out, "wheel_rates_n_per_mm", car.wheel_rates, [](const survey::Car::WheelRates& rates) {
    return Json{{"front", number(rates.front)}, {"rear", number(rates.rear)}};
  });
  return out;
}

// ---- cell, string ----------------------------------------------------------

void put_electrical(Json& out, const survey::Cell& cell) {
  put(out, "capacity_ah", cell.capacity, number<core::AmpereHour>);
  put(out, "voltage_v", cell.voltage, [](const survey::VoltageWindow& window) {
    return Json{{"min", number(window.min)},
                {"nominal", number(window.nominal)},
                {"max", number(window.max)}};
  });
  put(out, "resistance_mohm", cell.resistance, number<core::Milliohm>);
  put(out, "terminal_offset_mm", cell.terminal_offset, mm);
  if (cell.terminal_thread) out["terminal_thread"] = *cell.terminal_thread;
}

Json cell_json(const survey::Cell& cell) {
  Json out = {{"name", cell.name},
              {"thickness_mm", mm(cell.thickness)},
              {"width_mm", mm(cell.width)},
              {"height_mm", mm(cell.height)},
              {"terminal_top_mm", mm(cell.terminal_top)},
              {"mass_kg", number(cell.mass)}};
  put_electrical(out, cell);
  out["case"] = word(cell.case_kind, {"plastic", "aluminium"});
  put(out, "clamp_force_n", cell.clamp_force, [](const survey::ForceRange& force) {
    return Json::array({number(force.min), number(force.max)});
  });
  out["growth_percent"] = tidy(cell.growth_percent);
  out["stances"] = list(cell.stances, [](survey::Stance stance) { return word(stance); });
  return out;
}

Json volt_range(const survey::VoltRange& range) {
  return {{"min_v", number(range.min)}, {"max_v", number(range.max)}};
}

Json string_json(const survey::StringSpec& spec) {
  Json out = Json::object();
  out["series"] = spec.series ? Json(*spec.series) : Json("as_many");
  out["parallel"] = spec.parallel;
  put(out, "controller", spec.controller, [](const survey::Controller& controller) {
    Json inner = volt_range(controller.volts);
    put(inner, "peak_a", controller.peak, number<core::Ampere>);
    return inner;
  });
  put(out, "charger", spec.charger, volt_range);
  put(out, "converter", spec.converter, volt_range);
  put(out, "continuous_a", spec.continuous, number<core::Ampere>);
  put(out, "consumption_wh_per_km", spec.consumption, number<core::WattHourPerKm>);
  put(out, "cable_route_mm", spec.cable_route, mm);
  return out;
}

// ---- rules -----------------------------------------------------------------

void put_origin(Json& out, const std::string& source, const std::string& status) {
  if (!source.empty()) out["source"] = source;
  if (!status.empty()) out["status"] = status;
}

Json material(const survey::Material& material) {
  Json out = {{"name", material.name},
              {"density_kg_per_m3", tidy(material.density_kg_per_m3)},
              {"elastic_modulus_mpa", number(material.elastic_modulus)},
              {"proof_strength_mpa", number(material.proof_strength)},
              {"ultimate_strength_mpa", number(material.ultimate_strength)}};
  put(out, "welded_proof_strength_mpa", material.welded_proof_strength, number<core::Mpa>);
  put(out, "welded_ultimate_strength_mpa", material.welded_ultimate_strength, number<core::Mpa>);
  put(out, "min_bend_radius_over_thickness", material.min_bend_radius_over_thickness, tidy);
  out["bend_may_crack"] = material.bend_may_crack;
  put(out, "k_factor", material.k_factor, tidy);
  put_origin(out, material.source, material.status);
  return out;
}

Json fastener_class(const survey::FastenerClass& fasteners) {
  Json out = {{"name", fasteners.name},
              {"ultimate_strength_mpa", number(fasteners.ultimate_strength)},
              {"proof_stress_mpa", number(fasteners.proof_stress)}};
  put_origin(out, fasteners.source, fasteners.status);
  return out;
}

Json load_case(const survey::LoadCase& load_case) {
  return {{"name", load_case.name},
          {"accel_g", Json::array({number(load_case.accel[0]), number(load_case.accel[1]),
                                   number(load_case.accel[2])})}};
}

void put_lengths(Json& out, const survey::Rules& rules) {
  out["body_clearance_mm"] = mm(rules.body_clearance);
  out["lid_clearance_mm"] = mm(rules.lid_clearance);
  out["wall_mm"] = mm(rules.wall);
  out["floor_mm"] = mm(rules.floor);
  out["lid_mm"] = mm(rules.lid);
  out["liner_mm"] = mm(rules.liner);
  out["corner_relief_mm"] = mm(rules.corner_relief);
  out["between_cells_mm"] = mm(rules.between_cells);
  out["end_plate_mm"] = mm(rules.end_plate);
  out["strap_space_mm"] = mm(rules.strap_space);
  out["between_blocks_mm"] = mm(rules.between_blocks);
  out["between_tiers_mm"] = mm(rules.between_tiers);
  out["headroom_mm"] = mm(rules.headroom);
}

void put_choices(Json& out, const survey::Rules& rules) {
  out["block_cells"] = {{"min", rules.block_cells.min}, {"max", rules.block_cells.max}};
  out["box_outline"] = word(rules.box_outline, {"rectangle", "stepped", "any", "loose"});
  out["boxes_per_cavity"] = rules.boxes_per_cavity;
  out["arrangement"] = word(rules.arrangement, {"rows", "mixed"});
  out["heading"] = word(rules.heading, {"square", "free"});
  out["tiers"] = rules.tiers;
  out["lift_limit_kg"] = number(rules.lift_limit);
  out["open_link_max_v"] = number(rules.open_link_max);
  out["pan_depth_max_mm"] = mm(rules.pan_depth_max);
  out["bracket_reach_mm"] = mm(rules.bracket_reach);
  out["car_scatter_mm"] = mm(rules.car_scatter);
}

Json drawings_json(const survey::DrawingRules& rules) {
  return {{"paper", word(rules.paper, {"A4", "A3"})},
          {"projection", word(rules.projection, {"first", "third"})},
          {"units", word(rules.units, {"mm", "mm and in"})},
          {"general_tolerance", rules.general_tolerance},
          {"weld_tolerance", rules.weld_tolerance},
          {"finish", rules.finish},
          {"mock_up_paper", word(rules.tile_paper, {"A4", "Letter"})},
          {"ply_mm", mm(rules.ply)}};
}

Json bend_test(const survey::BendTest& test) {
  return {{"material", test.material},
          {"thickness_mm", mm(test.thickness)},
          {"inside_radius_mm", mm(test.inside_radius)},
          {"angle_deg", tidy(test.angle_deg)},
          {"legs_mm", Json::array({mm(test.legs[0]), mm(test.legs[1])})},
          {"flat_mm", mm(test.flat)}};
}

void put_bending(Json& out, const survey::Rules& rules) {
  out["flange_mm"] = mm(rules.flange);
  out["build"] = word(rules.build, {"simplest", "welded panels"});
  out["cut_files"] = word(rules.cut_files, {"marked", "cut only"});
  out["fuse_hatch"] = rules.fuse_hatch;
  put(out, "bend_radius_mm", rules.bend_radius, mm);
  put(out, "leg_min_mm", rules.leg_min, mm);
  if (!rules.bend_tests.empty()) out["bend_tests"] = list(rules.bend_tests, bend_test);
}

/// The cases stand as a plain list, as a user would give them; the set they come from beside it.
void put_load_cases(Json& out, const survey::LoadCaseSet& set) {
  out["load_cases"] = list(set.cases, load_case);
  Json origin = Json::object();
  origin["name"] = set.name;
  put_origin(origin, set.source, set.status);
  out["load_case_set"] = origin;
}

Json rules_json(const survey::Rules& rules) {
  Json out = Json::object();
  put_lengths(out, rules);
  put_choices(out, rules);
  put_bending(out, rules);
  out["materials"] = {{"wall", material(rules.materials.wall)},
                      {"strap", material(rules.materials.strap)},
                      {"hold_down", material(rules.materials.hold_down)},
                      {"fasteners", fastener_class(rules.materials.fasteners)}};
  put_load_cases(out, rules.load_cases);
  out["safety_factor"] = {{"yield", tidy(rules.safety_factor.yield)},
                          {"ultimate", tidy(rules.safety_factor.ultimate)}};
  return out;
}

// ---- cavities --------------------------------------------------------------

Json measured_corner(const survey::MeasuredCorner& corner) {
  Json out = Json::object();
  if (!corner.name.empty()) out["name"] = corner.name;
  put(out, "give_or_take_mm", corner.give_or_take, mm);
  return out;
}

Json measured_json(const survey::Measured& measured) {
  Json out = {{"by", word(measured.by, {"corners", "tape", "picture", "drawing", "list", "scan"})}};
  if (!measured.corners.empty()) out["corners"] = list(measured.corners, measured_corner);
  if (!measured.remarks.empty()) out["remarks"] = measured.remarks;
  return out;
}

Json section(const survey::Section& section) {
  Json out = {{"station_mm", mm(section.station)}, {"outline_mm", outline(section.outline)}};
  if (!section.holes.empty()) out["holes_mm"] = list(section.holes, outline);
  if (section.measured) out["measured"] = measured_json(*section.measured);
  return out;
}

Json sections_json(const survey::Sections& sections) {
  return {{"across", word(sections.across)},
          {"between", word(sections.between, {"common", "straight"})},
          {"at", list(sections.at, section)}};
}

void put_shape(Json& out, const survey::KeepOut& keep_out) {
  if (const auto* box = std::get_if<survey::BoxShape>(&keep_out.shape))
    out["box_mm"] = Json::array({point(box->low), point(box->high)});
  if (const auto* cylinder = std::get_if<survey::CylinderShape>(&keep_out.shape))
    out["cylinder_mm"] = {{"from", point(cylinder->from)},
                          {"to", point(cylinder->to)},
                          {"diameter", mm(cylinder->diameter)}};
  if (const auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape))
    out["prism_mm"] = {{"outline", outline(prism->outline)},
                       {"z", Json::array({mm(prism->z_low), mm(prism->z_high)})}};
}

Json keep_out(const survey::KeepOut& keep_out) {
  Json out = {{"name", keep_out.name},
              {"kind", word(keep_out.kind, {"fixed", "removable", "soft", "moving"})}};
  put(out, "clearance_mm", keep_out.clearance, mm);
  put_shape(out, keep_out);
  return out;
}

Json way_in(const survey::WayIn& way) {
  return {{"name", way.name},
          {"across", word(way.across)},
          {"station_mm", mm(way.station)},
          {"outline_mm", outline(way.outline)},
          {"move", direction(way.move)}};
}

Json fixing(const survey::Fixing& fixing) {
  Json out = {{"name", fixing.name},
              {"at_mm", point(fixing.at)},
              {"axis", direction(fixing.axis)},
              {"thread", fixing.thread},
              {"kind", word(fixing.kind, {"weld nut", "through hole", "stud"})}};
  put(out, "sheet_mm", fixing.sheet, mm);
  out["use"] = word(fixing.use, {"carry", "locate", "never"});
  put(out, "limit_n", fixing.limit, number<core::Newton>);
  return out;
}

Json fitting(const survey::Fitting& fitting) {
  return {{"name", fitting.name},
          {"size_mm", Json::array({mm(fitting.size[0]), mm(fitting.size[1]), mm(fitting.size[2])})},
          {"count", fitting.count},
          {"place", word(fitting.place, {"beside", "above", "wall"})}};
}

Json wanted(const std::optional<survey::CellsWanted>& cells) {
  if (!cells) return nullptr;
  return Json::array({cells->min, cells->max});
}

Json cavity(const survey::Cavity& cavity) {
  return {{"name", cavity.name},
          {"sections", sections_json(cavity.sections)},
          {"keep_outs", list(cavity.keep_outs, keep_out)},
          {"way_in", list(cavity.way_in, way_in)},
          {"fixings", list(cavity.fixings, fixing)},
          {"fittings", list(cavity.fittings, fitting)},
          {"cells_wanted", wanted(cavity.cells_wanted)},
          {"tape_error_mm", mm(cavity.tape_error)}};
}

}  // namespace

Json job_to_json(const survey::Job& job) {
  Json out = Json::object();
  out["format"] = "cellstow-job/1";
  if (!job.title.empty()) out["title"] = job.title;
  out["revision"] = job.revision;
  if (job.car) out["car"] = car_json(*job.car);
  out["cell"] = cell_json(job.cell);
  if (job.string) out["string"] = string_json(*job.string);
  out["rules"] = rules_json(job.rules);
  out["stock"] = {{"sheet_length_mm", mm(job.stock.sheet_length)},
                  {"sheet_width_mm", mm(job.stock.sheet_width)},
                  {"sheet_margin_mm", mm(job.stock.sheet_margin)},
                  {"part_gap_mm", mm(job.stock.part_gap)},
                  {"bar_mm", mm(job.stock.bar)},
                  {"saw_kerf_mm", mm(job.stock.saw_kerf)}};
  out["drawings"] = drawings_json(job.drawings);
  out["cavities"] = list(job.cavities, cavity);
  return out;
}

}  // namespace cellstow::report
