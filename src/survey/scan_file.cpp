#include "scan_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace cellstow::survey {
namespace {

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\f' || c == '\v'; }

bool ends_in(std::string_view name, std::string_view ending) {
  if (name.size() < ending.size()) return false;
  return std::equal(ending.begin(), ending.end(), name.end() - static_cast<std::ptrdiff_t>(ending.size()),
                    [](char low, char c) { return low == (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c); });
}

std::string_view without_plus(std::string_view word) {
  if (word.size() > 1 && word[0] == '+' && word[1] != '-') word.remove_prefix(1);
  return word;
}

}  // namespace

std::string_view ScanWords::next() {
  while (true) {
    const std::string_view word = next_on_line();
    if (!word.empty() || !next_line()) return word;
  }
}

std::string_view ScanWords::next_on_line() {
  while (at_ < text_.size() && is_space(text_[at_])) ++at_;
  const std::size_t start = at_;
  while (at_ < text_.size() && text_[at_] != '\n' && !is_space(text_[at_])) ++at_;
  return text_.substr(start, at_ - start);
}

bool ScanWords::next_line() {
  const std::size_t end = text_.find('\n', at_);
  if (end == std::string_view::npos) {
    at_ = text_.size();
    return false;
  }
  at_ = line_start_ = end + 1;
  ++line_;
  return true;
}

std::string_view ScanWords::rest_of_line() {
  const std::size_t start = at_;
  at_ = std::min(text_.find('\n', at_), text_.size());
  std::string_view rest = text_.substr(start, at_ - start);
  while (!rest.empty() && is_space(rest.front())) rest.remove_prefix(1);
  while (!rest.empty() && is_space(rest.back())) rest.remove_suffix(1);
  return rest;
}

std::string ScanWords::here() const {
  constexpr std::size_t longest = 60;
  std::string_view line = text_.substr(line_start_, std::min(text_.find('\n', line_start_), text_.size()) - line_start_);
  while (!line.empty() && is_space(line.back())) line.remove_suffix(1);
  while (!line.empty() && is_space(line.front())) line.remove_prefix(1);
  std::string shown(line.substr(0, longest));
  for (char& c : shown)
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) >= 0x7f) c = '?';
  return fmt::format("line {}: {}{}", line_, shown, line.size() > longest ? "..." : "");
}

bool to_number(std::string_view word, double& value) {
  word = without_plus(word);
  const auto [end, fault] = std::from_chars(word.data(), word.data() + word.size(), value);
  return fault == std::errc() && end == word.data() + word.size() && std::isfinite(value);
}

bool to_whole(std::string_view word, long long& value) {
  word = without_plus(word);
  const auto [end, fault] = std::from_chars(word.data(), word.data() + word.size(), value);
  return fault == std::errc() && end == word.data() + word.size();
}

ScanFileFault scan_damaged(std::string found, std::string expected, std::string hint) {
  return {"scan file damaged", std::move(found), std::move(expected), std::move(hint)};
}

ScanFileFault scan_ends_early(std::string expected) {
  return scan_damaged("the file ends early", std::move(expected), "copy it from the scanner again");
}

ScanFileFault scan_without_faces(std::string found) {
  return {"scan without faces", std::move(found), "faces of 3 or 4 corners",
          "points alone show no wall; let the scanner's program make a surface of them first"};
}

std::string add_face(measuring::scan::Scan& scan, const long long* corners, std::size_t count, std::size_t points) {
  if (count < 3 || count > 4) return fmt::format("a face of {} corners", count);
  for (std::size_t i = 0; i < count; ++i)
    if (corners[i] < 0 || static_cast<std::size_t>(corners[i]) >= points)
      return fmt::format("a face with corner {}, counted from 0, of {} points", corners[i], points);
  if (scan.triangles.size() + count > most_scan_parts + 2) return fmt::format("more than {} triangles", most_scan_parts);
  const auto corner = [&](std::size_t i) { return static_cast<std::uint32_t>(corners[i]); };
  scan.triangles.push_back({corner(0), corner(1), corner(2)});
  if (count == 4) scan.triangles.push_back({corner(0), corner(2), corner(3)});
  return {};
}

ScanFile read_scan_file(std::string_view bytes, std::string_view name) {
  if (ends_in(name, ".stl")) return read_stl(bytes);
  if (ends_in(name, ".obj")) return read_obj(bytes);
  if (ends_in(name, ".ply")) return read_ply(bytes);
  return tl::unexpected(ScanFileFault{"not a kind of scan file", "a name that ends otherwise",
                                      "a file ending in .stl, .obj or .ply", "export the scan in one of these"});
}

}  // namespace cellstow::survey
