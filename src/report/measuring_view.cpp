#include "report/measuring_view.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/callout.hpp"
#include "report/sheet.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double width = 184, head = 13, foot = 10, side = 15;
constexpr double longest_ellipse = 8;   ///< half axis on paper, mm
constexpr double letter = 3.2;

struct Directions { const char *left, *right, *up, *down; };

/// What lies at the ends of the paper's axes: the section's first axis runs to the right, its second up.
Directions directions(core::Axis across) {
  if (across == core::Axis::z) return {"FRONT", "REAR", "RIGHT", "LEFT"};
  if (across == core::Axis::y) return {"FRONT", "REAR", "UP", "DOWN"};
  return {"LEFT", "RIGHT", "UP", "DOWN"};
}

std::vector<Flat> points_of(const measuring::Ellipse& e, Flat centre, double times) {
  std::vector<Flat> out;
  const double t = e.direction_deg * std::numbers::pi / 180;
  for (int i = 0; i < 48; ++i) {
    const double s = i * 2 * std::numbers::pi / 48, u = times * e.major_mm * std::cos(s), v = times * e.minor_mm * std::sin(s);
    out.push_back({centre.a + u * std::cos(t) - v * std::sin(t), centre.b + u * std::sin(t) + v * std::cos(t)});
  }
  return out;
}

class View {
 public:
  View(const MeasuringPicture& picture, double most_height) : picture_(picture) {
    Extent extent;
    for (const auto& datum : picture.datums) extent.take(datum.at);
    for (const auto& point : picture.points) extent.take(point.at);
    if (extent.empty) extent.take({0, 0});
    const double room_width = width - 2 * side, room_height = most_height - head - foot - 2 * margin_;
    scale_ = scale_for(std::max(1.0, extent.a_high - extent.a_low), std::max(1.0, extent.b_high - extent.b_low), room_width, room_height);
    extent_ = extent;
    drawn_height_ = (extent.b_high - extent.b_low) / scale_;
    height_ = head + foot + 2 * margin_ + drawn_height_;
    find_magnification();
  }

  Drawing draw() {
    drawing_.name = picture_.name;
    drawing_.title = picture_.title;
    drawing_.scale = "1:" + number(scale_);
    drawing_.width = width;
    drawing_.height = height_;
    outline();
    ellipses();
    doubted_lines();
    marks();
    frame();
    names();
    return std::move(drawing_);
  }

 private:
  static constexpr double margin_ = 11;

  Spot spot(const Flat& p) const {
    const double drawn_width = (extent_.a_high - extent_.a_low) / scale_;
    return {(width - drawn_width) / 2 + (p.a - extent_.a_low) / scale_, head + margin_ + drawn_height_ - (p.b - extent_.b_low) / scale_};
  }

  std::vector<Spot> spots(const std::vector<Flat>& points) const {
    std::vector<Spot> out;
    for (const Flat& p : points) out.push_back(spot(p));
    return out;
  }

  void find_magnification() {
    double largest = 0;
    for (const auto& point : picture_.points) largest = std::max(largest, point.ellipse ? point.ellipse->major_mm : 0);
    times_ = 1;
    for (const double times : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
      if (largest * times / scale_ <= longest_ellipse) times_ = times;
    }
  }

  void outline() {
    if (!picture_.outline.empty()) drawing_.items.emplace_back(Stroke{spots(picture_.outline), true, Pen::inner, Fill::box});
  }

  void ellipses() {
    for (const auto& point : picture_.points) {
      if (point.ellipse) drawing_.items.emplace_back(Stroke{spots(points_of(*point.ellipse, point.at, times_)), true, Pen::section_1, Fill::none});
    }
  }

  void doubted_lines() {
    for (const auto& line : picture_.doubted) drawing_.items.emplace_back(Stroke{{spot(line.from), spot(line.to)}, false, Pen::gap, Fill::none});
  }

  void marks() {
    for (const auto& point : picture_.points) drawing_.items.emplace_back(Ring{spot(point.at), 0.8, Pen::none, Fill::ink});
    for (const auto& datum : picture_.datums) drawing_.items.emplace_back(triangle(spot(datum.at)));
  }

  static Stroke triangle(Spot at) { return {{{at.x - 2, at.y + 1.5}, {at.x + 2, at.y + 1.5}, {at.x, at.y - 2}}, true, Pen::fixing, Fill::paper}; }

  void say(Spot at, const std::string& text, Anchor anchor, bool bold = false, double size = letter) {
    drawing_.items.emplace_back(Label{at, text, size, anchor, bold, false});
  }

