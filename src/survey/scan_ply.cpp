#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <optional>

#include "scan_file.hpp"

namespace cellstow::survey {
namespace {

using measuring::scan::Scan;
using Fault = tl::unexpected<ScanFileFault>;

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };
enum class Form { text, little_endian, big_endian };

std::optional<Type> type_named(std::string_view name) {
  static constexpr std::string_view names[][2] = {{"char", "int8"},    {"uchar", "uint8"},   {"short", "int16"},
                                                  {"ushort", "uint16"}, {"int", "int32"},     {"uint", "uint32"},
                                                  {"float", "float32"}, {"double", "float64"}};
  for (std::size_t i = 0; i < std::size(names); ++i)
    if (name == names[i][0] || name == names[i][1]) return static_cast<Type>(i);
  return {};
}

std::size_t size_of(Type type) {
  static constexpr std::size_t sizes[] = {1, 1, 2, 2, 4, 4, 4, 8};
  return sizes[static_cast<std::size_t>(type)];
}

enum class Role { none, x, y, z, corners };

struct Property {
  std::string name;
  Type type = Type::float32;
  std::optional<Type> counted_by;              ///< of a list
  Role role = Role::none;
};

struct Element {
  std::string name;
  std::size_t count = 0;
  std::vector<Property> properties;
};

template <class T>
double number_from(const char* at) {
  T value;
  std::memcpy(&value, at, sizeof value);
  return static_cast<double>(value);
}

double number_at(const char* at, Type type, bool turn_round) {
  char bytes[8];
  const std::size_t size = size_of(type);
  std::memcpy(bytes, at, size);
  if (turn_round) std::reverse(bytes, bytes + size);
  switch (type) {
    case Type::int8: return number_from<std::int8_t>(bytes);
    case Type::uint8: return number_from<std::uint8_t>(bytes);
    case Type::int16: return number_from<std::int16_t>(bytes);
    case Type::uint16: return number_from<std::uint16_t>(bytes);
    case Type::int32: return number_from<std::int32_t>(bytes);
    case Type::uint32: return number_from<std::uint32_t>(bytes);
    case Type::float32: return number_from<float>(bytes);
    case Type::float64: break;
  }
  return number_from<double>(bytes);
}

class PlyReader {
 public:
  explicit PlyReader(std::string_view bytes) : bytes_(bytes), words_(bytes) {}

  ScanFile read() {
    if (!read_head() || !check_head()) return Fault(fault_);
    at_ = words_.at();
    for (const Element& element : elements_)
      if (!read_element(element)) return Fault(fault_);
    if (!at_end()) return Fault(fault_);
    for (const auto& [corners, count, number] : faces_)
      if (const std::string what = add_face(scan_, corners.data(), count, scan_.points.size()); !what.empty())
        return Fault(scan_damaged(fmt::format("face {}, counted from 1: {}", number, what),
                                  "faces of 3 or 4 corners among the points of the file"));
    if (scan_.triangles.empty()) return Fault(scan_without_faces(fmt::format("{} points", scan_.points.size())));
    return std::move(scan_);
  }

 private:
  struct Face {
    std::array<long long, 4> corners;
    std::size_t count, number;
  };

  bool fail(ScanFileFault fault) {
    fault_ = std::move(fault);
    return false;
  }
  bool wrong_here(std::string expected) { return fail(scan_damaged(words_.here(), std::move(expected))); }

  // ---- head ------------------------------------------------------------------

  bool read_head() {
    if (words_.next_on_line() != "ply" || !words_.rest_of_line().empty()) return wrong_here("ply as the first line");
    constexpr std::size_t most_lines = 1000;
    while (words_.next_line()) {
      if (words_.line() > most_lines) return wrong_here(fmt::format("a head of at most {} lines", most_lines));
      const std::string_view key = words_.next_on_line();
      if (key == "end_header") {
        words_.rest_of_line();
        if (!words_.next_line()) return fail(scan_ends_early("points and faces after the head"));
        return true;
      }
      if (!read_head_line(key)) return false;
    }
    return fail(scan_ends_early("a head up to end_header"));
  }

