#include "cellstow/core/problem.hpp"

#include <fmt/format.h>

namespace cellstow::core {

std::string to_text(const Problem& problem) {
  std::string text = problem.pointer.empty()
                         ? fmt::format("{}: error {}: {}\n", problem.file, problem.id, problem.title)
                         : fmt::format("{}#{}: error {}: {}\n", problem.file, problem.pointer,
                                       problem.id, problem.title);
  text += fmt::format("  found: {}\n  expected: {}\n", problem.found, problem.expected);
  if (!problem.hint.empty()) text += fmt::format("  hint: {}\n", problem.hint);
  return text;
}

std::string to_text(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) text += to_text(problem);
  return text;
}

}  // namespace cellstow::core
