#include "problem_log.hpp"

#include <algorithm>

namespace cellstow::survey {

Origin origin_of(const Origins& origins, const std::string& pointer) {
  std::string above = pointer;
  while (true) {
    if (const auto found = origins.find(above); found != origins.end())
      return {found->second.file, found->second.pointer + pointer.substr(above.size())};
    if (above.empty()) return {0, pointer};
    const std::size_t last = above.rfind('/');
    above.erase(last == std::string::npos ? 0 : last);  // places in lists are no pointers
  }
}

void ProblemLog::note_place(const std::string& pointer) {
  files_[0].places.emplace(pointer, files_[0].places.size());
}

ProblemLog::Place ProblemLog::place(const Origin& origin) const {
  const auto& places = files_[origin.file].places;
  const auto found = places.find(origin.pointer);
  return {origin.file, found == places.end() ? 0 : found->second};
}

void ProblemLog::add(std::string id, const std::string& pointer, std::string title,
                     std::string found, std::string expected, std::string hint) {
  const Origin origin = origin_of(origins_, pointer);
  entries_.push_back({place(origin),
                      {std::move(id), files_[origin.file].name, origin.pointer, std::move(title),
                       std::move(found), std::move(expected), std::move(hint)}});
}

void ProblemLog::add_from_file(const std::string& pointer, const core::Problems& problems) {
  const Place at = place(origin_of(origins_, pointer));
  for (const core::Problem& problem : problems)
    if (!holds(problem)) entries_.push_back({at, problem});
}

void ProblemLog::lay_over(std::vector<ProblemLog> bases, Origins origins) {
  for (ProblemLog& base : bases) {
    for (Entry& entry : base.entries_)
      entries_.push_back({{files_.size(), entry.place.second}, std::move(entry.problem)});
    files_.push_back(std::move(base.files_[0]));
  }
  origins_ = std::move(origins);
}

std::string ProblemLog::where(const std::string& pointer) const {
  const Origin origin = origin_of(origins_, pointer);
  return origin.file == 0 ? origin.pointer : files_[origin.file].name + "#" + origin.pointer;
}

std::optional<std::filesystem::path> ProblemLog::folder(const std::string& pointer) const {
  return files_[origin_of(origins_, pointer).file].folder;
}

bool ProblemLog::holds(const core::Problem& problem) const {
  return std::any_of(entries_.begin(), entries_.end(), [&](const Entry& entry) {
    const core::Problem& known = entry.problem;
    return known.file == problem.file && known.pointer == problem.pointer &&
           known.id == problem.id && known.found == problem.found &&
           known.expected == problem.expected;
  });
}

core::Problems ProblemLog::in_file_order() const {
  std::vector<Entry> sorted = entries_;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Entry& left, const Entry& right) { return left.place < right.place; });
  core::Problems problems;
  for (Entry& entry : sorted) problems.push_back(std::move(entry.problem));
  return problems;
}

std::string below(const std::string& pointer, std::string_view key) {
  std::string longer = pointer + "/";
  for (const char c : key) {
    if (c == '~')
      longer += "~0";
    else if (c == '/')
      longer += "~1";
    else
      longer += c;
  }
  return longer;
}

std::string below(const std::string& pointer, std::size_t index) {
  return pointer + "/" + std::to_string(index);
}

}  // namespace cellstow::survey
