#pragma once
/// What the fuzzers and the run of their seeds call: one entry a reader. Each takes any bytes; a broken promise ends the
/// program (a fuzzer's finding) or throws (in the run of the seeds).

#include <string_view>

namespace cellstow::fuzz {

/// A job file; what is accepted has to come back the same when it is written and read again.
void job(std::string_view bytes);
/// A drawing, each of its layers; an accepted outline has to keep the promises of Section.
void drawing(std::string_view bytes);
/// A list of corners, read for a plane across each axis.
void list(std::string_view bytes);
/// A scan, its first byte telling as which kind of file the rest is read: refused in words, or placed, cut and simplified without a wall inside
/// what is called free.
void scan(std::string_view bytes);

struct Entry {
  std::string_view name;  ///< of the target and of its folder under seeds/
  void (*run)(std::string_view);
};

inline constexpr Entry entries[] = {{"job", job}, {"drawing", drawing}, {"list", list}, {"scan", scan}};

}  // namespace cellstow::fuzz
