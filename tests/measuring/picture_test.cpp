/// Corners read off a photograph: the closed form of the mapping, cameras made up with seeded scatter, refusals.

#include "cellstow/measuring/picture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace cellstow::measuring;

namespace {

/// From the unit square to the quadrilateral of four corners (0,0) (1,0) (1,1) (0,1), row by row, last entry 1.
///
/// Source: Heckbert, Fundamentals of Texture Mapping and Image Warping, master's thesis, Berkeley (1989), section 2.2.3
///         (from memory; the same in a public-domain listing after his article in CG&A, Nov. 1986)
std::array<double, 9> square_to_quadrilateral(const std::array<PicturePoint, 4>& q) {
  const double sx = q[0].u_px - q[1].u_px + q[2].u_px - q[3].u_px, sy = q[0].v_px - q[1].v_px + q[2].v_px - q[3].v_px;
  const double dx1 = q[1].u_px - q[2].u_px, dx2 = q[3].u_px - q[2].u_px;
  const double dy1 = q[1].v_px - q[2].v_px, dy2 = q[3].v_px - q[2].v_px;
  const double det = dx1 * dy2 - dx2 * dy1;
  const double g = (sx * dy2 - dx2 * sy) / det, h = (dx1 * sy - sx * dy1) / det;
  return {q[1].u_px - q[0].u_px + g * q[1].u_px, q[3].u_px - q[0].u_px + h * q[3].u_px, q[0].u_px,
          q[1].v_px - q[0].v_px + g * q[1].v_px, q[3].v_px - q[0].v_px + h * q[3].v_px, q[0].v_px, g, h, 1};
}

/// A pinhole camera over the plane: the plane of the template is z = 0, the camera looks at `target`.
struct Camera {
  std::array<double, 3> eye, right, down, ahead;
  double focal_px, centre_u, centre_v;

  static Camera looking(std::array<double, 3> eye, std::array<double, 3> target, double focal_px) {
    const auto unit = [](std::array<double, 3> v) {
      const double n = std::hypot(v[0], v[1], v[2]);
      return std::array<double, 3>{v[0] / n, v[1] / n, v[2] / n};
    };
    const auto cross = [](const auto& p, const auto& q) {
      return std::array<double, 3>{p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
    };
    Camera camera{eye, {}, {}, unit({target[0] - eye[0], target[1] - eye[1], target[2] - eye[2]}), focal_px, 2000, 1500};
    camera.right = unit(cross(camera.ahead, std::array<double, 3>{0.02, 1, 0.01}));
    camera.down = cross(camera.ahead, camera.right);
    return camera;
  }

  PicturePoint of(const DrawnPoint& p) const {
    const std::array<double, 3> d{p.a_mm - eye[0], p.b_mm - eye[1], -eye[2]};
    const auto dot = [&](const std::array<double, 3>& v) { return d[0] * v[0] + d[1] * v[1] + d[2] * v[2]; };
    return {centre_u + focal_px * dot(right) / dot(ahead), centre_v + focal_px * dot(down) / dot(ahead)};
  }
};

std::vector<DrawnPoint> grid_of_known(std::size_t count) {
  const std::vector<DrawnPoint> all = {{0, 0}, {600, 0}, {600, 400}, {0, 400}, {300, 200}, {300, 0}, {0, 200}, {600, 200}};
  return {all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count)};
}

/// How often the true corner lay within the give or take told for it.
double share_within(const Camera& camera, const std::vector<DrawnPoint>& known_places, const DrawnPoint& truth, const PictureErrors& errors, unsigned seed,
                    int tries) {
  // a give or take is the radius of 19 in 20 of a round normal scatter: sigma = give or take / sqrt(-2 ln 0.05)
  const double per_sigma = std::sqrt(-2 * std::log(0.05));
  std::mt19937 random(seed);
  std::normal_distribution<double> click(0, errors.click_px / per_sigma), place(0, errors.known_mm / per_sigma);
  int within = 0;
  for (int i = 0; i < tries; ++i) {
    std::vector<KnownInPicture> known;
    for (const DrawnPoint& at : known_places) {
      const PicturePoint px = camera.of(at);
      known.push_back({{px.u_px + click(random), px.v_px + click(random)}, {at.a_mm + place(random), at.b_mm + place(random)}});
    }
    const PicturePoint px = camera.of(truth);
    const std::vector<PicturePoint> clicks = {{px.u_px + click(random), px.v_px + click(random)}};
    const auto reading = read_picture(known, clicks, errors);
    REQUIRE(reading);
    const PictureCorner& corner = reading->corners[0];
    within += std::hypot(corner.at.a_mm - truth.a_mm, corner.at.b_mm - truth.b_mm) <= corner.give_or_take_mm;
  }
  return static_cast<double>(within) / tries;
}

}  // namespace

