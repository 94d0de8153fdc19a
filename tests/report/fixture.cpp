#include "report/fixture.hpp"

#include <limits>

#include "report/fixture_parts.hpp"

namespace fixture {
namespace {

using namespace cellstow;
using core::Kg;
using core::Length;
using core::Point2;

packing::Cuboid cuboid(double x, double y, double z, double dx, double dy, double dz) {
  return {p3(x, y, z), p3(x + dx, y + dy, z + dz)};
}

/// A row of cells with its plates from a low corner on, appended to a layout.
void add_block(packing::BoxLayout& layout, packing::Run runs, int cells, double x, double y, double z) {
  const bool u = runs == packing::Run::u;
  const double length = 71.0 * cells + 32;
  packing::Block block;
  block.id = static_cast<int>(layout.blocks.size()) + 1;
  block.cells = cells;
  block.runs = runs;
  block.body = u ? cuboid(x, y, z, length, 182, 260) : cuboid(x, y, z, 182, length, 260);
  layout.blocks.push_back(block);
  for (int i = 0; i < cells; ++i) {
    const double along = 16 + 71.0 * i;
    packing::PlacedCell cell;
    cell.body = u ? cuboid(x + along, y, z, 71, 182, 260) : cuboid(x, y + along, z, 182, 71, 260);
    cell.block = block.id;
    cell.place = i + 1;
    layout.cells.push_back(cell);
  }
}

restraint::Strap strap(const std::string& mark, int block, double span) {
  restraint::Strap out;
  out.mark = mark + "-S-B" + std::to_string(block);
  out.block = block;
  out.quantity = 2;
  out.material = "EN AW-6061 T6";
  out.width = mm(30);
  out.thickness = mm(3);
  out.cut_length = mm(span + 2 * 262 + 2 * 30);
  out.span = mm(span);
  out.leg = mm(262);
  out.foot = mm(30);
  out.bolt = "M6";
  out.bolt_hole = mm(6.6);
  out.leg_tension = core::Newton::of(1840);
  out.worst_case = "10 g up";
  out.sag = mm(4.2);
  out.mass = Kg::of(0.26);
  out.runner_up = "30 x 2: net section at the bolt, 118 % used";
  return out;
}

std::vector<box::StackLayer> stack() {
  std::vector<box::StackLayer> out;
  double top = 0;
  const std::pair<const char*, double> layers[] = {{"floor", 3},        {"liner", 3},
                                                   {"cell case", 260},  {"posts and links", 22},
                                                   {"headroom", 15},    {"lid", 2}};
  for (const auto& [name, thickness] : layers) {
    top += thickness;
    out.push_back({name, mm(thickness), mm(top)});
  }
  return out;
}

void finish_box(box::Box& box) {
  box.stack = stack();
  box.mass_cells = Kg::of(5.5 * static_cast<double>(box.layout.cells.size()));
  box.mass_sheet = Kg::of(7.9);
  box.mass_hardware = Kg::of(4.3);
  box.mass_empty = box.mass_sheet + box.mass_hardware;
  box.mass_full = box.mass_empty + box.mass_cells;
  box.cautions = {"Box " + box.mark + " weighs " + std::to_string(static_cast<int>(box.mass_full.value())) +
                  " kg full, more than the 50 kg lift limit: fit it empty and load the cells in the car, or use a crane."};
}

box::Box tank_box() {
  box::Box out;
  out.mark = "TW";
  out.name = out.cavity = "tank well";
  out.layout.outline = {p2(2530, -290), p2(3090, -290), p2(3090, 92), p2(2870, 92), p2(2870, 290), p2(2530, 290)};
  out.layout.z_bottom = mm(312);
  out.layout.lid_top = mm(617);
  add_block(out.layout, packing::Run::u, 7, 2540, -284, 318);
  add_block(out.layout, packing::Run::u, 7, 2540, -97, 318);
  add_block(out.layout, packing::Run::u, 4, 2540, 90, 318);
  out.inside = {mm(554), mm(574), mm(300)};
  out.outside = {mm(560), mm(580), mm(305)};
  out.centre_of_gravity = p3(2781, -43, 456);
  finish_box(out);
  return out;
}

box::Box engine_box() {
  box::Box out;
  out.mark = "EB";
  out.name = out.cavity = "engine bay";
  out.layout.outline = {p2(90, -306), p2(380, -306), p2(380, 306), p2(90, 306)};
  out.layout.z_bottom = mm(482);
  out.layout.lid_top = mm(787);
  add_block(out.layout, packing::Run::v, 8, 96, -300, 488);
  out.layout.fittings = {{"main fuse", survey::FittingPlace::beside, cuboid(288, -100, 488, 80, 170, 90)}};
  out.inside = {mm(284), mm(606), mm(300)};
  out.outside = {mm(290), mm(612), mm(305)};
  out.centre_of_gravity = p3(196, 2, 626);
  finish_box(out);
  return out;
}

core::Check check(const char* name, const char* where, double value, double limit, const char* unit, const char* source, const char* cure) {
  return core::check_at_most(name, where, value, limit, unit, source, cure);
}

restraint::FixingUseResult carries(const char* name, double use) {
  restraint::FixingUseResult out;
  out.fixing = name;
  out.carries = true;
  out.shear_n = 5200 * use;
  out.tension_n = 1900 * use;
  out.worst_case = "20 g forward";
  out.governs = "sheet bearing";
  out.use = use;
  return out;
}

restraint::FixingUseResult idle(const char* name, const char* why) {
  restraint::FixingUseResult out;
  out.fixing = name;
  out.why_not = why;
  return out;
}

balance::LoadState state(const char* name, double fl, double fr, double rl, double rr, double z) {
  balance::LoadState s;
  s.name = name;
  s.front_left = Kg::of(fl);
  s.front_right = Kg::of(fr);
  s.rear_left = Kg::of(rl);
  s.rear_right = Kg::of(rr);
  s.front = Kg::of(fl + fr);
  s.rear = Kg::of(rl + rr);
  s.total = s.front + s.rear;
  s.front_share = (fl + fr) / s.total.value();
  s.left_share = (fl + rl) / s.total.value();
  s.cross_share = (fl + rr) / s.total.value();
  s.cg_x_mm = 2250 * (1 - s.front_share);
  s.cg_z_mm = z;
  return s;
}

balance::Balance balance_of_car() {
  balance::Balance out;
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  out.states = {state("before", 212, 204, 236, 228, unknown), state("stripped", 148, 140, 244, 236, unknown),
                state("empty", 176, 168, 309, 301, unknown), state("as_driven", 215, 186, 341, 312, unknown),
                state("full", 246, 234, 366, 360, unknown)};
  out.ride = {{"empty", 4.2, -9.6}, {"full", -14.1, -31.7}};
  out.kerb_mass_change = 0.084;
  out.front_share_change_points = -1.2;
  return out;
}

way_in::Figure figure(double a0, double b0, double a1, double b1) {
  return {{a0 * 1000, b0 * 1000}, {a1 * 1000, b0 * 1000}, {a1 * 1000, b1 * 1000}, {a0 * 1000, b1 * 1000}};
}

/// The tank box goes in empty, and would stick finished.
way_in::BoxWay tank_way() {
  way_in::BoxWay out;
  out.mark = "TW";
  out.way = way_in::Way::empty_then_cells;
  way_in::Pass pass;
  pass.opening = "boot opening";
  pass.manner = way_in::Manner::tilted;
  pass.attitude = {0, 32.5, 90};
  pass.from_deg = 28;
  pass.to_deg = 51;
  pass.gap_mm = 12.5;
  pass.shadow.parts = {figure(2540, -290, 2950, 290)};
  out.empty = way_in::BodyWay{"empty box, lid off", 12.2, {pass}, {}};
  pass.manner = way_in::Manner::blocked;
  pass.blocking = {{"rear edge", 14'000, {3000'000, 0}}};
  pass.upright_blocking = pass.blocking;
  out.whole = way_in::BodyWay{"finished box, lid on", 111.2, {pass}, {}};
  out.empty->passage.room = way_in::Room::after_taking_out;
  out.empty->passage.in_the_way = {{"filler neck", true, 3.25}};
  out.cells.looked_at = true;
  out.cells.passes = out.empty->passes;
  out.cells.from_above = 16;
  out.cells.pushed = {{1, 1, 60, "front", "shelf"}, {1, 2, 12.5, "front", "shelf"}};
  out.lid = {true, 24.5, 31.25, {"filler neck"}, "cavity wall"};
  out.cells_out = {true, 16, {{1, 1, 0, "", "shelf"}, {1, 2, 0, "", "shelf"}}, 301.5, 28};
  out.check = core::check_at_most("way in", "box TW", 0, 0, "mm", "shadow in the opening", "");
  out.sentences = {"Box TW: empty box in first, lid off.", "Lid of TW: lifts off in the car."};
  out.cautions = {"Box TW, cells passed in one by one: cover every post."};
  out.notes = {"counted: walls, floor and lid plate"};
  return out;
}

plan::CavityPlan tank_plan() {
  plan::CavityPlan out;
  out.name = "tank well";
  out.mark = "TW";
  out.packing.cells = out.most_cells = out.bound = 18;
  out.packing.bound = 18;
  out.proven = out.packing.proven = true;
  packing::RowShortfall row;
  row.at = mm(181);
  row.along = packing::Run::u;
  row.cells = 4;
  row.needed = mm(387);
  row.available = mm(328);
  row.limited_by = "filler neck";
  out.packing.shortfalls = {row};
  out.packing.steps = 5120;
  out.readings = {18, 20, "", mm(550), 2};
  limits::CavityLimits& limits = out.limits.emplace();
  limits.cells = 18;
  limits.full_row = 6;
  limits::Limit rear;
  rear.what = "rear wall";
  rear.where = "from x 3260 y -280 to x 3260 y 280, at station z 330";
  rear.how = "further out";
  rear.largest = mm(100);
  rear.more = limits::Enough{mm(9.2), 4, true};
  rear.full_row = limits::Enough{mm(31), 6, false};
  rear.most = 6;
  rear.looked = limits::Looked::everywhere;
  limits::Limit neck;
  neck.kind = limits::ChangeKind::keep_out;
  neck.what = "filler neck";
  neck.how = "not there";
  neck.all_or_nothing = true;
  neck.looked = limits::Looked::everywhere;
  neck.ruled_out = true;
  limits::Limit body;
  body.kind = limits::ChangeKind::rule;
  body.what = "body clearance";
  body.how = "less";
  body.now = body.largest = mm(10);
  body.caution = "it covers measuring";
  body.looked = limits::Looked::here;
  limits.limits = {rear, neck, body};
  limits.fittings.push_back({"main fuse", survey::FittingPlace::above, -2, true});
  out.tightest = {{"cavity wall", "box TW, front wall", p3(2530, 290, 312), 13.87, 10},
                  {"cavity wall", "box TW, lid", p3(2700, 0, 617), 23, 10},
                  {"filler neck", "box TW, right wall", p3(2914, 92, 500), 72.4, 15}};
  plan::BoxPlan box;
  box.box = tank_box();
  box.sheet = fabrication::make_sheet_work(box.box, job_of_two_cavities().rules, "A");
  limits::Fit& fit = box.fit.emplace();
  fit.give_or_take = mm(12);
  fit.nothing_touches_up_to = mm(10);
  fit.samples = 2000;
  fit.chance = {0.97, 0.9616, 0.9766};
  fit.touched_most = "cavity wall, rear side of the box";
  fit.touches = 48;
  fit.shrink = mm(1.5);
  fit.cells_at_shrink = 18;
  for (const packing::Block& block : box.box.layout.blocks) {
    box.straps.straps.push_back(strap("TW", block.id, 71.0 * block.cells + 20));
  }
  box.mounting.box_mark = "TW";
  box.mounting.fixings = {carries("T1", 0.84), carries("T2", 0.71), carries("T3", 0.77), carries("T4", 0.62),
                          idle("T5", "locates only"), idle("rear belt anchorage, right", "marked never")};
  out.boxes = {box};
  out.packing.boxes = {box.box.layout};
  out.way_in = {tank_way()};
  return out;
}

plan::CavityPlan engine_plan() {
  plan::CavityPlan out;
  out.name = "engine bay";
  out.mark = "EB";
  out.packing.cells = out.most_cells = 8;
  out.bound = out.packing.bound = 10;
  out.readings = {8, std::nullopt, "outlines have 6 and 8 corners", std::nullopt, 0};
  out.tightest = {{"cavity wall", "box EB, floor", p3(200, 0, 482), 12, 10}, {"cavity wall", "box EB, left wall", p3(90, -306, 700), 54, 10}};
  plan::BoxPlan box;
  box.box = engine_box();
  box.sheet = fabrication::make_sheet_work(box.box, job_of_two_cavities().rules, "A");
  box.straps.straps.push_back(strap("EB", 1, 588));
  box.mounting.box_mark = "EB";
  box.mounting.fixings = {carries("E1", 0.58), carries("E2", 0.55), carries("E3", 0.49), carries("E4", 0.44)};
  out.boxes = {box};
  out.packing.boxes = {box.box.layout};
  return out;
}

wiring::StringResult string_of_26() {
  wiring::StringResult out;
  out.series = 26;
  out.min_v = 72.8;
  out.nominal_v = 83.2;
  out.max_v = 94.9;
  out.energy_kwh = 13.312;
  out.range_km = 64.5;
  out.window = {26, 30, {{"controller", "72 V at 2.8 V a cell", 26}}, {{"controller", "110 V at 3.65 V a cell", 30}}, false};
  out.notes = {"Range on 80 % of the energy (common practice, no source)."};
  return out;
}

plan::Plan plan_of_26() {
  plan::Plan out;
  out.cavities = {tank_plan(), engine_plan()};
  out.totals = {26, 26, 1, 0, 2, 83.2, 13.312, 171.4, 64.5};
  out.splits = {{{18, 8}, 2, 0.381, true, true}, {{16, 10}, 2, 0.395, true, false}};
  out.string = string_of_26();
  out.balance = balance_of_car();
  out.checks = {check("rear axle load", "all seats taken", 726, 720, "kg", "the car's plate", "move 2 cells from the tank well to the engine bay, or carry 6.0 kg less"),
                check("sheet bearing", "fixing T1, 20 g forward", 5.4, 6.43, "kN", "2.4 d t fu (common practice, no source)", ""),
                check("strap net section", "TW-S-B1, 10 g up", 82, 130, "MPa", "force over net area", ""),
                check("front axle load", "all seats taken", 480, 600, "kg", "the car's plate", "")};
  out.cautions = {"The restraint sums are a first check for discussion with the certifier.",
                  "The string sits at the lowest count the controller allows."};
  out.left_out = {{"way in", "no opening was measured"}};
  return out;
}

}  // namespace

