#include "report/fixture_parts.hpp"

namespace fixture {

using namespace cellstow;
using core::Kg;
using core::Point2;
using core::Point3;

namespace {

survey::Section section(double station, std::vector<Point2> outline) {
  return {mm(station), std::move(outline), {}};
}

survey::Fixing fixing(const char* name, Point3 at, survey::FixingUse use) {
  survey::Fixing out;
  out.name = name;
  out.at = at;
  out.thread = "M8";
  out.sheet = mm(1.2);
  out.use = use;
  return out;
}

survey::Cavity tank_well() {
  survey::Cavity out;
  out.name = "tank well";
  out.sections.across = core::Axis::z;
  out.sections.at = {
      section(300, {p2(2518, -312), p2(3108, -318), p2(3112, 118), p2(2896, 122), p2(2884, 312), p2(2516, 306)}),
      section(460, {p2(2512, -320), p2(3116, -326), p2(3120, 124), p2(2898, 128), p2(2888, 320), p2(2508, 314)}),
      section(640, {p2(2506, -330), p2(3124, -334), p2(3128, 130), p2(2902, 134), p2(2894, 326), p2(2500, 322)})};
  survey::KeepOut neck;
  neck.name = "filler neck";
  neck.clearance = mm(15);
  neck.shape = survey::CylinderShape{p3(2960, 190, 320), p3(3060, 260, 760), mm(58)};
  survey::KeepOut loom;
  loom.name = "tail lamp loom";
  loom.kind = survey::KeepOutKind::soft;
  loom.shape = survey::PrismShape{{p2(2520, 310), p2(2700, 312), p2(2700, 330), p2(2520, 330)}, mm(300), mm(340)};
  survey::KeepOut axle;
  axle.name = "rear axle at full bump";
  axle.kind = survey::KeepOutKind::moving;
  axle.clearance = mm(25);
  axle.shape = survey::BoxShape{p3(2400, -700, 180), p3(2480, 700, 300)};
  out.keep_outs = {neck, loom, axle};
  out.fixings = {fixing("T1", p3(2540, -340, 305), survey::FixingUse::carry),
                 fixing("T2", p3(3080, -345, 305), survey::FixingUse::carry),
                 fixing("T3", p3(3120, 60, 305), survey::FixingUse::carry),
                 fixing("T4", p3(2540, 335, 305), survey::FixingUse::carry),
                 fixing("T5", p3(2880, 345, 420), survey::FixingUse::locate),
                 fixing("rear belt anchorage, right", p3(2500, 352, 600), survey::FixingUse::never)};
  survey::WayIn boot;
  boot.name = "boot opening";
  boot.station = mm(640);
  boot.outline = {p2(2520, -320), p2(2990, -330), p2(2986, 325), p2(2521, 318)};
  out.way_in = {boot};
  return out;
}

survey::Cavity engine_bay() {
  survey::Cavity out;
  out.name = "engine bay";
  out.sections.across = core::Axis::x;
  const auto ring = [](double by) {
    return std::vector<Point2>{p2(-350 - by, 470), p2(350 + by, 470), p2(360 + by, 700), p2(330 + by, 860), p2(-330 - by, 860), p2(-360 - by, 700)};
  };
  out.sections.at = {section(60, ring(0)), section(250, ring(10)), section(430, ring(4))};
  survey::KeepOut shaft;
  shaft.name = "steering shaft";
  shaft.clearance = mm(20);
  shaft.shape = survey::CylinderShape{p3(60, -400, 520), p3(430, -340, 760), mm(30)};
  out.keep_outs = {shaft};
  out.fixings = {fixing("E1", p3(90, -300, 470), survey::FixingUse::carry),
                 fixing("E2", p3(90, 300, 470), survey::FixingUse::carry),
                 fixing("E3", p3(400, -300, 470), survey::FixingUse::carry),
                 fixing("E4", p3(400, 300, 470), survey::FixingUse::carry)};
  survey::Fitting fuse{"main fuse", {mm(80), mm(170), mm(90)}, 1, survey::FittingPlace::beside};
  out.fittings = {fuse};
  return out;
}

survey::Material sheet(const char* name) {
  survey::Material out;
  out.name = name;
  out.density_kg_per_m3 = 2700;
  out.elastic_modulus = core::Mpa::of(70000);
  out.proof_strength = core::Mpa::of(130);
  out.ultimate_strength = core::Mpa::of(220);
  out.source = "invented for this test";
  out.status = "unconfirmed";
  return out;
}

}  // namespace

survey::Job job_of_two_cavities() {
  survey::Job out;
  out.title = "small estate, kit 1";
  out.cell.name = "invented 160 Ah";
  out.cell.thickness = mm(71);
  out.cell.width = mm(182);
  out.cell.height = mm(260);
  out.cell.terminal_top = mm(282);
  out.cell.mass = Kg::of(5.5);
  out.cell.capacity = core::AmpereHour::of(160);
  out.cell.voltage = survey::VoltageWindow{core::Volt::of(2.8), core::Volt::of(3.2), core::Volt::of(3.65)};
  survey::Car car;
  car.name = "small estate";
  car.wheelbase = mm(2250);
  car.track_front = mm(1250);
  car.track_rear = mm(1240);
  car.weighed = survey::WheelLoads{Kg::of(212), Kg::of(204), Kg::of(236), Kg::of(228)};
  car.axle_limits = survey::AxleLoads{Kg::of(600), Kg::of(720)};
  car.gross_limit = Kg::of(1260);
  car.seats = {{"driver", p3(1250, -320, 500), Kg::of(75)}, {"front passenger", p3(1250, 320, 500), Kg::of(75)}};
  car.removed = {{"engine", Kg::of(120), p3(220, 0, 600)}};
  out.car = car;
  survey::StringSpec string;
  string.controller = survey::Controller{{core::Volt::of(72), core::Volt::of(110)}, core::Ampere::of(400)};
  string.consumption = core::WattHourPerKm::of(165);
  out.string = string;
  out.rules.corner_relief = mm(5);
  out.rules.materials = {sheet("EN AW-5754 H22"), sheet("EN AW-6061 T6"), sheet("S235"), {}};
  out.cavities = {tank_well(), engine_bay()};
  return out;
}

}  // namespace fixture