  void frame() {
    const std::string shown = shortened(picture_.title, 70);
    say({1, 3.5}, shown, Anchor::start, true, std::min(4.2, 110 / text_width(shown, 1, true)));
    say({1, 9}, drawing_.scale + " when printed at 100 %", Anchor::start, false, 2.8);
    const Directions d = directions(picture_.across);
    const double middle = head + (height_ - head - foot) / 2;
    say({width / 2, head + 1.8}, d.up, Anchor::middle, true, 2.8);
    say({width / 2, height_ - foot - 1.8}, d.down, Anchor::middle, true, 2.8);
    say({1, middle}, d.left, Anchor::start, true, 2.8);
    say({width - 1, middle}, d.right, Anchor::end, true, 2.8);
    legend();
    scale_bar();
  }

  void scale_bar() {
    double step = 10;
    for (const double s : {20.0, 50.0, 100.0, 200.0, 500.0}) {
      if (s / scale_ <= 16) step = s;
    }
    const double left = width - 12 - 2 * step / scale_;
    for (int i = 0; i < 2; ++i) {
      drawing_.items.emplace_back(Stroke{corners(rectangle({left + i * step / scale_, 2.5}, {left + (i + 1) * step / scale_, 4})), true, Pen::inner, i == 0 ? Fill::ink : Fill::paper});
    }
    say({left, 6.6}, "0", Anchor::middle, false, 2.6);
    say({left + 2 * step / scale_, 6.6}, number(2 * step) + " mm", Anchor::middle, false, 2.6);
  }

  void legend() {
    const double y = height_ - 6.5;
    drawing_.items.emplace_back(triangle({3, y}));
    say({6.5, y}, "datum", Anchor::start, false, 2.8);
    if (picture_.points.empty()) return;
    drawing_.items.emplace_back(Ring{{20, y}, 0.8, Pen::none, Fill::ink});
    say({22, y}, "point", Anchor::start, false, 2.8);
    drawing_.items.emplace_back(Stroke{ellipse_sample(y), true, Pen::section_1, Fill::none});
    const std::string times = times_ == 1 ? "drawn as large as it is" : "drawn " + number(times_) + " times too large";
    const std::string what = picture_.circles ? "give or take of the corner, " : "where the true corner lies, 95 times in 100, ";
    say({38.5, y}, what + times, Anchor::start, false, 2.8);
    if (picture_.doubted.empty()) return;
    drawing_.items.emplace_back(Stroke{{{3, y + 4.5}, {9, y + 4.5}}, false, Pen::gap, Fill::none});
    say({10.5, y + 4.5}, "doubted reading, with what it is off by if it is this one", Anchor::start, false, 2.8);
  }

  static std::vector<Spot> ellipse_sample(double y) {
    std::vector<Spot> out;
    for (int i = 0; i < 24; ++i) out.push_back({34.5 + 2.8 * std::cos(i * std::numbers::pi / 12), y + 1.2 * std::sin(i * std::numbers::pi / 12)});
    return out;
  }

  void names() {
    NearLabels labels({1, head, width - 1, height_ - foot});
    labels.block_all(drawing_);
    for (const auto& datum : picture_.datums) {
      const Spot at = spot(datum.at);
      labels.block({at.x - 2.2, at.y - 2.2, at.x + 2.2, at.y + 1.8});
    }
    for (const auto& point : picture_.points) {
      const Spot at = spot(point.at);
      labels.block({at.x - 1, at.y - 1, at.x + 1, at.y + 1});
    }
    for (const auto& datum : picture_.datums) labels.place(drawing_, spot(datum.at), 3, {{}, shortened(datum.name, 12), 3.6, Anchor::start, true, false});
    for (const auto& point : picture_.points) name_point(labels, spot(point.at), shortened(point.name, 12));
    for (const auto& line : picture_.doubted) {
      const Spot p = spot(line.from), q = spot(line.to);
      // along the line, nearer to its point: where lines from several datums come together they would cover each other
      for (const double part : {0.5, 0.4, 0.6, 0.3, 0.7}) {
        if (labels.place(drawing_, {p.x + part * (q.x - p.x), p.y + part * (q.y - p.y)}, 1.5, {{}, line.text, 2.8, Anchor::start, true, false})) break;
      }
    }
  }

