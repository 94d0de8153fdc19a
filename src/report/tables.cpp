#include "report/tables.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"
#include "report/wired.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

std::string flat_note(const fabrication::SheetPart& part) {
  std::vector<std::string> words;
  const int holes = static_cast<int>(part.flat.holes.size()), bends = static_cast<int>(part.flat.bends.size());
  if (bends > 0) words.push_back(count(bends, "bend") + ", size flat");
  if (holes > 0) words.push_back(count(holes, "hole"));
  if (part.hand != fabrication::Hand::none) words.push_back(to_text(part.hand));
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

std::string axis_text(const std::array<double, 3>& axis) {
  const char* names[] = {"x", "y", "z"};
  for (int i = 0; i < 3; ++i) {
    if (std::abs(std::abs(axis[static_cast<std::size_t>(i)]) - 1) < 1e-9) {
      return (axis[static_cast<std::size_t>(i)] < 0 ? "-" : "") + std::string(names[i]);
    }
  }
  return number(axis[0], 3) + " " + number(axis[1], 3) + " " + number(axis[2], 3);
}

void add_fixing(Table& table, const survey::Fixing& fixing, const plan::BoxPlan* box,
                const restraint::FixingUseResult* use) {
  const bool carries = use && use->carries;
  const std::string why = !use ? "" : carries ? use->governs + ", " + use->worst_case : use->why_not;
  table.rows.push_back({fixing.name, box ? box->box.mark : "", mm_text(fixing.at.x), mm_text(fixing.at.y),
                        mm_text(fixing.at.z), axis_text(fixing.axis), fixing.thread, word(fixing.kind),
                        fixing.sheet ? mm_text(*fixing.sheet) : "not given", word(fixing.use),
                        carries ? "carries" : "not loaded", carries ? fixed(use->shear_n, 0) : "",
                        carries ? fixed(use->tension_n, 0) : "", carries ? percent(use->use) : "", why});
}

}  // namespace

Table columns(const Table& table, const std::vector<std::size_t>& which) {
  Table out;
  const auto pick = [&](const std::vector<std::string>& row) {
    std::vector<std::string> picked;
    for (const std::size_t column : which) picked.push_back(row[column]);
    return picked;
  };
  out.head = pick(table.head);
  for (const auto& row : table.rows) out.rows.push_back(pick(row));
  return out;
}

const std::vector<std::string> cut_list_head{"mark", "name", "off", "material", "thickness mm", "length mm", "width mm", "mass kg each", "note"};

Table flat_parts(const plan::Plan& plan) {
  Table out{cut_list_head, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const fabrication::SheetPart* part : cut_from_sheet(box)) {
        const fabrication::FlatExtent size = fabrication::extent_of(part->flat.outline);
        out.rows.push_back({part->mark, part->name, std::to_string(part->quantity), part->material, number(part->thickness, 2),
                            number(size.width(), 1), number(size.height(), 1), fixed(part->mass.value(), 2), flat_note(*part)});
      }
    }
  }
  return out;
}

Table bars(const plan::Plan& plan) {
  Table out{cut_list_head, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const restraint::Strap& strap : box.straps.straps) {
        out.rows.push_back({strap.mark, "strap, flat bar", std::to_string(strap.quantity),
                            strap.material, mm_text(strap.thickness), mm_text(strap.cut_length),
                            mm_text(strap.width), fixed(strap.mass.value(), 2),
                            "top " + mm_text(strap.span) + ", legs " + mm_text(strap.leg) + ", feet " +
                                mm_text(strap.foot) + ", holes " + mm_text(strap.bolt_hole) + " (" + strap.bolt + ")"});
      }
      for (const restraint::HoldDown& bar : box.hold_downs.bars) {
        out.rows.push_back({bar.mark, "hold-down, flat bar", std::to_string(bar.quantity), bar.material, mm_text(bar.thickness), mm_text(bar.cut_length), mm_text(bar.width),
                            fixed(bar.mass.value(), 2), "holes " + mm_text(bar.screw_hole) + " (" + bar.screw + ") over the end plates' middles, sleeved"});
      }
    }
  }
  return out;
}

Table cut_list(const plan::Plan& plan) {
  Table out = flat_parts(plan);
  for (auto& row : bars(plan).rows) out.rows.push_back(std::move(row));
  return out;
}

