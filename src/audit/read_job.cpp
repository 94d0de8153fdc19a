#include "read_plan.hpp"

namespace cellstow::audit {
namespace {

constexpr Tick mm(Tick whole_mm) { return whole_mm * ticks_per_mm; }

constexpr std::pair<const char*, Stance> stances[] = {
    {"upright", Stance::upright}, {"on_edge", Stance::on_edge}, {"flat", Stance::flat}};
constexpr std::pair<const char*, OutlineKind> outline_kinds[] = {
    {"stepped", OutlineKind::stepped}, {"rectangle", OutlineKind::rectangle},
    {"any", OutlineKind::any}, {"loose", OutlineKind::loose}};
constexpr std::pair<const char*, Arrangement> arrangements[] = {{"mixed", Arrangement::mixed},
                                                                {"rows", Arrangement::rows}};
constexpr std::pair<const char*, HeadingRule> headings[] = {{"square", HeadingRule::square},
                                                            {"free", HeadingRule::free}};
constexpr std::pair<const char*, Between> readings[] = {{"common", Between::common},
                                                        {"straight", Between::straight}};
constexpr std::pair<const char*, int> axes[] = {{"x", 0}, {"y", 1}, {"z", 2}};
constexpr std::pair<const char*, FittingPlace> places[] = {
    {"beside", FittingPlace::beside}, {"above", FittingPlace::above}, {"wall", FittingPlace::wall}};

Tick size_of(const At& object, const char* key) {
  const auto at = object.need(key);
  return at ? at->size() : 0;
}

Tick size_or(const At& object, const char* key, Tick fallback) {
  const auto at = object.find(key);
  return at ? at->size() : fallback;
}

int whole_or(const At& object, const char* key, int least, int fallback) {
  const auto at = object.find(key);
  return at ? at->whole(least) : fallback;
}

std::string name_of(const At& object) {
  const auto at = object.need("name");
  return at ? at->text() : std::string();
}

Spot3 read_spot3(const At& list) {
  Spot3 out{};
  const std::vector<At> items = list.items(3);
  for (std::size_t i = 0; i < items.size(); ++i) out[i] = items[i].length();
  return out;
}

CellType read_cell(const At& cell) {
  CellType out;
  out.thickness = size_of(cell, "thickness_mm");
  out.width = size_of(cell, "width_mm");
  out.height = size_of(cell, "height_mm");
  out.terminal_top = size_or(cell, "terminal_top_mm", out.height);
  if (const auto list = cell.find("stances")) {
    for (const At& item : list->items()) out.stances.push_back(item.word(stances));
  } else {
    out.stances = {Stance::upright};
  }
  return out;
}

void read_lengths(const At& rules, Rules& out) {
  out.body_clearance = size_or(rules, "body_clearance_mm", mm(10));
  out.lid_clearance = size_or(rules, "lid_clearance_mm", mm(10));
  out.flange = size_or(rules, "flange_mm", 0);
  out.wall = size_or(rules, "wall_mm", mm(3));
  out.floor = size_or(rules, "floor_mm", mm(3));
  out.lid = size_or(rules, "lid_mm", mm(2));
  out.liner = size_or(rules, "liner_mm", mm(3));
  out.corner_relief = size_or(rules, "corner_relief_mm", 0);
  out.between_cells = size_or(rules, "between_cells_mm", 0);
  out.end_plate = size_or(rules, "end_plate_mm", mm(10));
  out.strap_space = size_or(rules, "strap_space_mm", mm(6));
  out.between_blocks = size_or(rules, "between_blocks_mm", mm(5));
  out.between_tiers = size_or(rules, "between_tiers_mm", mm(20));
  out.headroom = size_or(rules, "headroom_mm", mm(15));
}

void read_words(const At& rules, Rules& out) {
  if (const auto at = rules.find("box_outline")) out.outline = at->word(outline_kinds);
  if (const auto at = rules.find("arrangement")) out.arrangement = at->word(arrangements);
  if (const auto at = rules.find("heading")) out.heading = at->word(headings);
  out.boxes_per_cavity = whole_or(rules, "boxes_per_cavity", 1, 1);
  out.tiers = whole_or(rules, "tiers", 1, 1);
}

void read_block_cells(const At& rules, Rules& out) {
  out.block_max = 12;
  const auto limits = rules.find("block_cells");
  if (!limits) return;
  out.block_min = whole_or(*limits, "min", 1, 1);
  // A maximum of null means no upper limit; one left out means the default.
  if (const auto at = limits->find("max")) out.block_max = at->whole(1);
  else if (limits->json().is_object() && limits->json().contains("max")) out.block_max.reset();
}

Rules read_rules(const std::optional<At>& rules) {
  Rules out;
  const Json none = Json::object();
  const std::string no_file;
  core::Problems unused;
  const At at = rules ? *rules : At(none, "", no_file, unused);
  read_lengths(at, out);
  read_words(at, out);
  read_block_cells(at, out);
  // Without a box there is no sheet to keep away from.
  if (out.outline == OutlineKind::loose) out.flange = out.wall = out.floor = out.lid = out.liner = out.corner_relief = 0;
  return out;
}

Section read_section(const At& section) {
  Section out;
  if (const auto at = section.need("station_mm")) out.station = at->length();
  if (const auto at = section.need("outline_mm")) out.outline = read_ring(*at, 3);
  if (const auto at = section.find("holes_mm")) {
    for (const At& hole : at->items()) out.holes.push_back(read_ring(hole, 3));
  }
  return out;
}

void read_sections(const At& sections, CavityJob& out) {
  if (const auto at = sections.need("across")) out.across = at->word(axes);
  if (const auto at = sections.find("between")) out.between = at->word(readings);
  const auto list = sections.need("at");
  if (!list) return;
  const std::vector<At> items = list->items();
  if (list->json().is_array() && items.size() < 2) {
    list->problem("E208", "fewer than 2 sections", "two sections or more");
  }
  for (const At& item : items) {
    out.sections.push_back(read_section(item));
    const std::size_t n = out.sections.size();
    if (n > 1 && out.sections[n - 2].station >= out.sections[n - 1].station) {
      item.problem("E207", "station given twice, or out of order", "a station_mm above the one before");
    }
    if (n > 1 && out.between == Between::straight &&
        out.sections[n - 2].outline.size() != out.sections[n - 1].outline.size()) {
      item.problem("E209", "outlines do not match corner by corner",
                   "as many corners as the section before, for walls read straight");
    }
  }
}

void read_cylinder(const At& shape, KeepOut& out) {
  out.kind = KeepOut::Kind::cylinder;
  if (const auto at = shape.need("from")) out.from = read_spot3(*at);
  if (const auto at = shape.need("to")) out.to = read_spot3(*at);
  out.diameter = size_of(shape, "diameter");
  if (out.from == out.to) shape.problem("E212", "cylinder without length", "two different ends");
}

void read_prism(const At& shape, KeepOut& out) {
  out.kind = KeepOut::Kind::prism;
  if (const auto at = shape.need("outline")) out.outline = read_ring(*at, 3);
  const auto z = shape.need("z");
  const std::vector<At> ends = z ? z->items(2) : std::vector<At>();
  if (ends.size() == 2) out.height = {ends[0].length(), ends[1].length()};
}

KeepOut read_keep_out(const At& keep_out) {
  KeepOut out;
  if (const auto at = keep_out.find("name")) out.name = at->text();
  if (const auto at = keep_out.find("clearance_mm")) out.clearance = at->size();
  if (const auto box = keep_out.find("box_mm")) {
    const std::vector<At> corners = box->items(2);
    if (corners.size() == 2) out.from = read_spot3(corners[0]), out.to = read_spot3(corners[1]);
    for (int axis = 0; axis < 3; ++axis) {
      if (out.from[axis] > out.to[axis]) std::swap(out.from[axis], out.to[axis]);
    }
  } else if (const auto cylinder = keep_out.find("cylinder_mm")) {
    read_cylinder(*cylinder, out);
  } else if (const auto prism = keep_out.find("prism_mm")) {
    read_prism(*prism, out);
  } else if (keep_out.json().is_object()) {
    keep_out.problem("E104", "key missing", "box_mm, cylinder_mm or prism_mm");
  }
  return out;
}

FittingWish read_fitting(const At& fitting) {
  FittingWish out;
  out.name = name_of(fitting);
  if (const auto at = fitting.need("size_mm")) out.size = read_spot3(*at);
  out.count = whole_or(fitting, "count", 0, 1);
  if (const auto at = fitting.find("place")) out.place = at->word(places);
  return out;
}

std::optional<CellsWanted> read_wanted(const At& cavity) {
  const auto at = cavity.find("cells_wanted");
  if (!at) return std::nullopt;
  if (at->json().is_object()) {
    return CellsWanted{whole_or(*at, "min", 0, 0), whole_or(*at, "max", 0, 1'000'000'000)};
  }
  if (!at->json().is_array()) {
    const int count = at->whole(0);
    return CellsWanted{count, count};
  }
  const std::vector<At> ends = at->items(2);
  if (ends.size() != 2) return std::nullopt;
  return CellsWanted{ends[0].whole(0), ends[1].whole(0)};
}

CavityJob read_cavity(const At& cavity) {
  CavityJob out;
  out.name = name_of(cavity);
  if (const auto at = cavity.need("sections")) read_sections(*at, out);
  if (const auto at = cavity.find("keep_outs")) {
    for (const At& item : at->items()) out.keep_outs.push_back(read_keep_out(item));
  }
  if (const auto at = cavity.find("fittings")) {
    for (const At& item : at->items()) out.fittings.push_back(read_fitting(item));
  }
  out.wanted = read_wanted(cavity);
  return out;
}

void read_string(const At& string, Plan& plan) {
  plan.has_string = true;
  plan.wanted_parallel = whole_or(string, "parallel", 1, 1);
  const auto series = string.find("series");
  if (series && !series->json().is_string()) plan.wanted_series = series->whole(1);
}

}  // namespace

Ring read_ring(const At& list, std::size_t least) {
  Ring out;
  for (const At& corner : list.items()) {
    const std::vector<At> pair = corner.items(2);
    if (pair.size() == 2) out.push_back({pair[0].length(), pair[1].length()});
  }
  if (list.json().is_array() && list.json().size() < least) {
    list.problem("E201", "outline with fewer than 3 vertices", "3 corners or more");
  }
  return out;
}

void read_job(const At& job, Plan& plan) {
  if (const auto at = job.need("cell")) plan.cell = read_cell(*at);
  plan.rules = read_rules(job.find("rules"));
  if (const auto at = job.need("cavities")) {
    for (const At& item : at->items()) plan.job_cavities.push_back(read_cavity(item));
  }
  if (const auto at = job.find("string")) read_string(*at, plan);
  if (const auto car = job.find("car")) {
    if (const auto at = car->find("wheelbase_mm")) plan.wheelbase_mm = at->number();
  }
}

}  // namespace cellstow::audit
