#pragma once
/// Frame, title block and rooms of a workshop drawing. Internal to report.

#include <string>
#include <vector>

#include "cellstow/survey/job.hpp"
#include "report/draft.hpp"
#include "report/paper.hpp"

namespace cellstow::report {

struct TitleFields {
  std::string job, title, number, mark, material, thickness, quantity, finish, mass, revision, scale;
  int sheet = 1, sheets = 1;
};

/// A set of sheets that make one file.
struct DrawingSet {
  std::string stem;            ///< path below the output folder, without ending
  std::string title;
  std::vector<Paper> sheets;
};

enum class PaperSize { a4, a3 };

/// An empty sheet lying on its long side, frame drawn: 20 mm free at the left for filing, 10 mm elsewhere (ISO 5457).
Paper empty_sheet(PaperSize size);

/// Where views go, above title block and notes; where notes go, left of the title block.
Patch view_room(const Paper& sheet);
Patch notes_room(const Paper& sheet);

void add_title_block(Paper& sheet, const TitleFields& fields, const survey::DrawingRules& rules);

/// Drawing scales of ISO 5455 (1:2.5 is common practice beside them): the largest that fits, as the n of 1:n.
double drawing_scale(double width_mm, double height_mm, double room_width, double room_height);
std::string scale_text(double scale);

/// With a capital at its start.
std::string sentence(std::string text);

/// Goes on filling sheets with tables and lines that found no room beside the views.
struct Leftover {
  std::vector<std::pair<DrawnTable, std::size_t>> tables;   ///< with the first row still to draw
  std::vector<std::string> lines;
};

/// Tables one below the other into the column; what does not fit is left over.
void fill_column(Paper& sheet, Patch column, const std::vector<DrawnTable>& tables, Leftover& left);
/// Notes into the notes room; what does not fit is left over.
void fill_notes(Paper& sheet, const std::vector<std::string>& notes, Leftover& left);
/// Further sheets of the same size until nothing is left over.
void add_sheets(std::vector<Paper>& sheets, PaperSize size, Leftover left);

/// Title blocks on all sheets, numbered.
void finish_set(std::vector<Paper>& sheets, TitleFields fields, const survey::DrawingRules& rules);

}  // namespace cellstow::report
