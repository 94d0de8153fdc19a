#include "scan_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cellstow::survey {
namespace {

namespace scan = measuring::scan;
using scan::FreeTrouble;
using scan::PlacingTrouble;

/// To a tenth, without a zero behind the point.
std::string tenths(double mm) {
  std::string text = fmt::format("{:.1f}", mm);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

/// Never told as less than it is.
std::string tenths_up(double mm) { return tenths(std::ceil(mm * 10 - 1e-6) / 10); }

double length_mm(const scan::Bridge& gap) {
  return std::hypot(static_cast<double>(gap.to.s - gap.from.s), static_cast<double>(gap.to.t - gap.from.t)) / 1000;
}

std::string distance_in_words(const scan::KnownDistance& shown, std::span<const scan::KnownPoint> known) {
  return fmt::format("{} to {} is {} mm in the scan and {} mm in the car", known[shown.first].name, known[shown.second].name,
                     shown.in_scan_mm < 10 ? fmt::format("{:.3g}", shown.in_scan_mm) : tenths(shown.in_scan_mm), tenths(shown.in_car_mm));
}

std::string names_of(std::span<const scan::KnownPoint> known) {
  std::string names;
  for (std::size_t i = 0; i < known.size(); ++i) names += (i == 0 ? "" : ", ") + known[i].name;
  return names;
}

ScanProblem on_a_line(const scan::PlacingFault& fault, std::span<const scan::KnownPoint> known) {
  return {"E241", "known points nearly on a line",
          fmt::format("{} lie within {} mm of one line that is {} mm long", names_of(known), tenths_up(fault.width_mm),
                      tenths(fault.shown.in_car_mm)),
          fmt::format("a point that lies off that line by a tenth of its length or more, {} mm", tenths_up(fault.shown.in_car_mm / 10)),
          "the scan could still turn about the line: add a hole well to one side"};
}

/// The unit in which the distances would agree, if it is a usual one.
std::string unit_that_fits(double scale, std::string_view unit) {
  struct Named { std::string_view name; double mm; };
  static constexpr Named units[] = {{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"ft", 304.8}};
  const auto given = std::find_if(std::begin(units), std::end(units), [&](const Named& u) { return u.name == unit; });
  for (const Named& other : units)
    if (std::abs(given->mm * scale / other.mm - 1) < 0.05) return std::string(other.name);
  return {};
}

ScanProblem wrong_unit(const scan::PlacingFault& fault, std::span<const scan::KnownPoint> known, std::string_view unit) {
  const std::string fits = unit_that_fits(fault.scale, unit);
  return {"E242", "scan in another unit",
          fmt::format("read in {}, {}", unit, distance_in_words(fault.shown, known)), "the same distance in both",
          fits.empty() ? fmt::format("the car is {:.4g} times the scan, which is no usual unit; scale the scan from a measured length first", fault.scale)
                       : fmt::format("it fits in {}: \"unit\": \"{}\"", fits, fits)};
}

ScanProblem stretched(const scan::PlacingFault& fault, std::span<const scan::KnownPoint> known, double fit_max_mm) {
  const double percent = (1 / fault.scale - 1) * 100;
  return {"E243", "scan of the wrong size",
          fmt::format("the scan is {:.1f} % too {}: {}", std::abs(percent), percent > 0 ? "long" : "short", distance_in_words(fault.shown, known)),
          fmt::format("at most {} mm off over that distance (\"fit_max_mm\")", tenths(fit_max_mm)),
          "scale the scan in the scanner's program from a length measured in the car, and export it again"};
}

ScanProblem does_not_fit(const scan::PlacingFault& fault, std::span<const scan::KnownPoint> known, double fit_max_mm) {
  std::string off;
  for (std::size_t i = 0; i < known.size(); ++i)
    off += fmt::format("{}{} {}", i == 0 ? "" : ", ", known[i].name, tenths(fault.off_mm[i]));
  return {"E245", "known points do not fit", fmt::format("off by {} mm", off),
          fmt::format("each within {} mm (\"fit_max_mm\")", tenths(fit_max_mm)),
          fault.slipped ? fmt::format("without {} the others fit: measure it again, and look whether the scan means the same hole", known[*fault.slipped].name)
                        : distance_in_words(fault.shown, known) + ": start with these two"};
}

}  // namespace

std::string place_in_words(scan::PointUm point) {
  return fmt::format("({}, {})", tenths(static_cast<double>(point.s) / 1000), tenths(static_cast<double>(point.t) / 1000));
}

ScanProblem in_words(const scan::PlacingFault& fault, std::span<const scan::KnownPoint> known, double fit_max_mm,
                     std::string_view unit) {
  switch (fault.trouble) {
    case PlacingTrouble::on_a_line: return on_a_line(fault, known);
    case PlacingTrouble::wrong_unit: return wrong_unit(fault, known, unit);
    case PlacingTrouble::stretched: return stretched(fault, known, fit_max_mm);
    case PlacingTrouble::mirrored:
      return {"E244", "scan is mirrored", "only the mirror image of the scan fits the known points",
              "a scan with left on the left", "an axis runs the wrong way in the export: choose right-handed axes there"};
    case PlacingTrouble::does_not_fit: break;
  }
  return does_not_fit(fault, known, fit_max_mm);
}

ScanProblem in_words(const scan::FreeFault& fault, core::Length station, scan::PointUm inside, core::Length close,
                     bool may_be_mirrored) {
  const std::string at = fmt::format("station {} mm: ", in_mm(station));
  const std::string mirrored = may_be_mirrored ? "; or the scan is mirrored, which known points in one plane cannot show" : "";
  switch (fault.trouble) {
    case FreeTrouble::no_wall:
      return {"E246", "no free space at a station", at + "the scan shows nothing there", "stations between the ends of the scan",
              "look at the station and at the known points" + mirrored};
    case FreeTrouble::on_the_wall:
      return {"E246", "no free space at a station", fmt::format("{}the inside point {} lies on scanned wall", at, place_in_words(inside)),
              "an inside point in free space", "move \"inside_mm\", or give one near this station" + mirrored};
    case FreeTrouble::outside:
      return {"E246", "no free space at a station", fmt::format("{}no scanned wall round the inside point {}", at, place_in_words(inside)),
              "an inside point with wall all round", "move \"inside_mm\", or give one near this station" + mirrored};
    case FreeTrouble::open:
      return {"E247", "scan is open", fmt::format("{}open from {} to {} mm, {} mm wide", at, place_in_words(fault.gap.from), place_in_words(fault.gap.to), tenths_up(length_mm(fault.gap))),
              fmt::format("gaps of at most {} mm (\"close_mm\")", in_mm(close)),
              "scan that place again; where nothing is but air, such as under an open bonnet, a larger close_mm puts a straight line there"};
    case FreeTrouble::torn:
      return {"E249", "no wall to be made of the scan", fmt::format("{}{} open ends", at, fault.count),
              fmt::format("at most {} open ends in a section", scan::most_open_ends), "let the scanner's program join the surface first"};
    case FreeTrouble::tangled: break;
  }
  return {"E249", "no wall to be made of the scan", at + "pieces of wall lie in one another so closely that it cannot be told which is the inner one",
          "one surface for each wall", "clean the scan there, or move the station by a few millimetres"};
}

namespace {

/// More of a kind are counted, not listed.
constexpr std::size_t most_listed = 4;

std::string cm2(double um2) { return fmt::format("{:.0f}", um2 / 1e8); }

void tell_bridges(const scan::FreeSpace& space, std::vector<std::string>& remarks) {
  for (std::size_t i = 0; i < std::min(space.bridges.size(), most_listed); ++i)
    remarks.push_back(fmt::format("The scan is open from {} to {} mm, {} mm wide: a straight line stands for the wall there; measure it in the car",
                                  place_in_words(space.bridges[i].from), place_in_words(space.bridges[i].to), tenths_up(length_mm(space.bridges[i]))));
  if (space.bridges.size() > most_listed)
    remarks.push_back(fmt::format("{} more gaps of the scan are closed by straight lines, none wider", space.bridges.size() - most_listed));
}

void tell_loose(const scan::FreeSpace& space, std::vector<std::string>& remarks) {
  for (std::size_t i = 0; i < std::min(space.loose.size(), most_listed); ++i)
    remarks.push_back(fmt::format("A scanned edge ends in the open between {} and {} mm: the space round it is not counted free",
                                  place_in_words(space.loose[i].low), place_in_words(space.loose[i].high)));
  if (space.loose.size() > most_listed)
    remarks.push_back(fmt::format("{} more scanned edges end in the open, none larger", space.loose.size() - most_listed));
}

void tell_dirt(const scan::FreeSpace& space, double dirt_mm, std::vector<std::string>& remarks) {
  if (space.dirt.empty()) return;
  const scan::Extent& largest = space.dirt.front();
  remarks.push_back(fmt::format("Loose pieces smaller than {} mm taken for dirt: {}, the largest between {} and {} mm; look there in the car", tenths(dirt_mm),
                                space.dirt.size(), place_in_words(largest.low), place_in_words(largest.high)));
}

void tell_spikes(const scan::Inward& inward, double spike_mm, std::vector<std::string>& remarks) {
  if (inward.spikes.empty()) return;
  remarks.push_back(fmt::format("Slits no wider than {} mm not counted free: {}, the deepest {} mm at {} mm", tenths(spike_mm), inward.spikes.size(),
                                tenths(inward.spikes.front().deep_um / 1000), place_in_words(inward.spikes.front().at)));
}

std::size_t corners_of(const scan::Loop& outline, const std::vector<scan::Loop>& holes) {
  std::size_t corners = outline.size();
  for (const scan::Loop& hole : holes) corners += hole.size();
  return corners;
}

}  // namespace

std::vector<std::string> scan_remarks(const scan::FreeSpace& space, const scan::Inward& inward, double spike_mm, double dirt_mm) {
  std::vector<std::string> remarks;
  tell_bridges(space, remarks);
  tell_loose(space, remarks);
  tell_dirt(space, dirt_mm, remarks);
  tell_spikes(inward, spike_mm, remarks);
  remarks.push_back(fmt::format("{} corners stand for {} of the scan: {} of {} cm2 left out, {} mm deep at most, at {} mm",
                                corners_of(inward.outline, inward.holes), corners_of(space.outline, space.holes), cm2(inward.lost_um2),
                                cm2(inward.free_um2), tenths_up(inward.deepest_um / 1000), place_in_words(inward.deepest_at)));
  return remarks;
}

std::vector<std::string> placing_remarks(const scan::Placing& placing, std::span<const scan::KnownPoint> known) {
  std::vector<std::string> remarks;
  if (placing.in_one_plane)
    remarks.push_back("The known points lie in one plane, so they cannot show whether the scan is mirrored: check left against right in the car");
  std::string off;
  for (std::size_t i = 0; i < known.size(); ++i)
    off += fmt::format("{}{} {}", i == 0 ? "" : ", ", known[i].name, tenths(placing.off_mm[i]));
  remarks.push_back(fmt::format("Scan placed on known points; off by {} mm", off));
  return remarks;
}

}  // namespace cellstow::survey
