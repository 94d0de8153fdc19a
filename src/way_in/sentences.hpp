#pragma once
/// The way in told in the trade's words. Internal to way_in.

#include "cellstow/survey/job.hpp"
#include "cellstow/way_in/way_in.hpp"

namespace cellstow::way_in {

/// What the fabricator reads first, the answer in front.
std::vector<std::string> sentences_of(const BoxWay& way, const box::Box& box, const survey::Cavity& cavity,
                                      const survey::Rules& rules);

/// What must be minded on this way. Common practice, no source; voltages: UN R100, ISO 6469-3 (60 V DC; from memory).
std::vector<std::string> cautions_of(const BoxWay& way, const box::Box& box, const survey::Rules& rules);

/// "the rear edge of the boot opening by 14.0 mm and the left edge by 3.0 mm".
std::string edges_in_the_way(const std::vector<Blocking>& edges, const std::string& opening);

/// "cavity wall by 12.0 mm, filler neck by 3.5 mm".
std::string things_in_the_way(const std::vector<InTheWay>& things);

}  // namespace cellstow::way_in
