#pragma once
/// The tape of a section, read and worked out.

#include <array>
#include <optional>
#include <string_view>

#include "cellstow/survey/job.hpp"
#include "cellstow/survey/tape.hpp"
#include "fields.hpp"
#include "outline.hpp"

namespace cellstow::survey {

/// What stands in the file, readings that are null included.
///
/// @param across  of the sections; nothing when it does not read: sides are then passed over
/// @error E111 a name twice among datums and points, E223 a name that is neither, E224 two datums at one place
std::optional<TapeSection> read_tape(const Node& node, std::optional<Axis> across);

/// The words that tell a side in a plane across this axis, as measuring::Side has them.
std::array<std::string_view, 4> side_words(Axis across);

/// A length on the tape, mm. @error E105, E107, E109, E110
std::optional<double> read_tape_length(const Node& node);

/// Where the corners' order stands: for problems of the outline.
std::string outline_pointer(const Node& tape);

/// An outline and what is known of its corners.
struct TapeOutline {
  Ring ring;
  Measured measured;
};

/// @error E225 a reading that is null; E220, E221, E222, E226 a point that cannot be placed;
///        E201 to E204 of the outline that comes out
std::optional<TapeOutline> work_out(const Node& node, const TapeSection& tape);

/// As far as the readings go: fills network, fit and remarks.
void work_out_so_far(TapeSection& tape);

}  // namespace cellstow::survey
