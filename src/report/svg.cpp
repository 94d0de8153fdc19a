#include "report/svg.hpp"

#include <fmt/core.h>

#include "report/hatch.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

struct Line { const char* colour; double width; const char* dash; };

/// Dark inks that differ in lightness as well as hue, and never by colour alone: each kind of line
/// has its own width or dashes.
Line line_of(Pen pen) {
  switch (pen) {
    case Pen::none: return {"none", 0, ""};
    case Pen::wall: return {"#000", 0.6, ""};
    case Pen::inner: return {"#000", 0.2, ""};
    case Pen::section_1: return {"#17457a", 0.4, ""};
    case Pen::section_2: return {"#17457a", 0.4, "3 0.9"};
    case Pen::section_3: return {"#17457a", 0.4, "1.3 0.8"};
    case Pen::section_4: return {"#17457a", 0.4, "3 0.8 0.6 0.8"};
    case Pen::section_5: return {"#17457a", 0.4, "0.5 0.8"};
    case Pen::keep_out: return {"#7a3b00", 0.35, ""};
    case Pen::keep_out_in_front: return {"#7a3b00", 0.3, "1.6 0.9"};
    case Pen::cell: return {"#333", 0.25, ""};
    case Pen::strap: return {"#5c1f70", 0.35, "2.2 0.7 0.5 0.7"};
    case Pen::fixing: return {"#000", 0.35, ""};
    case Pen::dimension: return {"#000", 0.18, ""};
    case Pen::leader: return {"#555", 0.15, ""};
    case Pen::gap: return {"#a3001b", 0.4, ""};
    case Pen::gap_leader: return {"#a3001b", 0.18, ""};
    case Pen::frame: return {"#777", 0.15, ""};
    case Pen::seam: return {"#cfe0ee", 0.3, ""};   // the colour of Fill::window
    case Pen::centre_line: return {"#444", 0.2, "5 1 1 1"};
  }
  return {"#000", 0.2, ""};
}

const char* fill_of(Fill fill) {
  switch (fill) {
    case Fill::none: return "none";
    case Fill::paper: return "#fff";
    case Fill::box: return "#faf7ee";
    case Fill::cell: return "#dfeaf4";
    case Fill::end_plate: return "#b9bcc0";
    case Fill::fitting: return "#fff";
    case Fill::keep_out: return "none";
    case Fill::moving: return "none";
    case Fill::ink: return "#000";
    case Fill::gap: return "#a3001b";
    case Fill::window: return "#cfe0ee";
  }
  return "none";
}

std::string at(double value) { return number(value, 2); }

std::string line_attributes(Pen pen) {
  const Line line = line_of(pen);
  if (pen == Pen::none) return "stroke=\"none\"";
  std::string out = fmt::format("stroke=\"{}\" stroke-width=\"{}\"", line.colour, at(line.width));
  if (*line.dash) out += fmt::format(" stroke-dasharray=\"{}\"", line.dash);
  return out;
}

/// The hatch lines of an area as one path; nothing for plain areas.
std::string hatch_lines(const Stroke& stroke) {
  std::vector<std::pair<Spot, Spot>> lines;
  const auto add = [&](double dx, double dy, double apart) {
    for (const auto& line : hatch(stroke.points, dx, dy, apart)) lines.push_back(line);
  };
  if (stroke.fill == Fill::keep_out || stroke.fill == Fill::moving) add(1, -1, 1.4);
  if (stroke.fill == Fill::moving) add(1, 1, 1.4);
  if (stroke.fill == Fill::fitting) add(1, 0, 1.1);
  std::string path;
  for (const auto& [from, to] : lines) {
    path += fmt::format("M{} {}L{} {}", at(from.x), at(from.y), at(to.x), at(to.y));
  }
  if (path.empty()) return {};
  const char* colour = stroke.fill == Fill::fitting ? "#555" : "#7a3b00";
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"0.18\"/>\n", path, colour);
}

std::string element(const Stroke& stroke) {
  std::string points;
  for (const Spot& spot : stroke.points) {
    if (!points.empty()) points += ' ';
    points += at(spot.x) + "," + at(spot.y);
  }
  return fmt::format("<{} points=\"{}\" fill=\"{}\" {} stroke-linejoin=\"round\"/>\n",
                     stroke.closed ? "polygon" : "polyline", points, fill_of(stroke.fill),
                     line_attributes(stroke.pen)) +
         (stroke.closed ? hatch_lines(stroke) : std::string());
}

std::string element(const Ring& ring) {
  return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\" {}/>\n", at(ring.centre.x),
                     at(ring.centre.y), at(ring.radius), fill_of(ring.fill),
                     line_attributes(ring.pen));
}

/// White round the letters keeps them readable where a line passes below.
std::string element(const Label& label) {
  const char* anchors[] = {"start", "middle", "end"};
  std::string place = fmt::format("x=\"{}\" y=\"{}\"", at(label.at.x),
                                  at(label.at.y + 0.35 * label.size));
  if (label.turned) {
    place = fmt::format("transform=\"translate({} {}) rotate(-90)\"",
                        at(label.at.x + 0.35 * label.size), at(label.at.y));
  }
  return fmt::format(
      "<text {} font-size=\"{}\" text-anchor=\"{}\"{} paint-order=\"stroke\" stroke=\"#fff\" "
      "stroke-width=\"0.7\" stroke-linejoin=\"round\">{}</text>\n",
      place, at(label.size), anchors[static_cast<int>(label.anchor)],
      label.bold ? " font-weight=\"bold\"" : "", escape_markup(one_line(label.text)));
}

}  // namespace

std::string to_svg(const Drawing& drawing, SvgUse use) {
  std::string out;
  if (use == SvgUse::own_file) out += "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  const std::string w = at(drawing.width), h = at(drawing.height);
  out += fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"{}mm\" "
      "height=\"{}mm\" role=\"img\" aria-label=\"{}\" "
      "font-family=\"Arial, Helvetica, 'Liberation Sans', sans-serif\" fill=\"#000\">\n",
      w, h, w, h, escape_markup(one_line(drawing.title)));
  out += fmt::format("<title>{}</title>\n", escape_markup(one_line(drawing.title)));
  out += fmt::format("<rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n", w, h);
  for (const Item& item : drawing.items) {
    out += std::visit([&](const auto& thing) { return element(thing); }, item);
  }
  return out + "</svg>\n";
}

}  // namespace cellstow::report
