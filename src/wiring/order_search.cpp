#include "order_search.hpp"

#include <algorithm>
#include <bitset>
#include <map>
#include <tuple>

namespace cellstow::wiring {
namespace {

using packing::Block;
using packing::BoxLayout;
using survey::Stance;

using Kinds = std::bitset<256>;  ///< by kind_mm(); longest_link_mm fits

std::size_t kind_bit(std::int64_t length_um) { return static_cast<std::size_t>(std::min(kind_mm(length_um), 255)); }

/// What an order costs so far. Fewer jumpers first, then posts passed, kinds, length, ends.
struct Cost {
  int jumpers = 0, passes = 0;
  Kinds kinds;
  std::int64_t length_um = 0, ends_um = 0;
};

auto rank(const Cost& cost) { return std::tuple(cost.jumpers, cost.passes, cost.kinds.count(), cost.length_um, cost.ends_um); }

/// Whether `a` ends no worse than `b` whatever is added to both.
bool beats(const Cost& a, const Cost& b) {
  if (std::tie(a.jumpers, a.passes) != std::tie(b.jumpers, b.passes)) return std::tie(a.jumpers, a.passes) < std::tie(b.jumpers, b.passes);
  return (a.kinds & ~b.kinds).none() && std::tie(a.length_um, a.ends_um) <= std::tie(b.length_um, b.ends_um);
}

struct Label {
  Cost cost;
  std::uint64_t passed = 0;
  int way = -1;                ///< index into the box's ways; -1 before the first block
  int parent = -1;
};

using Key = std::pair<std::uint64_t, int>;

/// A way with its cells, worked out once.
struct KnownWay {
  BlockWay way;
  std::vector<SetCell> cells;  ///< for phase 0
};

std::vector<BlockWay> ways_of(const BoxTask& task) {
  const BoxLayout& layout = *task.layout;
  std::vector<BlockWay> ways;
  for (std::size_t i = 0; i < layout.blocks.size(); ++i) {
    const Block& block = layout.blocks[i];
    for (const Facing facing : task.facings[i]) {
      for (const bool falling : {false, true}) {
        for (const bool turned : {false, true}) {
          // Lying flat, posts are in line with the block: current passes straight only when each cell's negative post comes first.
          if (block.stance == Stance::flat && turned != falling) continue;
          if (block.cells == 1 && falling && block.stance != Stance::flat) continue;
          ways.push_back({static_cast<int>(i), falling, {facing, turned}});
        }
      }
    }
  }
  return ways;
}

void add_joint(const Joint& joint, Cost& cost) {
  cost.length_um += joint.length_um;
  if (joint.join == Join::link) {
    cost.kinds.set(kind_bit(joint.length_um));
    cost.passes += joint.passes;
  } else {
    ++cost.jumpers;
  }
}

/// One box: ways, joints between them, labels layer by layer.
class BoxSearch {
 public:
  BoxSearch(const BoxTask& task, core::Length offset, int parallel)
      : task_(task), layout_(*task.layout), offset_(offset), parallel_(parallel), ways_(ways_of(task)) {}

  /// Joins within the blocks: the same whatever the order, but for parallel cells cut by a block's end.
  void add_rows(Cost& cost) const {
    for (std::size_t i = 0; i < layout_.blocks.size(); ++i) {
      const Block& block = layout_.blocks[i];
      if (block.cells < 2) continue;
      const bool flat_block = block.stance == Stance::flat;
      const BlockWay way{static_cast<int>(i), false, {block.stance == Stance::upright ? Facing::up : Facing::rising, false}};
      const std::vector<SetCell> two = cells_of(layout_, way, 0, 1);
      cost.kinds.set(kind_bit(joint_between(layout_, offset_, two[0], Pole::plus, two[1], Pole::minus).length_um));
      if (flat_block && parallel_ > 1) {
        cost.kinds.set(kind_bit(joint_between(layout_, offset_, two[0], Pole::plus, two[1], Pole::plus).length_um));
      }
    }
  }

  int cells_passed(std::uint64_t passed) const {
    int cells = task_.cells_before;
    for (std::size_t i = 0; i < layout_.blocks.size(); ++i) {
      if (passed >> i & 1) cells += layout_.blocks[i].cells;
    }
    return cells;
  }

