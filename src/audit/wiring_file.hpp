#pragma once
/// Order and links of the string as the audit reads them, and what they are held against.

#include <array>
#include <optional>
#include <string>
#include <vector>


namespace cellstow::audit {

enum class Posts { up, rising, falling };
enum class Pole { plus, minus };
enum class Join { link, jumper, cable };
using Point = std::array<double, 3>;  ///< car frame, mm

struct OrderedCell {
  int number = 0, group = 0, block = 0, place = 0;
  std::string box;                ///< mark
  Posts posts = Posts::up;
  bool turned = false;
  Point plus{}, minus{};
};

struct LinkLine {
  int number = 0, from = 0, to = 0;
  Pole from_pole = Pole::plus, to_pole = Pole::minus;
  Join join = Join::link;
  std::optional<double> centre_mm, string_max_v;
  std::optional<std::string> kind;
  bool removable = false;
};

struct KindLine { std::string kind; int centre_mm = 0, count = 0; };
struct PieceLine { int first_group = 0, last_group = 0; std::optional<double> max_v; };

struct WiringFile {
  std::vector<OrderedCell> order;
  std::vector<LinkLine> links;
  std::vector<KindLine> kinds;
  std::vector<PieceLine> pieces;
  std::vector<std::vector<std::string>> marks;  ///< of the boxes, cavity by cavity
  double offset_mm = 0;
  int parallel = 1;
  std::optional<double> cell_max_v, open_link_max_v;
};

}  // namespace cellstow::audit
