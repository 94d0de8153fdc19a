#include "lay_over.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <optional>

namespace cellstow::survey {
namespace {

using Words = std::vector<std::string_view>;

// ---- what the format says about its objects ----------------------------------

/// Ways of giving the same thing. The first key of a way is the thing, the others belong to it. When the upper file
/// gives one way, the keys of the lower file's other ways fall away, and those that belonged to its old value.
struct Rivals {
  std::string_view object;  ///< the key under which the object stands, or that of its list
  std::vector<Words> ways;
};

const std::vector<Rivals>& rivals() {
  static const std::vector<Rivals> table = {
      {"car", {{"wheel_loads_kg"}, {"axle_loads_kg"}}},
      {"car", {{"cg_height_mm"}, {"tilt_test"}}},
      {"rules", {{"load_cases", "load_case_set"}}},
      {"sections", {{"at"}, {"from_scan"}, {"from_drawing"}}},
      {"at", {{"outline_mm", "measured"}, {"tape"}, {"drawing"}, {"list"}, {"picture"}}},
      {"keep_outs", {{"box_mm"}, {"cylinder_mm"}, {"prism_mm"}}},
  };
  return table;
}

/// Parts given in full or as {"file": ...}: when either file names one, the upper part stands alone.
constexpr std::array<std::string_view, 5> full_or_file = {"cell", "wall", "strap", "hold_down", "fasteners"};

/// Lists laid entry by entry, and the key that tells their entries apart.
struct EntryKey {
  std::string_view list, key;
};
constexpr EntryKey entry_keys[] = {{"cavities", "name"}, {"keep_outs", "name"}, {"way_in", "name"},
                                   {"fixings", "name"},  {"fittings", "name"},  {"seats", "name"},
                                   {"removed", "name"},  {"added", "name"},     {"at", "station_mm"}};

/// Keys for which null is a value.
constexpr std::array<std::string_view, 1> null_is_a_value = {"cells_wanted"};

template <class List>
bool is_in(const List& list, std::string_view word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

bool takes_out(std::string_view key, const Json& value) {
  return value.is_null() && !is_in(null_is_a_value, key);
}

/// Whether the lower file's key gives way to what the upper object gives.
bool falls_away(std::string_view object, std::string_view key, const Json& upper) {
  for (const Rivals& set : rivals()) {
    if (set.object != object) continue;
    const auto given = [&](const Words& way) {
      return upper.contains(std::string(way[0])) && !upper[std::string(way[0])].is_null();
    };
    if (std::none_of(set.ways.begin(), set.ways.end(), given)) continue;
    for (const Words& way : set.ways)
      if (is_in(way, key) && (!given(way) || key != way[0])) return true;
  }
  return false;
}

bool stands_alone(std::string_view key, const Json& lower, const Json& upper) {
  return is_in(full_or_file, key) && (lower.contains("file") || upper.contains("file"));
}

std::string_view entry_key(std::string_view list) {
  for (const EntryKey& known : entry_keys)
    if (known.list == list) return known.key;
  return {};
}

/// What tells an entry from the others of its list; nothing when it does not say so in a way that reads.
std::optional<std::string> identity(const Json& entry, std::string_view key) {
  const std::string name(key);
  if (!entry.is_object() || !entry.contains(name)) return {};
  const Json& value = entry[name];
  if (key == "name") return value.is_string() ? std::optional(value.get<std::string>()) : std::nullopt;
  double mm = 0;
  if (value.is_number()) {
    mm = value.get<double>();
  } else if (value.is_string()) {
    const auto read = parse_quantity(value.get_ref<const std::string&>(), Kind::length);
    if (!read) return {};
    mm = *read;
  } else {
    return {};
  }
  if (!(mm >= -farthest_mm && mm <= farthest_mm)) return {};
  return std::to_string(core::Length::from_mm(mm).um());
}

// ---- laying one file over what lies below --------------------------------------

class Laying {
 public:
  Laying(const Laid& lower, JobFile& upper, std::size_t file) : lower_(lower), upper_(upper), file_(file) {}

  Laid all() {
    Json tree = value("", lower_.tree, "", upper_.tree, "", "");
    tree.erase("based_on");
    return {std::move(tree), std::move(origins_)};
  }

 private:
  Json value(std::string_view key, const Json& low, const std::string& low_at, const Json& up,
             const std::string& up_at, const std::string& out_at) {
    origins_[out_at] = {file_, up_at};
    if (low.is_object() && up.is_object() && !stands_alone(key, low, up))
      return object(key, low, low_at, up, up_at, out_at);
    if (low.is_array() && up.is_array() && !entry_key(key).empty())
      return list(key, low, low_at, up, up_at, out_at);
    return up;
  }

  Json object(std::string_view name, const Json& low, const std::string& low_at, const Json& up,
              const std::string& up_at, const std::string& out_at) {
    Json out = Json::object();
    for (const auto& [key, old] : low.items()) {
      if (falls_away(name, key, up)) continue;
      if (!up.contains(key))
        out[key] = kept(old, below(low_at, key), below(out_at, key));
      else if (!takes_out(key, up[key]))
        out[key] = value(key, old, below(low_at, key), up[key], below(up_at, key), below(out_at, key));
    }
    for (const auto& [key, added] : up.items()) {
      if (out.contains(key)) continue;
      if (!takes_out(key, added))
        out[key] = added;
      else if (!low.contains(key))
        upper_.log.add("E252", below(up_at, key), "nothing there to take out", "null",
                       "a key that the other job has here, or no such key",
                       "null takes a key out of what this job is based on");
    }
    return out;
  }

  Json list(std::string_view name, const Json& low, const std::string& low_at, const Json& up,
            const std::string& up_at, const std::string& out_at) {
    const std::string_view key = entry_key(name);
    std::vector<std::optional<std::string>> ids = identities(up, key, up_at);
    Json out = Json::array();
    for (std::size_t i = 0; i < low.size(); ++i) {
      const auto id = identity(low[i], key);
      const auto found = id ? std::find(ids.begin(), ids.end(), id) : ids.end();
      if (found == ids.end()) {
        out.push_back(kept(low[i], below(low_at, i), below(out_at, out.size())));
        continue;
      }
      const auto which = static_cast<std::size_t>(found - ids.begin());
      *found = used;
      if (!left_out(up[which], key, below(up_at, which)))
        out.push_back(value(name, low[i], below(low_at, i), up[which], below(up_at, which),
                            below(out_at, out.size())));
    }
    add_new(ids, key, up, up_at, out, out_at);
    return out;
  }

  /// Entries that no entry below answers to.
  void add_new(const std::vector<std::optional<std::string>>& ids, std::string_view key, const Json& up,
               const std::string& up_at, Json& out, const std::string& out_at) {
    for (std::size_t i = 0; i < up.size(); ++i) {
      if (ids[i] == used) continue;
      const std::string at = below(up_at, i);
      if (left_out(up[i], key, at)) {
        upper_.log.add("E253", at, "nothing there to leave out", shown(up[i]),
                       fmt::format("the \"{}\" of an entry that the other job has in this list", key));
        continue;
      }
      origins_[below(out_at, out.size())] = {file_, at};
      out.push_back(up[i]);
    }
  }

  /// One an entry; an entry given a second time is told and passed over.
  std::vector<std::optional<std::string>> identities(const Json& up, std::string_view key,
                                                     const std::string& up_at) {
    std::vector<std::optional<std::string>> ids;
    for (std::size_t i = 0; i < up.size(); ++i) {
      std::optional<std::string> id = identity(up[i], key);
      const auto first = id ? std::find(ids.begin(), ids.end(), id) : ids.end();
      if (first != ids.end()) {
        twice(up[i], key, below(up_at, i), below(up_at, static_cast<std::size_t>(first - ids.begin())));
        id = used;
      }
      ids.push_back(std::move(id));
    }
    return ids;
  }

  void twice(const Json& entry, std::string_view key, const std::string& at, const std::string& first) {
    const std::string value = shown(entry[std::string(key)]);
    if (key == "name")
      upper_.log.add("E111", below(at, key), "name stands twice in its list", value,
                     "names that differ within the list", "reports and drawings tell things apart by name");
    else
      upper_.log.add("E207", below(at, key), "station given twice", fmt::format("{}, as in {}", value, first),
                     "each station once");
  }

  /// Whether the entry only says that it is left out.
  bool left_out(const Json& entry, std::string_view key, const std::string& at) {
    if (!entry.is_object() || !entry.contains("left_out")) return false;
    const Json& word = entry["left_out"];
    if (word != true)
      upper_.log.add("E105", below(at, "left_out"), "wrong kind of value", shown(word), "true",
                     "an entry that stays does not have this key");
    else if (entry.size() > 2 || !entry.contains(std::string(key)))
      upper_.log.add("E254", at, "left out and yet given", shown(entry),
                     fmt::format("\"{}\" and \"left_out\" alone", key));
    return true;
  }

  /// A value of the lower tree as it is.
  Json kept(const Json& value, const std::string& low_at, const std::string& out_at) {
    origins_[out_at] = origin_of(lower_.origins, low_at);
    const std::string start = low_at + "/";
    for (auto at = lower_.origins.lower_bound(start); at != lower_.origins.end() && at->first.starts_with(start); ++at)
      origins_[out_at + at->first.substr(low_at.size())] = at->second;
    return value;
  }

  /// Stands for the identity of an entry that has been dealt with; no name holds such a sign.
  const std::optional<std::string> used = std::string("\x01");

  const Laid& lower_;
  JobFile& upper_;
  std::size_t file_;
  Origins origins_;
};

}  // namespace

Laid lay_together(std::vector<JobFile>& chain) {
  const std::size_t last = chain.size() - 1;
  Laid laid{chain[last].tree, {{"", {last, ""}}}};
  for (std::size_t file = last; file-- > 0;) laid = Laying(laid, chain[file], file).all();
  return laid;
}

}  // namespace cellstow::survey
