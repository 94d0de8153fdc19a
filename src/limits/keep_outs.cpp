#include <algorithm>
#include <cmath>
#include <optional>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/limits/change.hpp"

namespace cellstow::limits {
namespace {

using core::Um;
using geometry::PointUm;
using survey::KeepOut;

std::string caution_for(const KeepOut& keep_out) {
  switch (keep_out.kind) {
    case survey::KeepOutKind::moving: return "it moves: the room it sweeps and its clearance are not spare room";
    case survey::KeepOutKind::soft: return "hoses and looms need slack and must not chafe";
    case survey::KeepOutKind::removable: return "";
    case survey::KeepOutKind::fixed: return "marked fixed: look before you count on it";
  }
  return "";
}

core::Point3 shifted(core::Point3 p, std::array<Um, 3> by) {
  return {p.x + Length::from_um(by[0]), p.y + Length::from_um(by[1]), p.z + Length::from_um(by[2])};
}

void shift(survey::BoxShape& box, std::array<Um, 3> by) {
  box = {shifted(box.low, by), shifted(box.high, by)};
}

void shift(survey::CylinderShape& cylinder, std::array<Um, 3> by) {
  cylinder.from = shifted(cylinder.from, by);
  cylinder.to = shifted(cylinder.to, by);
}

void shift(survey::PrismShape& prism, std::array<Um, 3> by) {
  for (survey::Point2& p : prism.outline) p = {p.a + Length::from_um(by[0]), p.b + Length::from_um(by[1])};
  prism.z_low = prism.z_low + Length::from_um(by[2]);
  prism.z_high = prism.z_high + Length::from_um(by[2]);
}

Change change_of(const KeepOut& keep_out) {
  Change change;
  change.kind = ChangeKind::keep_out;
  change.what = keep_out.name;
  change.caution = caution_for(keep_out);
  return change;
}

// ---- smaller all round ----------------------------------------------------------

bool is_convex(const std::vector<survey::Point2>& outline) {
  const std::size_t n = outline.size();
  for (std::size_t k = 0; k < n; ++k) {
    const auto at = [&](std::size_t i) { return PointUm{outline[i % n].a.um(), outline[i % n].b.um()}; };
    if (geometry::turn_sign(at(k), at(k + 1), at(k + 2)) < 0) return false;
  }
  return true;
}

/// The part of a convex outline at least `by` inside every edge; empty when nothing is left.
std::vector<survey::Point2> smaller(const std::vector<survey::Point2>& outline, Um by) {
  struct P { double a, b; };
  std::vector<P> left;
  for (const survey::Point2& p : outline) left.push_back({static_cast<double>(p.a.um()), static_cast<double>(p.b.um())});
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const survey::Point2 &p = outline[k], &q = outline[(k + 1) % outline.size()];
    const double da = static_cast<double>((q.a - p.a).um()), db = static_cast<double>((q.b - p.b).um());
    const double length = std::hypot(da, db);
    const auto depth = [&](const P& r) {
      return (da * (r.b - static_cast<double>(p.b.um())) - db * (r.a - static_cast<double>(p.a.um()))) / length -
             static_cast<double>(by);
    };
    std::vector<P> cut;
    for (std::size_t i = 0; i < left.size(); ++i) {
      const P here = left[i], next = left[(i + 1) % left.size()];
      const double d0 = depth(here), d1 = depth(next);
      if (d0 >= 0) cut.push_back(here);
      if ((d0 < 0) != (d1 < 0)) {
        const double share = d0 / (d0 - d1);
        cut.push_back({here.a + share * (next.a - here.a), here.b + share * (next.b - here.b)});
      }
    }
    left = std::move(cut);
  }
  std::vector<survey::Point2> result;
  for (const P& p : left) {
    const survey::Point2 rounded{Length::from_um(std::llround(p.a)), Length::from_um(std::llround(p.b))};
    if (result.empty() || (result.back() != rounded && result.front() != rounded)) result.push_back(rounded);
  }
  if (result.size() < 3) result.clear();
  return result;
}

/// Smaller by `by` on every side; empty when nothing is left of it.
std::optional<KeepOut> shrunk(const KeepOut& keep_out, Um by) {
  KeepOut result = keep_out;
  const Length less = Length::from_um(by);
  if (auto* box = std::get_if<survey::BoxShape>(&result.shape)) {
    box->low = shifted(box->low, {by, by, by});
    box->high = shifted(box->high, {-by, -by, -by});
    if (box->low.x >= box->high.x || box->low.y >= box->high.y || box->low.z >= box->high.z) return std::nullopt;
  } else if (auto* cylinder = std::get_if<survey::CylinderShape>(&result.shape)) {
    cylinder->diameter = cylinder->diameter - less * 2;
    if (cylinder->diameter <= Length{}) return std::nullopt;
  } else if (auto* prism = std::get_if<survey::PrismShape>(&result.shape)) {
    prism->outline = smaller(prism->outline, by);
    prism->z_low = prism->z_low + less;
    prism->z_high = prism->z_high - less;
    if (prism->outline.empty() || prism->z_low >= prism->z_high) return std::nullopt;
  }
  return result;
}

bool can_shrink(const KeepOut& keep_out) {
  const auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape);
  return prism == nullptr || is_convex(prism->outline);
}

