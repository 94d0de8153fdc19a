#pragma once
/// The job as the user measured and wrote it, in plain units: what `cellstow-job/1`
/// means once every unit string is converted, every file reference read and every default filled in.
/// Key by key in docs/job-file.md; here only what the type cannot say.

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/core/length.hpp"
#include "cellstow/core/quantity.hpp"

namespace cellstow::survey {

using core::AccelG;
using core::Ampere;
using core::AmpereHour;
using core::Axis;
using core::Kg;
using core::Length;
using core::Milliohm;
using core::Mpa;
using core::Newton;
using core::NewtonPerMm;
using core::Point2;
using core::Point3;
using core::Volt;
using core::WattHourPerKm;

// ---- car -------------------------------------------------------------------

struct WheelLoads { Kg front_left, front_right, rear_left, rear_right; };
struct AxleLoads { Kg front, rear; };

enum class RaisedAxle { front, rear };

/// One end of the car lifted, the other axle's or the front axle's scale read again.
struct TiltTest {
  RaisedAxle raised = RaisedAxle::rear;
  Length rise;             ///< how far the raised wheels' centres were lifted
  Kg front_axle;           ///< front axle on the scale while tilted
  Length wheel_radius;     ///< loaded radius: wheel centre above the ground
};

struct Seat { std::string name; Point3 at; Kg mass = Kg::of(75); };
struct PlacedMass { std::string name; Kg mass; Point3 at; };
struct ShareTarget { double min = 0, max = 1; };   ///< share of total mass on the front axle

struct Car {
  std::string name;
  std::string vehicle_class = "M1";
  std::optional<Length> wheelbase, track_front, track_rear;
  std::variant<std::monostate, WheelLoads, AxleLoads> weighed;
  std::variant<std::monostate, Length, TiltTest> cg_height;
  std::optional<AxleLoads> axle_limits;
  std::optional<Kg> gross_limit;
  std::optional<ShareTarget> front_share_target;
  std::vector<Seat> seats;                     ///< the first seat is the driver's
  std::vector<PlacedMass> removed, added;      ///< positive masses in both
  struct WheelRates { NewtonPerMm front, rear; };
  std::optional<WheelRates> wheel_rates;       ///< per wheel, at the wheel
};

// ---- cell ------------------------------------------------------------------

enum class Stance { upright, on_edge, flat };
enum class CaseKind { plastic, aluminium };
struct VoltageWindow { Volt min, nominal, max; };
struct ForceRange { Newton min, max; };

struct Cell {
  std::string name;
  Length thickness;        ///< along the clamping direction
  Length width;
  Length height;           ///< case
  Length terminal_top;     ///< live metal above the base, links and nuts included
  Kg mass;
  std::optional<AmpereHour> capacity;
  std::optional<VoltageWindow> voltage;
  std::optional<Milliohm> resistance;
  std::optional<Length> terminal_offset;
  std::optional<std::string> terminal_thread;
  CaseKind case_kind = CaseKind::plastic;
  std::optional<ForceRange> clamp_force;
  double growth_percent = 0;
  std::vector<Stance> stances = {Stance::upright};
};

// ---- string ----------------------------------------------------------------

struct VoltRange { Volt min, max; };
struct Controller { VoltRange volts; std::optional<Ampere> peak; };

struct StringSpec {
  std::optional<int> series;                   ///< empty: as many as fit
  int parallel = 1;
  std::optional<Controller> controller;
  std::optional<VoltRange> charger, converter;
  std::optional<Ampere> continuous;
  std::optional<WattHourPerKm> consumption;
  std::optional<Length> cable_route;
};

// ---- rules -----------------------------------------------------------------

enum class BoxOutline { rectangle, stepped, any, loose };
enum class Arrangement { rows, mixed };
enum class Heading { square, free };

/// A sheet, plate or bar material. Minimum specified values, not typical ones.
struct Material {
  std::string name;
  double density_kg_per_m3 = 0;
  Mpa elastic_modulus, proof_strength, ultimate_strength;
  std::optional<Mpa> welded_proof_strength, welded_ultimate_strength;
  std::optional<double> min_bend_radius_over_thickness;
  bool bend_may_crack = false;                 ///< tempers that crack at tight bends
  std::optional<double> k_factor;              ///< neutral line's depth over thickness in a bend, 0 to 0.5
  std::string source, status;
};

struct FastenerClass {
  std::string name;                            ///< "8.8"
  Mpa ultimate_strength, proof_stress;
  std::string source, status;
};

struct LoadCase { std::string name; std::array<AccelG, 3> accel; };
struct LoadCaseSet { std::string name; std::vector<LoadCase> cases; std::string source, status; };

struct Materials { Material wall, strap, hold_down; FastenerClass fasteners; };
struct SafetyFactor { double yield = 1.5, ultimate = 2.0; };
struct BlockCells { int min = 1, max = 12; };

/// How a box may be put together: whatever is simplest for its depth and outline, or always separate panels.
enum class Build { simplest, welded_panels };
/// What a cut file holds: cut lines with etched marks and bend lines, or cut lines alone.
enum class CutFiles { marked, cut_only };

/// A strip folded once in the shop and measured: what the brake and this sheet really do.
struct BendTest {
  std::string material;
  Length thickness, inside_radius;
  double angle_deg = 90;                       ///< bent through
  std::array<Length, 2> legs;                  ///< outside, to the sharp corner where the outer faces meet
  Length flat;                                 ///< strip length before folding
};

struct Rules {
  Length body_clearance = Length::from_um(10'000);
  Length lid_clearance = Length::from_um(10'000);
  Length wall = Length::from_um(3'000), floor = Length::from_um(3'000), lid = Length::from_um(2'000);
  Length liner = Length::from_um(3'000);
  Length corner_relief;
  Length between_cells;
  Length end_plate = Length::from_um(10'000);
  Length strap_space = Length::from_um(6'000);
  Length between_blocks = Length::from_um(5'000);
  Length between_tiers = Length::from_um(20'000);
  Length headroom = Length::from_um(15'000);
  BlockCells block_cells;
  BoxOutline box_outline = BoxOutline::stepped;
  int boxes_per_cavity = 1;
  Arrangement arrangement = Arrangement::mixed;
  Heading heading = Heading::square;
  int tiers = 1;
  Kg lift_limit = Kg::of(50);
  Volt open_link_max = Volt::of(60);
  Length pan_depth_max = Length::from_um(150'000);
  Length bracket_reach = Length::from_um(150'000);  ///< our own key: farthest fixing a bracket may reach from the box
  Length car_scatter = Length::from_um(2'000);      ///< our own key: how far the same hole may be off from car to car
  Length flange;                               ///< how far lid and mouth flange may stand out beyond the walls
  Build build = Build::simplest;
  CutFiles cut_files = CutFiles::marked;
  bool fuse_hatch = false;                     ///< the main fuse is reached through a hatch in the lid
  std::optional<Length> bend_radius;           ///< inside, of the shop's tools; else the least the sheet allows
  std::optional<Length> leg_min;               ///< shortest outside leg the brake folds; else from thickness and radius
  std::vector<BendTest> bend_tests;
  Materials materials;
  LoadCaseSet load_cases;
  SafetyFactor safety_factor;
};

// ---- cavities --------------------------------------------------------------

/// What the corners of an outline were worked out from.
enum class MeasuredBy { corners, tape, picture, drawing, list, scan };

/// One corner with what is known of it beyond its place.
struct MeasuredCorner {
  std::string name;                            ///< as on the measuring sheet; may be empty
  std::optional<Length> give_or_take;          ///< in the worst direction; else the cavity's tape_error
};

/// How an outline was measured.
struct Measured {
  MeasuredBy by = MeasuredBy::corners;
  std::vector<MeasuredCorner> corners;         ///< one a vertex of the outline, in its order; or none
  std::vector<std::string> remarks;            ///< what the reader of a report should know, most telling first
};

/// One measured section. Invariant after reading: outline and holes are simple,
/// at least 3 vertices each, none repeated; the outline is counter-clockwise and the holes clockwise
/// in (a, b), and every hole lies inside the outline.
struct Section {
  Length station;
  std::vector<Point2> outline;
  std::vector<std::vector<Point2>> holes;
  std::optional<Measured> measured{};          ///< empty: plain corners, nothing more known
};

enum class Between { common, straight };

struct Sections {
  Axis across = Axis::z;
  Between between = Between::common;
  std::vector<Section> at;                     ///< two or more, strictly rising stations
};

struct BoxShape { Point3 low, high; };
struct CylinderShape { Point3 from, to; Length diameter; };
struct PrismShape { std::vector<Point2> outline; Length z_low, z_high; };  ///< outline counter-clockwise, in (x, y)
enum class KeepOutKind { fixed, removable, soft, moving };

struct KeepOut {
  std::string name;
  KeepOutKind kind = KeepOutKind::fixed;
  std::optional<Length> clearance;             ///< else Rules::body_clearance
  std::variant<BoxShape, CylinderShape, PrismShape> shape;
};

struct WayIn {
  std::string name;
  Axis across = Axis::z;
  Length station;
  std::vector<Point2> outline;
  std::array<double, 3> move = {0, 0, -1};     ///< direction in which the box travels
};

enum class FixingKind { weld_nut, through_hole, stud };
enum class FixingUse { carry, locate, never };

struct Fixing {
  std::string name;
  Point3 at;
  std::array<double, 3> axis = {0, 0, 1};      ///< unit vector
  std::string thread;                          ///< "M8", "5/16-18"
  FixingKind kind = FixingKind::weld_nut;
  std::optional<Length> sheet;                 ///< thickness of the parent sheet
  FixingUse use = FixingUse::carry;
  std::optional<Newton> limit;                 ///< what the user says it carries, any direction
};

enum class FittingPlace { beside, above, wall };

struct Fitting {
  std::string name;
  std::array<Length, 3> size;
  int count = 1;
  FittingPlace place = FittingPlace::beside;
};

struct CellsWanted { int min = 0, max = 0; };

struct Cavity {
  std::string name;
  Sections sections;
  std::vector<KeepOut> keep_outs;
  std::vector<WayIn> way_in;
  std::vector<Fixing> fixings;
  std::vector<Fitting> fittings;
  std::optional<CellsWanted> cells_wanted;     ///< empty: as many as fit
  Length tape_error = Length::from_um(3'000);
};

// ---- drawings --------------------------------------------------------------

/// A4 unless the part would come out too small on it; or A3 always.
enum class DrawingPaper { a4, a3 };
enum class Projection { first, third };
enum class DrawnUnits { mm, mm_and_inch };
/// What the full-size mock-up is printed on.
enum class TilePaper { a4, letter };

/// How workshop drawings and the mock-up are made out.
struct DrawingRules {
  DrawingPaper paper = DrawingPaper::a4;
  Projection projection = Projection::first;
  DrawnUnits units = DrawnUnits::mm;
  std::string general_tolerance = "ISO 2768-m", weld_tolerance = "ISO 13920-B";
  std::string finish = "as rolled, edges broken";
  TilePaper tile_paper = TilePaper::a4;
  Length ply = Length::from_um(6'000);         ///< thickness of the mock-up's plywood
};

/// What the shop buys sheet and bar in, and cuts with.
struct Stock {
  Length sheet_length = Length::from_um(2'500'000), sheet_width = Length::from_um(1'250'000);
  Length sheet_margin = Length::from_um(10'000);   ///< kept free along the edges of a sheet
  Length part_gap = Length::from_um(8'000);        ///< between two parts on a sheet
  Length bar = Length::from_um(6'000'000);
  Length saw_kerf = Length::from_um(3'000);
};

struct Job {
  std::string title;                           ///< free text; may be empty
  std::string revision = "A";                  ///< stands on every drawing and part; at most 8 letters or figures
  std::optional<Car> car;
  Cell cell;
  std::optional<StringSpec> string;
  Rules rules;
  Stock stock;
  std::vector<Cavity> cavities;
  DrawingRules drawings;
};

}  // namespace cellstow::survey
