#include <fmt/format.h>

#include <algorithm>

#include "cellstow/measuring/scan_slice.hpp"
#include "read_parts.hpp"
#include "scan_file.hpp"
#include "scan_words.hpp"

namespace cellstow::survey {
namespace {

namespace scan = measuring::scan;

constexpr std::uintmax_t largest_scan_mb = 512;

struct ScanUnit { std::string_view word; double mm; };
constexpr Word<ScanUnit> scan_units[] = {
    {"mm", {"mm", 1}}, {"cm", {"cm", 10}}, {"m", {"m", 1000}}, {"in", {"in", 25.4}}, {"ft", {"ft", 304.8}}};

struct Station { Length at; Node node; };

/// The keys of "from_scan", with their defaults.
struct ScanRules {
  ScanUnit unit{"mm", 1};
  std::vector<scan::KnownPoint> known;         ///< in_scan in the scan's own unit until read
  double fit_max_mm = 5;
  std::vector<Station> stations;               ///< rising
  std::vector<Point3> inside;
  int corners_max = 12;
  std::optional<Length> loss_max;
  Length close = Length::from_um(10'000), dirt;
  Length scan_error = Length::from_um(5'000);
  std::optional<Length> spike;                 ///< else scan_error

  Length spikes() const { return spike.value_or(scan_error); }
};

// ---- keys ------------------------------------------------------------------

std::optional<std::array<double, 3>> read_in_scan(const Node& node) {
  const auto list = read_list(node, 3, 3, "coordinates in the scan's axes and unit");
  if (!list) return {};
  const auto values = read_each<double>(*list, [](const Node& n) { return read_number(n, {-1e6, 1e6}); });
  if (!values) return {};
  return std::array{(*values)[0], (*values)[1], (*values)[2]};
}

std::optional<scan::KnownPoint> read_known(const Node& node) {
  const auto fields = Fields::of(node, "scan_known_reference");
  if (!fields) return {};
  scan::KnownPoint known;
  Point3 at;
  set_needed(*fields, "name", known.name, read_name);
  set_needed(*fields, "in_scan", known.in_scan_mm, read_in_scan);
  set_needed(*fields, "at_mm", at, read_point3);
  known.in_car_mm = {at.x.mm(), at.y.mm(), at.z.mm()};
  return known;
}

std::optional<std::vector<Station>> read_scan_stations(const Node& node) {
  const auto nodes = read_list(node, 0, 500, "stations");
  if (!nodes) return {};
  if (nodes->size() < 2)
    node.log->add("E208", node.pointer, "fewer than 2 sections", std::to_string(nodes->size()),
                  "2 or more stations; outside the first and last nothing is free");
  auto stations = read_each<Station>(*nodes, [](const Node& n) -> std::optional<Station> {
    const auto at = read_coordinate(n);
    return at ? std::optional(Station{*at, n}) : std::nullopt;
  });
  if (!stations) return {};
  std::stable_sort(stations->begin(), stations->end(), [](const Station& a, const Station& b) { return a.at < b.at; });
  for (std::size_t i = 1; i < stations->size(); ++i)
    if ((*stations)[i].at == (*stations)[i - 1].at)
      (*stations)[i].node.problem("E207", "station given twice", "each station once");
  return stations;
}

std::optional<std::vector<Point3>> read_inside(const Node& node) {
  const auto nodes = read_list(node, 1, 500, "points [x, y, z]");
  return nodes ? read_each<Point3>(*nodes, read_point3) : std::nullopt;
}

std::optional<ScanRules> read_scan_rules(const Fields& fields) {
  const std::size_t before = fields.node().log->size();
  ScanRules rules;
  set_needed(fields, "unit", rules.unit, [](const Node& n) { return read_choice(n, scan_units); });
  set_needed(fields, "known", rules.known,
             [](const Node& n) { return read_named<scan::KnownPoint>(n, 3, "known points", read_known); });
  set(fields, "fit_max_mm", rules.fit_max_mm, [](const Node& n) { return read_quantity(n, Kind::length, {0.1, 100}); });
  set_needed(fields, "stations_mm", rules.stations, read_scan_stations);
  set_needed(fields, "inside_mm", rules.inside, read_inside);
  set(fields, "corners_max", rules.corners_max, [](const Node& n) { return read_whole(n, 4, 200); });
  set(fields, "loss_max_mm", rules.loss_max, read_size);
  set(fields, "close_mm", rules.close, read_size_or_zero);
  set(fields, "dirt_mm", rules.dirt, read_size_or_zero);
  set(fields, "spike_mm", rules.spike, read_size_or_zero);
  set(fields, "scan_error_mm", rules.scan_error, read_size_or_zero);
  for (scan::KnownPoint& known : rules.known)
    for (double& coordinate : known.in_scan_mm) coordinate *= rules.unit.mm;
  return fields.node().log->size() == before ? std::optional(std::move(rules)) : std::nullopt;
}

// ---- one section -------------------------------------------------------------

Length along(const Point3& point, Axis axis) {
  return axis == Axis::x ? point.x : axis == Axis::y ? point.y : point.z;
}

/// The inside point nearest to the station, seen along the axis; the first of equals.
scan::PointUm inside_at(const std::vector<Point3>& inside, Axis across, Length station) {
  const auto off = [&](const Point3& p) { return std::abs((along(p, across) - station).um()); };
  const Point3& at = *std::min_element(inside.begin(), inside.end(),
                                       [&](const Point3& a, const Point3& b) { return off(a) < off(b); });
  return {(across == Axis::x ? at.y : at.x).um(), (across == Axis::z ? at.y : at.z).um()};
}

std::vector<Point2> in_points(const scan::Loop& loop) {
  std::vector<Point2> points;
  for (const scan::PointUm corner : loop) points.push_back({Length::from_um(corner.s), Length::from_um(corner.t)});
  return points;
}

void log_problem(const Node& node, const ScanProblem& problem) {
  node.log->add(problem.id, node.pointer, problem.title, problem.found, problem.expected, problem.hint);
}

bool keeps(const scan::Inward& inward, std::size_t corners_max, const ScanRules& rules) {
  return inward.outline.size() <= corners_max &&
         (!rules.loss_max || inward.deepest_um <= static_cast<double>(rules.loss_max->um()));
}

/// How many corners would keep to the loss allowed, roughly; what is wrong when none would.
ScanProblem too_much_lost(const scan::FreeSpace& space, const scan::Inward& inward, const ScanRules& rules, Length station) {
  std::string hint = "allow more loss, or cut one more section nearby";
  for (std::size_t corners = static_cast<std::size_t>(rules.corners_max) * 5 / 4 + 1; corners <= 200; corners = corners * 5 / 4)
    if (keeps(scan::simplify_inward(space, {corners, rules.spikes().um()}), corners, rules)) {
      hint = fmt::format("with \"corners_max\": {} it can be kept", corners);
      break;
    }
  if (inward.outline.size() > static_cast<std::size_t>(rules.corners_max))
    return {"E248", "too few corners for a section",
            fmt::format("station {} mm: {} corners are needed", in_mm(station), inward.outline.size()),
            fmt::format("at most {} corners (\"corners_max\")", rules.corners_max), hint};
  return {"E248", "too few corners for a section",
          fmt::format("station {} mm: {} corners leave out a place {:.1f} mm deep at {} mm", in_mm(station), inward.outline.size(),
                      inward.deepest_um / 1000, place_in_words(inward.deepest_at)),
          fmt::format("at most {} mm (\"loss_max_mm\")", in_mm(*rules.loss_max)), hint};
}

/// Nothing of the scan in what is called free: asked anew of the corners that leave here.
bool is_clear_of_scan(const scan::FreeSpace& space, const scan::Inward& inward) {
  std::vector<scan::WallPiece> walls;
  const auto append = [&](const scan::Loop& loop) {
    for (std::size_t i = 0; i < loop.size(); ++i) walls.push_back({loop[i], loop[(i + 1) % loop.size()]});
  };
  append(space.outline);
  for (const scan::Loop& hole : space.holes) append(hole);
  return scan::is_clear(inward.outline, inward.holes, walls);
}

Section section_of(const scan::FreeSpace& space, const scan::Inward& inward, const ScanRules& rules, const scan::Slice& slice) {
  Section section;
  section.station = Length::from_um(slice.station_um);
  section.outline = in_points(inward.outline);
  for (const scan::Loop& hole : inward.holes) section.holes.push_back(in_points(hole));
  Measured measured;
  measured.by = MeasuredBy::scan;
  measured.corners.assign(section.outline.size(), MeasuredCorner{"", rules.scan_error});
  measured.remarks = scan_remarks(space, inward, rules.spikes().mm(), rules.dirt.mm());
  if (slice.meets_level_face)
    measured.remarks.push_back("A level face of the scan lies at this very station: the section is the one just before it");
  section.measured = std::move(measured);
  return section;
}

std::optional<Section> cut_section(const scan::Slice& slice, const Station& station, const ScanRules& rules, Axis across,
                                   bool may_be_mirrored) {
  const scan::PointUm inside = inside_at(rules.inside, across, station.at);
  const auto space = scan::free_space(slice.pieces, inside, {rules.close.um(), rules.dirt.um()});
  if (!space) {
    log_problem(station.node, in_words(space.error(), station.at, inside, rules.close, may_be_mirrored));
    return {};
  }
  const auto corners = static_cast<std::size_t>(rules.corners_max);
  const scan::Inward inward = scan::simplify_inward(*space, {corners, rules.spikes().um()});
  if (!keeps(inward, corners, rules)) {
    log_problem(station.node, too_much_lost(*space, inward, rules, station.at));
    return {};
  }
  if (!is_clear_of_scan(*space, inward)) {
    log_problem(station.node, in_words(scan::FreeFault{scan::FreeTrouble::tangled, {}, 0}, station.at, inside, rules.close, false));
    return {};
  }
  return section_of(*space, inward, rules, slice);
}

// ---- the whole scan ----------------------------------------------------------

struct Placed { scan::PlacedScan scan; scan::Placing placing; };

std::optional<Placed> read_and_place(const Fields& fields, const ScanRules& rules, const AllowedFolders& allowed) {
  const auto known = fields.find("known"), file = fields.find("file");
  const auto placing = scan::place(rules.known, rules.fit_max_mm);
  if (!placing) log_problem(*known, in_words(placing.error(), rules.known, rules.fit_max_mm, rules.unit.word));
  const auto named = read_named_text(*file, allowed, largest_scan_mb);
  if (!named) return {};
  const ScanFile read = read_scan_file(named->text, named->path.generic_string());
  if (!read)
    log_problem(*file, {"E240", read.error().title, fmt::format("{}: {}", named->path.generic_string(), read.error().found), read.error().expected, read.error().hint});
  if (!read || !placing) return {};
  auto placed = scan::placed(*read, *placing, rules.unit.mm);
  if (placed) return Placed{std::move(*placed), *placing};
  log_problem(*file, {"E249", "no wall to be made of the scan", "a point of the scan lies farther than 100 m from the front axle",
                      "nothing but the cavity and what is round it", "cut away in the scanner's program what is not the car"});
  return {};
}

std::optional<std::vector<Section>> cut_sections(const Placed& placed, const ScanRules& rules, const Sections& sections) {
  std::vector<geometry::Um> stations;
  for (const Station& station : rules.stations) stations.push_back(station.at.um());
  const std::vector<scan::Slice> slices = scan::slice(placed.scan, sections.across, stations);
  std::vector<Section> cut;
  for (std::size_t i = 0; i < slices.size(); ++i)
    if (auto section = cut_section(slices[i], rules.stations[i], rules, sections.across, placed.placing.in_one_plane))
      cut.push_back(std::move(*section));
  if (cut.size() != slices.size()) return {};
  const auto more = placing_remarks(placed.placing, rules.known);
  cut.front().measured->remarks.insert(cut.front().measured->remarks.end(), more.begin(), more.end());
  return cut;
}

}  // namespace

std::optional<std::vector<Section>> read_scan_sections(const Node& node, const Sections& sections, const AllowedFolders& allowed) {
  const auto fields = Fields::of(node, "from_scan_reference");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  fields->need("file");
  if (sections.between == Between::straight)
    node.log->add("E112", node.pointer, "keys that exclude each other", "\"from_scan\", \"between\": \"straight\"",
                  "\"between\": \"common\" with a scan", "corners of scanned sections do not match one another; stations closer together lose less");
  const auto rules = read_scan_rules(*fields);
  if (!rules || node.log->size() != before) return {};
  const auto placed = read_and_place(*fields, *rules, allowed);
  return placed ? cut_sections(*placed, *rules, sections) : std::nullopt;
}

}  // namespace cellstow::survey
