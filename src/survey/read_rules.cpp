#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <numbers>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

// ---- materials, fasteners --------------------------------------------------

// "source" and "status" are read with the values they speak of
constexpr std::string_view material_texts[] = {"note", "$schema"};
constexpr FileKind material_file = {"material", "material_file", "material_reference",
                                    "cellstow-material/1", material_texts};
constexpr FileKind fastener_file = {"fastener_class", "fastener_class_file",
                                    "fastener_class_reference", "cellstow-fastener-class/1",
                                    material_texts};

std::optional<Mpa> read_stress(const Node& node) {
  return read_as<Mpa>(node, Kind::stress, above_zero(1e6));
}

void check_strengths(const Node& node, const Material& material) {
  check_order(node, "proof_strength_mpa", material.proof_strength.value(), "ultimate_strength_mpa",
              material.ultimate_strength.value(), "MPa");
  if (material.welded_proof_strength)
    check_order(node, "welded_proof_strength_mpa", material.welded_proof_strength->value(),
                "proof_strength_mpa", material.proof_strength.value(), "MPa");
  if (material.welded_ultimate_strength)
    check_order(node, "welded_ultimate_strength_mpa", material.welded_ultimate_strength->value(),
                "ultimate_strength_mpa", material.ultimate_strength.value(), "MPa");
}

