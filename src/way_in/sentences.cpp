#include "sentences.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cellstow::way_in {
namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  }
  return out;
}

/// "through the tailgate upright with 31.2 mm to spare"
std::string pass_words(const Pass& pass) {
  std::string how = spoken(pass.attitude);
  if (pass.manner == Manner::tilted && pass.to_deg != pass.from_deg) {
    how += fmt::format(" (anything from {:.1f} to {:.1f} degrees passes)",
                       std::min(std::abs(pass.from_deg), std::abs(pass.to_deg)),
                       std::max(std::abs(pass.from_deg), std::abs(pass.to_deg)));
  }
  return fmt::format("through the {} {}, least gap {:.1f} mm", pass.opening, how, pass.gap_mm);
}

/// The way of one body, opening by opening, then to its place.
std::string way_words(const BodyWay& way) {
  std::vector<std::string> steps;
  for (const Pass& pass : way.passes) steps.push_back(pass_words(pass));
  std::string out = joined(steps);
  const Passage& on = way.passage;
  if (on.room == Room::not_decided) return out + "; from there to its place nothing is decided, see below";
  out += "; then to its place";
  if (on.gap_mm && *on.gap_mm < 100) out += fmt::format(", least gap {:.1f} mm to {}", *on.gap_mm, on.gap_to);
  if (on.room == Room::after_taking_out) {
    std::vector<std::string> names;
    for (const InTheWay& it : on.in_the_way) names.push_back(it.what);
    out += "; take out or tie back first: " + joined(names);
  }
  return out;
}

/// Why a body does not get in.
std::string blocked_words(const BodyWay& way) {
  for (const Pass& pass : way.passes) {
    if (pass.manner != Manner::blocked) continue;
    std::string out = fmt::format("upright, {}", edges_in_the_way(pass.upright_blocking, pass.opening));
    if (pass.attitude != Attitude{}) {
      out += fmt::format("; at best, {}, still {}", spoken(pass.attitude), edges_in_the_way(pass.blocking, pass.opening));
    }
    return out;
  }
  return "it passes the openings, but on to its place, straight or pushed over sideways, these are in the way: " + things_in_the_way(way.passage.in_the_way) +
         ". Swinging it past them was not tried: that is for the mock-up";
}

std::string cell_of(const UnderRoof& cell) { return fmt::format("{} of block {}", cell.place, cell.block); }

std::string cells_words(const CellsIn& cells, std::size_t count) {
  std::string out = "Cells one by one: ";
  std::vector<std::string> steps;
  for (const Pass& pass : cells.passes) steps.push_back(pass_words(pass));
  out += "each goes " + joined(steps) + ". ";
  if (!cells.take_out.empty()) out += "Take out or tie back first: " + joined(cells.take_out) + ". ";
  if (cells.pushed.empty()) {
    return out + fmt::format("All {} drop straight to their places from above, in any order: block by block keeps the links in sight.", count);
  }
  std::vector<std::string> first;
  for (const UnderRoof& cell : cells.pushed) {
    first.push_back(fmt::format("{} ({:.0f} mm to the {}, under {})", cell_of(cell), cell.slide_mm, cell.towards, cell.what));
  }
  return out + fmt::format("First those under an overhang, let down beside it and pushed along, in this order: {}. Then the other {} straight "
                           "from above. End plates and straps go on last.", joined(first), cells.from_above);
}

std::string lid_words(const LiftOut& lid, const std::string& mark, bool from_above) {
  if (lid.ok() && !from_above) {
    return fmt::format("Lid of {}: {:.1f} mm of room over it, {:.1f} mm needed to lift it clear; where it goes from there was not looked at.", mark,
                       lid.room_mm.value_or(0), lid.needed_mm);
  }
  std::string first = lid.take_out.empty() ? "" : " Take out or tie back first: " + joined(lid.take_out) + ".";
  if (lid.ok() && !lid.room_mm) return fmt::format("Lid of {}: lifts off in the car, open above.", mark) + first;
  if (lid.ok()) return fmt::format("Lid of {}: lifts off in the car, {:.1f} mm of room over it, {:.1f} mm needed.", mark, *lid.room_mm, lid.needed_mm) + first;
  return fmt::format("Lid of {}: does not lift off in the car: {:.1f} mm of room over it to {}, {:.1f} mm needed (its thickness and the posts): "
                     "take the box out to open it.", mark, lid.room_mm.value_or(0), lid.limited_by, lid.needed_mm);
}

std::string cells_out_words(const CellsOut& out, const std::string& mark) {
  const int all = out.can + static_cast<int>(out.cannot.size());
  if (out.cannot.empty()) return fmt::format("Any single cell of {} comes out upward in the car with lid and straps off.", mark);
  if (out.can == 0) {
    return fmt::format("No cell of {} comes out in the car: a cell needs {:.1f} mm clear over the box's mouth, the least there is {:.1f} mm, under {}: "
                       "take the box out to change one.", mark, out.needed_mm, out.least_room_mm, out.cannot.front().what);
  }
  std::vector<std::string> names;
  for (std::size_t i = 0; i < out.cannot.size() && i < 6; ++i) names.push_back(cell_of(out.cannot[i]));
  if (out.cannot.size() > 6) names.push_back(fmt::format("{} more", out.cannot.size() - 6));
  return fmt::format("{} of {} cells of {} come out straight upward in the car. Not {}: {:.1f} mm needed over the box's mouth, the least there is {:.1f} mm, "
                     "under {}; push them clear of it inside the box once their neighbours are out, or take the box out.",
                     out.can, all, mark, joined(names), out.needed_mm, out.least_room_mm, out.cannot.front().what);
}

