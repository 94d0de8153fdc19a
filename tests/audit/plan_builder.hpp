#pragma once
/// Small plans for the audit's tests, built by hand from whole micrometres, and ways to spoil them.

#include <array>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace cellstow::audit::testing {

using Json = nlohmann::json;
using Um = std::int64_t;
using Corner = std::array<Um, 2>;

/// Numbers of the rules that do not hold: {"R2"}. Fails the test when the plan is refused.
std::set<std::string> broken(const Json& plan);
/// Details of all violations, for messages.
std::string told(const Json& plan);

inline double mm(Um um) { return static_cast<double>(um) / 1000.0; }
Json points(const std::vector<Corner>& corners);
/// Corners of a rectangle, counter-clockwise.
std::vector<Corner> rectangle(Um a0, Um b0, Um a1, Um b1);
Json section(Um station, const std::vector<Corner>& outline, const std::vector<std::vector<Corner>>& holes = {});

/// The well-made plan every case starts from: a box 247 x 317 x 234 mm, standing exactly its clearances from
/// the walls of a straight cavity; inside, two blocks of four upright cells along u, touching liner, lid
/// room and each other's gap exactly. Corner (1000, -158.5, 300), opposite (1247, 158.5, 534).
Json good_plan();
inline constexpr Um box_x0 = 1'000'000, box_x1 = 1'247'000, box_y0 = -158'500, box_y1 = 158'500;
inline constexpr Um box_z0 = 300'000, box_z1 = 534'000;
inline constexpr Um body_clearance = 10'000, lid_clearance = 8'000;

/// The same with every clearance to the cavity zero: the box fills its cavity.
Json tight_plan();
/// Blocks straight in the cavity, all gaps zero; cells 50 x 30, 4 mm high. No blocks yet.
Json loose_plan();

/// Replaces the sections of the only cavity.
void set_sections(Json& plan, const char* across, const char* between, std::vector<Json> sections);
/// Sections of the straight cavity of the good plan, `spare` um wider than the box all round in plan and below/above.
void straight_cavity(Json& plan, const char* across, Um sideways, Um below, Um above);

Json& rule(Json& plan, const char* key);
Json& the_box(Json& plan);
/// Adds a block with its cells; corner of the block in um, sizes from the job in the plan.
void add_block(Json& plan, Json& box, const char* runs, const char* stance, std::array<Um, 3> low, int cells);
/// Sets counts and totals from what the boxes hold.
void count_up(Json& plan);

/// Adds `um` to one coordinate of a `[x, y, z]` or a bare number, on the half-micrometre grid.
void nudge(Json& number, Um um);
/// Moves a box with all that is in it.
void shift_box(Json& box, std::array<Um, 3> by);
/// Moves everything in the box but not the box.
void shift_contents(Json& box, std::array<Um, 3> by);
/// Moves one block with its cells.
void shift_block(Json& box, int id, std::array<Um, 3> by);

Json fitting(const char* name, const char* place, std::array<Um, 3> low, std::array<Um, 3> size);

using Rules = std::set<std::string>;

}  // namespace cellstow::audit::testing
