#include "cellstow/survey/read_job.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "based_on.hpp"
#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

namespace fs = std::filesystem;

/// Goes into file names and onto parts, so no more than letters and figures.
std::optional<std::string> read_revision(const Node& node) {
  constexpr std::size_t longest = 8;
  const std::optional<std::string> text = read_text(node);
  if (!text) return {};
  const bool plain = std::all_of(text->begin(), text->end(), [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
  });
  if (plain && !text->empty() && text->size() <= longest) return text;
  node.problem("E116", "name cannot be printed", fmt::format("1 to {} letters A to Z or figures", longest));
  return {};
}

std::optional<Stock> read_stock(const Node& node) {
  const auto fields = Fields::of(node, "stock");
  if (!fields) return {};
  Stock stock;
  set(*fields, "sheet_length_mm", stock.sheet_length, read_size);
  set(*fields, "sheet_width_mm", stock.sheet_width, read_size);
  set(*fields, "sheet_margin_mm", stock.sheet_margin, read_size_or_zero);
  set(*fields, "part_gap_mm", stock.part_gap, read_size_or_zero);
  set(*fields, "bar_mm", stock.bar, read_size);
  set(*fields, "saw_kerf_mm", stock.saw_kerf, read_size_or_zero);
  return stock;
}

void read_parts(const Fields& fields, const AllowedFolders& allowed, const Catalogue& catalogue,
                Job& job) {
  if (const auto schema = fields.find("$schema"))
    read_text(*schema);  // for editors; nothing here reads it
  set(fields, "title", job.title, read_text);
  set(fields, "revision", job.revision, read_revision);
  set(fields, "car", job.car, read_car);
  set_needed(fields, "cell", job.cell, read_cell, allowed, catalogue);
  set(fields, "string", job.string, read_string);
  set(fields, "drawings", job.drawings, read_drawings);
  if (auto rules = read_rules(fields.find("rules"), fields.node(), allowed, catalogue))
    job.rules = *rules;
  set(fields, "stock", job.stock, read_stock);
  set_needed(fields, "cavities", job.cavities, read_cavities, allowed, catalogue);
}

Job read_tree(const Node& node, const AllowedFolders& allowed, const Catalogue& catalogue) {
  Job job;
  if (!check_format(node, "cellstow-job/1")) return job;
  if (const auto fields = Fields::of(node, "job")) read_parts(*fields, allowed, catalogue, job);
  return job;
}

}  // namespace

bool check_format(const Node& node, std::string_view expected) {
  if (!node.json->is_object()) return true;  // Fields::of says so
  const std::string quoted = shown(Json(expected));
  const auto format = node.json->find("format");
  if (format == node.json->end()) {
    node.log->add("E104", node.pointer, "key missing", "no \"format\"", "\"format\": " + quoted);
    return true;
  }
  if (*format == expected) return true;
  node.log->add("E114", below(node.pointer, "format"), "format not known", shown(*format), quoted,
                *format == "cellstow-plan/1"
                    ? "this is a plan; the job it was made from stands under its key \"job\""
                    : "");
  return false;
}

core::Result<Job> read_job_text(std::string_view text, const std::string& name,
                                const fs::path& folder, const std::vector<fs::path>& roots,
                                const fs::path& shapes, const Catalogue& catalogue) {
  ProblemLog log(name, folder);
  const AllowedFolders allowed = allowed_folders(folder, roots, shapes);
  Job job;
  if (const std::optional<Json> json = parse_strict(text, log))
    if (const std::optional<Json> whole = with_its_base(*json, log, allowed))
      job = read_tree({&*whole, "", &log}, allowed, catalogue);
  if (!log.empty()) return tl::unexpected(log.in_file_order());
  return job;
}

core::Result<Job> read_job(const fs::path& job_file, const std::vector<fs::path>& roots,
                           const fs::path& shapes, const Catalogue& catalogue) {
  const core::Result<std::string> text = read_whole_file(job_file);
  if (!text) return tl::unexpected(text.error());
  return read_job_text(*text, job_file.generic_string(), job_file.parent_path(), roots, shapes,
                       catalogue);
}

}  // namespace cellstow::survey
