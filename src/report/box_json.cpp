#include "report/box_json.hpp"

#include "report/wired.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

Json cells_of(const packing::BoxLayout& layout) {
  Json out = Json::array();
  for (const packing::PlacedCell& cell : layout.cells) {
    out.push_back({{"centre_mm", centre(cell.body, layout.heading)},
                   {"size_mm", size(cell.body)},
                   {"stance", word(cell.stance)},
                   {"block", cell.block},
                   {"place", cell.place}});
  }
  return out;
}

Json blocks_of(const packing::BoxLayout& layout) {
  Json out = Json::array();
  for (const packing::Block& block : layout.blocks) {
    out.push_back({{"id", block.id},
                   {"cells", block.cells},
                   {"runs", block.runs == packing::Run::u ? "u" : "v"},
                   {"stance", word(block.stance)},
                   {"centre_mm", centre(block.body, layout.heading)},
                   {"size_mm", size(block.body)}});
  }
  return out;
}

Json fittings_of(const packing::BoxLayout& layout) {
  Json out = Json::array();
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    out.push_back({{"name", fitting.name},
                   {"place", word(fitting.place)},
                   {"centre_mm", centre(fitting.body, layout.heading)},
                   {"size_mm", size(fitting.body)}});
  }
  return out;
}

Json stack_of(const box::Box& box) {
  Json out = Json::array();
  for (const box::StackLayer& layer : box.stack) {
    out.push_back({{"name", layer.name},
                   {"thickness_mm", mm(layer.thickness)},
                   {"top_mm", mm(layer.top)}});
  }
  return out;
}

Json point(fabrication::FlatPoint p) { return Json::array({rounded(p.a, 3), rounded(p.b, 3)}); }

/// Corners, and beside them the bulges where any edge is an arc.
void put_path(Json& out, const char* corners, const char* bulges, const fabrication::Path& path) {
  out[corners] = Json::array();
  bool arcs = false;
  for (const fabrication::PathPoint& p : path) {
    out[corners].push_back(point({p.a, p.b}));
    arcs = arcs || p.bulge != 0;
  }
  if (!arcs) return;
  out[bulges] = Json::array();
  for (const fabrication::PathPoint& p : path) out[bulges].push_back(rounded(p.bulge, 9));
}

Json hole_to_json(const fabrication::FlatHole& hole) {
  Json out = {{"centre_mm", point(hole.centre)}, {"what", hole.what}};
  if (hole.kind != fabrication::HoleKind::contour) out["diameter_mm"] = rounded(hole.diameter, 3);
  if (hole.kind == fabrication::HoleKind::slot) {
    out["length_mm"] = rounded(hole.length, 3);
    out["angle_deg"] = rounded(hole.angle_deg, 6);
  }
  if (hole.kind == fabrication::HoleKind::contour) put_path(out, "contour_mm", "contour_bulges", hole.contour);
  return out;
}

Json bend_to_json(const fabrication::BendLine& bend) {
  return {{"what", bend.what},
          {"from_mm", point(bend.from)},
          {"to_mm", point(bend.to)},
          {"direction", bend.up ? "up" : "down"},
          {"angle_deg", rounded(bend.angle_deg, 6)},
          {"inside_radius_mm", rounded(bend.inside_radius, 3)},
          {"allowance_mm", rounded(bend.allowance, 3)},
          {"deduction_mm", rounded(bend.deduction, 3)},
          {"k_factor", rounded(bend.k_factor, 4)}};
}

Json weld_to_json(const fabrication::WeldNote& weld) {
  return {{"what", weld.what}, {"length_mm", rounded(weld.length, 1)}, {"quantity", weld.quantity}};
}

template <class T, class To>
Json each(const std::vector<T>& list, To to) {
  Json out = Json::array();
  for (const T& item : list) out.push_back(to(item));
  return out;
}

