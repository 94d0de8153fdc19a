#include "based_on.hpp"
#include "named_file.hpp"
#include "read_parts.hpp"
#include "read_tape.hpp"

namespace cellstow::survey {
namespace {

std::optional<TapeSection> read_one(const Node& node, std::optional<Axis> across) {
  const auto fields = Fields::of(node, "section");
  if (!fields) return {};
  const auto at = fields->find("tape");
  if (!at) return {};
  core::Length station;
  set_needed(*fields, "station_mm", station, read_coordinate);
  auto tape = read_tape(*at, across);
  if (tape) tape->station = station;
  return tape;
}

void read_cavity_tapes(const Node& node, std::vector<TapeSection>& out) {
  const auto fields = Fields::of(node, "cavity");
  if (!fields) return;
  std::string name;
  set_needed(*fields, "name", name, read_name);
  const auto at = fields->find("sections");
  const auto sections = at ? Fields::of(*at, "sections") : std::nullopt;
  if (!sections) return;
  std::optional<Axis> across;
  set_needed(*sections, "across", across, [](const Node& n) { return read_choice(n, axis_words); });
  const auto list = sections->find("at");
  const auto nodes = list ? read_list(*list, 0, 500, "sections") : std::nullopt;
  if (!nodes) return;
  for (const Node& one : *nodes) {
    auto tape = read_one(one, across);
    if (!tape) continue;
    tape->cavity = name;
    work_out_so_far(*tape);
    out.push_back(std::move(*tape));
  }
}

void read_tapes(const Node& node, std::vector<TapeSection>& out) {
  if (!check_format(node, "cellstow-job/1")) return;
  const auto fields = Fields::of(node, "job");
  const auto at = fields ? fields->need("cavities") : std::nullopt;
  const auto cavities = at ? read_list(*at, 1, longest_list, "cavities") : std::nullopt;
  if (!cavities) return;
  check_names(*cavities);
  const std::size_t before = node.log->size();
  for (const Node& cavity : *cavities) read_cavity_tapes(cavity, out);
  if (out.empty() && node.log->size() == before)
    node.log->add("E104", at->pointer, "key missing", "no section with a \"tape\"",
                  "a section with \"tape\": datums, points and from which datums to measure them");
}

core::Result<std::vector<TapeSection>> sections_of(const std::optional<Json>& job, ProblemLog& log) {
  std::vector<TapeSection> sections;
  if (job) read_tapes({&*job, "", &log}, sections);
  if (!log.empty()) return tl::unexpected(log.in_file_order());
  return sections;
}

}  // namespace

core::Result<std::vector<TapeSection>> read_tape_sections_text(std::string_view text, const std::string& name) {
  ProblemLog log(name);
  return sections_of(parse_strict(text, log), log);
}

core::Result<std::vector<TapeSection>> read_tape_sections(const std::filesystem::path& job_file, const std::vector<std::filesystem::path>& roots,
                                                          const std::filesystem::path& shapes) {
  const core::Result<std::string> text = read_whole_file(job_file);
  if (!text) return tl::unexpected(text.error());
  const std::filesystem::path folder = job_file.parent_path();
  ProblemLog log(job_file.generic_string(), folder);
  const std::optional<Json> json = parse_strict(*text, log);
  return sections_of(json ? with_its_base(*json, log, allowed_folders(folder, roots, shapes)) : std::nullopt, log);
}

}  // namespace cellstow::survey
