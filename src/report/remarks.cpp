#include "report/remarks.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cellstow::report {
namespace {

using Lines = std::vector<std::string>;

/// A line taken apart: what it is about, and what it says.
struct Split { std::string kind, subject, rest; };

Split split(const std::string& line) {
  const std::size_t colon = line.find(": "), blank = line.find(' ');
  if (colon != std::string::npos && blank == colon + 1) return {"mark", line.substr(0, colon), line.substr(colon + 2)};
  if (line.starts_with("Block ")) {
    const std::size_t end = line.find(' ', 6);
    const std::string number = line.substr(6, end == std::string::npos ? end : end - 6);
    const bool digits = !number.empty() && number.find_first_not_of("0123456789") == std::string::npos;
    if (digits && end != std::string::npos) return {"block", number, line.substr(end + 1)};
  }
  return {"", "", line};
}

std::string joined(const Split& first, const Lines& subjects) {
  if (first.kind.empty()) return first.rest;
  std::string names;
  for (const std::string& subject : subjects) names += (names.empty() ? "" : ", ") + subject;
  if (first.kind == "mark") return names + ": " + first.rest;
  return subjects.size() == 1 ? "Block " + names + " " + first.rest : "Blocks " + names + ": each " + first.rest;
}

Lines cautions_of(const plan::BoxPlan& box) {
  Lines out = box.box.cautions;
  out.insert(out.end(), box.sheet.cautions.begin(), box.sheet.cautions.end());
  out.insert(out.end(), box.straps.cautions.begin(), box.straps.cautions.end());
  out.insert(out.end(), box.mounting.cautions.begin(), box.mounting.cautions.end());
  out.insert(out.end(), box.hold_downs.cautions.begin(), box.hold_downs.cautions.end());
  out.insert(out.end(), box.load_path.cautions.begin(), box.load_path.cautions.end());
  return out;
}

Lines notes_of(const plan::BoxPlan& box) {
  Lines out = box.box.notes;
  out.insert(out.end(), box.sheet.notes.begin(), box.sheet.notes.end());
  out.insert(out.end(), box.mounting.notes.begin(), box.mounting.notes.end());
  out.insert(out.end(), box.hold_downs.notes.begin(), box.hold_downs.notes.end());
  return out;
}

/// Lines that more than one box has, in order of first appearance.
template <class Of>
Lines shared(const plan::Plan& plan, Of lines_of) {
  std::map<std::string, int> boxes;
  Lines order;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      const Lines lines = lines_of(box);
      for (const std::string& line : std::set<std::string>(lines.begin(), lines.end())) ++boxes[line];
      order.insert(order.end(), lines.begin(), lines.end());
    }
  }
  Lines out;
  for (const std::string& line : order) {
    // "Block 1" is another block in another box.
    if (split(line).kind == "block") continue;
    if (boxes[line] > 1 && std::find(out.begin(), out.end(), line) == out.end()) out.push_back(line);
  }
  return out;
}

Lines without(const Lines& lines, const Lines& taken) {
  Lines out;
  for (const std::string& line : lines) {
    if (std::find(taken.begin(), taken.end(), line) == taken.end()) out.push_back(line);
  }
  return out;
}

}  // namespace

std::vector<std::string> merged(const std::vector<std::string>& lines) {
  std::vector<std::pair<Split, Lines>> groups;
  for (const std::string& line : lines) {
    const Split part = split(line);
    const auto alike = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
      return group.first.kind == part.kind && group.first.rest == part.rest;
    });
    if (alike == groups.end()) {
      groups.push_back({part, {part.subject}});
    } else if (std::find(alike->second.begin(), alike->second.end(), part.subject) == alike->second.end()) {
      alike->second.push_back(part.subject);
    }
  }
  Lines out;
  for (const auto& [first, subjects] : groups) out.push_back(joined(first, subjects));
  return out;
}

std::vector<std::string> own_cautions(const plan::Plan& plan, const plan::BoxPlan& box) {
  return merged(without(cautions_of(box), shared(plan, cautions_of)));
}

std::vector<std::string> own_notes(const plan::Plan& plan, const plan::BoxPlan& box) {
  return merged(without(notes_of(box), shared(plan, notes_of)));
}

std::vector<std::string> general_cautions(const plan::Plan& plan) {
  const Lines common = shared(plan, cautions_of);
  Lines said;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      const Lines own = without(cautions_of(box), common);
      said.insert(said.end(), own.begin(), own.end());
    }
  }
  if (plan.string) said.insert(said.end(), plan.string->cautions.begin(), plan.string->cautions.end());
  if (plan.balance) said.insert(said.end(), plan.balance->cautions.begin(), plan.balance->cautions.end());
  Lines all = plan.cautions;
  const Lines missing = without(common, all);
  all.insert(all.end(), missing.begin(), missing.end());
  return merged(without(all, said));
}

std::vector<std::string> general_notes(const plan::Plan& plan) { return merged(shared(plan, notes_of)); }

}  // namespace cellstow::report
