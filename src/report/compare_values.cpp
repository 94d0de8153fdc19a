#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cellstow/report/compare.hpp"
#include "cellstow/report/write.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using Json = nlohmann::ordered_json;
using differences::MadeBox;
using differences::MadePart;
using differences::Value;

struct Unit { const char *ending, *unit; };

/// Longer endings first.
constexpr Unit units[] = {{"_wh_per_km", "Wh/km"}, {"_n_per_mm", "N/mm"}, {"_kg_per_m3", "kg/m3"}, {"_mohm", "mohm"}, {"_percent", "%"}, {"_kwh", "kWh"}, {"_mpa", "MPa"}, {"_deg", "degrees"},
                          {"_mm", "mm"}, {"_kg", "kg"}, {"_ah", "Ah"}, {"_km", "km"}, {"_nm", "Nm"}, {"_v", "V"}, {"_a", "A"}, {"_n", "N"}, {"_g", "g"}};

/// "body_clearance_mm" as "body clearance, mm".
std::string in_words(std::string key) {
  const auto found = std::find_if(std::begin(units), std::end(units), [&](const Unit& unit) { return key.ends_with(unit.ending); });
  if (found != std::end(units)) key.resize(key.size() - std::string(found->ending).size());
  std::replace(key.begin(), key.end(), '_', ' ');
  return found == std::end(units) ? key : key + ", " + found->unit;
}

std::string joined(const std::string& path, const std::string& step) { return path.empty() ? step : path + ": " + step; }

bool is_named(const Json& list) {
  return !list.empty() && std::all_of(list.begin(), list.end(), [](const Json& item) { return item.is_object() && item.contains("name"); });
}

std::string text_of(const Json& value) { return value.is_string() ? value.get<std::string>() : value.is_null() ? "as many as fit" : value.dump(); }

void collect(const std::string& group, const std::string& path, const Json& value, std::vector<Value>& out);

void collect_list(const std::string& group, const std::string& path, const Json& list, std::vector<Value>& out) {
  const bool named = is_named(list);
  const bool objects = !list.empty() && list[0].is_object();
  if (!objects) {
    out.push_back({group, path, text_of(list)});
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i)
    collect(group, joined(path, named ? list[i]["name"].get<std::string>() : std::to_string(i + 1)), list[i], out);
}

void collect(const std::string& group, const std::string& path, const Json& value, std::vector<Value>& out) {
  if (value.is_array()) return collect_list(group, path, value, out);
  if (!value.is_object()) return out.push_back({group, path, text_of(value)});
  for (const auto& [key, part] : value.items()) collect(group, joined(path, in_words(key)), part, out);
}

void collect_cavity(const Json& cavity, std::vector<Value>& out) {
  const std::string name = cavity_group(cavity["name"]);
  for (const auto& [key, part] : cavity.items()) {
    if (key == "fixings") continue;  // hole by hole
    if (key != "sections") {
      collect(name, in_words(key), part, out);
      continue;
    }
    for (const auto& [word, value] : part.items())
      if (word != "at") collect(name, "sections: " + in_words(word), value, out);
  }
}

std::string named_size(const Json& part, std::initializer_list<const char*> keys) {
  std::string text;
  for (const char* key : keys)
    if (part.contains(key)) text += fmt::format("{}{}", text.empty() ? "" : " x ", part[key].dump());
  return text + " mm, " + part.value("material", "");
}

std::string panel_size(const Json& panel) {
  double most_a = 0, most_b = 0;
  for (const Json& corner : panel["outline_mm"]) {
    most_a = std::max(most_a, corner[0].get<double>());
    most_b = std::max(most_b, corner[1].get<double>());
  }
  return fmt::format("{} x {} x {} mm flat, {}, {}, {}", number(most_a, 1), number(most_b, 1), panel["thickness_mm"].dump(), count(static_cast<int>(panel["holes"].size()), "hole"),
                     count(static_cast<int>(panel["bends"].size()), "bend"), panel.value("material", ""));
}

