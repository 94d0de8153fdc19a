#pragma once
/// What must hold of the workshop drawings of any part and box.

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "report/flat_drawing.hpp"
#include "report/flat_lists.hpp"
#include "report/part_drawing.hpp"

namespace workshop {

using namespace cellstow;
using namespace cellstow::report;

inline std::vector<Lettering> letterings(const Paper& sheet) {
  std::vector<Lettering> out;
  for (const Mark& mark : sheet.marks) {
    if (const auto* text = std::get_if<Lettering>(&mark)) out.push_back(*text);
  }
  return out;
}

inline std::vector<Lettering> letterings(const DrawingSet& set) {
  std::vector<Lettering> out;
  for (const Paper& sheet : set.sheets) {
    for (Lettering& text : letterings(sheet)) out.push_back(std::move(text));
  }
  return out;
}

inline long times(const DrawingSet& set, const std::string& text) {
  const std::vector<Lettering> all = letterings(set);
  return std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == text; });
}

inline void check_lettering(const Paper& sheet) {
  const std::vector<Lettering> all = letterings(sheet);
  constexpr double hair = 1e-6;
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(all[i].text);
    const Patch room = room_of(all[i]);
    CHECK(all[i].height >= 2.5);
    CHECK(room.left >= sheet.frame.left - hair);
    CHECK(room.right <= sheet.frame.right + hair);
    CHECK(room.top >= sheet.frame.top - hair);
    CHECK(room.bottom <= sheet.frame.bottom + hair);
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if (room.overlaps(room_of(all[j]).grown(-hair))) FAIL_CHECK("\"" << all[i].text << "\" lies on \"" << all[j].text << "\"");
    }
  }
}

inline bool is_figure(const std::string& text) { return !text.empty() && text.find_first_not_of("0123456789.") == std::string::npos; }

/// Every length from the datum stands once on the flat view of the first sheet.
inline void check_no_figure_twice(const Paper& sheet) {
  std::multiset<std::string> across, up;
  for (const Lettering& l : letterings(sheet)) {
    if (l.height != lettering || !is_figure(l.text) || l.at.y > view_room(sheet).bottom) continue;
    (l.upward ? across : up).insert(l.text);
  }
  CHECK(across.count("0") == 1);
  CHECK(up.count("0") == 1);
  for (const std::multiset<std::string>& figures : {across, up}) {
    for (const std::string& figure : figures) {
      CAPTURE(figure);
      CHECK(figures.count(figure) == 1);
    }
  }
}

/// A hole stands in the table with its mark on the view, or its size on the view and its centre among the boxed figures.
inline void check_holes(const DrawingSet& set, const fabrication::FlatPattern& flat) {
  std::vector<fabrication::FlatHole> holes = flat.holes;
  const std::vector<std::string> marks = hole_marks(flat.holes);
  const auto located = std::count_if(holes.begin(), holes.end(), [](const auto& h) { return h.kind != fabrication::HoleKind::contour; });
  std::multiset<std::string> boxed_across, boxed_up;
  for (const Lettering& l : letterings(set.sheets.front())) {
    if (l.boxed) (l.upward ? boxed_across : boxed_up).insert(l.text);
  }
  for (std::size_t i = 0; i < holes.size(); ++i) {
    CAPTURE(marks[i]);
    if (holes[i].kind == fabrication::HoleKind::contour) {
      CHECK(times(set, marks[i]) == 0);
    } else if (located > holes_in_place) {
      CHECK(times(set, marks[i]) == 2);
    } else {
      CHECK(boxed_across.count(size_text(holes[i].centre.a, survey::DrawnUnits::mm)) == 1);
      CHECK(boxed_up.count(size_text(holes[i].centre.b, survey::DrawnUnits::mm)) == 1);
      const std::string called = hole_size(holes[i], survey::DrawnUnits::mm) + " " + holes[i].what;
      CHECK(times(set, called) == std::count_if(holes.begin(), holes.end(), [&](const auto& h) { return h.what == holes[i].what && h.diameter == holes[i].diameter; }));
    }
  }
}

/// On the view and in the list.
inline void check_bends(const DrawingSet& set, const fabrication::FlatPattern& flat) {
  for (std::size_t i = 0; i < flat.bends.size(); ++i) {
    CAPTURE(i);
    CHECK(times(set, "B" + std::to_string(i + 1)) == 2);
  }
}

inline void check_part(const survey::Job& job, const fabrication::SheetPart& part) {
  CAPTURE(part.mark);
  const DrawingSet set = part_drawing(job, part);
  REQUIRE(!set.sheets.empty());
  for (const Paper& sheet : set.sheets) check_lettering(sheet);
  if (job.drawings.units == survey::DrawnUnits::mm) {
    check_no_figure_twice(set.sheets.front());
    check_holes(set, part.flat);
  }
  check_bends(set, part.flat);
}

inline void check_box(const survey::Job& job, const plan::BoxPlan& box) {
  CAPTURE(box.box.mark);
  const DrawingSet set = box_drawing(job, box);
  for (const Paper& sheet : set.sheets) check_lettering(sheet);
  // Each mark in the parts list, and beside its part or named among those that are hidden.
  for (const fabrication::SheetPart& part : box.sheet.parts) {
    CAPTURE(part.mark);
    const std::vector<Lettering> all = letterings(set);
    const auto shown = std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == part.mark && l.boxed; });
    const auto hidden = std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text.find("Not seen") == 0; });
    CHECK(shown + hidden >= 1);
    CHECK(shown <= 1);
    CHECK(std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == part.mark && !l.boxed; }) >= 1);
  }
}

inline void check_all(const survey::Job& job, const plan::Plan& plan) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      check_box(job, box);
      for (const fabrication::SheetPart& part : box.sheet.parts) check_part(job, part);
    }
  }
}

}  // namespace workshop
