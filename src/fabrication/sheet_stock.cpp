#include "cellstow/fabrication/sheet_stock.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <tuple>

namespace cellstow::fabrication {
namespace {

using core::Um;

struct Rect { Um x = 0, y = 0, length = 0, width = 0; };

/// A rectangle with its gap, and the piece it comes from.
struct Item { Um length = 0, width = 0; std::size_t piece = 0; bool turns = true; };

/// The free room of one sheet as the largest rectangles in it; they overlap.
class Sheet {
 public:
  Sheet(Um length, Um width) : free_{{0, 0, length, width}} {}

  /// The best place by `rank`, lowest first; none when it fits nowhere.
  template <class Rank>
  std::optional<std::pair<decltype(Rank()(Rect{}, Rect{})), Rect>> best(const Item& item, Rank rank) const {
    std::optional<std::pair<decltype(rank(Rect{}, Rect{})), Rect>> found;
    for (const Rect& room : free_) {
      for (const auto& [length, width] : {std::pair{item.length, item.width}, std::pair{item.width, item.length}}) {
        if (length > room.length || width > room.width || (!item.turns && length != item.length)) continue;
        const Rect here{room.x, room.y, length, width};
        const auto value = rank(room, here);
        if (!found || value < found->first) found = {value, here};
      }
    }
    return found;
  }

  void take(const Rect& body) {
    std::vector<Rect> left;
    for (const Rect& room : free_) split(room, body, left);
    free_.clear();
    for (std::size_t i = 0; i < left.size(); ++i) {
      const bool within = std::any_of(left.begin(), left.end(), [&](const Rect& other) {
        const std::size_t j = static_cast<std::size_t>(&other - left.data());
        return j != i && holds(other, left[i]) && (!holds(left[i], other) || j < i);
      });
      if (!within) free_.push_back(left[i]);
    }
  }

 private:
  static bool holds(const Rect& outer, const Rect& inner) {
    return outer.x <= inner.x && outer.y <= inner.y && inner.x + inner.length <= outer.x + outer.length && inner.y + inner.width <= outer.y + outer.width;
  }

  static void split(const Rect& room, const Rect& body, std::vector<Rect>& left) {
    const Um x_high = room.x + room.length, y_high = room.y + room.width;
    if (body.x >= x_high || body.x + body.length <= room.x || body.y >= y_high || body.y + body.width <= room.y) {
      left.push_back(room);
      return;
    }
    if (body.x > room.x) left.push_back({room.x, room.y, body.x - room.x, room.width});
    if (body.x + body.length < x_high) left.push_back({body.x + body.length, room.y, x_high - body.x - body.length, room.width});
    if (body.y > room.y) left.push_back({room.x, room.y, room.length, body.y - room.y});
    if (body.y + body.width < y_high) left.push_back({room.x, body.y + body.width, room.length, y_high - body.y - body.width});
  }