/// Without what changes on paper only.
std::string exact_shape(Json part, std::initializer_list<const char*> only_told) {
  for (const char* key : only_told) part.erase(key);
  return part.dump();
}

void collect_parts(const Json& box, std::vector<MadePart>& out) {
  for (const Json& p : box.value("panels", Json::array()))
    out.push_back({p["mark"], p["name"], panel_size(p), exact_shape(p, {"revision", "notes", "mass_kg"}), p["quantity"]});
  for (const Json& s : box.value("straps", Json::array()))
    out.push_back({s["mark"], "strap", named_size(s, {"width_mm", "thickness_mm", "cut_length_mm"}),
                   named_size(s, {"span_mm", "leg_mm", "foot_mm", "bolt_hole_mm"}), s["quantity"]});
  for (const Json& h : box.value("hold_downs", Json::array()))
    out.push_back({h["mark"], "hold-down", named_size(h, {"width_mm", "thickness_mm", "cut_length_mm"}), named_size(h, {"beside_mm", "screw_hole_mm"}), h["quantity"]});
  for (const Json& b : box.value("brackets", Json::array())) {
    const bool cut = std::any_of(out.begin(), out.end(), [&](const MadePart& part) { return part.mark == b["mark"]; });
    if (cut) continue;  // stands among the panels, with its holes
    out.push_back({b["mark"], "bracket to " + b["fixing"].get<std::string>(),
                   fmt::format("foot {}, leg {}, {} wide, {} thick, hole {} x {}, {}", b["foot_mm"].dump(), b["leg_mm"].dump(), b["width_mm"].dump(), b["thickness_mm"].dump(), b["hole_mm"].dump(),
                               b["slot_mm"].dump(), b.value("material", "")),
                   exact_shape(b, {"reach", "mass_kg", "pieces"}), 1});
  }
}

/// One mark and name, one line: equal parts under one mark are added up.
void put_together(std::vector<MadePart>& parts) {
  std::vector<MadePart> out;
  for (MadePart& part : parts) {
    const auto same = std::find_if(out.begin(), out.end(), [&](const MadePart& p) { return p.mark == part.mark && p.what == part.what; });
    if (same == out.end())
      out.push_back(std::move(part));
    else
      same->quantity += part.quantity, same->exact += part.exact;
  }
  parts = std::move(out);
}

}  // namespace

std::vector<Value> values_of(const survey::Job& job) {
  std::vector<Value> out;
  const Json written = job_to_json(job);
  for (const auto& [key, value] : written.items()) {
    if (key == "format") continue;
    if (key == "cavities") {
      for (const Json& cavity : value) collect_cavity(cavity, out);
    } else {
      collect(value.is_object() ? in_words(key) : "job", value.is_object() ? "" : in_words(key), value, out);
    }
  }
  return out;
}

differences::Made made_of(const Json& plan) {
  differences::Made out;
  if (plan.contains("totals")) collect("in all", "", plan["totals"], out.totals);
  for (const Json& cavity : plan["cavities"]) {
    const std::string name = cavity["name"];
    out.totals.push_back({name, "cells", cavity["cells"].dump()});
    for (const Json& box : cavity["boxes"]) {
      MadeBox made{name, box.value("mark", box.value("name", "")), static_cast<int>(box["cells"].size()), {}, {}, 0};
      if (!box.value("outline_mm", Json::array()).empty()) {
        made.outside_mm = box.value("outside_mm", std::vector<double>{});
        made.inside_mm = box.value("inside_mm", std::vector<double>{});
      }
      if (box.contains("mass_kg") && box["mass_kg"].is_object()) made.full_kg = box["mass_kg"].value("full", 0.0);
      out.boxes.push_back(std::move(made));
      collect_parts(box, out.parts);
    }
  }
  put_together(out.parts);
  return out;
}

}  // namespace cellstow::report
