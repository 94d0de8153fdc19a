#pragma once
/// Rows, pictures and script of the comparison of cell formats. Internal to report.

#include <string>
#include <vector>

#include "cellstow/report/choice.hpp"
#include "report/drawing.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// Every candidate with every figure, as in the CSV; numbers without units in them.
Table choice_table(const survey::Job& job, const std::vector<choosing::Format>& formats, const choosing::Choice& choice);

/// "as many kWh, 14 kg lighter", with the number of what beats it; empty for the best ones.
std::string standing_words(const choosing::Choice& choice, const choosing::Candidate& candidate);

/// Energy against mass of the boxes; against front share, where the car is known. Best ones numbered.
std::vector<Drawing> choice_drawings(const choosing::Choice& choice);

std::string choice_style();
std::string choice_script();
std::string choice_page(const survey::Job& job, const std::vector<choosing::Format>& formats, const choosing::Choice& choice);

}  // namespace cellstow::report
