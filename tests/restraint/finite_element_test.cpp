/// Beside CalculiX: an independent program, meshes written here. What agrees, and within what, stands at each check.

#include "finite_element.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cellstow/restraint/mounting.hpp"
#include "cellstow/restraint/plate.hpp"
#include "cellstow/restraint/strip.hpp"

namespace restraint = cellstow::restraint;
using finite_element::Mesh;
using restraint::BeamEnds;
using restraint::StripEnds;

namespace {

void hold(std::ostringstream& deck, const std::vector<int>& points, std::initializer_list<int> ways) {
  for (const int point : points)
    for (const int way : ways) deck << point << "," << way << "\n";
}

std::string step(bool large, const std::string& load) {
  return std::string("*STEP") + (large ? ",NLGEOM,INC=100" : "") + "\n*STATIC\n" + (large ? "0.25,1.\n" : "1.,1.\n") + load +
         "*NODE PRINT,NSET=ALL\nU\n*EL PRINT,ELSET=P\nS\n*END STEP\n";
}

/// Half of a strip 10 mm wide that bends in one plane only, symmetric about x = 0.
finite_element::Result strip_run(const char* name, double span, double t, double modulus, double pressure, bool clamped) {
  Mesh mesh;
  mesh.patch({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, span / 2, 10, 12, 1, t, "P");
  std::ostringstream deck;
  deck << mesh.text(modulus, 0.0) << "*BOUNDARY\n";
  std::vector<int> all;
  for (const double y : {0.0, 5.0, 10.0}) for (const int p : mesh.where(1, y)) all.push_back(p);
  hold(deck, all, {2, 4, 6});
  hold(deck, mesh.where(0, 0), {1, 5});
  hold(deck, mesh.where(0, span / 2), clamped ? std::initializer_list<int>{1, 3, 5} : std::initializer_list<int>{1, 3});
  std::ostringstream load;
  load << "*DLOAD\nP,P," << pressure << "\n";
  deck << step(true, load.str());
  return finite_element::run(name, deck.str());
}

double largest_rise(const finite_element::Result& result) {
  double most = 0;
  for (const auto& [point, u] : result.moved) most = std::max(most, std::abs(u[2]));
  return most;
}

}  // namespace

TEST_CASE("finite elements: a strap over a block, hinged and clamped, large deflection") {
  // 40 x 6 mm of 6061, span 313.5 mm, 15 N/mm: rise within 1.5 %
  const double span = 313.5, t = 6, modulus = 70000, width = 40, load = 15;
  for (const bool clamped : {false, true}) {
    CAPTURE(clamped);
    const auto ours = restraint::strip_under_load({width, t, span, modulus}, load, clamped ? StripEnds::clamped : StripEnds::hinged);
    const auto theirs = strip_run(clamped ? "strap-c" : "strap-h", span, t, modulus, load / width, clamped);
    CHECK(largest_rise(theirs) == doctest::Approx(ours.sag_mm).epsilon(0.015));
    // pull in the middle: mean of the stress along the strip over the thickness, first element; within 2 %
    double pull = 0;
    for (const auto& s : theirs.stress.at(1)) pull += s[0] / static_cast<double>(theirs.stress.at(1).size());
    CHECK(pull == doctest::Approx(ours.membrane_mpa).epsilon(0.02));
  }
}

TEST_CASE("finite elements: a wall plate, clamped and supported, small deflection") {
  // 200 x 320 x 3 mm, a quarter of it; sag within 2 % of the handbook's factors
  const double a = 200, b = 320, t = 3, q = 0.002, modulus = 70000;
  for (const bool clamped : {false, true}) {
    CAPTURE(clamped);
    Mesh mesh;
    mesh.patch({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, a / 2, b / 2, 5, 8, t, "P");
    std::ostringstream deck;
    deck << mesh.text(modulus, 0.3) << "*BOUNDARY\n";
    hold(deck, mesh.where(0, 0), {1, 5, 6});
    hold(deck, mesh.where(1, 0), {2, 4, 6});
    hold(deck, mesh.where(0, a / 2), {3});
    hold(deck, mesh.where(1, b / 2), {3});
    if (clamped) hold(deck, mesh.where(0, a / 2), {5}), hold(deck, mesh.where(1, b / 2), {4});
    std::ostringstream load;
    load << "*DLOAD\nP,P," << q << "\n";
    const auto theirs = finite_element::run(clamped ? "wall-c" : "wall-s", deck.str() + step(false, load.str()));
    const double sag = restraint::plate_factors(b / a, clamped ? BeamEnds::clamped : BeamEnds::hinged).alpha * q * std::pow(a, 4) / (modulus * t * t * t);
    CHECK(largest_rise(theirs) == doctest::Approx(sag).epsilon(0.02));
  }
}

TEST_CASE("finite elements: floors whose edges come in freely, beside the strip that stands for them") {
  // aluminium, large deflection, a quarter each; our strip is given 2.5 (b/a)^4 of its length to stretch along
  struct Case { double a, b, t, q; int na, nb; };
  for (const Case& c : {Case{404, 720, 3, 0.0415, 3, 5}, Case{404, 1000, 4, 0.0318, 3, 7}}) {
    CAPTURE(c.b);
    const double modulus = 70000, nu = 0.33;
    Mesh mesh;
    mesh.patch({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, c.a / 2, c.b / 2, c.na, c.nb, c.t, "P");
    std::ostringstream deck;
    deck << mesh.text(modulus, nu) << "*BOUNDARY\n";
    hold(deck, mesh.where(0, 0), {1, 5, 6});
    hold(deck, mesh.where(1, 0), {2, 4, 6});
    hold(deck, mesh.where(0, c.a / 2), {3});
    hold(deck, mesh.where(1, c.b / 2), {3});
    std::ostringstream load;
    load << "*DLOAD\nP,P," << c.q << "\n";
    const auto theirs = finite_element::run("floor", deck.str() + step(true, load.str()));
    const auto ours = restraint::strip_under_load({1, c.t, c.a, modulus / (1 - nu * nu)}, c.q, StripEnds::hinged, 2.5 * std::pow(c.b / c.a, 4) * c.a);
    // the sag told, a tenth above the strip's: no less than 2 % under theirs, and no more than 20 % above
    CHECK(1.1 * ours.sag_mm > 0.98 * largest_rise(theirs));
    CHECK(1.1 * ours.sag_mm < 1.20 * largest_rise(theirs));
    // stress on the face in the middle, from the inner points at +-0.577 of half the thickness: ours is the larger, by no more than 40 %
    double low[2] = {1e9, 1e9}, high[2] = {-1e9, -1e9};
    for (const auto& s : theirs.stress.at(1))
      for (std::size_t k = 0; k < 2; ++k) low[k] = std::min(low[k], s[k]), high[k] = std::max(high[k], s[k]);
    double face[2];
    for (std::size_t k = 0; k < 2; ++k) face[k] = (low[k] + high[k]) / 2 + (high[k] - low[k]) / 2 / std::sqrt(1.0 / 3);
    const double equivalent = std::sqrt(face[0] * face[0] + face[1] * face[1] - face[0] * face[1]);
    CHECK(ours.membrane_mpa + ours.bending_mpa > equivalent);
    CHECK(ours.membrane_mpa + ours.bending_mpa < 1.4 * equivalent);
  }
}

TEST_CASE("finite elements: a bracket with two gussets, clamped at the wall") {
  // Foot 80 x 60 x 5 mm, gussets 80 x 60 x 5 mm at both sides (whole, not cut to triangles), 3000 N along the bolt 50 mm from the wall.
  const double t = 5, b = 60, out = 80, up = 60, a = 50, force = 3000;
  Mesh mesh;
  mesh.patch({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, out, b, 8, 6, t, "FOOT");
  mesh.patch({0, 0, 0}, {1, 0, 0}, {0, 0, 1}, out, up, 8, 6, t, "P");
  mesh.patch({0, b, 0}, {1, 0, 0}, {0, 0, 1}, out, up, 8, 6, t, "G2");
  std::ostringstream deck;
  deck << mesh.text(70000, 0.33) << "*BOUNDARY\n";
  hold(deck, mesh.where(0, 0), {1, 2, 3});
  std::ostringstream load;
  load << "*CLOAD\n" << mesh.at(a, b / 2, 0) << ",3," << -force << "\n";
  const auto theirs = finite_element::run("bracket", deck.str() + step(false, load.str()));
  // Our sum: two bare gussets as a cantilever, F a / (2 t h^2 / 6). The foot helps in truth, so ours is the larger at the far edge:
  // stress of the elements at the wall's end, upper corner, carried out to the edge. Not more than 60 % above.
  const double ours = force * a / (2 * t * up * up / 6);
  double edge = 0;
  const int upper = 8 * 6 + 5 * 8 + 1;   // first element of the uppermost row of the first gusset
  for (const auto& s : theirs.stress.at(upper)) edge = std::max(edge, std::abs(s[0]));
  CHECK(ours > 0.95 * edge);
  CHECK(ours < 1.6 * edge);
  // The foot between the gussets carries the force to them: the middle sinks no more than a strip clamped at both of them, 80 mm deep
  const double sink = std::abs(theirs.moved.at(mesh.at(a, b / 2, 0))[2]);
  CHECK(sink > 0);
  CHECK(sink < 3 * restraint::beam_middle(force, b, 70000 * out * t * t * t / 12, BeamEnds::clamped).sag_mm + 0.3);
}

TEST_CASE("finite elements: a rigid box on six bolts that give alike, forces within 0.1 %") {
  const std::vector<std::array<double, 3>> bolts = {{0, 0, 0}, {400, 10, 0}, {410, 520, 40}, {-5, 500, 35}, {200, -20, 160}, {190, 530, 150}};
  const std::vector<std::array<double, 3>> axes(bolts.size(), {0, 0, 1});
  const std::array<double, 3> force{-20000, 3000, -1000}, at{210, 240, 190};
  std::ostringstream deck;
  deck << "*NODE,NSET=ALL\n";
  for (std::size_t i = 0; i < bolts.size(); ++i) deck << i + 1 << "," << bolts[i][0] << "," << bolts[i][1] << "," << bolts[i][2] << "\n";
  deck << "101," << at[0] << "," << at[1] << "," << at[2] << "\n102," << at[0] << "," << at[1] << "," << at[2] << "\n";
  deck << "*NSET,NSET=BOLTS\n1,2,3,4,5,6\n*RIGID BODY,NSET=BOLTS,REF NODE=101,ROT NODE=102\n";
  // rods 100 mm long, 1e7 N/mm, so stiff that the turn stays small; one in each direction at every bolt, their far ends fast
  const double rate = 1e7;
  deck << "*NODE,NSET=GROUND\n";
  for (std::size_t way = 0; way < 3; ++way) {
    for (std::size_t i = 0; i < bolts.size(); ++i) {
      std::array<double, 3> end = bolts[i];
      end[way] += 100;
      deck << 200 + 100 * way + i << "," << end[0] << "," << end[1] << "," << end[2] << "\n";
    }
  }
  deck << "*ELEMENT,TYPE=T3D2,ELSET=RODS\n";
  for (std::size_t way = 0; way < 3; ++way)
    for (std::size_t i = 0; i < bolts.size(); ++i) deck << 1000 + 100 * way + i << "," << i + 1 << "," << 200 + 100 * way + i << "\n";
  deck << "*MATERIAL,NAME=M\n*ELASTIC\n1e7,0.\n*SOLID SECTION,ELSET=RODS,MATERIAL=M\n100.\n*BOUNDARY\nGROUND,1,3\n";
  deck << "*STEP\n*STATIC\n1.,1.\n*CLOAD\n";
  for (std::size_t k = 0; k < 3; ++k) deck << "101," << k + 1 << "," << force[k] << "\n";
  deck << "*NODE PRINT,NSET=ALL\nU\n*END STEP\n";
  const auto theirs = finite_element::run("bolts", deck.str());
  const auto ours = restraint::bolt_group(bolts, axes, force, at);
  REQUIRE(ours.size() == bolts.size());
  const double largest = std::hypot(force[0], force[1], force[2]);
  for (std::size_t i = 0; i < bolts.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k)
      CHECK(std::abs(theirs.moved.at(static_cast<int>(i) + 1)[k] * rate - ours[i].force_n[k]) < 0.001 * largest);
}
