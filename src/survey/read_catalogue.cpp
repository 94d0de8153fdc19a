#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>
#include <utility>

#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/change_limits.hpp"

namespace cellstow::survey {
namespace {

using core::Problem;
using core::Problems;
using nlohmann::json;

constexpr const char* table_format = "cellstow-table/1";

struct Place {
  std::string file, pointer;
};

/// A value as it stands in the file, cut to a readable length.
std::string shown(const json& value) {
  const std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
  return text.size() <= 60 ? text : text.substr(0, 57) + "...";
}

Problem bad_row(const Place& at, std::string title, std::string found, std::string expected) {
  return {"E302",
          at.file,
          at.pointer,
          std::move(title),
          std::move(found),
          std::move(expected),
          "compare with the other rows of this table"};
}

/// Reads one object of a table key by key, and reports what is wrong, missing or unknown.
class Row {
 public:
  Row(const json& value, Place at, Problems& problems)
      : value_(value), at_(std::move(at)), problems_(problems) {
    is_object_ = value.is_object();
    if (!is_object_) report("", "row is not an object", shown(value), "{ \"key\": value, ... }");
  }

  std::string text(const std::string& key) {
    const json* value = find(key, "a text");
    if (value == nullptr) return {};
    if (value->is_string() && !value->get_ref<const std::string&>().empty()) return *value;
    report(key, "not a text", shown(*value), "a text that is not empty");
    return {};
  }

  double positive(const std::string& key) {
    const json* value = find(key, "a number above 0");
    if (value == nullptr) return 0;
    if (value->is_number() && value->get<double>() > 0) return *value;
    report(key, "not a positive number", shown(*value), "a number above 0");
    return 0;
  }

  std::optional<double> positive_if_given(const std::string& key) {
    if (!is_object_ || !value_.contains(key)) {
      known_.insert(key);
      return std::nullopt;
    }
    return positive(key);
  }

  bool flag(const std::string& key) {
    known_.insert(key);
    if (!is_object_ || !value_.contains(key)) return false;
    if (value_.at(key).is_boolean()) return value_.at(key);
    report(key, "not true or false", shown(value_.at(key)), "true or false");
    return false;
  }

  /// The three components of an acceleration; none may be missing.
  std::array<AccelG, 3> accel(const std::string& key) {
    const json* value = find(key, "[ax, ay, az] in g");
    if (value == nullptr) return {};
    const bool three_numbers =
        value->is_array() && value->size() == 3 &&
        std::all_of(value->begin(), value->end(), [](const json& one) { return one.is_number(); });
    if (!three_numbers) {
      report(key, "not an acceleration", shown(*value), "[ax, ay, az], three numbers in g");
      return {};
    }
    return {AccelG::of((*value)[0]), AccelG::of((*value)[1]), AccelG::of((*value)[2])};
  }

  const json* list(const std::string& key) {
    const json* value = find(key, "a list");
    if (value == nullptr) return nullptr;
    if (value->is_array() && !value->empty()) return value;
    report(key, "not a list", shown(*value), "a list with at least one entry");
    return nullptr;
  }

  /// Call last: every key not asked for is one nobody reads.
  void refuse_unknown_keys() {
    if (!is_object_) return;
    for (const auto& [key, value] : value_.items())
      if (!known_.contains(key)) report(key, "unknown key", shown(value), known_text());
  }

  Place at(const std::string& key) const { return {at_.file, at_.pointer + "/" + key}; }

 private:
  const json* find(const std::string& key, const std::string& expected) {
    known_.insert(key);
    if (!is_object_) return nullptr;
    if (value_.contains(key)) return &value_.at(key);
    report(key, "key is missing", "nothing", expected);
    return nullptr;
  }

  void report(const std::string& key, std::string title, std::string found, std::string expected) {
    const Place place = key.empty() ? at_ : at(key);
    problems_.push_back(bad_row(place, std::move(title), std::move(found), std::move(expected)));
  }

  std::string known_text() const {
    std::string text = "one of";
    for (const std::string& key : known_) text += " " + key;
    return text;
  }