Situation without(const Situation& as_is, const std::string& name) {
  Situation changed = as_is;
  std::erase_if(changed.cavity.keep_outs, [&](const KeepOut& k) { return k.name == name; });
  return changed;
}

}  // namespace

std::vector<Change> keep_out_removals(const survey::Cavity& cavity) {
  std::vector<Change> changes;
  for (const KeepOut& keep_out : cavity.keep_outs) {
    Change change = change_of(keep_out);
    change.how = "not there";
    change.all_or_nothing = true;
    change.apply = [name = keep_out.name](const Situation& as_is, Length) { return without(as_is, name); };
    changes.push_back(std::move(change));
  }
  return changes;
}

std::vector<Change> keep_out_changes(const survey::Cavity& cavity, std::size_t index, const survey::Rules& rules) {
  const KeepOut& keep_out = cavity.keep_outs[index];
  std::vector<Change> changes;
  static const char* const ways[6] = {"moved forward", "moved rearward", "moved left", "moved right", "moved down", "moved up"};
  for (int way = 0; way < 6; ++way) {
    Change change = change_of(keep_out);
    change.how = ways[way];
    change.largest = Length::from_um(farthest_um);
    change.may_lose = true;
    change.apply = [index, way](const Situation& as_is, Length by) {
      Situation changed = as_is;
      std::array<Um, 3> shift_um{};
      shift_um[static_cast<std::size_t>(way / 2)] = way % 2 == 0 ? -by.um() : by.um();
      std::visit([&](auto& shape) { shift(shape, shift_um); }, changed.cavity.keep_outs[index].shape);
      return changed;
    };
    changes.push_back(std::move(change));
  }
  if (can_shrink(keep_out)) {
    Change change = change_of(keep_out);
    change.how = "smaller all round";
    change.largest = Length::from_um(farthest_um);
    change.apply = [index, name = keep_out.name](const Situation& as_is, Length by) {
      const std::optional<KeepOut> less = shrunk(as_is.cavity.keep_outs[index], by.um());
      if (!less) return without(as_is, name);
      Situation changed = as_is;
      changed.cavity.keep_outs[index] = *less;
      return changed;
    };
    changes.push_back(std::move(change));
  }
  const Length clearance = keep_out.clearance.value_or(rules.body_clearance);
  if (clearance > Length{}) {
    Change change = change_of(keep_out);
    change.how = "clearance to it less";
    change.now = change.largest = clearance;
    change.apply = [index, clearance](const Situation& as_is, Length by) {
      Situation changed = as_is;
      changed.cavity.keep_outs[index].clearance = std::max(Length{}, clearance - by);
      return changed;
    };
    changes.push_back(std::move(change));
  }
  return changes;
}

}  // namespace cellstow::limits
