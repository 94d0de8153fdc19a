#include "report/link_view.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {
namespace {

using packing::Cuboid;
using wiring::Connection;
using wiring::Pole;
using wiring::WiredCell;

constexpr double paper_width = 267, margin = 34, top = 22, most_height = 138;
constexpr double post_radius = 2.1;

/// One tier of a box on paper: u to the right, v up, as the plan views have it.
class TierView {
 public:
  TierView(const plan::Plan& plan, const box::Box& box, int index, core::Length base)
      : plan_(plan), wiring_(*plan.wiring), box_(box), index_(index), base_(base) {
    for (const packing::PlacedCell& cell : box.layout.cells) take(cell.body);
    for (const core::Point2& p : box.layout.outline) take({{p.a, p.b, {}}, {p.a, p.b, {}}});
    for (const packing::PlacedFitting& fitting : box.layout.fittings) take(fitting.body);
    scale_ = std::min((paper_width - 2 * margin) / (high_u_ - low_u_), most_height / (high_v_ - low_v_));
    left_ = (paper_width - (high_u_ - low_u_) * scale_) / 2;
    bottom_ = top + (high_v_ - low_v_) * scale_;
  }

  Drawing draw(const std::string& name, const std::string& title) {
    out_ = {name, title, paper_width, bottom_ + 34, "", {}};
    out_.items.emplace_back(Label{{2, 5}, title, 4.2, Anchor::start, true, false});
    out_.items.emplace_back(Label{{2, 10.5}, "Seen from above, front of the car to the left. Not to scale for cutting.", 3, Anchor::start, false, false});
    draw_box();
    draw_cells();
    for (const Connection& link : wiring_.links) draw_link(link);
    draw_numbers();
    draw_posts();
    draw_ends();
    draw_legend();
    return out_;
  }

 private:
  void take(const Cuboid& body) {
    low_u_ = std::min(low_u_, body.low.x.mm()), high_u_ = std::max(high_u_, body.high.x.mm());
    low_v_ = std::min(low_v_, body.low.y.mm()), high_v_ = std::max(high_v_, body.high.y.mm());
  }

  Spot at(double u, double v) const { return {left_ + (u - low_u_) * scale_, bottom_ - (v - low_v_) * scale_}; }

  Patch patch(const Cuboid& body) const { return rectangle(at(body.low.x.mm(), body.low.y.mm()), at(body.high.x.mm(), body.high.y.mm())); }

  const packing::PlacedCell& placed(const WiredCell& cell) const { return box_.layout.cells[static_cast<std::size_t>(cell.cell)]; }

  bool here(const WiredCell& cell) const { return cell.box == index_ && placed(cell).body.low.z == base_; }

  const WiredCell& numbered(int number) const { return wiring_.cells[static_cast<std::size_t>(number) - 1]; }

  /// On paper; posts one above the other (cells on edge) are drawn side by side, the upper one towards the rear or the right.
  Spot post(const WiredCell& cell, Pole pole) const {
    const wiring::Spot& spot = pole == Pole::plus ? cell.plus : cell.minus;
    Spot p = at(spot.u, spot.v);
    if (cell.setting.facing != wiring::Facing::up) {  // drawn on their own case: the next row may have its posts at the same place
      const double inward = (cell.setting.facing == wiring::Facing::rising ? 1 : -1) * 1.4 * post_radius;
      (cell.runs == packing::Run::u ? p.y : p.x) += cell.runs == packing::Run::u ? inward : -inward;
    }
    if (placed(cell).stance != survey::Stance::on_edge) return p;
    const double by = ((pole == Pole::plus) != cell.setting.turned ? 1 : -1) * 1.25 * post_radius;
    (cell.runs == packing::Run::u ? p.x : p.y) += cell.runs == packing::Run::u ? by : -by;
    return p;
  }

  void draw_box() {
    std::vector<Spot> outline;
    for (const core::Point2& p : box_.layout.outline) outline.push_back(at(p.a.mm(), p.b.mm()));
    if (!outline.empty()) out_.items.emplace_back(Stroke{outline, true, Pen::wall, Fill::box});
    for (const packing::Block& block : box_.layout.blocks) {
      if (block.body.low.z == base_) out_.items.emplace_back(Stroke{corners(patch(block.body)), true, Pen::frame, Fill::end_plate});
    }
    for (const packing::PlacedFitting& fitting : box_.layout.fittings) {
      const Patch room = patch(fitting.body);
      out_.items.emplace_back(Stroke{corners(room), true, Pen::cell, Fill::fitting});
      double y = (room.top + room.bottom) / 2;
      const std::vector<std::string> lines = wrap(fitting.name, 2.8, std::max(12.0, room.width() - 2));
      y -= 1.7 * static_cast<double>(lines.size() - 1);
      for (const std::string& line : lines) {
        out_.items.emplace_back(Label{{(room.left + room.right) / 2, y}, line, 2.8, Anchor::middle, false, false});
        y += 3.4;
      }
    }
  }