  bool read_head_line(std::string_view key) {
    if (key.empty() || key == "comment" || key == "obj_info") return true;
    if (key == "format") return read_format();
    if (key == "element") return read_element_line();
    if (key == "property") return read_property_line();
    return wrong_here("format, element, property, comment or end_header");
  }

  bool read_format() {
    const std::string_view form = words_.next_on_line(), version = words_.next_on_line();
    if (form == "ascii") form_ = Form::text;
    else if (form == "binary_little_endian") form_ = Form::little_endian;
    else if (form == "binary_big_endian") form_ = Form::big_endian;
    else return wrong_here("format ascii, binary_little_endian or binary_big_endian 1.0");
    return version == "1.0" || wrong_here("format version 1.0");
  }

  bool read_element_line() {
    Element element;
    element.name = words_.next_on_line();
    long long count = 0;
    if (element.name.empty() || !to_whole(words_.next_on_line(), count) || count < 0)
      return wrong_here("element, its name and how many");
    if (static_cast<unsigned long long>(count) > most_scan_parts || elements_.size() >= 20)
      return wrong_here(fmt::format("at most 20 kinds of element, at most {} of each", most_scan_parts));
    element.count = static_cast<std::size_t>(count);
    elements_.push_back(std::move(element));
    return true;
  }

  bool read_property_line() {
    constexpr std::string_view expected = "property, a kind of number and a name; or property list, two kinds and a name";
    if (elements_.empty()) return wrong_here("element before its properties");
    Property property;
    std::string_view word = words_.next_on_line();
    if (word == "list") {
      property.counted_by = type_named(words_.next_on_line());
      if (!property.counted_by || *property.counted_by >= Type::float32) return wrong_here(std::string(expected));
      word = words_.next_on_line();
    }
    const auto type = type_named(word);
    property.name = words_.next_on_line();
    if (!type || property.name.empty()) return wrong_here(std::string(expected));
    property.type = *type;
    if (elements_.back().properties.size() >= 100) return wrong_here("at most 100 properties");
    give_role(elements_.back().name, property);
    elements_.back().properties.push_back(std::move(property));
    return true;
  }

  static void give_role(const std::string& element, Property& property) {
    const bool is_list = property.counted_by.has_value();
    if (element == "vertex" && !is_list) {
      if (property.name == "x") property.role = Role::x;
      if (property.name == "y") property.role = Role::y;
      if (property.name == "z") property.role = Role::z;
    }
    if (element == "face" && is_list && (property.name == "vertex_indices" || property.name == "vertex_index"))
      property.role = Role::corners;
  }

  std::size_t with_role(std::string_view element, Role role) const {
    std::size_t count = 0;
    for (const Element& e : elements_)
      if (e.name == element)
        count += static_cast<std::size_t>(std::count_if(e.properties.begin(), e.properties.end(),
                                                        [&](const Property& p) { return p.role == role; }));
    return count;
  }

  bool check_head() {
    if (!form_) return fail(scan_damaged("no format in the head", "format ascii, binary_little_endian or binary_big_endian 1.0"));
    for (const auto& [role, name] : {std::pair{Role::x, "x"}, {Role::y, "y"}, {Role::z, "z"}})
      if (with_role("vertex", role) != 1)
        return fail(scan_damaged(fmt::format("{} properties {} of vertex in the head", with_role("vertex", role), name), "x, y and z of each vertex, once"));
    if (with_role("face", Role::corners) == 0) return fail(scan_without_faces("no list vertex_indices of face in the head"));
    if (with_role("face", Role::corners) > 1) return fail(scan_damaged("lists of corners given twice in the head", "one list vertex_indices of face"));
    return true;
  }

  // ---- what follows ------------------------------------------------------------