  /// Away from the middle of the points, where no wall runs; else wherever there is room.
  void name_point(NearLabels& labels, Spot at, const std::string& name) {
    Spot middle;
    for (const auto& point : picture_.points) {
      const Spot other = spot(point.at);
      middle.x += other.x / static_cast<double>(picture_.points.size());
      middle.y += other.y / static_cast<double>(picture_.points.size());
    }
    const double away = std::max(1e-9, std::hypot(at.x - middle.x, at.y - middle.y)), out = 2.4 + text_width(name, letter, false) / 2;
    const Label label{{at.x + out * (at.x - middle.x) / away, at.y + out * (at.y - middle.y) / away}, name, letter, Anchor::middle, false, false};
    if (!labels.is_free(text_patch(label).grown(0.3))) {
      labels.place(drawing_, at, 1.8, label);
      return;
    }
    labels.block(text_patch(label).grown(0.3));
    drawing_.items.emplace_back(label);
  }

  const MeasuringPicture& picture_;
  Extent extent_;
  double scale_ = 1, times_ = 1, drawn_height_ = 0, height_ = 0;
  Drawing drawing_;
};

Flat flat(measuring::Place place) { return {place.a, place.b}; }

void add_doubts(const survey::TapeSection& section, MeasuringPicture& picture) {
  const measuring::Network& network = section.network;
  const auto place = [&](std::size_t number) {
    return flat(network.is_point(number) ? section.fit->points[number - network.datums.size()].at : network.datums[number].at);
  };
  const auto add = [&](std::size_t reading, const std::string& text) {
    picture.doubted.push_back({place(network.readings[reading].from), place(network.readings[reading].to), text});
  };
  for (const measuring::Doubt& doubt : section.fit->doubts) {
    for (const measuring::Explanation& e : doubt.explanations) {
      if (e.kind == measuring::DoubtKind::swapped) {
        add(e.reading, "swapped?");
        add(e.other, "swapped?");
      } else {
        add(e.reading, (e.off_mm > 0 ? "+" : "") + fixed(e.off_mm, 0) + " mm?");
      }
    }
  }
}

}  // namespace

std::string plane_words(core::Axis across, core::Length station) {
  const std::string at = mm_text(station);
  if (across == core::Axis::z) return "plan outline, " + at + " mm above the ground";
  if (across == core::Axis::y) return "side view, y " + at + " mm from the centre plane, right is plus";
  return "cross-section seen from behind, x " + at + " mm from the front axle, rearward is plus";
}

MeasuringPicture picture_of(const survey::TapeSection& section) {
  MeasuringPicture picture;
  picture.across = section.across;
  picture.title = section.cavity + ", " + survey::section_name(section);
  picture.name = file_part(picture.title);
  for (const measuring::Datum& datum : section.datums) picture.datums.push_back({datum.name, flat(datum.at)});
  if (!section.fit) return picture;
  std::vector<std::optional<Flat>> at(section.points.size());
  for (std::size_t i = 0; i < section.network_points.size(); ++i) {
    const measuring::MeasuredPoint& p = section.fit->points[i];
    at[section.network_points[i]] = flat(p.at);
    picture.points.push_back({section.points[section.network_points[i]].name, flat(p.at), p.ellipse});
  }
  const bool whole = std::all_of(section.outline.begin(), section.outline.end(), [&](std::size_t point) { return at[point].has_value(); });
  for (const std::size_t point : section.outline) {
    if (whole) picture.outline.push_back(*at[point]);
  }
  add_doubts(section, picture);
  return picture;
}

MeasuringPicture picture_of(const std::string& cavity, core::Axis across, const survey::Section& section) {
  MeasuringPicture picture;
  picture.across = across;
  picture.circles = true;
  picture.title = cavity + ", " + std::string(1, "xyz"[static_cast<int>(across)]) + " " + mm_text(section.station);
  picture.name = file_part(picture.title);
  for (std::size_t i = 0; i < section.outline.size(); ++i) {
    const Flat at{section.outline[i].a.mm(), section.outline[i].b.mm()};
    picture.outline.push_back(at);
    MeasuringPicture::Point point{"", at, {}};
    if (section.measured && i < section.measured->corners.size()) {
      const survey::MeasuredCorner& corner = section.measured->corners[i];
      point.name = corner.name;
      if (corner.give_or_take) point.ellipse = {corner.give_or_take->mm(), corner.give_or_take->mm(), 0};
    }
    picture.points.push_back(std::move(point));
  }
  return picture;
}

Drawing measuring_drawing(const MeasuringPicture& picture, double most_height) { return View(picture, most_height).draw(); }

}  // namespace cellstow::report