  std::vector<Label> expand(const Label& from, int parent) {
    std::vector<Label> next;
    const int before = cells_passed(from.passed);
    for (std::size_t i = 0; i < ways_.size(); ++i) {
      const std::uint64_t bit = std::uint64_t{1} << ways_[i].block;
      if (from.passed & bit) continue;
      Label label{from.cost, from.passed | bit, static_cast<int>(i), parent};
      if (from.way < 0) {
        add_end(task_.near_first, ends(static_cast<int>(i), before).first, Pole::minus, label.cost);
      } else {
        add_turn(from.way, before - layout_.blocks[static_cast<std::size_t>(ways_[static_cast<std::size_t>(from.way)].block)].cells,
                 static_cast<int>(i), before, label.cost);
      }
      if (label.passed == all()) add_end(task_.near_last, ends(static_cast<int>(i), before).second, Pole::plus, label.cost);
      next.push_back(std::move(label));
    }
    return next;
  }

  std::uint64_t all() const { return layout_.blocks.size() >= 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << layout_.blocks.size()) - 1; }
  std::size_t blocks() const { return layout_.blocks.size(); }
  const BlockWay& way(int index) const { return ways_[static_cast<std::size_t>(index)]; }

 private:
  /// First and last cell of a way that starts after so many cells.
  std::pair<SetCell, SetCell> ends(int way, int before) {
    const auto key = std::pair(way, before % parallel_);
    const auto known = ends_.find(key);
    if (known != ends_.end()) return known->second;
    const std::vector<SetCell> cells = cells_of(layout_, ways_[static_cast<std::size_t>(way)], before, parallel_);
    return ends_[key] = {cells.front(), cells.back()};
  }

  void add_end(const std::optional<Spot>& near, const SetCell& cell, Pole pole, Cost& cost) const {
    if (!near) return;
    cost.ends_um += distance_um(*near, post_of(layout_.cells[static_cast<std::size_t>(cell.cell)], cell.runs, cell.setting, pole, offset_));
  }

  void add_turn(int from, int from_before, int to, int before, Cost& cost) {
    const SetCell left = ends(from, from_before).second, met = ends(to, before).first;
    if (before % parallel_ == 0) {
      add_joint(joint(left, Pole::plus, met, Pole::minus), cost);
    } else {
      add_joint(joint(left, Pole::plus, met, Pole::plus), cost);
      add_joint(joint(left, Pole::minus, met, Pole::minus), cost);
    }
  }

  const Joint& joint(const SetCell& from, Pole from_pole, const SetCell& to, Pole to_pole) {
    const auto key = std::tuple(from.cell, from.setting, from_pole, to.cell, to.setting, to_pole);
    const auto known = joints_.find(key);
    if (known != joints_.end()) return known->second;
    return joints_[key] = joint_between(layout_, offset_, from, from_pole, to, to_pole);
  }

  const BoxTask& task_;
  const BoxLayout& layout_;
  core::Length offset_;
  int parallel_;
  std::vector<BlockWay> ways_;
  std::map<std::pair<int, int>, std::pair<SetCell, SetCell>> ends_;
  std::map<std::tuple<int, Setting, Pole, int, Setting, Pole>, Joint> joints_;
};

/// Labels of one layer, those that are beaten left out.
class Layer {
 public:
  void add(Label label, std::uint64_t all) {
    std::vector<Label>& rivals = by_key_[{label.passed, label.passed == all ? -1 : label.way}];
    for (const Label& rival : rivals) {
      if (beats(rival.cost, label.cost)) return;
    }
    std::erase_if(rivals, [&](const Label& rival) { return beats(label.cost, rival.cost); });
    rivals.push_back(std::move(label));
  }

  /// At most `most` labels, the lowest; the rest is dropped and `cut` set.
  std::vector<Label> take(std::size_t most, bool& cut) const {
    std::vector<Label> out;
    for (const auto& [key, labels] : by_key_) out.insert(out.end(), labels.begin(), labels.end());
    if (out.size() <= most) return out;
    cut = true;
    std::stable_sort(out.begin(), out.end(), [](const Label& a, const Label& b) { return rank(a.cost) < rank(b.cost); });
    out.resize(most);
    return out;
  }

 private:
  std::map<Key, std::vector<Label>> by_key_;
};

/// All boxes, one after the other; every label keeps its way back.
class Search {
 public:
  Search(const std::vector<BoxTask>& tasks, core::Length offset, int parallel) {
    for (const BoxTask& task : tasks) boxes_.emplace_back(task, offset, parallel);
    for (const BoxSearch& box : boxes_) box.add_rows(start_.cost);
  }

