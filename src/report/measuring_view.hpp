#pragma once
/// A measured section as a picture: points, how far each may be off, datums, doubted readings. Internal to report.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/survey/job.hpp"
#include "cellstow/survey/tape.hpp"
#include "report/drawing.hpp"
#include "report/look.hpp"

namespace cellstow::report {

struct MeasuringPicture {
  std::string name, title;
  core::Axis across = core::Axis::z;
  struct Datum { std::string name; Flat at; };
  struct Point { std::string name; Flat at; std::optional<measuring::Ellipse> ellipse; };
  struct Doubted { Flat from, to; std::string text; };
  std::vector<Datum> datums;
  std::vector<Point> points;
  std::vector<Flat> outline;        ///< closed; empty while a corner is missing
  std::vector<Doubted> doubted;
  bool circles = false;             ///< only the give or take is known, not its direction
};

/// From a section with its tape, as far as it is worked out.
MeasuringPicture picture_of(const survey::TapeSection& section);
/// From a section whose corners alone are known: circles of the give or take.
MeasuringPicture picture_of(const std::string& cavity, core::Axis across, const survey::Section& section);

/// Upright on A4 between margins of 12 mm, to scale. Ellipses are drawn larger than they are, and by how much is said.
/// @param most_height  mm on paper
Drawing measuring_drawing(const MeasuringPicture& picture, double most_height);

/// "cross-section, 2310 mm behind the front axle": where the plane lies.
std::string plane_words(core::Axis across, core::Length station);

}  // namespace cellstow::report