  const json& value_;
  Place at_;
  Problems& problems_;
  bool is_object_ = false;
  std::set<std::string> known_;
};

Material read_material(Row& row) {
  Material material;
  material.name = row.text("name");
  material.density_kg_per_m3 = row.positive("density_kg_per_m3");
  material.elastic_modulus = Mpa::of(row.positive("elastic_modulus_mpa"));
  material.proof_strength = Mpa::of(row.positive("proof_strength_mpa"));
  material.ultimate_strength = Mpa::of(row.positive("ultimate_strength_mpa"));
  if (const auto welded = row.positive_if_given("welded_proof_strength_mpa"))
    material.welded_proof_strength = Mpa::of(*welded);
  if (const auto welded = row.positive_if_given("welded_ultimate_strength_mpa"))
    material.welded_ultimate_strength = Mpa::of(*welded);
  material.min_bend_radius_over_thickness = row.positive_if_given("min_bend_radius_over_thickness");
  material.bend_may_crack = row.flag("bend_may_crack");
  material.k_factor = row.positive_if_given("k_factor");
  return material;
}

FastenerClass read_fastener_class(Row& row) {
  FastenerClass fastener;
  fastener.name = row.text("name");
  fastener.ultimate_strength = Mpa::of(row.positive("ultimate_strength_mpa"));
  fastener.proof_stress = Mpa::of(row.positive("proof_stress_mpa"));
  return fastener;
}

Thread read_thread(Row& row) {
  Thread thread;
  thread.name = row.text("name");
  thread.major_diameter = Length::from_mm(row.positive("major_diameter_mm"));
  thread.pitch_mm = row.positive("pitch_mm");
  thread.stress_area_mm2 = row.positive("stress_area_mm2");
  thread.head_width_mm = row.positive("head_width_mm");
  thread.clearance_hole = Length::from_mm_up(row.positive("clearance_hole_mm"));
  return thread;
}

FlatBar read_flat_bar(Row& row) {
  FlatBar bar;
  bar.material = row.text("material");
  bar.width = Length::from_mm(row.positive("width_mm"));
  bar.thickness = Length::from_mm(row.positive("thickness_mm"));
  bar.stock_length = Length::from_mm(row.positive("stock_length_mm"));
  return bar;
}

LoadCaseSet read_load_case_set(Row& row, Problems& problems) {
  LoadCaseSet set;
  set.name = row.text("name");
  const json* cases = row.list("cases");
  if (cases == nullptr) return set;
  for (std::size_t i = 0; i < cases->size(); ++i) {
    Place at = row.at("cases");
    at.pointer += fmt::format("/{}", i);
    Row entry((*cases)[i], at, problems);
    LoadCase load_case;
    load_case.name = entry.text("name");
    load_case.accel = entry.accel("accel_g");
    entry.refuse_unknown_keys();
    set.cases.push_back(std::move(load_case));
  }
  return set;
}

/// Notes keys written twice in one object, which the JSON library would pass over in silence.
class DoubleKeys {
 public:
  bool operator()(int, json::parse_event_t event, json& value) {
    if (event == json::parse_event_t::object_start) open_.emplace_back();
    if (event == json::parse_event_t::object_end) open_.pop_back();
    if (event == json::parse_event_t::key && !open_.back().insert(value).second)
      found_.push_back(value);
    return true;
  }
  const std::vector<std::string>& found() const { return found_; }

 private:
  std::vector<std::set<std::string>> open_;
  std::vector<std::string> found_;
};

Problem unreadable(const std::string& file, std::string found) {
  return {"E301",
          file,
          "",
          "shipped table is missing or unreadable",
          std::move(found),
          "a readable table in JSON",
          "restore the shapes folder as it was shipped"};
}

std::optional<json> parse_table(const std::filesystem::path& path, Problems& problems) {
  const std::string file = path.generic_string();
  std::ifstream stream(path, std::ios::binary);
  if (!stream) {
    problems.push_back(unreadable(file, "no such file"));
    return std::nullopt;
  }
  const std::string text{std::istreambuf_iterator<char>(stream), {}};
  try {
    DoubleKeys double_keys;
    json table = json::parse(text, std::ref(double_keys));
    for (const std::string& key : double_keys.found())
      problems.push_back(bad_row({file, ""}, "key written twice in one row", key, "each key once"));
    return table;
  } catch (const json::exception& fault) {
    problems.push_back(unreadable(file, fault.what()));
    return std::nullopt;
  }
}

/// One table file: its format mark, its rows under `key`, and every row's source and status.
class Table {
 public:
  Table(const std::filesystem::path& folder, const char* key, Problems& problems)
      : file_((folder / fmt::format("{}.json", key)).generic_string()),
        key_(key),
        problems_(problems),
        value_(parse_table(file_, problems)) {}

  /// Calls read_row(Row&) for every row, adds its source and status, and hands it to keep(row, at).
  template <class ReadRow, class Keep>
  void for_each_row(ReadRow read_row, Keep keep, bool has_default = false) {
    if (!value_) return;
    Row head(*value_, {file_, ""}, problems_);
    if (const std::string format = head.text("format"); !format.empty() && format != table_format)
      problems_.push_back(
          bad_row({file_, "/format"}, "unknown table format", format, table_format));
    if (value_->is_object() && value_->contains("about")) head.text("about");
    if (has_default) default_name_ = head.text("default");
    if (const json* rows = head.list(key_)) read_rows(*rows, read_row, keep);
    head.refuse_unknown_keys();
  }

  const std::string& default_name() const { return default_name_; }
  const std::string& file() const { return file_; }

 private:
  template <class ReadRow, class Keep>
  void read_rows(const json& rows, ReadRow read_row, Keep keep) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const Place at{file_, fmt::format("/{}/{}", key_, i)};
      Row row(rows[i], at, problems_);
      auto value = read_row(row);
      value.source = row.text("source");
      value.status = row.text("status");
      row.refuse_unknown_keys();
      keep(std::move(value), at);
    }
  }

  std::string file_, key_;
  Problems& problems_;
  std::optional<json> value_;
  std::string default_name_;
};