TEST_CASE("picture: the mapping of four points is Heckbert's closed form") {
  const std::array<PicturePoint, 4> quadrilaterals[] = {{{{100, 900}, {1700, 860}, {1500, 200}, {260, 240}}},
                                                        {{{0, 0}, {4000, 100}, {3100, 2900}, {500, 2500}}},
                                                        {{{10, 10}, {20, 10}, {20, 20}, {10, 20}}}};
  for (const auto& q : quadrilaterals) {
    const std::vector<KnownInPicture> known = {{q[0], {0, 0}}, {q[1], {1, 0}}, {q[2], {1, 1}}, {q[3], {0, 1}}};
    const auto reading = read_picture(known, {}, {});
    REQUIRE(reading);
    const std::array<double, 9> closed = square_to_quadrilateral(q);
    for (std::size_t i = 0; i < 9; ++i) CHECK(reading->to_picture[i] / reading->to_picture[8] == doctest::Approx(closed[i]).epsilon(1e-9));
  }
}

TEST_CASE("picture: without scatter every corner comes back, in sight of any camera") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> sideways(-900, 900), height(500, 2500), place(-100, 700);
  for (int round = 0; round < 200; ++round) {
    const Camera camera = Camera::looking({300 + sideways(random), 200 + sideways(random), height(random)}, {300, 200, 0}, 3000);
    std::vector<KnownInPicture> known;
    for (const DrawnPoint& at : grid_of_known(4 + static_cast<std::size_t>(round % 5))) known.push_back({camera.of(at), at});
    const DrawnPoint truth{place(random), place(random)};
    const auto reading = read_picture(known, std::vector<PicturePoint>{camera.of(truth)}, {});
    REQUIRE(reading);
    REQUIRE(reading->corners[0].seen);
    CHECK(reading->corners[0].at.a_mm == doctest::Approx(truth.a_mm).epsilon(1e-7));
    CHECK(reading->corners[0].at.b_mm == doctest::Approx(truth.b_mm).epsilon(1e-7));
    CHECK(reading->widened == 1);
    for (const double off : reading->known_off_mm) CHECK(off < 1e-6);
  }
}

TEST_CASE("picture: straight above the middle of a rectangle the give or take has a closed form") {
  // Straight above at height h a click is off by click * h / f in the plane. The mapping's image of the middle is where the
  // diagonals cross. Each diagonal is off, square to itself, by the mean of its two ends: variance 1/2 of a click's. With
  // an angle phi between the diagonals the crossing is off, in its worst direction, by (1/2) / (1 - cos phi).
  const double height = 1500, focal = 3000;
  const Camera camera = Camera::looking({300, 200, height}, {300, 200, 0}, focal);
  std::vector<KnownInPicture> known;
  for (const DrawnPoint& at : grid_of_known(4)) known.push_back({camera.of(at), at});
  const double cos_phi = (600.0 * 600 - 400.0 * 400) / (600.0 * 600 + 400.0 * 400);
  const double mapping = 0.5 / (1 - cos_phi);
  const double click_mm = 2 * height / focal;
  const std::vector<PicturePoint> middle = {camera.of({300, 200})};
  const auto clicks = read_picture(known, middle, {2, 0});
  REQUIRE(clicks);
  CHECK(clicks->corners[0].give_or_take_mm == doctest::Approx(click_mm * std::sqrt(1 + mapping)).epsilon(1e-6));
  // the known points' own places come on top of their clicks, in the same way
  const auto places = read_picture(known, middle, {2, 1.5});
  REQUIRE(places);
  CHECK(places->corners[0].give_or_take_mm ==
        doctest::Approx(std::sqrt(click_mm * click_mm * (1 + mapping) + 1.5 * 1.5 * mapping)).epsilon(1e-6));
}

TEST_CASE("picture: a true corner lies within the stated give or take as often as stated") {
  constexpr int tries = 4000;
  const double scatter = std::sqrt(0.95 * 0.05 / tries);  // of a share counted in that many tries
  const Camera above = Camera::looking({300, 200, 1500}, {300, 200, 0}, 3000);
  const Camera aslant = Camera::looking({-500, -700, 900}, {300, 200, 0}, 3000);
  // round scatter, at the middle of a square: 19 in 20
  const double round = share_within(above, {{100, 0}, {500, 0}, {500, 400}, {100, 400}}, {300, 200}, {3, 0.5}, 21, tries);
  CHECK(round > 0.95 - 3 * scatter);
  CHECK(round < 0.95 + 3 * scatter);
  // a longish scatter told by its longer axis lies inside more often, and with more than four the width is never narrowed
  for (const std::size_t known : {4u, 6u, 8u})
    for (const DrawnPoint& corner : {DrawnPoint{100, 80}, DrawnPoint{520, 360}, DrawnPoint{650, 450}}) {
      CAPTURE(known);
      const double share = share_within(aslant, grid_of_known(known), corner, {3, 0.5}, 22, tries);
      CHECK(share > 0.95 - 3 * scatter);
      CHECK(share < 0.99);
    }
}

