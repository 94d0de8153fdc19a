#pragma once
/// Outlines of sections that come from a drawing, a list or a picture, all turned into plain corners.

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cellstow/measuring/drawn_outline.hpp"
#include "cellstow/measuring/known_points.hpp"
#include "cellstow/survey/job.hpp"
#include "fields.hpp"
#include "named_file.hpp"
#include "outline.hpp"

namespace cellstow::survey {

/// Simple rings, every hole inside the outline, no two holes touching; how they came about.
struct GivenOutline {
  Ring outline;
  std::vector<Ring> holes;
  Measured measured;
};

/// The two axes of a plane across `normal`, as columns of a list name them: 'x', 'y' for z.
std::pair<char, char> axes_of_plane(Axis normal);

/// Nearest micrometres. @error E107 beyond farthest_mm, told with `what`
std::optional<core::Point2> on_grid(const measuring::DrawnPoint& point, const std::string& what, const Node& told_at);

/// Checks of outline and holes that stand in a file without a place in it.
/// @error E201, E203 to E206
void check_given(const GivenOutline& given, ProblemLog& log);

// ---- drawings --------------------------------------------------------------

/// What is to be taken from a drawing, and how.
struct DrawingWanted {
  double gap_mm = 0.5;
  std::optional<double> unit_mm;          ///< what the job says one unit of the drawing is
  bool mirrored = false;                  ///< drawn as seen from the other side: first coordinates change sign
  std::vector<measuring::KnownPair> known;///< in the units of the drawing; empty: drawn where it is
  double known_within_mm = 5;
  std::optional<Length> give_or_take;
};

struct DxfDrawing;

/// One layer as an outline with holes; no file is touched, `log` is that of the drawing. Problems stand under the layer's name,
/// as if it were a key of the drawing.
///
/// Arcs become chords on the tight side, within chord_within_mm. The first corner is the lowest in a, of equals the lowest in b.
/// @error E231 unit, E232 layer, E233 to E235 what is drawn, E238 known points (at `known_at` when given), and those of check_given
std::optional<GivenOutline> outline_on_layer(const DxfDrawing& drawing, const std::string& layer, const DrawingWanted& wanted,
                                             ProblemLog& log, const Node* known_at = nullptr);

inline constexpr double chord_within_mm = 0.1;

/// As outline_on_layer, from the bytes of a drawing. @error E230 as well
core::Result<GivenOutline> outline_from_dxf(std::string_view bytes, const std::string& name, const std::string& layer,
                                            const DrawingWanted& wanted);

// ---- lists -----------------------------------------------------------------

struct ListWanted {
  Axis across = Axis::z;
  std::optional<std::string> section;     ///< rows of this section only
  std::string unit;                       ///< of values without one; may be empty
  std::optional<Length> give_or_take;
};

/// A list of corners from the bytes of a comma-separated file; no file is touched.
/// @error E231 no unit, E236 a fault in a line, E237 columns or section, and those of check_given
core::Result<GivenOutline> outline_from_csv(std::string_view bytes, const std::string& name, const ListWanted& wanted);

// ---- from the job file -----------------------------------------------------

std::optional<GivenOutline> read_drawing_outline(const Node& node, const AllowedFolders& allowed);
std::optional<GivenOutline> read_list_outline(const Node& node, Axis across, const AllowedFolders& allowed);
std::optional<GivenOutline> read_picture_outline(const Node& node);

/// A section of a drawing that holds one layer a station.
struct LayerSection {
  Node station_node;
  Length station;
  GivenOutline given;
};

/// All layers named under "from_drawing".
std::optional<std::vector<LayerSection>> read_drawn_sections(const Node& node, const AllowedFolders& allowed);

}  // namespace cellstow::survey
