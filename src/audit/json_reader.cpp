#include "json_reader.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>

namespace cellstow::audit {
namespace {

constexpr double farthest_mm = 20'000;

std::string shown(const Json& value) {
  constexpr std::size_t longest = 60;
  std::string text = value.dump(-1, ' ', true, Json::error_handler_t::replace);
  return text.size() <= longest ? text : text.substr(0, longest) + "...";
}

std::string escaped(const std::string& key) {
  std::string out;
  for (const char letter : key) {
    if (letter == '~') out += "~0";
    else if (letter == '/') out += "~1";
    else out += letter;
  }
  return out;
}

/// Keys given twice; the parser would silently keep the last of them.
class DuplicateFinder {
 public:
  bool operator()(int, Json::parse_event_t event, Json& parsed) {
    if (event == Json::parse_event_t::object_start) open_.emplace_back();
    if (event == Json::parse_event_t::object_end && !open_.empty()) open_.pop_back();
    if (event == Json::parse_event_t::key && !open_.empty()) {
      const std::string key = parsed.get<std::string>();
      if (!open_.back().insert(key).second) twice_.push_back(key);
    }
    return true;
  }
  const std::vector<std::string>& twice() const { return twice_; }

 private:
  std::vector<std::set<std::string>> open_;
  std::vector<std::string> twice_;
};

}  // namespace

std::optional<Json> parse_plan_text(std::string_view text, const std::string& file,
                                    core::Problems& problems) {
  DuplicateFinder finder;
  try {
    Json tree = Json::parse(text, [&finder](int depth, Json::parse_event_t event, Json& parsed) {
      return finder(depth, event, parsed);
    });
    for (const std::string& key : finder.twice()) {
      problems.push_back({"E102", file, "", "key given twice", fmt::format("\"{}\" twice in one object", key),
                          "each key once", ""});
    }
    return tree;
  } catch (const Json::exception& fault) {
    problems.push_back({"E101", file, "", "not JSON", fault.what(), "a plan file in JSON",
                        "give the file that the program wrote, whole"});
    return std::nullopt;
  }
}

void At::problem(const char* id, const char* title, std::string expected) const {
  problems_->push_back({id, *file_, pointer_, title, shown(*value_), std::move(expected), ""});
}

At At::below(const std::string& step, const Json& value) const {
  return At(value, pointer_ + "/" + step, *file_, *problems_);
}

std::optional<At> At::find(const char* key) const {
  if (!value_->is_object()) {
    problem("E105", "wrong kind of value", "an object");
    return std::nullopt;
  }
  const auto found = value_->find(key);
  if (found == value_->end() || found->is_null()) return std::nullopt;
  return below(escaped(key), *found);
}

std::optional<At> At::need(const char* key) const {
  std::optional<At> found = find(key);
  if (!found && value_->is_object()) {
    problems_->push_back({"E104", *file_, pointer_, "key missing",
                          fmt::format("no value for \"{}\"", key), fmt::format("\"{}\"", key),
                          ""});
  }
  return found;
}

std::vector<At> At::items() const {
  std::vector<At> out;
  if (!value_->is_array()) {
    problem("E105", "wrong kind of value", "a list");
    return out;
  }
  for (std::size_t i = 0; i < value_->size(); ++i) out.push_back(below(std::to_string(i), (*value_)[i]));
  return out;
}

std::vector<At> At::items(std::size_t count) const {
  std::vector<At> out = items();
  if (value_->is_array() && out.size() != count) {
    problem("E115", "list of the wrong length", fmt::format("a list of {}", count));
  }
  if (out.size() != count) out.clear();
  return out;
}

double At::number() const {
  if (value_->is_number()) return value_->get<double>();
  problem("E105", "wrong kind of value", "a plain number");
  return 0;
}

int At::whole(int least) const {
  const double got = number();
  if (!value_->is_number()) return least;
  if (got != std::floor(got)) {
    problem("E108", "not a whole number", "a whole number");
    return least;
  }
  if (got < least || got > 1e9) {
    problem("E107", "number out of range", fmt::format("{} or more, at most 1000000000", least));
    return least;
  }
  return static_cast<int>(got);
}

bool At::truth() const {
  if (value_->is_boolean()) return value_->get<bool>();
  problem("E105", "wrong kind of value", "true or false");
  return false;
}

std::string At::text() const {
  if (value_->is_string()) return value_->get<std::string>();
  problem("E105", "wrong kind of value", "text");
  return {};
}

Tick At::length() const {
  const double mm = number();
  if (std::abs(mm) <= farthest_mm) return 2 * std::llround(mm * 1000.0);
  problem("E107", "number out of range", "at most 20 m either way, in mm");
  return 0;
}

Tick At::size() const {
  const Tick ticks = length();
  if (ticks >= 0) return ticks;
  problem("E107", "number out of range", "0 mm or more");
  return 0;
}

Tick At::centre() const {
  const double mm = number();
  if (std::abs(mm) <= farthest_mm) return std::llround(mm * ticks_per_mm);
  problem("E107", "number out of range", "at most 20 m either way, in mm");
  return 0;
}

}  // namespace cellstow::audit
