#include "report/stock_lists.hpp"

#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include "cellstow/fabrication/bar_stock.hpp"
#include "cellstow/fabrication/sheet_stock.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {
namespace {

using core::Length;
using fabrication::BarPiece;
using fabrication::BarPlan;
using fabrication::SheetPiece;
using fabrication::SheetPlan;

/// Bar bought as one: material, width, thickness.
using BarKind = std::tuple<std::string, Length, Length>;

std::string bar_name(const BarKind& kind) {
  return "flat bar " + mm_text(std::get<1>(kind)) + " x " + mm_text(std::get<2>(kind)) + ", " + std::get<0>(kind);
}

/// Rounded up: a rectangle never smaller than the part.
Length up(double mm) { return Length::from_um(static_cast<core::Um>(std::ceil(mm * 1000 - 1e-6))); }

using Bars = std::map<BarKind, BarPlan>;

Bars bars_of(const survey::Job& job, const plan::Plan& plan) {
  std::map<BarKind, std::vector<BarPiece>> pieces;
  for (const plan::BoxPlan* box : boxes_of(plan)) {
    for (const restraint::Strap& strap : box->straps.straps) {
      if (strap.cut_length > Length() && strap.quantity > 0) {
        pieces[{strap.material, strap.width, strap.thickness}].push_back({strap.mark, strap.cut_length, strap.quantity});
      }
    }
    for (const restraint::HoldDown& bar : box->hold_downs.bars) {
      if (bar.cut_length > Length() && bar.quantity > 0) {
        pieces[{bar.material, bar.width, bar.thickness}].push_back({bar.mark, bar.cut_length, bar.quantity});
      }
    }
  }
  Bars plans;
  for (const auto& [kind, some] : pieces) plans[kind] = fabrication::cut_bars(some, job.stock.bar, job.stock.saw_kerf);
  return plans;
}

std::string bar_words(const BarPlan& bars) {
  return bars.proven() ? "as few as there can be" : "no fewer than " + std::to_string(bars.bound) + " could do";
}

void buy_stock(Table& out, const survey::Job& job, const Sheets& all_sheets, const Bars& all_bars) {
  for (const auto& [kind, sheets] : all_sheets) {
    const std::string size = mm_text(job.stock.sheet_length) + " x " + mm_text(job.stock.sheet_width) + " mm";
    if (!sheets.sheets.empty()) {
      out.rows.push_back({"sheet " + sheet_name(kind), std::to_string(sheets.sheets.size()), "sheets", size,
                          "parts laid by the rectangles round them; by area no fewer than " + std::to_string(sheets.bound)});
    }
    for (const SheetPiece& piece : sheets.too_large) {
      out.rows.push_back({"sheet " + sheet_name(kind), std::to_string(piece.quantity), "parts", mm_text(piece.length) + " x " + mm_text(piece.width) + " mm",
                          piece.mark + " does not fit on a stock sheet of " + size});
    }
  }
  for (const auto& [kind, bars] : all_bars) {
    if (!bars.bars.empty()) {
      out.rows.push_back({bar_name(kind), std::to_string(bars.bars.size()), "bars", mm_text(job.stock.bar) + " mm", bar_words(bars)});
    }
    for (const BarPiece& piece : bars.too_long) {
      out.rows.push_back({bar_name(kind), std::to_string(piece.quantity), "pieces", mm_text(piece.length) + " mm",
                          piece.mark + " is longer than a stock bar of " + mm_text(job.stock.bar) + " mm"});
    }
  }
}

void buy_pieces(Table& out, const plan::Plan& plan) {
  std::map<std::string, int> foot_bolts, bar_screws;
  std::map<std::tuple<std::string, std::string, std::string>, double> loose;
  for (const plan::BoxPlan* box : boxes_of(plan)) {
    for (const restraint::Strap& strap : box->straps.straps) {
      if (!strap.bolt.empty()) foot_bolts[strap.bolt] += 2 * strap.quantity;
    }
    for (const restraint::HoldDown& bar : box->hold_downs.bars) {
      if (!bar.screw.empty()) bar_screws[bar.screw] += 2 * bar.quantity;
    }
    for (const fabrication::LooseItem& item : box->sheet.loose) loose[{item.name, item.unit, item.what_for}] += item.quantity;
  }
  for (const auto& [bolt, count] : foot_bolts) {
    out.rows.push_back({"bolt " + bolt + " with nut and washers", std::to_string(count), "pieces", "", "straps' feet"});
  }
  for (const auto& [screw, count] : bar_screws) {
    out.rows.push_back({"screw " + screw + " with washer and insulating sleeve", std::to_string(count), "pieces", "", "hold-down bars, into the end plates"});
  }
  for (const auto& [item, quantity] : loose) {
    out.rows.push_back({std::get<0>(item), number(quantity, 2), std::get<1>(item), "", std::get<2>(item)});
  }
}

/// Bolts on the car's own fixings, those bought alike together; a stud of the car needs its nut only.
void buy_fixing_bolts(Table& out, const plan::Plan& plan) {
  struct Bought { int count = 0; std::string where; };
  std::map<std::array<std::string, 3>, Bought> kinds;
  for (const plan::BoxPlan* box : boxes_of(plan)) {
    for (const restraint::FixingBolt& bolt : box->mounting.bolts) {
      const bool stud = bolt.length_mm == 0;
      const std::string what = stud ? "nut " + bolt.thread + " for a stud of the car" : "bolt " + bolt.thread + " x " + number(bolt.length_mm) + ", class " + bolt.strength_class;
      Bought& bought = kinds[{what, bolt.locking, bolt.washer}];
      ++bought.count;
      bought.where += (bought.where.empty() ? "" : ", ") + box->mounting.box_mark + " " + bolt.fixing;
    }
  }
  for (const auto& [kind, bought] : kinds) {
    const auto& [what, locking, washer] = kind;
    out.rows.push_back({what, std::to_string(bought.count), "pieces", "", "on the car's own fixings " + bought.where + "; each with " + locking + "; " + washer});
  }
}

Table sheet_plan(const Sheets& all_sheets) {
  Table out{{"sheet", "sheet no.", "of it filled", "part", "from the left mm", "from the bottom mm", "along mm", "across mm"}, {}};
  for (const auto& [kind, sheets] : all_sheets) {
    for (std::size_t i = 0; i < sheets.sheets.size(); ++i) {
      for (const fabrication::LaidPiece& piece : sheets.sheets[i].pieces) {
        out.rows.push_back({sheet_name(kind), std::to_string(i + 1), percent(sheets.sheets[i].filled), piece.mark, mm_text(piece.x), mm_text(piece.y),
                            mm_text(piece.length), mm_text(piece.width)});
      }
    }
  }
  return out;
}

Table bar_plan(const Bars& all_bars) {
  Table out{{"bar", "bar no.", "cut", "part", "length mm", "left over mm"}, {}};
  for (const auto& [kind, bars] : all_bars) {
    for (std::size_t i = 0; i < bars.bars.size(); ++i) {
      const fabrication::CutBar& bar = bars.bars[i];
      for (std::size_t k = 0; k < bar.marks.size(); ++k) {
        out.rows.push_back({bar_name(kind), std::to_string(i + 1), std::to_string(k + 1), bar.marks[k], mm_text(bar.lengths[k]),
                            k + 1 == bar.marks.size() ? mm_text(bar.drop) : ""});
      }
    }
  }
  return out;
}

Table buying_list(const survey::Job& job, const plan::Plan& plan, const Sheets& all_sheets, const Bars& all_bars) {
  Table out{{"what", "how many", "unit", "size", "note"}, {}};
  out.rows.push_back({"cell " + job.cell.name, std::to_string(plan.totals.cells), "pieces", "", "and spares, at the shop's choice"});
  buy_stock(out, job, all_sheets, all_bars);
  buy_pieces(out, plan);
  buy_fixing_bolts(out, plan);
  return out;
}

}  // namespace

