#include "entries.hpp"

#include <set>
#include <stdexcept>
#include <string>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "dxf_drawing.hpp"
#include "given_outline.hpp"
#include "survey/tables.hpp"

namespace cellstow::fuzz {
namespace {

void promise(bool kept, const char* what) {
  if (!kept) throw std::logic_error(what);
}

/// What survey/job.hpp promises of every section.
void check_outline(const survey::GivenOutline& given) {
  promise(given.outline.size() >= 3, "outline of 3 corners or more");
  promise(survey::twice_area_um2(given.outline) != 0, "outline with area");
  promise(survey::self_meetings(given.outline).empty(), "outline that does not cross itself");
  promise(given.measured.corners.empty() || given.measured.corners.size() == given.outline.size(), "one entry a corner");
  for (const survey::Ring& hole : given.holes) {
    promise(hole.size() >= 3 && survey::self_meetings(hole).empty(), "simple hole");
    promise(!survey::meeting_of(hole, given.outline) && survey::encloses(given.outline, hole[0]), "hole inside its outline");
  }
}

void check_told(const core::Problems& problems) {
  promise(!problems.empty(), "a refusal says why");
  promise(!core::to_text(problems).empty(), "problems can be printed");
}

void check(const core::Result<survey::GivenOutline>& given) {
  if (given)
    check_outline(*given);
  else
    check_told(given.error());
}

core::Result<survey::Job> read(std::string_view text) {
  static const survey::Catalogue tables = survey::testing::small_tables();
  const std::filesystem::path nowhere = "/nonexistent/cellstow";
  return survey::read_job_text(text, "job.json", nowhere, {}, nowhere, tables);
}

}  // namespace

void job(std::string_view bytes) {
  const auto read_once = read(bytes);
  if (!read_once) return check_told(read_once.error());
  const std::string written = report::job_to_json(*read_once).dump();
  const auto read_again = read(written);
  promise(read_again.has_value(), "a written job is a job");
  promise(report::job_to_json(*read_again).dump() == written, "a written job comes back the same");
}

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

void list(std::string_view bytes) {
  for (const core::Axis across : {core::Axis::x, core::Axis::y, core::Axis::z}) {
    check(survey::outline_from_csv(bytes, "list.csv", {across, {}, {}, {}}));
    check(survey::outline_from_csv(bytes, "list.csv", {across, "330", "mm", core::Length::from_um(3'000)}));
  }
}

}  // namespace cellstow::fuzz