  /// @param most   labels kept a layer
  /// @param limit  cost of an order already known: what is worse is not followed
  std::optional<Cost> run(std::size_t most, const std::optional<Cost>& limit) {
    labels_.assign(1, start_);
    cut_ = false;
    std::vector<int> layer = {0};
    for (BoxSearch& box : boxes_) {
      for (int& index : layer) index = restart(index);
      for (std::size_t step = 0; step < box.blocks() && !layer.empty(); ++step) layer = next_layer(box, layer, most, limit);
    }
    if (layer.empty()) return std::nullopt;
    best_ = *std::min_element(layer.begin(), layer.end(), [&](int a, int b) { return rank(at(a).cost) < rank(at(b).cost); });
    return at(best_).cost;
  }

  std::vector<std::vector<BlockWay>> order() const {
    std::vector<std::vector<BlockWay>> out(boxes_.size());
    int index = best_;
    for (std::size_t box = boxes_.size(); box-- > 0;) {
      for (; at(index).way >= 0; index = at(index).parent) out[box].push_back(boxes_[box].way(at(index).way));
      std::reverse(out[box].begin(), out[box].end());
      index = at(index).parent;  // past the mark where this box began
    }
    return out;
  }

  bool cut() const { return cut_; }

 private:
  const Label& at(int index) const { return labels_[static_cast<std::size_t>(index)]; }

  int restart(int index) {
    labels_.push_back({at(index).cost, 0, -1, index});
    return static_cast<int>(labels_.size()) - 1;
  }

  std::vector<int> next_layer(BoxSearch& box, const std::vector<int>& layer, std::size_t most, const std::optional<Cost>& limit) {
    Layer next;
    for (const int index : layer) {
      for (Label& label : box.expand(Label(at(index)), index)) {
        if (limit && std::tuple(label.cost.jumpers, label.cost.passes, label.cost.kinds.count()) > std::tuple(limit->jumpers, limit->passes, limit->kinds.count())) continue;
        next.add(std::move(label), box.all());
      }
    }
    std::vector<int> indices;
    for (Label& label : next.take(most, cut_)) {
      indices.push_back(static_cast<int>(labels_.size()));
      labels_.push_back(std::move(label));
    }
    return indices;
  }

  std::vector<BoxSearch> boxes_;
  Label start_;
  std::vector<Label> labels_;
  int best_ = -1;
  bool cut_ = false;
};

constexpr std::size_t first_look = 300;      ///< labels a layer of the quick pass that gives a limit
constexpr std::size_t most_labels = 20'000;  ///< of the full pass

}  // namespace

std::vector<SetCell> cells_of(const BoxLayout& layout, const BlockWay& way, int before, int parallel) {
  const Block& block = layout.blocks[static_cast<std::size_t>(way.block)];
  std::vector<SetCell> cells;
  for (std::size_t i = 0; i < layout.cells.size(); ++i) {
    if (layout.cells[i].block == block.id) cells.push_back({static_cast<int>(i), block.runs, way.first});
  }
  std::sort(cells.begin(), cells.end(), [&](const SetCell& a, const SetCell& b) {
    return layout.cells[static_cast<std::size_t>(a.cell)].place < layout.cells[static_cast<std::size_t>(b.cell)].place;
  });
  if (way.falling) std::reverse(cells.begin(), cells.end());
  if (block.stance == Stance::flat) return cells;
  const int first_group = before / parallel;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const int group = (before + static_cast<int>(i)) / parallel;
    if ((group - first_group) % 2 != 0) cells[i].setting.turned = !way.first.turned;
  }
  return cells;
}

StringOrder order_blocks(const std::vector<BoxTask>& tasks, core::Length offset, int parallel) {
  Search search(tasks, offset, parallel);
  StringOrder order;
  const std::optional<Cost> quick = search.run(first_look, std::nullopt);
  order.proven = !search.cut();
  order.boxes = search.order();
  if (order.proven) return order;
  const std::optional<Cost> full = search.run(most_labels, quick);
  if (full && rank(*full) <= rank(*quick)) order.boxes = search.order();
  order.proven = !search.cut();
  return order;
}

}  // namespace cellstow::wiring
