#pragma once
/// What differs between two plans: cells, boxes, and parts by their marks. "What changed since revision B".

#include <string>
#include <vector>

#include "cellstow/differences/jobs.hpp"

namespace cellstow::differences {

/// A part that is made, by its mark.
struct MadePart {
  std::string mark, what;
  std::string size;      ///< as a reader is told it: sizes, material, how many holes
  std::string exact;     ///< all that decides whether an old one can still be used, down to every corner and hole
  int quantity = 1;
};

struct MadeBox {
  std::string cavity, mark;
  int cells = 0;
  std::vector<double> outside_mm, inside_mm;  ///< length, width, height; may be empty (loose blocks)
  double full_kg = 0;
};

struct Made {
  std::vector<Value> totals;   ///< cells, volts, masses: as the plan tells them
  std::vector<MadeBox> boxes;
  std::vector<MadePart> parts;
};

struct PartDifference {
  Change change = Change::changed;
  std::string mark, what;
  std::string first, second;   ///< off and size where it stands
};

struct MadeDifferences {
  std::vector<ValueDifference> totals, boxes;
  std::vector<PartDifference> parts;   ///< in the order of the first plan, then what is new
  bool empty() const { return totals.empty() && boxes.empty() && parts.empty(); }
};

MadeDifferences compare_made(const Made& first, const Made& second);

}  // namespace cellstow::differences
