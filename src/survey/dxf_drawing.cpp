#include "dxf_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "fields.hpp"

namespace cellstow::survey {
namespace {

std::string_view without_blanks(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

/// Lines of a text, counted from 1.
class Lines {
 public:
  explicit Lines(std::string_view text) : rest_(text) {}
  std::optional<std::string_view> next() {
    if (rest_.empty()) return {};
    const std::size_t end = rest_.find('\n');
    const std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    ++number_;
    return without_blanks(line);
  }
  int number() const { return number_; }

 private:
  std::string_view rest_;
  int number_ = 0;
};

void refuse(ProblemLog& log, std::string found, std::string expected, std::string hint = {}) {
  log.add("E230", "", "drawing cannot be read", std::move(found), std::move(expected), std::move(hint));
}

const std::string pairs_of_lines = "a DXF drawing as text: pairs of lines, a group code and its value";

std::optional<DxfGroup> next_group(Lines& lines, ProblemLog& log) {
  const auto code_line = lines.next();
  if (!code_line) {
    refuse(log, fmt::format("the file ends after line {} without EOF", lines.number()), "a whole DXF drawing",
           "it may have been cut short on its way; save it anew");
    return {};
  }
  DxfGroup group;
  const auto [end, fault] = std::from_chars(code_line->data(), code_line->data() + code_line->size(), group.code);
  if (fault != std::errc() || end != code_line->data() + code_line->size() || code_line->empty()) {
    refuse(log, fmt::format("line {}: {}", lines.number(), shown(Json(std::string(*code_line)))), pairs_of_lines,
           "save the drawing as DXF, the kind in plain text (ASCII), R12 or R2000 and later");
    return {};
  }
  const auto value = lines.next();
  group.value = std::string(value.value_or(std::string_view{}));
  group.line = lines.number();
  return group;
}

/// Goes through the sections and keeps the unit and what is drawn.
class SectionWalk {
 public:
  /// False at the end of the file.
  bool take(const DxfGroup& group) {
    if (group.code == 0 && group.value == "EOF") return false;
    if (group.code == 0 && group.value == "SECTION") {
      name_.clear();
      naming_ = true;
    } else if (naming_ && group.code == 2) {
      name_ = group.value;
      naming_ = false;
      any_ = true;
    } else if (group.code == 0 && group.value == "ENDSEC") {
      name_.clear();
    } else if (name_ == "HEADER") {
      take_header(group);
    } else if (name_ == "ENTITIES") {
      take_entity(group);
    }
    return true;
  }
  bool any() const { return any_; }
  DxfDrawing drawing;

 private:
  void take_header(const DxfGroup& group) {
    if (group.code == 9) variable_ = group.value;
    if (group.code != 70 || variable_ != "$INSUNITS") return;
    int code = 0;
    const auto [end, fault] = std::from_chars(group.value.data(), group.value.data() + group.value.size(), code);
    drawing.unit_code = fault == std::errc() && end == group.value.data() + group.value.size() ? code : -1;
  }

  void take_entity(const DxfGroup& group) {
    std::vector<DxfEntity>& entities = drawing.entities;
    const bool part_of_last = group.code == 0 && !entities.empty() &&
                              (group.value == "VERTEX" || group.value == "SEQEND" || group.value == "ATTRIB");
    if (group.code == 0 && !part_of_last) {
      entities.push_back({});
      entities.back().type = group.value;
      entities.back().line = group.line;
      in_parts_ = false;
    }
    if (entities.empty() || group.code == 999) return;
    in_parts_ |= part_of_last;
    DxfEntity& entity = entities.back();
    entity.groups.push_back(group);
    if (group.code == 8 && !in_parts_) entity.layer = group.value;
    if (group.code == 67 && !in_parts_) entity.on_paper = group.value == "1";
  }

  std::string name_, variable_;
  bool naming_ = false, any_ = false, in_parts_ = false;
};

}  // namespace

std::optional<DxfDrawing> parse_dxf(std::string_view bytes, ProblemLog& log) {
  if (bytes.starts_with("AutoCAD Binary DXF")) {
    refuse(log, "a binary DXF", pairs_of_lines, "save it again as DXF in plain text (ASCII)");
    return {};
  }
  if (bytes.find('\0') != std::string_view::npos) {
    refuse(log, "bytes that are no text", pairs_of_lines, "this may be a drawing in another format under the name of a DXF");
    return {};
  }
  Lines lines(bytes);
  SectionWalk sections;
  for (;;) {
    const auto group = next_group(lines, log);
    if (!group) return {};
    if (!sections.take(*group)) break;
  }
  if (sections.any()) return std::move(sections.drawing);
  refuse(log, "no section in it", pairs_of_lines);
  return {};
}

}  // namespace cellstow::survey
