#pragma once
/// A place in a JSON tree that knows its pointer and reports what is wrong with it.

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

using Json = nlohmann::json;

/// Parses the text. @error E101 not JSON, E102 a key given twice (the file is still read)
std::optional<Json> parse_plan_text(std::string_view text, const std::string& file,
                                    core::Problems& problems);

/// A value with its pointer. Reading a wrong kind notes a problem and gives a stand-in, so that
/// one pass finds every fault.
class At {
 public:
  At(const Json& value, std::string pointer, const std::string& file, core::Problems& problems)
      : value_(&value), pointer_(std::move(pointer)), file_(&file), problems_(&problems) {}

  /// The value under `key`, or nothing when it is missing or null. @error E105 not an object
  std::optional<At> find(const char* key) const;
  /// As find(), but a missing key is a fault. @error E104
  std::optional<At> need(const char* key) const;
  /// Elements of a list. @error E105
  std::vector<At> items() const;
  /// Elements of a list of exactly `count`. @error E105, E115
  std::vector<At> items(std::size_t count) const;

  double number() const;                 ///< @error E105
  int whole(int least) const;            ///< @error E105, E108, E107
  bool truth() const;                    ///< @error E105
  std::string text() const;              ///< @error E105
  /// A length or coordinate in mm on the 1 um grid. @error E105, E107 beyond 20 m
  Tick length() const;
  /// A length that may not be negative. @error also E107
  Tick size() const;
  /// A centre in mm, on the half-micrometre grid. @error E105, E107
  Tick centre() const;

  /// One word of a list. @error E105, E106
  template <class Enum, std::size_t n>
  Enum word(const std::pair<const char*, Enum> (&words)[n]) const {
    const std::string got = text();
    std::string all;
    for (const auto& [name, value] : words) {
      if (got == name) return value;
      all += (all.empty() ? "" : ", ") + std::string(name);
    }
    if (value_->is_string()) problem("E106", "not one of the words known here", "one of: " + all);
    return words[0].second;
  }

  bool is_null() const { return value_->is_null(); }
  const Json& json() const { return *value_; }
  const std::string& pointer() const { return pointer_; }
  void problem(const char* id, const char* title, std::string expected) const;

 private:
  At below(const std::string& step, const Json& value) const;

  const Json* value_;
  std::string pointer_;
  const std::string* file_;
  core::Problems* problems_;
};

}  // namespace cellstow::audit