  bool read_element(const Element& element) {
    // every value takes a byte or more, so a head that promises too much is seen before any room is made
    if (element.count > bytes_.size()) return fail(scan_ends_early(fmt::format("{} of {}", element.count, element.name)));
    for (std::size_t i = 0; i < element.count; ++i) {
      std::array<double, 3> point{};
      for (const Property& property : element.properties)
        if (!read_property(element, property, i, point)) return false;
      if (element.name == "vertex") {
        if (!std::all_of(point.begin(), point.end(), [](double c) { return std::isfinite(c); }))
          return fail(scan_damaged(fmt::format("vertex {}, counted from 1, is not a number", i + 1), "numbers"));
        scan_.points.push_back(point);
      }
      if (*form_ == Form::text && !element.properties.empty() && !end_text_line()) return false;
    }
    return true;
  }

  bool end_text_line() {
    if (!words_.rest_of_line().empty()) return wrong_here("as many numbers as the head names");
    words_.next_line();
    return true;
  }

  bool read_property(const Element& element, const Property& property, std::size_t i, std::array<double, 3>& point) {
    if (property.counted_by) return read_list(element, property, i);
    double value = 0;
    if (!read_value(element, property.type, i, value)) return false;
    if (property.role >= Role::x && property.role <= Role::z)
      point[static_cast<std::size_t>(property.role) - static_cast<std::size_t>(Role::x)] = value;
    return true;
  }

  bool read_list(const Element& element, const Property& property, std::size_t i) {
    double count = 0;
    if (!read_value(element, *property.counted_by, i, count)) return false;
    const bool corners = property.role == Role::corners;
    if (corners && (count < 3 || count > 4))
      return fail(scan_damaged(fmt::format("face {}, counted from 1, of {:.0f} corners", i + 1, count), "faces of 3 or 4 corners"));
    if (count < 0 || count > static_cast<double>(bytes_.size())) return fail(scan_ends_early(fmt::format("{} {}", element.name, i + 1)));
    Face face{{}, static_cast<std::size_t>(count), i + 1};
    for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
      double value = 0;
      if (!read_value(element, property.type, i, value)) return false;
      if (!corners) continue;
      // a whole number in range, or one that add_face refuses
      face.corners[k] = value >= 0 && value < 1e9 && value == std::floor(value) ? static_cast<long long>(value) : -1;
    }
    if (corners) faces_.push_back(face);
    return true;
  }

  bool read_value(const Element& element, Type type, std::size_t i, double& value) {
    if (*form_ == Form::text) {
      const std::string_view word = words_.next_on_line();
      if (word.empty()) return words_.at() >= bytes_.size() ? fail(scan_ends_early(fmt::format("{} {} of {}", element.name, i + 1, element.count))) : wrong_here(fmt::format("{} {}, as many numbers as the head names", element.name, i + 1));
      return to_number(word, value) || wrong_here(fmt::format("numbers of {} {}", element.name, i + 1));
    }
    if (bytes_.size() - at_ < size_of(type))
      return fail(scan_ends_early(fmt::format("{} {} of {}", element.name, i + 1, element.count)));
    value = number_at(bytes_.data() + at_, type, *form_ == Form::big_endian);
    at_ += size_of(type);
    return true;
  }

  bool at_end() {
    if (*form_ == Form::text) return words_.next().empty() || wrong_here("the end of the file after its last element");
    if (at_ == bytes_.size()) return true;
    return fail(scan_damaged(fmt::format("{} bytes after the last element", bytes_.size() - at_), "the end of the file there"));
  }

  std::string_view bytes_;
  ScanWords words_;
  std::size_t at_ = 0;
  std::optional<Form> form_;
  std::vector<Element> elements_;
  Scan scan_;
  std::vector<Face> faces_;
  ScanFileFault fault_;
};

}  // namespace

ScanFile read_ply(std::string_view bytes) { return PlyReader(bytes).read(); }

}  // namespace cellstow::survey
