#pragma once
/// What every drawing and every page has to pass.

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <regex>
#include <string>
#include <vector>

#include "report/drawing.hpp"
#include "report/outside.hpp"

namespace cellstow::report {

inline bool inside(const Drawing& drawing, const Spot& spot) {
  return std::isfinite(spot.x) && std::isfinite(spot.y) && spot.x >= 0 && spot.y >= 0 &&
         spot.x <= drawing.width && spot.y <= drawing.height;
}

inline void check_inside(const Drawing& drawing) {
  for (const Item& item : drawing.items) {
    if (const auto* stroke = std::get_if<Stroke>(&item)) {
      for (const Spot& spot : stroke->points) {
        CAPTURE(spot.x);
        CAPTURE(spot.y);
        CHECK(inside(drawing, spot));
      }
    } else if (const auto* ring = std::get_if<Ring>(&item)) {
      CHECK(inside(drawing, {ring->centre.x - ring->radius, ring->centre.y - ring->radius}));
      CHECK(inside(drawing, {ring->centre.x + ring->radius, ring->centre.y + ring->radius}));
    } else {
      const Label& label = std::get<Label>(item);
      const Patch patch = text_patch(label);
      CAPTURE(label.text);
      CHECK(inside(drawing, {patch.left, patch.top}));
      CHECK(inside(drawing, {patch.right, patch.bottom}));
    }
  }
}

inline void check_no_overlap(const Drawing& drawing) {
  std::vector<const Label*> labels;
  for (const Item& item : drawing.items) {
    if (const auto* label = std::get_if<Label>(&item)) labels.push_back(label);
  }
  CHECK(labels.size() > 3);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    for (std::size_t j = i + 1; j < labels.size(); ++j) {
      if (!text_patch(*labels[i]).overlaps(text_patch(*labels[j]))) continue;
      FAIL_CHECK("\"" << labels[i]->text << "\" lies on \"" << labels[j]->text << "\"");
    }
  }
}

}  // namespace cellstow::report

namespace outside {

/// Faults that Python's strict XML reader finds in the page once its first line, which is not XML,
/// is taken off: every element closed, every attribute quoted, no character that XML forbids.
inline std::string faults_as_xml(const std::string& page) {
  const Folder folder("page");
  std::string text = page.substr(page.find('\n') + 1);
  text = std::regex_replace(text, std::regex("<meta ([^>]*)>"), "<meta $1/>");
  std::ofstream(folder.path() / "page.xml", std::ios::binary) << text;
  int status = 0;
  const std::string out = run("/usr/bin/python3 -c \"import sys, xml.dom.minidom as m; m.parse(sys.argv[1])\" " +
                                           (folder.path() / "page.xml").string(), status);
  return status == 0 ? "" : out;
}

}  // namespace outside