  void draw_cells() {
    for (const WiredCell& cell : wiring_.cells) {
      if (!here(cell)) continue;
      const Patch room = patch(placed(cell).body);
      out_.items.emplace_back(Stroke{corners(room), true, Pen::cell, Fill::cell});
    }
  }

  void draw_numbers() {
    for (const WiredCell& cell : wiring_.cells) {
      if (!here(cell)) continue;
      const Patch room = patch(placed(cell).body);
      const double size = std::clamp(0.55 * std::min(room.width(), room.height()), 2.4, 5.0);
      out_.items.emplace_back(Label{{(room.left + room.right) / 2, (room.top + room.bottom) / 2}, std::to_string(cell.number), size, Anchor::middle, true, false});
    }
  }

  void draw_link(const Connection& link) {
    const WiredCell &from = numbered(link.from), &to = numbered(link.to);
    if (link.join == wiring::Join::cable || !here(from) || !here(to)) return;
    const Spot a = post(from, link.from_pole), b = post(to, link.to_pole);
    bar(a, b, link.join, link.removable);
    // off the number and the post of the cell it lies over
    if (link.kind < 0 && !link.removable) return;
    const double share = link.kind < 0 ? 0.25 : link.over_vent.empty() ? 0.5 : link.over_vent.front() == link.from ? 0.81 : 0.19;
    std::string text = link.kind < 0 ? "" : wiring_.kinds[static_cast<std::size_t>(link.kind)].letter;
    if (link.removable) text += text.empty() ? "out" : " out";
    if (std::hypot(a.x - b.x, a.y - b.y) < 2 * post_radius + 3 && !link.removable) return;
    out_.items.emplace_back(Label{{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}, text, 2.6, Anchor::middle, link.removable, false});
  }

  /// A link as a bar: full outline; a removable one dashed; a cable jumper as a dashed line.
  void bar(Spot a, Spot b, wiring::Join join, bool removable) {
    if (join != wiring::Join::link) {
      out_.items.emplace_back(Stroke{{a, b}, false, removable ? Pen::strap : Pen::keep_out_in_front, Fill::none});
      return;
    }
    const double length = std::max(1e-9, std::hypot(b.x - a.x, b.y - a.y)), half = 1.4;
    const double x = (b.y - a.y) / length * half, y = -(b.x - a.x) / length * half;
    out_.items.emplace_back(Stroke{{{a.x + x, a.y + y}, {b.x + x, b.y + y}, {b.x - x, b.y - y}, {a.x - x, a.y - y}}, true, removable ? Pen::strap : Pen::cell, Fill::paper});
  }

  void draw_posts() {
    for (const WiredCell& cell : wiring_.cells) {
      if (!here(cell)) continue;
      for (const Pole pole : {Pole::plus, Pole::minus}) {
        const Spot p = post(cell, pole);
        out_.items.emplace_back(Ring{p, post_radius, pole == Pole::plus ? Pen::gap : Pen::wall, Fill::paper});
        const double arm = 0.62 * post_radius;
        const Pen pen = pole == Pole::plus ? Pen::gap : Pen::wall;
        out_.items.emplace_back(Stroke{{{p.x - arm, p.y}, {p.x + arm, p.y}}, false, pen, Fill::none});
        if (pole == Pole::plus) out_.items.emplace_back(Stroke{{{p.x, p.y - arm}, {p.x, p.y + arm}}, false, pen, Fill::none});
      }
    }
  }