std::string sheet_name(const SheetKind& kind) { return kind.first + ", " + number(kind.second, 2) + " mm"; }

Sheets sheets_of(const survey::Job& job, const plan::Plan& plan) {
  std::map<SheetKind, std::vector<SheetPiece>> pieces;
  for (const plan::BoxPlan* box : boxes_of(plan)) {
    for (const fabrication::SheetPart* part : cut_from_sheet(*box)) {
      const fabrication::FlatExtent extent = fabrication::extent_of(part->flat.outline);
      pieces[{part->material, part->thickness}].push_back(
          {part->mark, up(extent.width()), up(extent.height()), fabrication::sheet_area(part->flat), part->quantity});
    }
  }
  Sheets plans;
  const survey::Stock& stock = job.stock;
  for (const auto& [kind, some] : pieces) {
    plans[kind] = fabrication::lay_on_sheets(some, stock.sheet_length, stock.sheet_width, stock.sheet_margin, stock.part_gap);
  }
  return plans;
}

StockLists stock_lists(const survey::Job& job, const plan::Plan& plan) {
  const Sheets sheets = sheets_of(job, plan);
  const Bars bars = bars_of(job, plan);
  return {sheet_plan(sheets), bar_plan(bars), buying_list(job, plan, sheets, bars)};
}

}  // namespace cellstow::report