TEST_CASE("picture: a slipped known point is seen when there are more than four, and widens every give or take") {
  const Camera camera = Camera::looking({-100, -300, 1200}, {300, 200, 0}, 3000);
  std::vector<KnownInPicture> known;
  for (const DrawnPoint& at : grid_of_known(6)) known.push_back({camera.of(at), at});
  const std::vector<PicturePoint> click = {camera.of({200, 150})};
  const auto good = read_picture(known, click, {});
  known[4].at.a_mm += 10;  // a slipped centimetre at the middle one
  const auto slipped = read_picture(known, click, {});
  REQUIRE(good);
  REQUIRE(slipped);
  CHECK_FALSE(good->known_disagree);
  CHECK(slipped->known_disagree);
  CHECK(slipped->widened > 3);
  CHECK(slipped->corners[0].give_or_take_mm > 3 * good->corners[0].give_or_take_mm);
  const auto& off = slipped->known_off_mm;
  CHECK(std::max_element(off.begin(), off.end()) - off.begin() == 4);
}

TEST_CASE("picture: outside the known points a corner is told as such and is less certain") {
  const Camera camera = Camera::looking({-100, -300, 1200}, {300, 200, 0}, 3000);
  std::vector<KnownInPicture> known;
  for (const DrawnPoint& at : grid_of_known(4)) known.push_back({camera.of(at), at});
  const auto reading =
      read_picture(known, std::vector<PicturePoint>{camera.of({300, 200}), camera.of({601, 200}), camera.of({1200, 200}), camera.of({0, 0})}, {});
  REQUIRE(reading);
  const auto& corners = reading->corners;
  CHECK_FALSE(corners[0].outside_known);
  CHECK(corners[1].outside_known);
  CHECK(corners[2].outside_known);
  CHECK_FALSE(corners[3].outside_known);
  CHECK(corners[2].give_or_take_mm > 3 * corners[0].give_or_take_mm);
}

TEST_CASE("picture: three known points on a line are refused with four, and borne with more") {
  const Camera camera = Camera::looking({-100, -300, 1200}, {300, 200, 0}, 3000);
  const auto seen = [&](std::vector<DrawnPoint> places) {
    std::vector<KnownInPicture> known;
    for (const DrawnPoint& at : places) known.push_back({camera.of(at), at});
    return known;
  };
  const auto line = read_picture(seen({{0, 0}, {300, 4}, {600, 0}, {200, 400}}), {}, {});
  REQUIRE_FALSE(line);
  CHECK(line.error().kind == PictureFaultKind::on_one_line);
  CHECK(line.error().points == std::vector<std::size_t>{0, 1, 2});
  CHECK(read_picture(seen({{0, 0}, {300, 4}, {600, 0}, {200, 400}, {600, 400}}), {}, {}));
  CHECK_FALSE(read_picture(seen({{0, 0}, {200, 0}, {400, 0}, {600, 0}, {200, 400}}), {}, {}));
}

TEST_CASE("picture: two known points mixed up are no view of any camera") {
  const Camera camera = Camera::looking({-100, -300, 1200}, {300, 200, 0}, 3000);
  std::vector<KnownInPicture> known;
  for (const DrawnPoint& at : grid_of_known(4)) known.push_back({camera.of(at), at});
  std::swap(known[1].px, known[2].px);
  const auto mixed = read_picture(known, {}, {});
  REQUIRE_FALSE(mixed);
  CHECK(mixed.error().kind == PictureFaultKind::not_one_view);
}

TEST_CASE("picture: a click beyond the line where the plane vanishes has no place") {
  const Camera low = Camera::looking({300, -1500, 400}, {300, 200, 0}, 3000);
  std::vector<KnownInPicture> known;
  for (const DrawnPoint& at : grid_of_known(4)) known.push_back({low.of(at), at});
  const PicturePoint far = low.of({300, 1e7});
  const double side = far.v_px < low.of({300, 200}).v_px ? -1 : 1;
  const auto reading = read_picture(known, std::vector<PicturePoint>{{far.u_px, far.v_px + 50 * side}, low.of({300, 300})}, {});
  REQUIRE(reading);
  CHECK_FALSE(reading->corners[0].seen);
  CHECK(reading->corners[1].seen);
}
