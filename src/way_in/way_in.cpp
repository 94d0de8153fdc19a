#include "cellstow/way_in/way_in.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "sentences.hpp"

namespace cellstow::way_in {
namespace {

Piece shell(const box::Box& box, const std::string& name, Length top) {
  return {name, core::to_car(box.layout.heading, box.layout.outline), box.layout.z_bottom, top};
}

BodyWay way_of(const Body& body, double mass_kg, const survey::Cavity& cavity, Handling handling) {
  BodyWay out{body.name(), mass_kg, {}, {}};
  for (const survey::WayIn& way : cavity.way_in) {
    const Aim aim = &way == &cavity.way_in.back() ? Aim::its_place : Aim::elsewhere;
    out.passes.push_back(pass_opening(body, way, handling, aim));
  }
  if (!out.passes_openings()) return out;
  const survey::WayIn& last = cavity.way_in.back();
  out.passage = passage_to_place(body, out.passes.back(), last, opened(cavity, last));
  return out;
}

/// Upright if that gets it in for certain, else the better of upright and tilted.
BodyWay best_way_of(const Body& body, double mass_kg, const survey::Cavity& cavity) {
  BodyWay upright = way_of(body, mass_kg, cavity, Handling::upright_only);
  if (upright.gets_in()) return upright;
  BodyWay tilted = way_of(body, mass_kg, cavity, Handling::may_tilt);
  return tilted.gets_in() || !upright.passes_openings() ? tilted : upright;
}

/// The finished box as far as it is known.
Body finished(const box::Box& box, const std::vector<Piece>& extra) {
  std::vector<Piece> pieces{shell(box, "box and lid", box.layout.lid_top)};
  pieces.insert(pieces.end(), extra.begin(), extra.end());
  return Body("finished box, lid on", pieces);
}

Body emptied(const box::Box& box, const survey::Rules& rules, const std::vector<Piece>& extra) {
  std::vector<Piece> pieces{shell(box, "box without lid", box.layout.lid_top - rules.lid)};
  pieces.insert(pieces.end(), extra.begin(), extra.end());
  return Body("empty box, lid off", pieces);
}

void look_at_box(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules,
                 const std::vector<Piece>& extra, BoxWay& out) {
  out.whole = best_way_of(finished(box, extra), box.mass_full.value(), cavity);
  const bool light = box.mass_full <= rules.lift_limit;
  if (out.whole->gets_in() && out.whole->upright() && light) return;
  if (out.cells.all_in()) out.empty = best_way_of(emptied(box, rules, extra), box.mass_empty.value(), cavity);
}

Way choose(const BoxWay& out, bool loose, bool light) {
  if (loose) return out.cells.all_in() || !out.cells.looked_at ? Way::cells_only : Way::none;
  const bool whole = out.whole->gets_in(), empty = out.empty && out.empty->gets_in();
  const bool upright = whole && out.whole->upright();
  if (upright && light) return Way::whole;
  if (empty && (!upright || out.empty->decided() || !out.whole->decided())) return Way::empty_then_cells;
  if (upright) return Way::whole;
  return whole ? Way::whole_tilted : Way::none;
}

/// Where the best way ends, and by how much it is short.
core::Check check_of(const BoxWay& way) {
  const std::string source = "shadow of the box along the move within the opening, least way of one edge; then the space swept to its place";
  const auto holds = [&](double mm, const std::string& where, const std::string& cure) {
    return core::check_at_most("way in", where, mm, 0, "mm", source, cure);
  };
  const std::string box = "box " + way.mark;
  if (way.way != Way::none) return holds(0, box, {});
  if (!way.whole) {
    for (const Pass& pass : way.cells.passes) {
      if (pass.manner == Manner::blocked) return holds(pass.blocked_mm(), box + ", " + pass.opening, "a single cell is larger than the opening: another opening, or another cell");
    }
    return holds(static_cast<double>(way.cells.cannot.size()), box, "cells under an overhang (counted, not mm): move them out from under it");
  }
  const BodyWay& body = way.empty ? *way.empty : *way.whole;
  for (const Pass& pass : body.passes) {
    if (pass.manner != Manner::blocked) continue;
    return holds(pass.blocked_mm(), box + ", " + pass.opening,
                 fmt::format("{}: a box smaller by that, two boxes instead of one (boxes_per_cavity), or a larger opening",
                             edges_in_the_way(pass.blocking, pass.opening)));
  }
  const auto& things = body.passage.in_the_way;
  return holds(things.empty() ? 0 : things.front().by_mm, box + ", way to its place",
               fmt::format("in the way: {}: a smaller box, two boxes, or move what can be moved", things_in_the_way(things)));
}

void add_notes(const BodyWay& body, std::vector<std::string>& notes) {
  for (const std::string& note : body.passage.notes) {
    if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
  }
  if (body.passage.given_away_mm > 0) {
    notes.push_back(fmt::format("the slanting move was followed in steps: up to {:.1f} mm of room beside it may be more than said",
                                body.passage.given_away_mm));
  }
}

void add_notes(const survey::Cavity& cavity, const std::vector<Piece>& extra, BoxWay& out) {
  if (const BodyWay* shown = out.shown()) add_notes(*shown, out.notes);
  if (out.whole && extra.empty()) {
    out.notes.push_back("counted: walls, floor and lid plate; not counted: brackets, glands, bolt heads, slings and hands. Bolt brackets and glands on "
                        "afterwards or leave them room");
  }
  if (!out.cells.looked_at) {
    out.notes.push_back("cells one by one: only looked at where the last opening is passed downward; here it is not");
  }
  if (cavity.way_in.size() > 1) {
    out.notes.push_back("openings are passed one after another in the order of the job file; room to turn between them was not measured and is not checked");
  }
  out.notes.push_back("tried: upright, turned about the vertical by any angle, tilted about one level line along or across the box; not tried: turned and "
                      "tilted at once by free angles");
}

}  // namespace

bool BodyWay::passes_openings() const {
  return std::none_of(passes.begin(), passes.end(), [](const Pass& p) { return p.manner == Manner::blocked; });
}

bool BodyWay::upright() const {
  return std::none_of(passes.begin(), passes.end(), [](const Pass& p) { return p.attitude.tilt_deg != 0; });
}

const BodyWay* BoxWay::shown() const {
  if (way == Way::empty_then_cells || (way == Way::none && empty)) return &*empty;
  return whole ? &*whole : nullptr;
}

BoxWay find_way_in(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                   const survey::Rules& rules, const std::vector<Piece>& extra) {
  BoxWay out;
  out.mark = box.mark;
  const bool loose = box.layout.outline.empty();
  out.cells = cells_in(box, cavity, cell, rules);
  if (!loose) look_at_box(box, cavity, rules, extra, out);
  out.lid = lid_out(box, cavity, cell, rules);
  out.cells_out = cells_out(box, cavity, cell, rules);
  out.way = choose(out, loose, box.mass_full <= rules.lift_limit);
  if (const BodyWay* shown = out.shown()) out.decided = shown->decided();
  if (loose) out.decided = out.cells.looked_at;
  out.check = check_of(out);
  out.sentences = sentences_of(out, box, cavity, rules);
  out.cautions = cautions_of(out, box, rules);
  add_notes(cavity, extra, out);
  return out;
}

}  // namespace cellstow::way_in