const std::string nasty = "a<b>&\"c', d\n\u00e9\u4e16 =1+1; ../..\\ %s {0} </svg></script>";

Case two_cavities() { return {job_of_two_cavities(), plan_of_26()}; }

Case nasty_names() {
  Case out = two_cavities();
  out.job.title = out.job.car->name = out.job.cell.name = nasty;
  for (std::size_t i = 0; i < out.job.cavities.size(); ++i) {
    survey::Cavity& cavity = out.job.cavities[i];
    plan::CavityPlan& plan = out.plan.cavities[i];
    cavity.name = plan.name = nasty + std::to_string(i);
    plan.mark = nasty + std::to_string(i);
    for (survey::KeepOut& keep_out : cavity.keep_outs) keep_out.name = nasty;
    for (survey::Fixing& fixing : cavity.fixings) fixing.name += nasty;
    for (plan::Gap& gap : plan.tightest) gap.what = gap.where = nasty;
    for (plan::BoxPlan& box : plan.boxes) {
      box.box.name = box.box.mark = nasty;
      for (auto& part : box.sheet.parts) {
        part.name = part.mark = part.material = nasty;
        for (auto& text : part.flat.etch_texts) text.text = nasty;
      }
      for (auto& strap : box.straps.straps) strap.mark = strap.material = nasty;
      for (auto& use : box.mounting.fixings) use.fixing += nasty;
      for (auto& fitting : box.box.layout.fittings) fitting.name = nasty;
    }
  }
  for (core::Check& check : out.plan.checks) check.name = check.where = check.source = check.cure = nasty;
  out.plan.cautions = {nasty};
  out.plan.left_out = {{nasty, nasty}};
  return out;
}

Case loose_cells() {
  Case out = two_cavities();
  out.job.car.reset();
  out.job.string.reset();
  out.job.rules.box_outline = survey::BoxOutline::loose;
  out.job.cavities.resize(1);
  out.plan.cavities.resize(1);
  plan::BoxPlan& box = out.plan.cavities[0].boxes[0];
  box.box.layout.outline.clear();
  box.sheet = {};
  box.box.stack.clear();
  box.straps = {};
  box.mounting = {};
  out.plan.splits.clear();
  out.plan.string.reset();
  out.plan.balance.reset();
  out.plan.checks.clear();
  out.plan.totals = {18, 0, 1, 0, 1, 0, 0, 99.0, std::nullopt};
  out.plan.left_out = {{"string", "no string given"}, {"balance", "no car given"}};
  return out;
}

}  // namespace fixture