Table hole_schedule(const survey::Job& job, const plan::Plan& plan) {
  Table out{{"fixing", "box", "x mm", "y mm", "z mm", "axis", "thread", "kind", "sheet mm", "use", "carries",
             "shear N", "pull N", "used", "why"}, {}};
  for (std::size_t i = 0; i < job.cavities.size(); ++i) {
    for (const survey::Fixing& fixing : job.cavities[i].fixings) {
      bool named = false;
      for (const plan::CavityPlan& cavity : plan.cavities) {
        if (cavity.name != job.cavities[i].name) continue;
        for (const plan::BoxPlan& box : cavity.boxes) {
          for (const restraint::FixingUseResult& use : box.mounting.fixings) {
            if (use.fixing != fixing.name) continue;
            add_fixing(out, fixing, &box, &use);
            named = true;
          }
        }
      }
      if (!named) add_fixing(out, fixing, nullptr, nullptr);
    }
  }
  return out;
}

Table fixing_bolts(const plan::Plan& plan) {
  Table out{{"fixing", "box", "bracket", "thread", "class", "length mm", "stack mm", "thread in the nut mm", "torque N m, as received", "torque N m, oiled", "washer", "locking", "isolation", "hole mm", "slot mm"}, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (std::size_t i = 0; i < box.mounting.bolts.size() && i < box.mounting.brackets.size(); ++i) {
        const restraint::FixingBolt& b = box.mounting.bolts[i];
        const restraint::Bracket& bracket = box.mounting.brackets[i];
        out.rows.push_back({b.fixing, box.box.mark, bracket.mark, b.thread, b.strength_class, b.length_mm > 0 ? number(b.length_mm) : "stud of the car", number(b.stack_mm), number(b.engagement_mm),
                            fixed(b.torque_nm, 0), fixed(b.torque_oiled_nm, 0), b.washer, b.locking, b.isolation, mm_text(bracket.hole), mm_text(bracket.slot)});
      }
    }
  }
  return out;
}

Table weights(const survey::Job& job, const plan::Plan& plan) {
  Table out{{"state", "total kg", "front kg", "rear kg", "front left kg", "front right kg", "rear left kg",
             "rear right kg", "front share", "left share", "cross share", "centre of gravity x mm", "y mm", "z mm"}, {}};
  if (!plan.balance) return out;
  for (const balance::LoadState& s : plan.balance->states) {
    out.rows.push_back({state_name(s.name), kg_text(s.total), kg_text(s.front), kg_text(s.rear), kg_text(s.front_left),
                        kg_text(s.front_right), kg_text(s.rear_left), kg_text(s.rear_right), percent(s.front_share, 1),
                        percent(s.left_share, 1), percent(s.cross_share, 1), number(s.cg_x_mm, 0), number(s.cg_y_mm, 0),
                        number(s.cg_z_mm, 0)});
  }
  if (job.car && (job.car->axle_limits || job.car->gross_limit)) {
    std::vector<std::string> row(out.head.size());
    row[0] = "limit on the plate";
    if (job.car->gross_limit) row[1] = kg_text(*job.car->gross_limit);
    if (job.car->axle_limits) {
      row[2] = kg_text(job.car->axle_limits->front);
      row[3] = kg_text(job.car->axle_limits->rear);
    }
    out.rows.push_back(row);
  }
  return out;
}

Table checks(const plan::Plan& plan) {
  Table out{{"holds", "check", "where", "value", "limit", "unit", "used", "source", "cure"}, {}};
  for (const core::Check& check : plan.checks) {
    const ValueAndLimit text = value_and_limit(check);
    out.rows.push_back({check.ok ? "yes" : "NO", check.name, check.where, text.value, text.limit, check.unit, text.use,
                        check.source, check.cure});
  }
  return out;
}

Table boxes(const plan::Plan& plan) {
  Table out{{"mark", "box", "cells", "outside mm", "inside mm", "floor above ground mm", "empty kg", "full kg",
             "centre of gravity x, y, z mm"}, {}};
  const auto three = [](const std::array<core::Length, 3>& s) {
    return mm_text(s[0]) + " × " + mm_text(s[1]) + " × " + mm_text(s[2]);
  };
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& plan_box : cavity.boxes) {
      const box::Box& box = plan_box.box;
      const core::Point3& cg = box.centre_of_gravity;
      out.rows.push_back({box.mark, box.name, std::to_string(box.layout.cells.size()), three(box.outside),
                          three(box.inside), mm_text(box.layout.z_bottom), kg_text(box.mass_empty), kg_text(box.mass_full),
                          number(cg.x.mm(), 0) + ", " + number(cg.y.mm(), 0) + ", " + number(cg.z.mm(), 0)});
    }
  }
  return out;
}

