#include "report/json_text.hpp"

namespace cellstow::report {
namespace {

constexpr std::size_t line_length = 100;

bool has_depth(const nlohmann::ordered_json& value) {
  if (!value.is_structured()) return false;
  for (const auto& child : value) {
    if (!child.is_structured()) continue;
    for (const auto& grandchild : child) {
      if (grandchild.is_structured()) return true;
    }
  }
  return false;
}

void write(std::string& out, const nlohmann::ordered_json& value, std::size_t indent) {
  if (!has_depth(value)) {
    const std::string line = value.dump();
    if (!value.is_structured() || line.size() + indent <= line_length) {
      out += line;
      return;
    }
  }
  const bool object = value.is_object();
  const std::string pad(indent + 2, ' ');
  out += object ? "{\n" : "[\n";
  bool first = true;
  for (const auto& [key, child] : value.items()) {
    if (!first) out += ",\n";
    first = false;
    out += pad;
    if (object) out += nlohmann::ordered_json(key).dump() + ": ";
    write(out, child, indent + 2);
  }
  out += '\n';
  out.append(indent, ' ');
  out += object ? '}' : ']';
}

}  // namespace

std::string json_text(const nlohmann::ordered_json& value) {
  std::string out;
  write(out, value, 0);
  return out + "\n";
}

}  // namespace cellstow::report
