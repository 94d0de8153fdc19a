#include "report/step_order.hpp"

#include <algorithm>
#include <cctype>
#include <functional>
#include <map>
#include <vector>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

const std::string style_root = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION";

/// Calls back with every `#number` of a text outside of strings.
void each_reference(const std::string& text, const std::function<void(std::size_t at, std::size_t length, int number)>& found) {
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\'') quoted = !quoted;
    if (quoted || text[i] != '#') continue;
    std::size_t end = i + 1;
    while (end < text.size() && std::isdigit(static_cast<unsigned char>(text[end])) != 0) ++end;
    found(i, end - i, std::stoi(text.substr(i + 1, end - i - 1)));
  }
}

/// A reference in a text by another number.
std::string renumbered(const std::string& text, const std::map<int, int>& numbers) {
  std::string out;
  std::size_t from = 0;
  each_reference(text, [&](std::size_t at, std::size_t length, int number) {
    const auto known = numbers.find(number);
    out += text.substr(from, at - from) + "#" + std::to_string(known == numbers.end() ? number : known->second);
    from = at + length;
  });
  return out + text.substr(from);
}

struct Record { int number = 0; std::string text; };   ///< text from behind the "=" up to the semicolon

std::vector<Record> records_of(const std::string& data) {
  std::vector<Record> records;
  for (std::size_t from = 0, end; (end = data.find(";\n", from)) != std::string::npos; from = end + 2) {
    const std::size_t equals = data.find('=', from);
    if (data[from] != '#' || equals > end) break;
    records.push_back({std::stoi(data.substr(from + 1)), data.substr(equals, end - equals)});
  }
  return records;
}

/// The styled solid of a root: root -> styled item -> last reference.
int solid_of(const std::map<int, std::string>& styles, const std::string& root) {
  int item = 0, solid = 0;
  each_reference(root, [&](std::size_t, std::size_t, int number) { if (item == 0) item = number; });
  each_reference(styles.at(item), [&](std::size_t, std::size_t, int number) { solid = number; });
  return solid;
}

std::string with_styles_in_order(const std::string& step) {
  const std::size_t first = step.find("= " + style_root);
  if (first == std::string::npos) return step;
  const std::size_t from = step.rfind('#', first), to = step.find("ENDSEC;", from);
  std::map<int, std::string> styles;
  std::vector<std::pair<int, int>> roots;   // solid, number of the root
  const std::vector<Record> records = records_of(step.substr(from, to - from));
  for (const Record& record : records) styles[record.number] = record.text;
  for (const auto& [number, text] : styles) {
    if (text.find(style_root) != std::string::npos) roots.emplace_back(solid_of(styles, text), number);
  }
  std::sort(roots.begin(), roots.end());
  std::map<int, int> numbers;
  std::vector<int> order;
  const std::function<void(int)> take = [&](int number) {
    if (!styles.contains(number) || numbers.contains(number)) return;
    numbers[number] = records.front().number + static_cast<int>(order.size());
    order.push_back(number);
    each_reference(styles.at(number), [&](std::size_t, std::size_t, int next) { take(next); });
  };
  for (const auto& [solid, number] : roots) take(number);
  std::string out = step.substr(0, from);
  for (const int number : order) out += "#" + std::to_string(numbers.at(number)) + " " + renumbered(styles.at(number), numbers) + ";\n";
  return out + step.substr(to);
}

std::string with_places_numbered(const std::string& step) {
  const std::string place = "NEXT_ASSEMBLY_USAGE_OCCURRENCE('";
  return with_numbers_replaced(step, place, [&](int k) { return place + std::to_string(k); });
}

}  // namespace

std::string in_one_order(const std::string& step) { return with_places_numbered(with_styles_in_order(step)); }

}  // namespace cellstow::report