bool has_turned_box(const plan::CavityPlan& cavity) {
  return std::any_of(cavity.boxes.begin(), cavity.boxes.end(),
                     [](const plan::BoxPlan& box) { return !box.box.layout.heading.is_square(); });
}

namespace {

/// Lowest u and v of the box's outside, or of its blocks when it has no walls.
core::Point2 front_left_corner(const packing::BoxLayout& layout) {
  std::vector<core::Point2> points = layout.outline;
  for (const packing::Block& block : layout.blocks) points.push_back({block.body.low.x, block.body.low.y});
  core::Point2 low = points.empty() ? core::Point2{} : points.front();
  for (const core::Point2& p : points) low = {std::min(low.a, p.a), std::min(low.b, p.b)};
  return low;
}

/// Blocks of a cavity with a turned box: lengths along and across the box.
Table blocks_in_box(const plan::CavityPlan& cavity) {
  Table out{{"box", "block", "cells", "stance", "runs", "from, along", "to, along", "from, across", "to, across", "from z", "to z"}, {}};
  for (const plan::BoxPlan& box : cavity.boxes) {
    const core::Point2 from = front_left_corner(box.box.layout);
    for (const packing::Block& b : box.box.layout.blocks) {
      out.rows.push_back({box.box.mark, std::to_string(b.id), std::to_string(b.cells), spoken(b.stance),
                          b.runs == packing::Run::u ? "along the box" : "across the box", mm_text(b.body.low.x - from.a),
                          mm_text(b.body.high.x - from.a), mm_text(b.body.low.y - from.b), mm_text(b.body.high.y - from.b),
                          mm_text(b.body.low.z), mm_text(b.body.high.z)});
    }
  }
  return out;
}

}  // namespace

Table turned_corners(const plan::CavityPlan& cavity) {
  Table out{{"what", "x", "y"}, {}};
  const auto add = [&](std::string what, const packing::BoxLayout& layout, core::Length u, core::Length v) {
    const core::Point2 at = core::to_car(layout.heading, core::Point2{u, v});
    out.rows.push_back({std::move(what), mm_text(at.a), mm_text(at.b)});
  };
  for (const plan::BoxPlan& box : cavity.boxes) {
    const packing::BoxLayout& layout = box.box.layout;
    if (layout.heading.is_square()) continue;
    int corner = 0;
    for (const core::Point2& p : layout.outline) add("box " + box.box.mark + ", corner " + std::to_string(++corner), layout, p.a, p.b);
    if (!layout.outline.empty()) continue;
    for (const packing::Block& b : layout.blocks) {
      add("block " + std::to_string(b.id) + ", front left corner", layout, b.body.low.x, b.body.low.y);
      add("block " + std::to_string(b.id) + ", front right corner", layout, b.body.low.x, b.body.high.y);
    }
  }
  return out;
}

Table blocks(const plan::CavityPlan& cavity) {
  if (has_turned_box(cavity)) return blocks_in_box(cavity);
  Table out{{"box", "block", "cells", "stance", "runs", "from x", "to x", "from y", "to y", "from z", "to z"}, {}};
  for (const plan::BoxPlan& box : cavity.boxes) {
    for (const packing::Block& b : box.box.layout.blocks) {
      out.rows.push_back({box.box.mark, std::to_string(b.id), std::to_string(b.cells), spoken(b.stance),
                          b.runs == packing::Run::u ? "along the car" : "across the car", mm_text(b.body.low.x),
                          mm_text(b.body.high.x), mm_text(b.body.low.y), mm_text(b.body.high.y), mm_text(b.body.low.z),
                          mm_text(b.body.high.z)});
    }
  }
  return out;
}

Table splits(const survey::Job& job, const plan::Plan& plan) {
  Table out;
  for (const survey::Cavity& cavity : job.cavities) out.head.push_back(cavity.name + ", cells");
  for (const char* head : {"boxes", "front share with the driver", "meets the target", "chosen"}) {
    out.head.push_back(head);
  }
  for (const plan::Split& split : plan.splits) {
    std::vector<std::string> row;
    for (const int cells : split.cells) row.push_back(std::to_string(cells));
    row.resize(job.cavities.size());
    row.push_back(std::to_string(split.boxes));
    row.push_back(split.front_share ? percent(*split.front_share, 1) : "not known");
    row.push_back(split.meets_target ? "yes" : "no");
    row.push_back(split.chosen ? "chosen" : "");
    out.rows.push_back(std::move(row));
  }
  return out;
}

}  // namespace cellstow::report
