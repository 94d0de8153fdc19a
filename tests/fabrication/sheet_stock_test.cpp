#include <doctest/doctest.h>

#include <random>

#include "cellstow/fabrication/sheet_stock.hpp"

namespace {

using namespace cellstow;
using core::Length;
using fabrication::SheetPiece;

SheetPiece piece(double length, double width, int quantity = 1) {
  return {"P", Length::from_mm(length), Length::from_mm(width), length * width, quantity};
}

/// Apart by the gap along x or along y, and away from the edges.
void check_laid(const fabrication::SheetPlan& plan, Length length, Length width, Length margin, Length gap) {
  for (const auto& sheet : plan.sheets) {
    for (std::size_t i = 0; i < sheet.pieces.size(); ++i) {
      const auto& a = sheet.pieces[i];
      CHECK(a.x >= margin);
      CHECK(a.y >= margin);
      CHECK(a.x + a.length + margin <= length);
      CHECK(a.y + a.width + margin <= width);
      for (std::size_t j = 0; j < i; ++j) {
        const auto& b = sheet.pieces[j];
        const bool apart = a.x + a.length + gap <= b.x || b.x + b.length + gap <= a.x || a.y + a.width + gap <= b.y || b.y + b.width + gap <= a.y;
        CHECK(apart);
      }
    }
  }
}

}  // namespace

TEST_CASE("sheets: gap and margin met exactly are met") {
  // Two by two of 400 x 300, 8 apart, 10 from the edges: 828 x 628.
  const auto exact = fabrication::lay_on_sheets({piece(400, 300, 4)}, Length::from_mm(828), Length::from_mm(628), Length::from_mm(10), Length::from_mm(8));
  CHECK(exact.sheets.size() == 1);
  CHECK(exact.bound == 1);
  const auto less = fabrication::lay_on_sheets({piece(400, 300, 4)}, Length::from_mm(827.999), Length::from_mm(628), Length::from_mm(10), Length::from_mm(8));
  CHECK(less.sheets.size() == 2);
}

TEST_CASE("sheets: a part larger than a sheet is told, one that fits turned is turned") {
  const auto plan = fabrication::lay_on_sheets({piece(900, 1'400), piece(2'600, 100)}, Length::from_mm(2'500), Length::from_mm(1'000), Length::from_mm(10), Length::from_mm(8));
  REQUIRE(plan.too_large.size() == 1);
  REQUIRE(plan.sheets.size() == 1);
  CHECK(plan.sheets[0].pieces[0].length == Length::from_mm(1'400));
}

// Rectangles that a sheet was cut into by straight cuts, with the gap taken off: one sheet holds them, by construction.
TEST_CASE("sheets: never fewer than the area asks; cut-up sheets go back on few more") {
  std::mt19937_64 random(5);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  int sheets = 0, least = 0;
  for (int round = 0; round < 40; ++round) {
    std::vector<std::pair<int, int>> rooms{{2'480 + 8, 1'230 + 8}, {2'480 + 8, 1'230 + 8}};
    for (int cut = 0; cut < 16; ++cut) {
      auto& room = rooms[static_cast<std::size_t>(draw(0, static_cast<int>(rooms.size()) - 1))];
      int& side = room.first > room.second ? room.first : room.second;
      if (side < 160) continue;
      const int part = draw(60, side - 60);
      auto other = room;
      (room.first > room.second ? other.first : other.second) = side - part;
      side = part;
      rooms.push_back(other);
    }
    std::vector<SheetPiece> pieces;
    for (const auto& [length, width] : rooms) pieces.push_back(piece(length - 8, width - 8));
    const auto plan = fabrication::lay_on_sheets(pieces, Length::from_mm(2'500), Length::from_mm(1'250), Length::from_mm(10), Length::from_mm(8));
    check_laid(plan, Length::from_mm(2'500), Length::from_mm(1'250), Length::from_mm(10), Length::from_mm(8));
    CHECK(static_cast<int>(plan.sheets.size()) >= plan.bound);
    std::size_t laid = 0;
    for (const auto& sheet : plan.sheets) laid += sheet.pieces.size();
    CHECK(laid == pieces.size());
    sheets += static_cast<int>(plan.sheets.size());
    least += 2;
  }
  MESSAGE(sheets << " sheets where " << least << " would do");
  CHECK(sheets <= least * 3 / 2);
}
