#include "based_on.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "lay_over.hpp"
#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

namespace fs = std::filesystem;

/// A chain longer than this is a slip, or a history that nobody can follow.
constexpr std::size_t most_files = 8;

constexpr std::string_view format = "cellstow-job/1";

fs::path real(const fs::path& path) {
  std::error_code fault;
  const fs::path found = fs::weakly_canonical(path, fault);
  return fault ? path : found;
}

struct Chain {
  std::vector<JobFile> files;
  std::vector<fs::path> paths;  ///< without links and dots
  const AllowedFolders& allowed;

  /// "a is based on b, b on c", down to `last`.
  std::string told(const std::string& last) const {
    std::string text = files[0].log.file() + " is based on ";
    for (std::size_t i = 1; i < files.size(); ++i) text += files[i].log.file() + ", " + files[i].log.file() + " on ";
    return text + last;
  }
};

/// The text that names the file below; nothing when there is none or it does not read.
std::optional<Node> named_base(const Node& job) {
  if (!job.json->is_object() || !job.json->contains("based_on")) return {};
  const auto reference = Fields::of({&(*job.json)["based_on"], below(job.pointer, "based_on"), job.log}, "job_reference");
  return reference ? reference->need("file") : std::nullopt;
}

bool may_be_added(const Chain& chain, const fs::path& path, const Node& name) {
  const auto found = std::find(chain.paths.begin(), chain.paths.end(), real(path));
  if (found != chain.paths.end()) {
    name.log->add("E250", name.pointer, "jobs based on each other",
                  chain.told(chain.files[static_cast<std::size_t>(found - chain.paths.begin())].log.file()),
                  "a job that is not based on this one");
    return false;
  }
  if (chain.files.size() < most_files) return true;
  name.log->add("E251", name.pointer, "too many jobs based one on another", chain.told(path.generic_string()),
                fmt::format("at most {} files", most_files), "base this job on an earlier one of them");
  return false;
}

/// @return whether the file was read; it stands in the chain as far as it could be
bool add_file(Chain& chain, const Node& name) {
  const std::optional<std::string> named = read_name(name);
  if (!named) return false;
  const fs::path path = named_path(name, *named, chain.allowed);
  if (!may_be_added(chain, path, name)) return false;
  const auto text = read_named_text(name, chain.allowed);
  if (!text) return false;
  ProblemLog log(path.generic_string(), path.parent_path());
  const std::optional<Json> tree = parse_strict(text->text, log);
  const bool good = tree && tree->is_object() && check_format({&*tree, "", &log}, format);
  if (tree && !tree->is_object()) Fields::of({&*tree, "", &log}, "job");  // says so
  chain.files.push_back({tree.value_or(Json::object()), std::move(log)});
  chain.paths.push_back(real(path));
  return good;
}

bool read_chain(Chain& chain) {
  while (true) {
    const JobFile& last = chain.files.back();
    ProblemLog& log = chain.files.back().log;
    const std::size_t before = log.size();
    const auto name = named_base({&last.tree, "", &log});
    if (!name) return log.size() == before;
    if (!add_file(chain, *name)) return false;
  }
}

}  // namespace

std::optional<Json> with_its_base(const Json& tree, ProblemLog& log, const AllowedFolders& allowed) {
  if (!tree.is_object() || !tree.contains("based_on")) return tree;
  Chain chain{{}, {real(allowed.folder / fs::path(log.file()).filename())}, allowed};
  chain.files.reserve(most_files);  // nodes point into them
  chain.files.push_back({tree, std::move(log)});
  const bool known = check_format({&tree, "", &chain.files[0].log}, format);
  const bool complete = read_chain(chain) && known;
  Laid laid;
  if (complete) laid = lay_together(chain.files);
  log = std::move(chain.files[0].log);
  std::vector<ProblemLog> below;
  for (std::size_t i = 1; i < chain.files.size(); ++i) below.push_back(std::move(chain.files[i].log));
  log.lay_over(std::move(below), std::move(laid.origins));
  return complete ? std::optional(std::move(laid.tree)) : std::nullopt;
}

}  // namespace cellstow::survey
