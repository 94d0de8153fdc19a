#pragma once
/// Sections measured, or to be measured, with the tape: what the measuring sheet asks for and the pictures show.

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/core/problem.hpp"
#include "cellstow/measuring/measure.hpp"

namespace cellstow::survey {

/// One length that the job asks for. Both ends are numbers of places: datums first, points after them.
struct TapeReading {
  std::size_t from = 0, to = 0;
  bool check = false;             ///< a check reading, not one of a point's own
  std::optional<double> mm;       ///< empty: still to be measured
  std::string written;            ///< as it stands in the file: "440", "17 5/16 in"; empty when it does not
  double give_or_take_mm = 2;
  std::string pointer;            ///< of the value in the job file
};

/// One section as the job file has it, with what can be worked out of it so far.
struct TapeSection {
  std::string cavity;
  core::Axis across = core::Axis::z;
  core::Length station;
  std::vector<measuring::Datum> datums;
  std::vector<measuring::Point> points;
  std::vector<TapeReading> readings;           ///< in the order of the file
  std::vector<std::size_t> outline;            ///< numbers of points, round the wall
  double give_or_take_mm = 2;

  /// Readings that are there, and the points that have two of them; `network_points`: their numbers in `points`.
  measuring::Network network;
  std::vector<std::size_t> network_points;
  std::optional<measuring::MeasuredSection> fit;  ///< empty: nothing to work out yet, or it cannot be
  std::vector<std::string> remarks;               ///< of the fit, or why there is none

  const std::string& name(std::size_t place) const {
    return place < datums.size() ? datums[place].name : points[place - datums.size()].name;
  }
};

/// "x 330": how a section is named on sheets and in lists.
std::string section_name(const TapeSection& section);

/// All sections with a tape in a job, which need not be complete in anything else: only names of cavities, stations
/// and the tapes are looked at, and readings may be null. What does not fit together stands in `remarks`.
///
/// A file is read with the jobs it is based on laid under it, which lie where read_job() looks for them. A text stands for itself.
///
/// @return in the order of the file
/// @error the reader's own for what is looked at
core::Result<std::vector<TapeSection>> read_tape_sections(const std::filesystem::path& job_file, const std::vector<std::filesystem::path>& roots,
                                                          const std::filesystem::path& shapes);
core::Result<std::vector<TapeSection>> read_tape_sections_text(std::string_view text, const std::string& name);

/// Columns of the list that goes with the measuring sheet, first line of the file.
inline constexpr std::string_view sheet_columns[] = {"no", "cavity", "section", "from", "to", "reading", "unit", "remark"};

/// A job with readings from a filled list put in.
struct Entered {
  std::string job_text;                 ///< the job, every other byte as it was
  int entered = 0;                      ///< readings that were missing and are there now
  std::vector<std::string> changed;     ///< readings that stood there with another value, in words
  std::vector<std::string> missing;     ///< readings still missing, in words
};

/// Puts the readings of a filled list (RFC 4180; commas or semicolons) into the job's text.
///
/// A reading is text with its own unit, or a number in the unit of its row, mm where none is written. It is kept as
/// it was written. Rows without a reading leave the job as it is.
///
/// @error E228 the list is not one of this kind, or a row is incomplete; E229 a row that names no reading of the job,
///        or one named before; E107, E109, E110 a reading that is none. The line stands in place of the pointer
core::Result<Entered> enter_readings(std::string_view job_text, const std::string& job_name, std::string_view list_text,
                                     const std::string& list_name);

}  // namespace cellstow::survey