Json panel_to_json(const fabrication::SheetPart& part) {
  Json out = {{"mark", part.mark}, {"revision", part.revision}, {"name", part.name}, {"kind", to_text(part.kind)}};
  put_path(out, "outline_mm", "bulges", part.flat.outline);
  out["holes"] = each(part.flat.holes, hole_to_json);
  out["bends"] = each(part.flat.bends, bend_to_json);
  out["thickness_mm"] = rounded(part.thickness, 3);
  out["material"] = part.material;
  out["quantity"] = part.quantity;
  if (part.hand != fabrication::Hand::none) out["hand"] = to_text(part.hand);
  out["mass_kg"] = kg(part.mass);
  out["welds"] = each(part.welds, weld_to_json);
  out["notes"] = part.notes;
  return out;
}

Json bought_to_json(const fabrication::LooseItem& item) {
  return {{"name", item.name}, {"quantity", rounded(item.quantity, 2)}, {"unit", item.unit}, {"what_for", item.what_for}};
}

Json strap_to_json(const restraint::Strap& strap) {
  return {{"mark", strap.mark},
          {"block", strap.block},
          {"quantity", strap.quantity},
          {"material", strap.material},
          {"width_mm", mm(strap.width)},
          {"thickness_mm", mm(strap.thickness)},
          {"cut_length_mm", mm(strap.cut_length)},
          {"span_mm", mm(strap.span)},
          {"leg_mm", mm(strap.leg)},
          {"foot_mm", mm(strap.foot)},
          {"bolt", strap.bolt},
          {"bolt_hole_mm", mm(strap.bolt_hole)},
          {"leg_tension_n", rounded(strap.leg_tension.value(), 1)},
          {"worst_case", strap.worst_case},
          {"sag_mm", mm(strap.sag)},
          {"mass_kg", kg(strap.mass)},
          {"runner_up", strap.runner_up}};
}

Json straps_of(const restraint::StrapPlan& plan) {
  Json out = Json::array();
  for (const restraint::Strap& strap : plan.straps) out.push_back(strap_to_json(strap));
  return out;
}

Json hold_downs_of(const restraint::HoldDownPlan& plan) {
  Json out = Json::array();
  for (const restraint::HoldDown& bar : plan.bars) {
    out.push_back({{"mark", bar.mark},
                   {"block", bar.block},
                   {"quantity", bar.quantity},
                   {"material", bar.material},
                   {"width_mm", mm(bar.width)},
                   {"thickness_mm", mm(bar.thickness)},
                   {"cut_length_mm", mm(bar.cut_length)},
                   {"beside_mm", mm(bar.beside)},
                   {"screw", bar.screw},
                   {"screw_hole_mm", mm(bar.screw_hole)},
                   {"lift_n", rounded(bar.lift.value(), 1)},
                   {"strap_share", rounded(bar.strap_share, 4)},
                   {"worst_case", bar.worst_case},
                   {"sag_mm", mm(bar.sag)},
                   {"mass_kg", kg(bar.mass)}});
  }
  return out;
}

Json load_path_of(const restraint::LoadPath& path) {
  Json links = Json::array();
  for (const restraint::Link& link : path.links) {
    links.push_back({{"part", link.part},
                     {"name", link.check.name},
                     {"where", link.check.where},
                     {"load_case", link.load_case},
                     {"value", rounded(link.check.value, 6)},
                     {"limit", rounded(link.check.limit, 6)},
                     {"unit", link.check.unit},
                     {"use", rounded(link.check.use, 6)},
                     {"spare", rounded(link.spare(), 4)},
                     {"formula", link.formula},
                     {"numbers", link.numbers},
                     {"source", link.check.source}});
  }
  Json clamps = Json::array();
  for (const restraint::Clamp& clamp : path.clamps) {
    clamps.push_back({{"block", clamp.block},
                      {"start_n", rounded(clamp.start_n, 1)},
                      {"most_n", rounded(clamp.most_n, 1)},
                      {"growth_mm", rounded(clamp.growth_mm, 3)},
                      {"spring_n_per_mm", rounded(clamp.spring_n_per_mm, 1)}});
  }
  return {{"links", links},
          {"weakest", path.weakest < 0 ? Json() : Json(path.links[static_cast<std::size_t>(path.weakest)].check.name)},
          {"clamps", clamps},
          {"floor_sag_mm", rounded(path.floor_sag_mm, 3)},
          {"wall_bulge_mm", rounded(path.wall_bulge_mm, 3)},
          {"creepage_needed_mm", rounded(path.creepage_needed_mm, 3)},
          {"assumptions", path.assumptions}};
}