  /// Where the current comes into the box or tier and where it leaves: named outside, with a line to the post.
  void draw_ends() {
    std::vector<std::pair<Spot, std::string>> ends;
    for (const WiredCell& cell : wiring_.cells) {
      if (!here(cell)) continue;
      const bool first = cell.number == 1 || !here(numbered(cell.number - 1));
      const bool last = cell.number == static_cast<int>(wiring_.cells.size()) || !here(numbered(cell.number + 1));
      if (first) ends.emplace_back(post(cell, Pole::minus), cell.number == 1 ? "negative end of the string" : "from + of cell " + std::to_string(cell.number - 1) + where(cell.number - 1));
      if (last) ends.emplace_back(post(cell, Pole::plus), cell.number == static_cast<int>(wiring_.cells.size()) ? "positive end of the string" : "to - of cell " + std::to_string(cell.number + 1) + where(cell.number + 1));
    }
    std::sort(ends.begin(), ends.end(), [](const auto& a, const auto& b) { return a.first.y < b.first.y; });
    double left_y = top, right_y = top;
    for (const auto& [spot, text] : ends) {
      const bool left = spot.x < paper_width / 2;
      const double edge = left ? left_ : paper_width - left_;
      double& free_y = left ? left_y : right_y;
      double y = std::max(free_y, spot.y - 3);
      const std::vector<std::string> lines = wrap(text, 2.8, std::min(margin - 6, left_ - 6));
      const double x = edge + (left ? -4 : 4);
      y = std::min(y, bottom_ - 3.5 * static_cast<double>(lines.size() - 1));
      out_.items.emplace_back(Stroke{{spot, {edge + (left ? -3 : 3), y}}, false, Pen::leader, Fill::none});
      for (const std::string& line : lines) {
        out_.items.emplace_back(Label{{x, y}, line, 2.8, left ? Anchor::end : Anchor::start, true, false});
        y += 3.5;
      }
      free_y = y + 3;
    }
  }

  std::string where(int number) const {
    const WiredCell& cell = numbered(number);
    if (cell.box == index_) return ", other tier";
    return ", box " + boxes_of(plan_)[static_cast<std::size_t>(cell.box)]->box.mark;
  }

  void draw_legend() {
    double y = bottom_ + 6, x = 6;
    const auto entry = [&](wiring::Join join, bool removable, const std::string& text) {
      const double width = 14 + text_width(text, 2.8, false);
      if (x + width > paper_width - 4) x = 6, y += 5;
      bar({x, y}, {x + 10, y}, join, removable);
      out_.items.emplace_back(Label{{x + 12, y}, text, 2.8, Anchor::start, false, false});
      x += width + 6;
    };
    for (const wiring::LinkKind& kind : wiring_.kinds) entry(wiring::Join::link, false, kind.letter + ": link, " + std::to_string(kind.centre_mm) + " mm between centres");
    const bool any_out = std::any_of(wiring_.links.begin(), wiring_.links.end(), [&](const Connection& link) { return link.removable && link.join != wiring::Join::cable && here(numbered(link.from)); });
    if (any_out) entry(wiring::Join::link, true, "out: removable, fitted last and taken out first");
    if (wiring_.jumpers > 0) entry(wiring::Join::jumper, false, "cable jumper");
    y += 5, x = 6;
    out_.items.emplace_back(Label{{x, y}, "Numbers: order of the current from the negative end. + and - stand at the posts.", 2.8, Anchor::start, false, false});
    const bool on_edge = std::any_of(box_.layout.cells.begin(), box_.layout.cells.end(), [](const auto& cell) { return cell.stance == survey::Stance::on_edge; });
    if (on_edge) out_.items.emplace_back(Label{{x, y + 4.5}, "Cells on edge: of two posts at one place the one drawn further to the right, or further up, is the upper one.", 2.8, Anchor::start, false, false});
    out_.height = y + 10;
  }

  const plan::Plan& plan_;
  const wiring::Wiring& wiring_;
  const box::Box& box_;
  int index_;
  core::Length base_;
  double low_u_ = 1e9, high_u_ = -1e9, low_v_ = 1e9, high_v_ = -1e9;
  double scale_ = 1, left_ = 0, bottom_ = 0;
  Drawing out_;
};

}  // namespace

std::vector<Drawing> link_drawings(const plan::Plan& plan, int index) {
  std::vector<Drawing> out;
  if (!plan.wiring) return out;
  const box::Box& box = boxes_of(plan)[static_cast<std::size_t>(index)]->box;
  std::set<core::Length> tiers;
  for (const packing::PlacedCell& cell : box.layout.cells) tiers.insert(cell.body.low.z);
  int tier = 0;
  for (const core::Length base : tiers) {
    ++tier;
    const std::string number = tiers.size() > 1 ? std::to_string(tier) : "";
    TierView view(plan, box, index, base);
    out.push_back(view.draw(file_part(box.mark) + "-links" + number, "Box " + box.mark + ", order and links" + (number.empty() ? "" : ", tier " + number + " from below")));
  }
  return out;
}

}  // namespace cellstow::report
