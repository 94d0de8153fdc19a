#include "problem_log.hpp"

#include <algorithm>

namespace cellstow::survey {

void ProblemLog::note_place(const std::string& pointer) {
  places_.emplace(pointer, places_.size());
}

std::size_t ProblemLog::place(const std::string& pointer) const {
  const auto found = places_.find(pointer);
  return found == places_.end() ? 0 : found->second;
}

void ProblemLog::add(std::string id, const std::string& pointer, std::string title,
                     std::string found, std::string expected, std::string hint) {
  entries_.push_back({place(pointer),
                      {std::move(id), file_, pointer, std::move(title), std::move(found),
                       std::move(expected), std::move(hint)}});
}

void ProblemLog::add_from_file(const std::string& pointer, const core::Problems& problems) {
  for (const core::Problem& problem : problems)
    if (!holds(problem)) entries_.push_back({place(pointer), problem});
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
