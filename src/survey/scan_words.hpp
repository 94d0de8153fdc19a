#pragma once
/// What is told about a scan: faults in full, and remarks for the reader of a report.

#include <span>
#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/measuring/scan_free_space.hpp"
#include "cellstow/measuring/scan_inward.hpp"
#include "cellstow/measuring/scan_placing.hpp"
#include "fields.hpp"

namespace cellstow::survey {

/// Id and texts of a problem, without its place.
struct ScanProblem {
  std::string id, title, found, expected, hint;
};

/// @param unit  the unit named in the job
ScanProblem in_words(const measuring::scan::PlacingFault& fault, std::span<const measuring::scan::KnownPoint> known,
                     double fit_max_mm, std::string_view unit);

/// @param inside     the inside point in the section plane
/// @param close      gaps that may be closed
/// @param may_be_mirrored  the known points could not tell
ScanProblem in_words(const measuring::scan::FreeFault& fault, core::Length station, measuring::scan::PointUm inside,
                     core::Length close, bool may_be_mirrored);

/// Remarks of one section, most telling first.
///
/// @param scanned_corners  of outline and holes as scanned
std::vector<std::string> scan_remarks(const measuring::scan::FreeSpace& space, const measuring::scan::Inward& inward,
                                      double spike_mm, double dirt_mm);

/// What was found about the placing; stands with the first section.
std::vector<std::string> placing_remarks(const measuring::scan::Placing& placing,
                                         std::span<const measuring::scan::KnownPoint> known);

/// "(12.5, 330)": the two coordinates in mm, to a tenth.
std::string place_in_words(measuring::scan::PointUm point);

}  // namespace cellstow::survey