Material read_material_fields(const Fields& fields) {
  const Node& node = fields.node();
  const std::size_t before = node.log->size();
  Material material;
  set_needed(fields, "name", material.name, read_name);
  set_needed(fields, "density_kg_per_m3", material.density_kg_per_m3,
             [](const Node& n) { return read_quantity(n, Kind::density, above_zero(25'000)); });
  set_needed(fields, "elastic_modulus_mpa", material.elastic_modulus, read_stress);
  set_needed(fields, "proof_strength_mpa", material.proof_strength, read_stress);
  set_needed(fields, "ultimate_strength_mpa", material.ultimate_strength, read_stress);
  set(fields, "welded_proof_strength_mpa", material.welded_proof_strength, read_stress);
  set(fields, "welded_ultimate_strength_mpa", material.welded_ultimate_strength, read_stress);
  set(fields, "min_bend_radius_over_thickness", material.min_bend_radius_over_thickness,
      [](const Node& n) {
        return read_number(n, {0, 50});
      });
  set(fields, "bend_may_crack", material.bend_may_crack, read_yes_no);
  set(fields, "k_factor", material.k_factor, [](const Node& n) { return read_number(n, {0.1, 0.5}); });
  set(fields, "source", material.source, read_text);
  set(fields, "status", material.status, read_text);
  if (node.log->size() == before) check_strengths(node, material);
  return material;
}

FastenerClass read_fastener_fields(const Fields& fields) {
  const Node& node = fields.node();
  const std::size_t before = node.log->size();
  FastenerClass fasteners;
  set_needed(fields, "name", fasteners.name, read_name);
  set_needed(fields, "ultimate_strength_mpa", fasteners.ultimate_strength, read_stress);
  set_needed(fields, "proof_stress_mpa", fasteners.proof_stress, read_stress);
  set(fields, "source", fasteners.source, read_text);
  set(fields, "status", fasteners.status, read_text);
  if (node.log->size() == before)
    check_order(node, "proof_stress_mpa", fasteners.proof_stress.value(), "ultimate_strength_mpa",
                fasteners.ultimate_strength.value(), "MPa");
  return fasteners;
}

/// Letters and digits only, all small: what is left when spelling is not minded.
std::string bare(std::string_view name) {
  std::string letters;
  for (const char c : name)
    if (std::isalnum(static_cast<unsigned char>(c)))
      letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return letters;
}

/// Another temper or class is another material: only the same name spelt otherwise is offered.
template <class T>
std::string respelt(const std::map<std::string, T>& table, std::string_view name) {
  for (const auto& [known, row] : table)
    if (bare(known) == bare(name)) return fmt::format("did you mean \"{}\"?", known);
  return {};
}

template <class T>
std::optional<T> look_up(const Node& node, const std::map<std::string, T>& table) {
  const std::optional<std::string> name = read_name(node);
  if (!name) return {};
  if (const auto found = table.find(*name); found != table.end()) return found->second;
  node.problem("E304", "not in the tables", "one of " + known_names(table), respelt(table, *name));
  return {};
}

/// A default is looked up like a name in the file; its absence is the fault of the tables.
template <class T>
void set_default(const Node& job, const std::map<std::string, T>& table, const std::string& name,
                 T& target) {
  if (const auto found = table.find(name); found != table.end())
    target = found->second;
  else
    job.log->add("E304", job.pointer, "not in the tables",
                 fmt::format("no \"{}\", the default", name), "the shipped tables complete",
                 "name another one under \"rules\"");
}

template <class T, class ReadFull>
void read_named_or_full(const std::optional<Node>& node, const Node& job, const std::string& usual,
                        const std::map<std::string, T>& table, T& target, ReadFull read_full) {
  if (!node) return set_default(job, table, usual, target);
  const std::optional<T> read = node->json->is_object() ? read_full(*node) : look_up(*node, table);
  if (read) target = *read;
}

void read_materials(const std::optional<Node>& node, const Node& job, const AllowedFolders& allowed,
                    const Catalogue& catalogue, Materials& materials) {
  const auto fields = node ? Fields::of(*node, "materials") : std::nullopt;
  const auto find = [&](std::string_view key) { return fields ? fields->find(key) : std::nullopt; };
  const auto read_material = [&](const Node& n) {
    return read_full_or_file<Material>(n, material_file, allowed, read_material_fields);
  };
  const auto read_fasteners = [&](const Node& n) {
    return read_full_or_file<FastenerClass>(n, fastener_file, allowed, read_fastener_fields);
  };
  read_named_or_full(find("wall"), job, "EN AW-5754 H22", catalogue.materials, materials.wall,
                     read_material);
  read_named_or_full(find("strap"), job, "EN AW-6061 T6", catalogue.materials, materials.strap,
                     read_material);
  read_named_or_full(find("hold_down"), job, "S235", catalogue.materials, materials.hold_down,
                     read_material);
  read_named_or_full(find("fasteners"), job, "8.8", catalogue.fastener_classes, materials.fasteners,
                     read_fasteners);
}

// ---- load cases ------------------------------------------------------------

std::optional<LoadCase> read_load_case(const Node& node) {
  const auto fields = Fields::of(node, "load_case");
  if (!fields) return {};
  LoadCase load_case;
  set_needed(*fields, "name", load_case.name, read_name);
  if (const auto accel = fields->need("accel_g")) {
    const auto parts = read_list(*accel, 3, 3, "accelerations [ax, ay, az]");
    const auto values =
        parts ? read_each<AccelG>(*parts,
                                  [](const Node& n) {
                                    return read_as<AccelG>(n, Kind::acceleration, {-200, 200});
                                  })
              : std::nullopt;
    if (values) load_case.accel = {(*values)[0], (*values)[1], (*values)[2]};
  }
  return load_case;
}

/// Where a list of load cases comes from, so that a resolved job keeps the name of its set.
void read_set_origin(const Node& node, LoadCaseSet& set_read) {
  const auto fields = Fields::of(node, "load_case_set");
  if (!fields) return;
  set_needed(*fields, "name", set_read.name, read_name);
  set(*fields, "source", set_read.source, read_text);
  set(*fields, "status", set_read.status, read_text);
}

void read_load_cases(const std::optional<Fields>& rules, const Node& job,
                     const Catalogue& catalogue, LoadCaseSet& target) {
  const auto cases = rules ? rules->find("load_cases") : std::nullopt;
  const auto origin = rules ? rules->find("load_case_set") : std::nullopt;
  const bool listed = cases && cases->json->is_array();
  if (listed) {
    target.name = "given in the job";
    const auto read = read_named<LoadCase>(*cases, 1, "load cases", read_load_case);
    if (read) target.cases = *read;
  } else if (cases) {
    if (const auto read = look_up(*cases, catalogue.load_case_sets)) target = *read;
  } else {
    set_default(job, catalogue.load_case_sets, catalogue.default_load_case_set, target);
  }
  if (!origin) return;
  if (listed) return read_set_origin(*origin, target);
  origin->problem("E112", "key without its partner", "\"load_cases\" as a list beside it",
                  "a set named in \"load_cases\" brings its own source");
}

// ---- the shop's bending ----------------------------------------------------

std::optional<std::array<Length, 2>> read_legs(const Node& node) {
  const auto nodes = read_list(node, 2, 2, "outside legs");
  const auto legs = nodes ? read_each<Length>(*nodes, read_size) : std::nullopt;
  if (!legs) return {};
  return std::array<Length, 2>{(*legs)[0], (*legs)[1]};
}

/// A folded strip is shorter than its outside legs together, and no shorter than its two flat parts.
/// The second fails when legs were measured inside.
void check_bend_test(const Node& node, const BendTest& test) {
  const double legs_mm = (test.legs[0] + test.legs[1]).mm();
  const double setback_mm = (test.inside_radius + test.thickness).mm() * std::tan(test.angle_deg * std::numbers::pi / 360);
  const bool legs_hold = test.legs[0].mm() > setback_mm && test.legs[1].mm() > setback_mm;
  if (legs_hold && test.flat.mm() < legs_mm && test.flat.mm() > legs_mm - 2 * setback_mm) return;
  node.log->add("E118", below(node.pointer, "flat_mm"), "values contradict each other",
                fmt::format("flat {} mm, outside legs {} and {} mm", in_mm(test.flat), in_mm(test.legs[0]), in_mm(test.legs[1])),
                fmt::format("each leg above {:.1f} mm, flat between {:.1f} and {:.1f} mm", setback_mm,
                            std::max(0.0, legs_mm - 2 * setback_mm), legs_mm),
                "legs are measured outside, to the corner where the two outer faces would meet");
}

std::optional<BendTest> read_bend_test(const Node& node) {
  const auto fields = Fields::of(node, "bend_test");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  BendTest test;
  set_needed(*fields, "material", test.material, read_name);
  set_needed(*fields, "thickness_mm", test.thickness, read_size);
  set_needed(*fields, "inside_radius_mm", test.inside_radius, read_size);
  set(*fields, "angle_deg", test.angle_deg, [](const Node& n) { return read_number(n, {10, 150}, "degrees"); });
  set_needed(*fields, "legs_mm", test.legs, read_legs);
  set_needed(*fields, "flat_mm", test.flat, read_size);
  if (node.log->size() == before) check_bend_test(node, test);
  return test;
}

void read_bending(const Fields& fields, Rules& rules) {
  static constexpr Word<Build> builds[] = {{"simplest", Build::simplest}, {"welded panels", Build::welded_panels}};
  static constexpr Word<CutFiles> files[] = {{"marked", CutFiles::marked}, {"cut only", CutFiles::cut_only}};
  set(fields, "build", rules.build, [](const Node& n) { return read_choice(n, builds); });
  set(fields, "fuse_hatch", rules.fuse_hatch, read_yes_no);
  set(fields, "cut_files", rules.cut_files, [](const Node& n) { return read_choice(n, files); });
  set(fields, "bend_radius_mm", rules.bend_radius, read_size);
  set(fields, "leg_min_mm", rules.leg_min, read_size);
  set(fields, "bend_tests", rules.bend_tests, [](const Node& n) -> std::optional<std::vector<BendTest>> {
    const auto nodes = read_list(n, 0, longest_list, "bend tests");
    return nodes ? read_each<BendTest>(*nodes, read_bend_test) : std::nullopt;
  });
}

// ---- the shop's numbers ----------------------------------------------------

std::optional<BlockCells> read_block_cells(const Node& node) {
  constexpr int no_limit = 1'000'000;
  const auto fields = Fields::of(node, "block_cells");
  if (!fields) return {};
  const auto read_count = [](const Node& n) { return read_whole(n, 1, no_limit); };
  const auto read_most = [&](const Node& n) {
    return n.json->is_null() ? std::optional(no_limit) : read_count(n);
  };
  const std::size_t before = node.log->size();
  BlockCells cells;
  set(*fields, "min", cells.min, read_count);
  set(*fields, "max", cells.max, read_most);
  if (node.log->size() == before) check_order(node, "min", cells.min, "max", cells.max, "");
  return cells;
}

std::optional<SafetyFactor> read_safety_factor(const Node& node) {
  const auto fields = Fields::of(node, "safety_factor");
  if (!fields) return {};
  const auto read_factor = [](const Node& n) { return read_number(n, {1, 20}); };
  SafetyFactor factor;
  set(*fields, "yield", factor.yield, read_factor);
  set(*fields, "ultimate", factor.ultimate, read_factor);
  return factor;
}

void read_lengths(const Fields& fields, Rules& rules) {
  const std::pair<std::string_view, Length*> lengths[] = {
      {"body_clearance_mm", &rules.body_clearance},
      {"lid_clearance_mm", &rules.lid_clearance},
      {"wall_mm", &rules.wall},
      {"floor_mm", &rules.floor},
      {"lid_mm", &rules.lid},
      {"liner_mm", &rules.liner},
      {"corner_relief_mm", &rules.corner_relief},
      {"between_cells_mm", &rules.between_cells},
      {"end_plate_mm", &rules.end_plate},
      {"strap_space_mm", &rules.strap_space},
      {"between_blocks_mm", &rules.between_blocks},
      {"between_tiers_mm", &rules.between_tiers},
      {"headroom_mm", &rules.headroom},
      {"pan_depth_max_mm", &rules.pan_depth_max},
      {"bracket_reach_mm", &rules.bracket_reach},
      {"car_scatter_mm", &rules.car_scatter},
      {"flange_mm", &rules.flange}};
  for (const auto& [key, target] : lengths) set(fields, key, *target, read_size_or_zero);
}

void read_choices(const Fields& fields, Rules& rules) {
  static constexpr Word<BoxOutline> outlines[] = {{"rectangle", BoxOutline::rectangle},
                                                  {"stepped", BoxOutline::stepped},
                                                  {"any", BoxOutline::any},
                                                  {"loose", BoxOutline::loose}};
  static constexpr Word<Arrangement> arrangements[] = {{"rows", Arrangement::rows},
                                                       {"mixed", Arrangement::mixed}};
  static constexpr Word<Heading> headings[] = {{"square", Heading::square},
                                               {"free", Heading::free}};
  set(fields, "box_outline", rules.box_outline,
      [](const Node& n) { return read_choice(n, outlines); });
  set(fields, "arrangement", rules.arrangement,
      [](const Node& n) { return read_choice(n, arrangements); });
  set(fields, "heading", rules.heading, [](const Node& n) { return read_choice(n, headings); });
}

void read_counts_and_limits(const Fields& fields, Rules& rules) {
  set(fields, "block_cells", rules.block_cells, read_block_cells);
  set(fields, "boxes_per_cavity", rules.boxes_per_cavity,
      [](const Node& n) { return read_whole(n, 1, 20); });
  set(fields, "tiers", rules.tiers, [](const Node& n) { return read_whole(n, 1, 3); });
  set(fields, "lift_limit_kg", rules.lift_limit,
      [](const Node& n) { return read_as<Kg>(n, Kind::mass, above_zero(10'000)); });
  set(fields, "open_link_max_v", rules.open_link_max,
      [](const Node& n) { return read_as<Volt>(n, Kind::voltage, above_zero(2000)); });
  set(fields, "safety_factor", rules.safety_factor, read_safety_factor);
}

}  // namespace

std::optional<Rules> read_rules(const std::optional<Node>& node, const Node& job,
                                const AllowedFolders& allowed, const Catalogue& catalogue) {
  Rules rules;
  const auto fields = node ? Fields::of(*node, "rules") : std::nullopt;
  if (fields) {
    read_lengths(*fields, rules);
    read_choices(*fields, rules);
    read_counts_and_limits(*fields, rules);
    read_bending(*fields, rules);
  }
  read_materials(fields ? fields->find("materials") : std::nullopt, job, allowed, catalogue,
                 rules.materials);
  read_load_cases(fields, job, catalogue, rules.load_cases);
  return rules;
}

}  // namespace cellstow::survey
