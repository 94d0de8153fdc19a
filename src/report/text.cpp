#include "report/text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace cellstow::report {
namespace {

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7f;
}

/// U+FFFE and U+FFFF may not stand in XML at all: U+FFFD takes their place.
std::string without_noncharacters(std::string text) {
  for (const char* banned : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"}) {
    for (std::size_t at = text.find(banned); at != std::string::npos; at = text.find(banned)) {
      text.replace(at, 3, "\xEF\xBF\xBD");
    }
  }
  return text;
}

int decimals_for(const std::string& unit) {
  if (unit == "N" || unit == "count" || unit == "cells") return 0;
  if (unit == "kg" || unit == "mm" || unit == "MPa" || unit == "V" || unit == "%") return 1;
  return 3;
}

}  // namespace

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "not known";
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return zero && text.front() == '-' ? text.substr(1) : text;
}

std::string number(double value, int decimals) {
  std::string text = fixed(value, decimals);
  if (!std::isfinite(value) || text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string mm_text(core::Length length) { return number(length.mm(), 1); }
std::string kg_text(core::Kg mass) { return fixed(mass.value(), 1); }

std::string percent(double share, int decimals) {
  if (!std::isfinite(share) || std::abs(share) > 1e6) return "no share";
  return fixed(share * 100, decimals) + " %";
}

ValueAndLimit value_and_limit(const core::Check& check) {
  int decimals = decimals_for(check.unit);
  const auto same = [&](int d) { return fixed(check.value, d) == fixed(check.limit, d); };
  while (check.value != check.limit && decimals < 4 && same(decimals)) ++decimals;
  // A use of 99.6 % must not print as a limit reached, nor 100.4 % as one kept.
  const double use = check.use;
  const bool near_one = std::abs(use - 1.0) < 0.01 && use != 1.0;
  return {number(check.value, decimals), number(check.limit, decimals),
          percent(use, near_one ? 2 : 0)};
}

std::string amount(const std::string& number, const std::string& unit) {
  if (unit.empty()) return number;
  const bool counted = unit.size() > 3 && unit.ends_with('s');
  return number + " " + (counted && number == "1" ? unit.substr(0, unit.size() - 1) : unit);
}

bool falls_short(const core::Check& check) { return !check.ok && check.value < check.limit; }

std::string count(int n, const std::string& one, const std::string& many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string count(int n, const std::string& one) { return count(n, one, one + "s"); }

std::string escape_markup(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += is_control(c) ? ' ' : c;
    }
  }
  return without_noncharacters(std::move(out));
}

std::string csv_field(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string file_part(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      (c == '.' && !out.empty() && out.back() >= '0' && out.back() <= '9');
    if (kept) {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
    if (out.size() == 60) break;
  }
  while (!out.empty() && (out.back() == '-' || out.back() == '.')) out.pop_back();
  return out.empty() ? "part" : out;
}

std::string one_line(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const char plain = is_control(c) ? ' ' : c;
    if (plain == ' ' && (out.empty() || out.back() == ' ')) continue;
    out += plain;
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::string shortened(std::string_view text, std::size_t most) {
  const std::vector<std::string> all = characters(one_line(text));
  std::string out;
  for (std::size_t i = 0; i < all.size() && i < most; ++i) out += all[i];
  return all.size() > most ? out + "." : out;
}

std::string ascii_line(std::string_view text) {
  std::string out;
  for (const std::string& character : characters(one_line(text))) {
    out += character.size() == 1 && static_cast<unsigned char>(character[0]) < 0x80 ? character : "?";
  }
  return out;
}

std::string with_numbers_replaced(std::string_view text, std::string_view prefix, const std::function<std::string(int)>& by) {
  std::string out;
  int time = 0;
  std::size_t from = 0;
  for (std::size_t at; (at = text.find(prefix, from)) != std::string_view::npos;) {
    out.append(text.substr(from, at - from)).append(by(++time));
    from = std::min(text.find_first_not_of("0123456789", at + prefix.size()), text.size());
  }
  return out.append(text.substr(from));
}

std::vector<std::string> characters(std::string_view text) {
  std::vector<std::string> out;
  for (const char c : text) {
    const bool continues = (static_cast<unsigned char>(c) & 0xC0u) == 0x80u;
    if (continues && !out.empty()) {
      out.back() += c;
    } else {
      out.emplace_back(1, c);
    }
  }
  return out;
}

}  // namespace cellstow::report