std::string weight_words(const box::Box& box, const survey::Rules& rules) {
  return fmt::format("{:.1f} kg full, {:.1f} kg empty; the shop's lifting limit is {:.1f} kg", box.mass_full.value(),
                     box.mass_empty.value(), rules.lift_limit.value());
}

std::string answer(const BoxWay& way, const box::Box& box, const survey::Rules& rules) {
  const std::string mark = "Box " + way.mark;
  switch (way.way) {
    case Way::whole:
      return fmt::format("{} goes in finished, {}.", mark, way_words(*way.whole)) +
             (box.mass_full > rules.lift_limit ? " It weighs " + weight_words(box, rules) + ": use a crane or hoist." : "");
    case Way::whole_tilted:
      return fmt::format("{} goes in finished but only tilted, {}. It weighs {}.", mark, way_words(*way.whole), weight_words(box, rules));
    case Way::empty_then_cells:
      return fmt::format("{}: empty box in first, lid off, {}. It weighs {}.", mark, way_words(*way.empty), weight_words(box, rules));
    case Way::cells_only:
      return way.cells.looked_at ? fmt::format("{}: no box, the cells go in one by one.", mark)
                                 : fmt::format("{}: no box, and how the cells get in was not looked at.", mark);
    case Way::none: break;
  }
  if (!way.whole) return fmt::format("{}: the cells do not all get to their places through these openings.", mark);
  return fmt::format("{} DOES NOT GO IN: {}.", mark, blocked_words(*way.whole));
}

}  // namespace

std::string edges_in_the_way(const std::vector<Blocking>& edges, const std::string& opening) {
  if (edges.empty()) return fmt::format("the {} does not block it", opening);
  std::vector<std::string> words;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    words.push_back(i == 0 ? fmt::format("the {} of the {} by {:.1f} mm", edges[i].edge, opening, edges[i].by_um / 1000)
                           : fmt::format("the {} by {:.1f} mm", edges[i].edge, edges[i].by_um / 1000));
  }
  return joined(words) + (words.size() == 1 ? " blocks it" : " block it");
}

std::string things_in_the_way(const std::vector<InTheWay>& things) {
  std::vector<std::string> words;
  for (const InTheWay& it : things) words.push_back(fmt::format("{} by {:.1f} mm", it.what, it.by_mm));
  return joined(words);
}

std::vector<std::string> sentences_of(const BoxWay& way, const box::Box& box, const survey::Cavity& cavity,
                                      const survey::Rules& rules) {
  std::vector<std::string> out{answer(way, box, rules)};
  const bool by_cells = way.way == Way::empty_then_cells || way.way == Way::cells_only;
  if (way.way == Way::empty_then_cells && way.whole && !way.whole->gets_in()) {
    out.push_back(fmt::format("Finished it does not go in: {}.", blocked_words(*way.whole)));
  } else if (way.way == Way::empty_then_cells && way.whole) {
    const std::string as_empty = way_words(*way.empty), as_whole = way_words(*way.whole);
    out.push_back("With a crane or hoist it also goes in finished, " + (as_empty == as_whole ? "the same way." : as_whole + "."));
  }
  if (by_cells && way.cells.looked_at) out.push_back(cells_words(way.cells, box.layout.cells.size()));
  for (const UnderRoof& cell : way.cells.cannot) {
    out.push_back(fmt::format("Cell {} cannot be put in from above in the car: {} is over it and there is no straight push to it.", cell_of(cell), cell.what));
    if (out.size() > 6) break;
  }
  if (way.lid.looked_at) out.push_back(lid_words(way.lid, way.mark, way.cells.looked_at));
  if (way.cells_out.looked_at) out.push_back(cells_out_words(way.cells_out, way.mark));
  const BodyWay* shown = way.shown();
  if (shown != nullptr) {
    for (const Pass& pass : shown->passes) {
      if (pass.manner == Manner::blocked || pass.gap_mm >= cavity.tape_error.mm()) continue;
      out.push_back(fmt::format("The gap in the {} is {:.1f} mm, the opening is measured give or take {:.1f} mm: measure it again before metal is cut.",
                                pass.opening, pass.gap_mm, cavity.tape_error.mm()));
    }
  }
  return out;
}

std::vector<std::string> cautions_of(const BoxWay& way, const box::Box& box, const survey::Rules& rules) {
  std::vector<std::string> out;
  const bool whole = way.way == Way::whole || way.way == Way::whole_tilted;
  const double lifted_kg = (whole ? box.mass_full : box.mass_empty).value();
  if (way.way != Way::none && way.way != Way::cells_only && lifted_kg > rules.lift_limit.value()) {
    out.push_back(fmt::format("Box {}: {:.1f} kg through an opening is over the shop's lifting limit: crane or hoist with slings that cannot slip, nobody "
                              "under it, no hand between box and edge.", way.mark, lifted_kg));
  }
  if (way.way == Way::whole_tilted) {
    out.push_back(fmt::format("Box {} goes in tilted with cells in it: cells strapped, links out, posts covered, and ask the cell maker how far a cell may "
                              "be tilted; better to put it in empty.", way.mark));
  }
  if (way.way == Way::empty_then_cells || way.way == Way::cells_only) {
    out.push_back(fmt::format("Box {}, cells passed in one by one: cover every post in the box and on the cell in hand, leave all links out until the last "
                              "cell is strapped, one cell at a time with two hands, no rings or loose tools; mind fingers between cell and box.", way.mark));
  }
  return out;
}

}  // namespace cellstow::way_in