/// Keeps rows by name; a name met twice is E303, a missing one has been reported already.
template <class Value>
auto keep_by_name(std::map<std::string, Value>& into, Problems& problems) {
  return [&into, &problems](Value value, const Place& at) {
    if (value.name.empty()) return;
    const std::string name = value.name;
    if (!into.emplace(name, std::move(value)).second)
      problems.push_back({"E303", at.file, at.pointer + "/name", "name used twice in one table",
                          name, "a name of its own for every row", "rename or delete one of them"});
  };
}

auto bar_order(const FlatBar& bar) { return std::tie(bar.material, bar.width, bar.thickness); }

void read_flat_bars(const std::filesystem::path& folder, Catalogue& catalogue, Problems& problems) {
  const auto keep = [&](FlatBar bar, const Place& at) {
    if (!bar.material.empty() && !catalogue.materials.contains(bar.material))
      problems.push_back(bad_row({at.file, at.pointer + "/material"}, "unknown material",
                                 bar.material, "a name from materials.json"));
    const bool twice =
        std::any_of(catalogue.flat_bars.begin(), catalogue.flat_bars.end(),
                    [&](const FlatBar& other) { return bar_order(other) == bar_order(bar); });
    if (twice)
      problems.push_back(
          {"E303", at.file, at.pointer, "flat bar listed twice",
           fmt::format("{} {} x {} mm", bar.material, bar.width.mm(), bar.thickness.mm()),
           "each bar once", "delete one of them"});
    catalogue.flat_bars.push_back(std::move(bar));
  };
  Table(folder, "flat_bars", problems).for_each_row(read_flat_bar, keep);
  std::sort(catalogue.flat_bars.begin(), catalogue.flat_bars.end(),
            [](const FlatBar& a, const FlatBar& b) { return bar_order(a) < bar_order(b); });
}

void read_load_cases(const std::filesystem::path& folder, Catalogue& catalogue,
                     Problems& problems) {
  Table table(folder, "load_cases", problems);
  table.for_each_row([&](Row& row) { return read_load_case_set(row, problems); },
                     keep_by_name(catalogue.load_case_sets, problems), true);
  catalogue.default_load_case_set = table.default_name();
  if (!table.default_name().empty() && !catalogue.load_case_sets.contains(table.default_name()))
    problems.push_back(bad_row({table.file(), "/default"}, "default set is not in the table",
                               table.default_name(), "the name of one of the sets"));
}

constexpr std::pair<const char*, ChangeOf> change_words[] = {
    {"kerb_mass_percent", ChangeOf::kerb_mass_percent},
    {"front_share_points", ChangeOf::front_share_points},
    {"front_share_percent", ChangeOf::front_share_percent},
    {"ride_height_mm", ChangeOf::ride_height_mm},
    {"axle_in_hand_kg", ChangeOf::axle_in_hand_kg},
    {"load_per_seat_kg", ChangeOf::load_per_seat_kg},
    {"behind_front_edge_mm", ChangeOf::behind_front_edge_mm},
    {"ahead_of_rear_edge_mm", ChangeOf::ahead_of_rear_edge_mm}};

ChangeLimit read_change_limit(Row& row, Problems& problems) {
  ChangeLimit limit;
  limit.name = row.text("name");
  limit.applies = row.text("applies");
  limit.limit = row.positive("limit");
  const std::string of = row.text("of");
  const auto* const found = std::find_if(std::begin(change_words), std::end(change_words),
                                         [&](const auto& word) { return of == word.first; });
  if (found != std::end(change_words)) {
    limit.of = found->second;
  } else if (!of.empty()) {
    std::string known = "one of";
    for (const auto& [word, value] : change_words) known += std::string(" ") + word;
    problems.push_back(bad_row(row.at("of"), "not a known quantity", of, known));
  }
  return limit;
}

}  // namespace

core::Result<std::vector<ChangeLimit>> read_change_limits(
    const std::filesystem::path& shapes_folder) {
  std::vector<ChangeLimit> limits;
  std::map<std::string, ChangeLimit> names;
  Problems problems;
  const auto keep_name = keep_by_name(names, problems);
  Table(shapes_folder, "change_limits", problems)
      .for_each_row([&](Row& row) { return read_change_limit(row, problems); },
                    [&](ChangeLimit limit, const Place& at) {
                      limits.push_back(limit);
                      keep_name(std::move(limit), at);
                    });
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return limits;
}

core::Result<Catalogue> read_catalogue(const std::filesystem::path& shapes_folder) {
  Catalogue catalogue;
  Problems problems;
  Table(shapes_folder, "materials", problems)
      .for_each_row(read_material, keep_by_name(catalogue.materials, problems));
  Table(shapes_folder, "fastener_classes", problems)
      .for_each_row(read_fastener_class, keep_by_name(catalogue.fastener_classes, problems));
  Table(shapes_folder, "threads", problems)
      .for_each_row(read_thread, keep_by_name(catalogue.threads, problems));
  read_flat_bars(shapes_folder, catalogue, problems);
  read_load_cases(shapes_folder, catalogue, problems);
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return catalogue;
}

}  // namespace cellstow::survey