Json pieces_of(const restraint::Bracket& bracket) {
  Json out = Json::array();
  for (const restraint::BracketPiece& piece : bracket.pieces) {
    out.push_back({{"name", piece.name}, {"outline_mm", outline(piece.outline)}, {"z_mm", Json::array({mm(piece.low), mm(piece.high)})}});
  }
  return out;
}

Json bracket_to_json(const restraint::Bracket& b) {
  return {{"mark", b.mark},
          {"fixing", b.fixing},
          {"wall", b.wall},
          {"material", b.material},
          {"thickness_mm", mm(b.thickness)},
          {"bend_radius_mm", mm(b.bend_radius)},
          {"fold", b.fold},
          {"foot_mm", mm(b.foot)},
          {"leg_mm", mm(b.leg)},
          {"width_mm", mm(b.width)},
          {"foot_beyond_mm", mm(b.foot_beyond)},
          {"beyond", b.beyond_is_right ? "right" : "left"},
          {"gussets", b.gussets ? 2 : 0},
          {"gusset_mm", Json::array({mm(b.gusset_out), mm(b.gusset_up)})},
          {"doubler_mm", mm(b.doubler)},
          {"hole_mm", mm(b.hole)},
          {"hole_out_mm", mm(b.hole_out)},
          {"hole_beside_mm", mm(b.hole_beside)},
          {"slot_mm", mm(b.slot)},
          {"slot_runs", b.slot == b.hole ? "round" : b.slot_out ? "off the wall" : "along the fold"},
          {"reach", b.reach},
          {"mass_kg", kg(b.mass)},
          {"pieces", pieces_of(b)}};
}

Json brackets_of(const restraint::Mounting& mounting) {
  Json out = Json::array();
  for (const restraint::Bracket& bracket : mounting.brackets) out.push_back(bracket_to_json(bracket));
  return out;
}

Json bolts_of(const restraint::Mounting& mounting) {
  Json out = Json::array();
  for (const restraint::FixingBolt& bolt : mounting.bolts) {
    out.push_back({{"fixing", bolt.fixing},
                   {"thread", bolt.thread},
                   {"class", bolt.strength_class},
                   {"stack_mm", rounded(bolt.stack_mm, 3)},
                   {"engagement_mm", rounded(bolt.engagement_mm, 3)},
                   {"length_mm", bolt.length_mm > 0 ? rounded(bolt.length_mm, 3) : Json()},
                   {"preload_n", rounded(bolt.preload_n, 1)},
                   {"torque_nm", rounded(bolt.torque_nm, 2)},
                   {"torque_oiled_nm", rounded(bolt.torque_oiled_nm, 2)},
                   {"locking", bolt.locking},
                   {"washer", bolt.washer},
                   {"isolation", bolt.isolation}});
  }
  return out;
}

Json losses_of(const restraint::Mounting& mounting) {
  Json out = Json::array();
  for (const restraint::Loss& loss : mounting.losses) {
    out.push_back({{"fixing", loss.fixing},
                   {"holds_together", loss.holds_together},
                   {"worst", loss.worst},
                   {"governs", loss.governs},
                   {"use", loss.holds_together ? rounded(loss.use, 6) : Json()}});
  }
  return out;
}

