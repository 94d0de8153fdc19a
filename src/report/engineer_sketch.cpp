#include "report/engineer_sketch.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double width_mm = 186, height_mm = 40, gap_mm = 8;

struct Pane { double left, low_a, low_b, scale, top; bool up; };   ///< a to the right; b downward, or upward when `up`

double at_a(const Pane& pane, double a) { return pane.left + (a - pane.low_a) * pane.scale; }
double at_b(const Pane& pane, double b) { return pane.up ? pane.top - (b - pane.low_b) * pane.scale : pane.top + (b - pane.low_b) * pane.scale; }

struct Range {
  double low = 1e9, high = -1e9;
  void add(double v) { low = std::min(low, v), high = std::max(high, v); }
  double length() const { return high - low; }
};

struct Spots {
  std::vector<const survey::Fixing*> fixings;
  std::vector<const restraint::FixingUseResult*> uses;
  Range x, y, z;
};

Spots spots_of(const survey::Cavity& cavity, const plan::BoxPlan& box) {
  Spots out;
  for (const core::Point2& p : core::to_car(box.box.layout.heading, box.box.layout.outline)) out.x.add(p.a.mm()), out.y.add(p.b.mm());
  out.z.add(box.box.layout.z_bottom.mm());
  out.z.add(box.box.layout.lid_top.mm());
  for (const survey::Fixing& fixing : cavity.fixings) {
    for (const restraint::FixingUseResult& use : box.mounting.fixings) {
      if (use.fixing != fixing.name || !use.carries) continue;
      out.fixings.push_back(&fixing);
      out.uses.push_back(&use);
      out.x.add(fixing.at.x.mm()), out.y.add(fixing.at.y.mm()), out.z.add(fixing.at.z.mm());
    }
  }
  return out;
}

std::string text(double x, double y, const std::string& what, const char* anchor = "middle", double size = 2.5) {
  return fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{}\" text-anchor=\"{}\">{}</text>\n", x, y, size, anchor, escape_markup(what));
}

std::string line(double x0, double y0, double x1, double y1, const char* style = "stroke-width=\"0.25\"") {
  return fmt::format("<line x1=\"{:.2f}\" y1=\"{:.2f}\" x2=\"{:.2f}\" y2=\"{:.2f}\" stroke=\"#000\" {}/>\n", x0, y0, x1, y1, style);
}

std::string cross(double x, double y) {
  return fmt::format("<circle cx=\"{0:.2f}\" cy=\"{1:.2f}\" r=\"1.3\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.3\"/>"
                     "<path d=\"M{0:.2f} {1:.2f} l0 -1.3 a1.3 1.3 0 0 1 1.3 1.3 z M{0:.2f} {1:.2f} l0 1.3 a1.3 1.3 0 0 1 -1.3 -1.3 z\" fill=\"#000\"/>\n", x, y);
}

std::string ring(double x, double y) {
  return fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"1\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.4\"/>\n", x, y);
}

std::string plan_view(const Pane& pane, const plan::BoxPlan& box, const Spots& spots) {
  std::string path;
  for (const core::Point2& p : core::to_car(box.box.layout.heading, box.box.layout.outline))
    path += fmt::format("{}{:.2f} {:.2f} ", path.empty() ? "M" : "L", at_a(pane, p.a.mm()), at_b(pane, p.b.mm()));
  std::string out = "<path d=\"" + path + "z\" fill=\"#eee\" stroke=\"#000\" stroke-width=\"0.4\"/>\n";
  const double middle = (spots.x.low + spots.x.high) / 2;
  for (std::size_t i = 0; i < spots.fixings.size(); ++i) {
    const double x = at_a(pane, spots.fixings[i]->at.x.mm()), y = at_b(pane, spots.fixings[i]->at.y.mm());
    const bool to_right = spots.fixings[i]->at.x.mm() > middle;
    out += ring(x, y) + text(to_right ? x + 2 : x - 2, y + 0.9, fmt::format("{}: V {:.0f}, N {:.0f}", spots.fixings[i]->name, spots.uses[i]->shear_n, spots.uses[i]->tension_n), to_right ? "start" : "end");
  }
  out += cross(at_a(pane, box.box.centre_of_gravity.x.mm()), at_b(pane, box.box.centre_of_gravity.y.mm()));
  return out;
}

std::string side_view(const Pane& pane, const plan::BoxPlan& box, const Spots& spots) {
  Range x, z;
  for (const core::Point2& p : core::to_car(box.box.layout.heading, box.box.layout.outline)) x.add(p.a.mm());
  z.add(box.box.layout.z_bottom.mm()), z.add(box.box.layout.lid_top.mm());
  std::string out = fmt::format("<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" fill=\"#eee\" stroke=\"#000\" stroke-width=\"0.4\"/>\n", at_a(pane, x.low),
                                at_b(pane, z.high), x.length() * pane.scale, z.length() * pane.scale);
  double mean = 0;
  for (const survey::Fixing* fixing : spots.fixings) {
    out += ring(at_a(pane, fixing->at.x.mm()), at_b(pane, fixing->at.z.mm()));
    mean += fixing->at.z.mm() / static_cast<double>(spots.fixings.size());
  }
  const double gx = at_a(pane, box.box.centre_of_gravity.x.mm()), gz = at_b(pane, box.box.centre_of_gravity.z.mm()), right = at_a(pane, spots.x.high) + 7;
  out += cross(gx, gz);
  if (spots.fixings.empty()) return out;
  const double base = at_b(pane, mean);
  out += line(gx + 2, gz, right + 1, gz, "stroke-width=\"0.15\"") + line(at_a(pane, spots.x.low), base, right + 1, base, "stroke-width=\"0.15\" stroke-dasharray=\"1.5 1\"");
  out += line(right, gz, right, base, "stroke-width=\"0.3\"") + text(right + 1.5, (gz + base) / 2 + 0.9, fmt::format("h {:.0f} mm", box.box.centre_of_gravity.z.mm() - mean), "start");
  return out;
}

}  // namespace

std::string engineer_sketch(const survey::Cavity& cavity, const plan::BoxPlan& box) {
  if (box.box.layout.outline.empty()) return {};
  const Spots spots = spots_of(cavity, box);
  const double room_a = 50, room_b = height_mm - 12;
  const double scale = std::min({room_a / spots.x.length(), room_b / std::max(spots.y.length(), spots.z.length())});
  const Pane above{34, spots.x.low, spots.y.low, scale, 9, false};
  const Pane side{34 + room_a + gap_mm + 36, spots.x.low, spots.z.low, scale, 9 + room_b, true};
  std::string out = fmt::format("<svg viewBox=\"0 0 {0} {1}\" style=\"width:{0}mm;height:{1}mm\" font-family=\"Arial, Liberation Sans, sans-serif\">\n", width_mm, height_mm);
  out += text(2, 4, "from above, front of the car to the left; V across, N along each bolt, N, worst case", "start", 2.5) +
         text(at_a(side, spots.x.low) - 4, 4, "from the left; the mass over the bolts", "start", 2.5);
  out += plan_view(above, box, spots) + side_view(side, box, spots);
  return out + "</svg>\n";
}

}  // namespace cellstow::report