  std::vector<Rect> free_;
};

using Ranked = std::tuple<Um, Um, Um>;
struct LeastSideLeft {
  Ranked operator()(const Rect& room, const Rect& body) const {
    const Um a = room.length - body.length, b = room.width - body.width;
    return {std::min(a, b), std::max(a, b), body.x};
  }
};
struct LeastAreaLeft {
  Ranked operator()(const Rect& room, const Rect& body) const {
    return {room.length * room.width - body.length * body.width, std::min(room.length - body.length, room.width - body.width), body.x};
  }
};
struct LowestCorner {
  Ranked operator()(const Rect&, const Rect& body) const { return {body.x + body.length, body.y, body.width}; }
};

struct Laid { std::size_t item = 0; Rect body; };
using Sheets = std::vector<std::vector<Laid>>;

template <class Rank>
Sheets lay(const std::vector<Item>& items, Um length, Um width, Rank rank) {
  Sheets laid;
  std::vector<Sheet> sheets;
  for (std::size_t i = 0; i < items.size(); ++i) {
    std::size_t at = 0;
    std::optional<Rect> place;
    for (; at < sheets.size() && !place; ++at) {
      if (const auto found = sheets[at].best(items[i], rank)) place = found->second;
    }
    if (place) {
      --at;
    } else {
      sheets.emplace_back(length, width);
      laid.emplace_back();
      place = sheets[at].best(items[i], rank)->second;
    }
    sheets[at].take(*place);
    laid[at].push_back({items[i].piece, *place});
  }
  return laid;
}

/// How far the last sheet is taken up: the rest can go back to the rack in one piece.
Um taken_up(const Sheets& sheets) {
  Um reach = 0;
  for (const Laid& laid : sheets.back()) reach = std::max(reach, laid.body.x + laid.body.length);
  return reach;
}

/// Long sides along the sheet, or across it, where a piece fits so.
std::vector<Item> all_one_way(std::vector<Item> items, Um length, Um width, bool along) {
  for (Item& item : items) {
    const Um longer = std::max(item.length, item.width), shorter = std::min(item.length, item.width);
    const bool fits = along ? longer <= length && shorter <= width : longer <= width && shorter <= length;
    if (!fits) continue;
    item.length = along ? longer : shorter;
    item.width = along ? shorter : longer;
    item.turns = false;
  }
  return items;
}

Sheets fewest(const std::vector<Item>& items, Um length, Um width) {
  const std::vector<std::function<Um(const Item&)>> orders = {
      [](const Item& i) { return i.length * i.width; }, [](const Item& i) { return std::max(i.length, i.width); },
      [](const Item& i) { return std::min(i.length, i.width); }, [](const Item& i) { return i.length + i.width; }};
  Sheets best;
  const auto offer = [&](Sheets sheets) {
    if (best.empty() || std::pair(sheets.size(), taken_up(sheets)) < std::pair(best.size(), taken_up(best))) best = std::move(sheets);
  };
  for (std::vector<Item> some : {items, all_one_way(items, length, width, true), all_one_way(items, length, width, false)}) {
    for (const auto& order : orders) {
      std::stable_sort(some.begin(), some.end(), [&](const Item& a, const Item& b) { return order(a) > order(b); });
      offer(lay(some, length, width, LeastSideLeft{}));
      offer(lay(some, length, width, LeastAreaLeft{}));
      offer(lay(some, length, width, LowestCorner{}));
    }
  }
  return best;
}

}  // namespace

SheetPlan lay_on_sheets(const std::vector<SheetPiece>& pieces, Length sheet_length, Length sheet_width, Length margin, Length gap) {
  SheetPlan plan;
  // With one gap more of room, every piece takes its sides and one gap.
  const Um length = sheet_length.um() - 2 * margin.um() + gap.um(), width = sheet_width.um() - 2 * margin.um() + gap.um();
  std::vector<Item> items;
  double area = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Item item{pieces[i].length.um() + gap.um(), pieces[i].width.um() + gap.um(), i, true};
    const bool fits = (item.length <= length && item.width <= width) || (item.width <= length && item.length <= width);
    if (!fits) {
      plan.too_large.push_back(pieces[i]);
      continue;
    }
    for (int k = 0; k < pieces[i].quantity; ++k) items.push_back(item);
    area += pieces[i].area_mm2 * pieces[i].quantity;
  }
  if (items.empty()) return plan;
  const double room_mm2 = (sheet_length - margin - margin).mm() * (sheet_width - margin - margin).mm();
  plan.bound = static_cast<int>(std::ceil(area / room_mm2 - 1e-9));
  for (const auto& sheet : fewest(items, length, width)) {
    LaidSheet laid;
    for (const Laid& body : sheet) {
      laid.pieces.push_back({pieces[body.item].mark, Length::from_um(body.body.x) + margin, Length::from_um(body.body.y) + margin,
                             Length::from_um(body.body.length) - gap, Length::from_um(body.body.width) - gap});
      laid.filled += pieces[body.item].area_mm2 / (sheet_length.mm() * sheet_width.mm());
    }
    plan.sheets.push_back(std::move(laid));
  }
  return plan;
}

}  // namespace cellstow::fabrication
