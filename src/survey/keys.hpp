#pragma once
/// Every key of a job file, object by object: the one list that reader and schema are held against.

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace cellstow::survey {

/// An object of the job file by its name in the schema's definitions.
struct ObjectKeys {
  std::string_view object;
  std::vector<std::string_view> keys;
};

/// The keys of one object.
/// @pre `object` is one of known_objects()
const ObjectKeys& keys_of(std::string_view object);

const std::vector<ObjectKeys>& known_objects();

/// The known word most like `word` by count of letters to change; empty when none is close.
///
/// Source: edit distance after Levenshtein, row by row as in Wagner and Fischer 1974 (from memory)
std::string_view nearest(std::string_view word, std::span<const std::string_view> known);

}  // namespace cellstow::survey
