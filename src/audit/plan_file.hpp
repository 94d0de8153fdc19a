#pragma once
/// A plan file as the audit reads it: only what the rules of docs/legal-layout.md need, in whole
/// half micrometres, because the centre of a body of odd size lies on a half.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "wiring_file.hpp"

namespace cellstow::audit {

/// Half a micrometre. Coordinates stay within 20 m, that is 4e7 ticks.
using Tick = std::int64_t;
inline constexpr Tick ticks_per_mm = 2000;
inline constexpr double to_mm(Tick ticks) { return static_cast<double>(ticks) / ticks_per_mm; }

/// A point of the plan (x, y), of a box's own frame (u, v), or of a section plane.
struct Spot { Tick a = 0, b = 0; };
using Ring = std::vector<Spot>;
using Spot3 = std::array<Tick, 3>;
struct Span { Tick low = 0, high = 0; };

enum class Stance { upright, on_edge, flat };
enum class Run { u, v };
enum class OutlineKind { rectangle, stepped, any, loose };
enum class Arrangement { rows, mixed };
enum class HeadingRule { square, free };
enum class Between { common, straight };
enum class FittingPlace { beside, above, wall };

struct CellType {
  Tick thickness = 0, width = 0, height = 0, terminal_top = 0;
  std::vector<Stance> stances;
};

struct Rules {
  Tick body_clearance = 0, lid_clearance = 0, flange = 0, wall = 0, floor = 0, lid = 0, liner = 0;
  Tick corner_relief = 0, between_cells = 0, end_plate = 0, strap_space = 0;
  Tick between_blocks = 0, between_tiers = 0, headroom = 0;
  int block_min = 1;
  std::optional<int> block_max;     ///< empty: no upper limit
  OutlineKind outline = OutlineKind::stepped;
  Arrangement arrangement = Arrangement::mixed;
  HeadingRule heading = HeadingRule::square;
  int boxes_per_cavity = 1, tiers = 1;
};

struct Section { Tick station = 0; Ring outline; std::vector<Ring> holes; };

struct KeepOut {
  enum class Kind { box, cylinder, prism };
  std::string name;
  Kind kind = Kind::box;
  std::optional<Tick> clearance;
  Spot3 from{}, to{};               ///< box corners, or the ends of the cylinder's axis
  Tick diameter = 0;
  Ring outline;                     ///< of a prism
  Span height;                      ///< of a prism
};

struct FittingWish { std::string name; Spot3 size{}; int count = 1; FittingPlace place = FittingPlace::beside; };
struct CellsWanted { int min = 0, max = 0; };

struct CavityJob {
  std::string name;
  int across = 2;                   ///< 0 x, 1 y, 2 z
  Between between = Between::common;
  std::vector<Section> sections;
  std::vector<KeepOut> keep_outs;
  std::vector<FittingWish> fittings;
  std::optional<CellsWanted> wanted;
};

/// A box-shaped body in the frame of its box (u, v, up); at heading 0 that is the car's frame.
struct Body {
  Spot3 low{}, high{};
  Tick size(int axis) const { return high[axis] - low[axis]; }
};

struct Cell { Body body; Stance stance = Stance::upright; int block = 0, place = 0; };
struct Block { int id = 0, cells = 0; Run runs = Run::u; std::optional<Stance> stance; Body body; };
struct Fitting { std::string name; std::optional<FittingPlace> place; Body body; };

struct Box {
  std::string name;
  double heading_deg = 0;
  Ring outline;                     ///< in the car's (x, y)
  Ring outline_uv;                  ///< in the box's own frame
  Span height;                      ///< underside of the floor, top of the lid
  Tick slack = 0;                   ///< what turning to another heading may have rounded; 0 when square
  std::vector<Cell> cells;
  std::vector<Block> blocks;
  std::vector<Fitting> fittings;
};

struct CavityPlan {
  std::string name;
  int job_index = -1;               ///< into Plan::job_cavities
  int cells = 0;
  std::optional<int> bound, most_cells;
  std::optional<bool> proven;
  std::vector<Box> boxes;
  std::vector<std::string> fittings_without_place;
};

struct Totals { std::optional<int> cells, boxes, series, parallel, spare_places; };

/// Kilograms; an amount the scales did not give is empty.
struct LoadState {
  std::string name;
  std::optional<double> total, front, rear, front_left, front_right, rear_left, rear_right;
  std::optional<double> front_share, left_share, cross_share, cg_x_mm;
};

struct CheckLine {
  std::string name, where, cure;
  double value = 0, limit = 0;
  std::optional<double> use;
  bool ok = false;
};

struct Plan {
  CellType cell;
  Rules rules;
  std::vector<CavityJob> job_cavities;
  bool has_string = false;
  std::optional<int> wanted_series;
  int wanted_parallel = 1;
  std::optional<double> wheelbase_mm;
  std::vector<CavityPlan> cavities;
  Totals totals;
  std::vector<LoadState> balance;
  std::optional<std::vector<CheckLine>> checks;
  std::optional<WiringFile> wiring;   ///< empty when the plan gives no order of the cells
};

}  // namespace cellstow::audit
