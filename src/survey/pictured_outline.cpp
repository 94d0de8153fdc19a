#include <fmt/format.h>

#include <algorithm>

#include "cellstow/measuring/picture.hpp"
#include "given_outline.hpp"

namespace cellstow::survey {
namespace {

using measuring::KnownInPicture;
using measuring::PictureCorner;
using measuring::PictureErrors;
using measuring::PicturePoint;
using measuring::PictureReading;

std::optional<PicturePoint> read_pixel(const Node& node) {
  constexpr Range range{-100'000, 100'000};
  const auto nodes = read_list(node, 2, 2, "pixels [u, v]");
  const auto numbers = nodes ? read_each<double>(*nodes, [&](const Node& n) { return read_number(n, range); }) : std::nullopt;
  if (!numbers) return {};
  return PicturePoint{(*numbers)[0], (*numbers)[1]};
}

std::optional<KnownInPicture> read_known_in_picture(const Node& node) {
  const auto fields = Fields::of(node, "picture_known_reference");
  if (!fields) return {};
  std::optional<PicturePoint> px;
  std::optional<core::Point2> at;
  set_needed(*fields, "px", px, read_pixel);
  set_needed(*fields, "at_mm", at, read_point2);
  if (!px || !at) return {};
  return KnownInPicture{*px, {at->a.mm(), at->b.mm()}};
}

std::string in_list(const std::vector<std::size_t>& numbers) {
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i)
    text += fmt::format("{}{}", i == 0 ? "" : i + 1 == numbers.size() ? " and " : ", ", numbers[i]);
  return text;
}

void tell_fault(const Node& known, const measuring::PictureFault& fault) {
  const bool line = fault.kind == measuring::PictureFaultKind::on_one_line;
  known.log->add("E238", known.pointer, "known points do not fix the picture",
                 line ? fmt::format("points {} nearly on one line (counted from 0)", in_list(fault.points))
                      : fmt::format("no camera sees them so: point{} {} (counted from 0) cannot be where {} said to be", fault.points.size() == 1 ? "" : "s",
                                    in_list(fault.points), fault.points.size() == 1 ? "it is" : "they are"),
                 line ? "four points of which no three are on one line, best the corners of a large rectangle" : "each click with its own point",
                 line ? "" : "two of them may be mixed up");
}

std::string widest_in_words(const PictureReading& reading) {
  const auto widest = std::max_element(reading.corners.begin(), reading.corners.end(),
                                       [](const PictureCorner& p, const PictureCorner& q) { return p.give_or_take_mm < q.give_or_take_mm; });
  return fmt::format("corners read off a picture, give or take up to {:.1f} mm (19 times in 20), the least certain corner {}", widest->give_or_take_mm,
                     widest - reading.corners.begin());
}

std::vector<std::string> remarks_on(const PictureReading& reading) {
  std::vector<std::string> remarks;
  const auto& off = reading.known_off_mm;
  const auto worst = std::max_element(off.begin(), off.end());
  if (reading.known_disagree)
    remarks.push_back(fmt::format("known point {} is off by {:.1f} mm, more than its give or take allows: click or measure it again; until then every corner is told as {:.1f} times less certain",
                                  worst - off.begin(), *worst, reading.widened));
  std::vector<std::size_t> outside;
  for (std::size_t i = 0; i < reading.corners.size(); ++i)
    if (reading.corners[i].outside_known) outside.push_back(i);
  if (!outside.empty())
    remarks.push_back(fmt::format("corner{} {} outside the known points, where small errors grow: set known points round the whole template",
                                  outside.size() == 1 ? "" : "s", in_list(outside) + (outside.size() == 1 ? " lies" : " lie")));
  remarks.push_back(widest_in_words(reading));
  if (off.size() == 4)
    remarks.push_back("four known points leave nothing to check by: a fifth would show a wrong click");
  else if (!reading.known_disagree)
    remarks.push_back(fmt::format("{} known points, off by up to {:.1f} mm", off.size(), *worst));
  return remarks;
}

/// @error E239 a click that has no place in the car
bool check_places(const PictureReading& reading, const Node& clicks) {
  bool fine = true;
  for (std::size_t i = 0; i < reading.corners.size(); ++i) {
    const PictureCorner& corner = reading.corners[i];
    const bool near = std::abs(corner.at.a_mm) <= farthest_mm && std::abs(corner.at.b_mm) <= farthest_mm && corner.give_or_take_mm <= farthest_mm;
    if (corner.seen && near) continue;
    clicks.at(i).problem("E239", "click beyond what the picture shows of the template",
                         corner.seen ? fmt::format("a place within {:.0f} m", farthest_mm / 1000) : "a click on the template's own plane, this side of where it vanishes",
                         "check the known points; take the picture more squarely");
    fine = false;
  }
  return fine;
}

GivenOutline outline_of(const PictureReading& reading) {
  GivenOutline given;
  given.measured.by = MeasuredBy::picture;
  given.measured.remarks = remarks_on(reading);
  for (const PictureCorner& corner : reading.corners) {
    given.outline.push_back({Length::from_mm(corner.at.a_mm), Length::from_mm(corner.at.b_mm)});
    given.measured.corners.push_back({"", Length::from_mm_up(corner.give_or_take_mm)});
  }
  return given;
}

}  // namespace

std::optional<GivenOutline> read_picture_outline(const Node& node) {
  const auto fields = Fields::of(node, "picture_reference");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  PictureErrors errors;
  set(*fields, "give_or_take_px", errors.click_px, [](const Node& n) { return read_number(n, {0.1, 100}, "px"); });
  set(*fields, "known_give_or_take_mm", errors.known_mm, [](const Node& n) { return read_quantity(n, Kind::length, at_least_zero(100)); });
  std::vector<KnownInPicture> known;
  std::vector<PicturePoint> clicks;
  const auto known_node = fields->need("known"), clicks_node = fields->need("points_px");
  if (known_node)
    if (const auto nodes = read_list(*known_node, 4, 50, "known points"))
      if (auto read = read_each<KnownInPicture>(*nodes, read_known_in_picture)) known = std::move(*read);
  if (clicks_node)
    if (const auto nodes = read_list(*clicks_node, 3, most_vertices, "clicks [u, v]"))
      if (auto read = read_each<PicturePoint>(*nodes, read_pixel)) clicks = std::move(*read);
  if (node.log->size() != before) return {};
  const auto reading = measuring::read_picture(known, clicks, errors);
  if (!reading) {
    tell_fault(*known_node, reading.error());
    return {};
  }
  if (!check_places(*reading, *clicks_node)) return {};
  GivenOutline given = outline_of(*reading);
  if (!check_ring(*clicks_node, given.outline)) return {};
  return given;
}

}  // namespace cellstow::survey