Json carrying_fixings(const restraint::Mounting& mounting) {
  Json out = Json::array();
  for (const restraint::FixingUseResult& fixing : mounting.fixings) {
    if (!fixing.carries) continue;
    out.push_back({{"fixing", fixing.fixing},
                   {"shear_n", rounded(fixing.shear_n, 1)},
                   {"tension_n", rounded(fixing.tension_n, 1)},
                   {"worst_case", fixing.worst_case},
                   {"governs", fixing.governs},
                   {"use", rounded(fixing.use, 6)}});
  }
  return out;
}

Json idle_fixings(const restraint::Mounting& mounting) {
  Json out = Json::array();
  for (const restraint::FixingUseResult& fixing : mounting.fixings) {
    if (!fixing.carries) out.push_back({{"fixing", fixing.fixing}, {"why", fixing.why_not}});
  }
  return out;
}

Json sizes(const std::array<core::Length, 3>& lengths) {
  return Json::array({mm(lengths[0]), mm(lengths[1]), mm(lengths[2])});
}

Json masses_of(const box::Box& box) {
  return {{"empty", kg(box.mass_empty)},
          {"full", kg(box.mass_full)},
          {"cells", kg(box.mass_cells)},
          {"sheet", kg(box.mass_sheet)},
          {"hardware", kg(box.mass_hardware)}};
}

using Lines = std::vector<std::string>;

Json all_of(std::initializer_list<const Lines*> lists) {
  Json out = Json::array();
  for (const Lines* list : lists) {
    for (const std::string& line : *list) out.push_back(line);
  }
  return out;
}

}  // namespace

Json box_to_json(const plan::BoxPlan& plan) {
  const box::Box& box = plan.box;
  return {{"name", box.name},
          {"mark", box.mark},
          {"heading_deg", tidy(box.layout.heading.degrees())},
          {"outline_mm", outline(core::to_car(box.layout.heading, box.layout.outline))},
          {"z_mm", Json::array({mm(box.layout.z_bottom), mm(box.layout.lid_top)})},
          {"inside_mm", sizes(box.inside)},
          {"outside_mm", sizes(box.outside)},
          {"mass_kg", masses_of(box)},
          {"centre_of_gravity_mm", point(box.centre_of_gravity)},
          {"cells", cells_of(box.layout)},
          {"blocks", blocks_of(box.layout)},
          {"fittings", fittings_of(box.layout)},
          {"stack", stack_of(box)},
          {"construction", to_text(plan.sheet.construction)},
          {"construction_why", plan.sheet.why},
          {"lid", to_text(plan.sheet.lid)},
          {"panels", each(cut_from_sheet(plan), [](const fabrication::SheetPart* part) { return panel_to_json(*part); })},
          {"bought", each(plan.sheet.loose, bought_to_json)},
          {"straps", straps_of(plan.straps)},
          {"hold_downs", hold_downs_of(plan.hold_downs)},
          {"load_path", load_path_of(plan.load_path)},
          {"brackets", brackets_of(plan.mounting)},
          {"fixings_used", carrying_fixings(plan.mounting)},
          {"fixing_bolts", bolts_of(plan.mounting)},
          {"if_one_lets_go", losses_of(plan.mounting)},
          {"fixings_not_used", idle_fixings(plan.mounting)},
          {"cautions", all_of({&box.cautions, &plan.sheet.cautions, &plan.straps.cautions, &plan.mounting.cautions, &plan.hold_downs.cautions, &plan.load_path.cautions})},
          {"notes", all_of({&box.notes, &plan.sheet.notes, &plan.mounting.notes, &plan.hold_downs.notes, &plan.load_path.notes})}};
}

Json checks_to_json(const std::vector<core::Check>& checks) {
  Json out = Json::array();
  for (const core::Check& check : checks) {
    out.push_back({{"name", check.name},
                   {"where", check.where},
                   {"value", rounded(check.value, 6)},
                   {"limit", rounded(check.limit, 6)},
                   {"unit", check.unit},
                   {"use", rounded(check.use, 6)},
                   {"ok", check.ok},
                   {"source", check.source},
                   {"cure", check.cure}});
  }
  return out;
}

}  // namespace cellstow::report
