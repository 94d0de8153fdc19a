#include <string>
#include <vector>

#include "cellstow/report/write.hpp"
#include "report/answer.hpp"
#include "report/limits_words.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr std::size_t most_lines = 24;
constexpr std::size_t most_columns = 100;

using Lines = std::vector<std::string>;

/// Breaks at blanks to the width; lines after the first stand in by `indent`.
void add(Lines& lines, const std::string& text, std::size_t indent = 2) {
  std::string line, rest = one_line(text);
  while (!rest.empty()) {
    const std::size_t room = most_columns - (line.empty() ? 0 : indent);
    const std::vector<std::string> letters = characters(rest);
    if (letters.size() <= room) {
      lines.push_back(line + rest);
      return;
    }
    std::string head;
    std::size_t bytes = 0, last_blank = 0;
    for (std::size_t i = 0; i < room; ++i) {
      if (letters[i] == " ") last_blank = bytes;
      bytes += letters[i].size();
    }
    const std::size_t cut = last_blank > 0 ? last_blank : bytes;
    lines.push_back(line + rest.substr(0, cut));
    rest.erase(0, last_blank > 0 ? cut + 1 : cut);
    line = std::string(indent, ' ');
  }
}

void add_failures(Lines& lines, const plan::Plan& plan) {
  const std::vector<Failure> failing = failures(plan);
  if (failing.empty()) return;
  add(lines, "DOES NOT HOLD: " + count(failing_count(plan), "check"));
  for (std::size_t i = 0; i < failing.size() && i < 3; ++i) {
    add(lines, "- " + failure_sentence(failing[i]));
  }
  if (failing.size() > 3) add(lines, "- and more kinds: " + std::to_string(failing.size() - 3) + ", see the report");
}

void add_boxes(Lines& lines, const plan::Plan& plan) {
  std::size_t written = 0;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      if (++written <= 4) add(lines, box_sentence(box));
    }
  }
  if (written > 4) add(lines, "and " + count(static_cast<int>(written) - 4, "more box", "more boxes"));
}

/// Shortens to the screen, keeping the last line for where to read on.
std::string joined(Lines lines) {
  if (lines.size() > most_lines) {
    lines.resize(most_lines - 1);
    lines.push_back("... more in the report");
  }
  std::string out;
  for (const std::string& line : lines) out += line + "\n";
  return out;
}

}  // namespace

std::string summary(const survey::Job& job, const plan::Plan& plan) {
  Lines lines;
  add(lines, answer_sentence(plan));
  add_failures(lines, plan);
  for (const plan::CavityPlan& cavity : plan.cavities) {
    if (plan.cavities.size() <= 4) add(lines, cavity_sentence(cavity));
  }
  add(lines, striking_limit(plan));
  add_boxes(lines, plan);
  if (const std::string way = way_in_sentence(plan); !way.empty()) add(lines, way);
  for (const std::string& line : carrying_sentences(plan)) add(lines, line);
  for (const std::string& line : axle_sentences(job, plan)) add(lines, line);
  std::string left_out;
  for (const core::LeftOut& left : plan.left_out) left_out += (left_out.empty() ? "left out: " : "; ") + left.stage;
  add(lines, left_out);
  return joined(std::move(lines));
}

}  // namespace cellstow::report
