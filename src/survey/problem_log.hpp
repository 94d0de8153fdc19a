#pragma once
/// Collects every problem of one file and hands them back in the order of the file.

#include <string>
#include <string_view>
#include <map>
#include <vector>

#include "cellstow/core/problem.hpp"

namespace cellstow::survey {

class ProblemLog {
 public:
  explicit ProblemLog(std::string file) : file_(std::move(file)) {}

  /// Told by the parser, in the order in which values stand in the file.
  void note_place(const std::string& pointer);

  void add(std::string id, const std::string& pointer, std::string title, std::string found,
           std::string expected, std::string hint = {});

  /// Problems of a file that the value at `pointer` names; they keep their own file and order.
  /// A file named more than once tells each fault once.
  void add_from_file(const std::string& pointer, const core::Problems& problems);

  bool empty() const { return entries_.empty(); }
  std::size_t size() const { return entries_.size(); }
  const std::string& file() const { return file_; }

  /// Sorted by the place of the faulty value; those of one value in the order of finding.
  core::Problems in_file_order() const;

 private:
  std::size_t place(const std::string& pointer) const;
  bool holds(const core::Problem& problem) const;

  struct Entry {
    std::size_t place;
    core::Problem problem;
  };
  std::string file_;
  std::map<std::string, std::size_t> places_;  // looked up only, never walked
  std::vector<Entry> entries_;
};

/// `pointer` one step further; "/" and "~" in the key are escaped as RFC 6901 asks.
std::string below(const std::string& pointer, std::string_view key);
std::string below(const std::string& pointer, std::size_t index);

}  // namespace cellstow::survey
