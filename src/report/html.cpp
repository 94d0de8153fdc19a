#include "report/html.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "report/svg.hpp"
#include "report/text.hpp"

namespace cellstow::report {

std::string element(std::string_view name, std::string_view text, std::string_view klass) {
  const std::string attribute = klass.empty() ? "" : fmt::format(" class=\"{}\"", klass);
  return fmt::format("<{}{}>{}</{}>\n", name, attribute, escape_markup(text), name);
}

std::string html_table(const Table& table, const std::vector<std::size_t>& numbers,
                       std::string_view caption, std::string_view klass) {
  if (table.rows.empty()) return {};
  const auto is_number = [&](std::size_t column) {
    return std::find(numbers.begin(), numbers.end(), column) != numbers.end();
  };
  const auto row = [&](const std::vector<std::string>& fields, const char* cell) {
    std::string out;
    for (std::size_t i = 0; i < fields.size(); ++i) {
      out += fmt::format("<{}{}>{}</{}>", cell, is_number(i) ? " class=\"n\"" : "", escape_markup(fields[i]), cell);
    }
    return out;
  };
  std::string out = klass.empty() ? "<table>\n" : fmt::format("<table class=\"{}\">\n", klass);
  if (!caption.empty()) out += element("caption", caption);
  out += "<thead><tr>" + row(table.head, "th") + "</tr></thead>\n<tbody>\n";
  for (const auto& fields : table.rows) {
    const bool fails = !fields.empty() && fields.front() == "NO";
    const bool chosen = !fields.empty() && fields.back() == "chosen";
    out += fails ? "<tr class=\"stands-out\">" : chosen ? "<tr class=\"chosen\">" : "<tr>";
    out += row(fields, "td") + "</tr>\n";
  }
  return out + "</tbody></table>\n";
}

std::string html_list(const std::vector<std::string>& lines, std::string_view klass) {
  if (lines.empty()) return {};
  std::string out = klass.empty() ? "<ul>\n" : fmt::format("<ul class=\"{}\">\n", klass);
  for (const std::string& line : lines) out += element("li", line);
  return out + "</ul>\n";
}

std::string figure(const Drawing& drawing, bool own_sheet) {
  return fmt::format("<figure class=\"{}\">\n{}</figure>\n", own_sheet ? "sheet" : "in-text",
                     to_svg(drawing, SvgUse::inline_in_page));
}

std::string css_string(std::string_view text) {
  std::string out;
  for (const std::string& character : characters(one_line(text))) {
    const unsigned char c = static_cast<unsigned char>(character[0]);
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ';
    if (plain || c >= 0x80) {
      out += character;
    } else {
      out += fmt::format("\\{:x} ", c);
    }
  }
  return out;
}

}  // namespace cellstow::report
