#include <algorithm>
#include <set>

#include "report/part_drawing.hpp"
#include "report/text.hpp"
#include "report/three_views.hpp"

namespace cellstow::report {
namespace {

using namespace fabrication;

/// Boxes that would come out smaller than this on A4 go on A3.
constexpr double smallest_on_a4 = 5;

/// Walls are as far from the outside on one side as on the other.
std::array<std::optional<Between>, 3> inside_of(const box::Box& box, const survey::Rules& rules) {
  if (box.layout.outline.empty()) return {};
  core::Point2 low = box.layout.outline.front(), high = low;
  for (const core::Point2& p : box.layout.outline) {
    low = {std::min(low.a, p.a), std::min(low.b, p.b)};
    high = {std::max(high.a, p.a), std::max(high.b, p.b)};
  }
  const double u = box.inside[0].mm(), v = box.inside[1].mm(), z = box.inside[2].mm(), foot = (box.layout.z_bottom + rules.floor).mm();
  const double from_u = ((low.a + high.a).mm() - u) / 2, from_v = ((low.b + high.b).mm() - v) / 2;
  return {Between{from_u, from_u + u}, Between{from_v, from_v + v}, Between{foot, foot + z}};
}

ThreeViews views_of(const survey::Job& job, const plan::BoxPlan& box) {
  ThreeViews views;
  for (const SheetPart& part : box.sheet.parts) {
    for (const FoldedSolid& solid : part.folded) {
      views.solids.push_back(&solid);
      views.off_in_plan.push_back(part.kind == PartKind::lid);
      views.names.push_back(part.mark);
    }
  }
  views.inside = inside_of(box.box, job.rules);
  views.projection = job.drawings.projection;
  views.units = job.drawings.units;
  return views;
}

DrawnTable parts_list(const SheetWork& work, survey::DrawnUnits units) {
  DrawnTable table{"Parts list", {"mark", "name", "off", "material", "thick", "kg each", "drawing"}, {}, {}};
  for (const SheetPart& p : work.parts) {
    table.rows.push_back({p.mark, p.name, std::to_string(p.quantity), p.material, size_text(p.thickness, units), fixed(p.mass.value(), 2), "DR-" + p.mark});
  }
  return table;
}

DrawnTable loose_list(const SheetWork& work) {
  DrawnTable table{"Bought for this box", {"what", "how many", "for"}, {}, {}};
  for (const LooseItem& item : work.loose) {
    if (item.quantity > 0) table.rows.push_back({item.name, number(item.quantity, 2) + " " + item.unit, item.what_for});
  }
  return table;
}

DrawnTable weld_list(const SheetWork& work, survey::DrawnUnits units) {
  DrawnTable table{"Welds", {"on", "seam", "length", "off"}, {}, {}};
  for (const SheetPart& p : work.parts) {
    for (const WeldNote& weld : p.welds) table.rows.push_back({p.mark, weld.what, weld.length > 0 ? size_text(weld.length, units) : "", std::to_string(weld.quantity)});
  }
  return table;
}

std::string materials_of(const SheetWork& work) {
  std::set<std::string> names;
  for (const SheetPart& part : work.parts) names.insert(part.material);
  return names.size() == 1 ? *names.begin() : "see parts list";
}

TitleFields title_of(const survey::Job& job, const plan::BoxPlan& box) {
  TitleFields out;
  out.job = job.title;
  out.title = "box, " + box.box.name;
  out.number = "DR-" + box.box.mark;
  out.mark = box.box.mark;
  out.material = materials_of(box.sheet);
  out.thickness = "parts list";
  out.quantity = "1";
  out.finish = job.drawings.finish;
  out.mass = number(box.sheet.mass.value(), 1);
  out.revision = job.revision;
  return out;
}

std::vector<std::string> notes_of(const plan::BoxPlan& box, const std::vector<std::string>& unseen) {
  std::vector<std::string> out;
  out.push_back("First check the mock-up in the car; cut no metal before it has gone in and out.");
  out.push_back("Together: " + fabrication::to_text(box.sheet.construction) + "; lid: " + fabrication::to_text(box.sheet.lid) + ". Mass without bought pieces.");
  if (!box.box.layout.heading.is_square()) out.push_back("Views along the box's own sides: it stands turned " + number(box.box.layout.heading.degrees(), 2) + "° in the car.");
  std::string names;
  for (const std::string& name : unseen) names += (names.empty() ? "Not seen in these views: " : ", ") + name;
  if (!names.empty()) out.push_back(names + ".");
  for (const std::string& caution : box.sheet.cautions) out.push_back(sentence(caution));
  for (const std::string& note : box.sheet.notes) out.push_back(sentence(note));
  return out;
}

}  // namespace

DrawingSet box_drawing(const survey::Job& job, const plan::BoxPlan& box) {
  const ThreeViews views = views_of(job, box);
  PaperSize size = job.drawings.paper == survey::DrawingPaper::a3 ? PaperSize::a3 : PaperSize::a4;
  double scale = views_scale(views, view_room(empty_sheet(size)));
  if (size == PaperSize::a4 && scale > smallest_on_a4) {
    const double on_a3 = views_scale(views, view_room(empty_sheet(PaperSize::a3)));
    if (on_a3 < scale) size = PaperSize::a3, scale = on_a3;
  }
  Paper sheet = empty_sheet(size);
  const std::vector<std::string> unseen = add_views(sheet, views, view_room(sheet), scale);
  Leftover left;
  fill_notes(sheet, notes_of(box, unseen), left);
  left.tables.push_back({parts_list(box.sheet, job.drawings.units), 0});
  left.tables.push_back({loose_list(box.sheet), 0});
  left.tables.push_back({weld_list(box.sheet, job.drawings.units), 0});
  DrawingSet set{"drawings/boxes/" + file_part(box.box.mark) + "_rev_" + file_part(job.revision), "box " + box.box.mark, {}};
  set.sheets.push_back(std::move(sheet));
  add_sheets(set.sheets, size, std::move(left));
  TitleFields fields = title_of(job, box);
  fields.scale = scale_text(scale);
  finish_set(set.sheets, fields, job.drawings);
  return set;
}

std::vector<DrawingSet> workshop_drawings(const survey::Job& job, const plan::Plan& plan) {
  std::vector<DrawingSet> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      if (!box.sheet.parts.empty()) out.push_back(box_drawing(job, box));
    }
  }
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const SheetPart& part : box.sheet.parts) out.push_back(part_drawing(job, part));
      for (const SheetPart& part : box.holding) out.push_back(part_drawing(job, part));
    }
  }
  return out;
}

}  // namespace cellstow::report
