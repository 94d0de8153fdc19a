#pragma once
/// What every workshop drawing is put together from: sizes in words, names near what they name, dimensions from one
/// datum, tables. Internal to report.

#include <string>
#include <vector>

#include "cellstow/survey/job.hpp"
#include "report/paper.hpp"

namespace cellstow::report {

/// "412.5", or "412.5 [16.24]" where inches are asked for too.
std::string size_text(double mm, survey::DrawnUnits units);

/// Keeps names off one another and, where it can, off lines.
class Placer {
 public:
  explicit Placer(Patch area) : area_(area) {}
  void take(const Patch& room) { taken_.push_back(room); }
  void avoid(Spot from, Spot to) { lines_.push_back({from, to}); }
  void avoid(const Patch& patch) { soft_.push_back(patch); }
  /// Something that gets a name of its own: other names keep farther from it than from what they name.
  void named(Spot spot) { named_.push_back(spot); }
  /// Puts the lettering near `at`, at least `clear` from it, with a line back to it when it stands off.
  /// False when there is no free place on the area.
  bool place(Paper& paper, Spot at, double clear, Lettering lettering);
  /// Free for lettering?
  bool is_free(const Patch& room) const;
  const Patch& area() const { return area_; }

 private:
  struct Line { Spot from, to; };
  double cost(const Patch& room) const;
  double mistaken(const Patch& room, Spot own) const;
  Patch area_;
  std::vector<Patch> taken_, soft_;
  std::vector<Line> lines_;
  std::vector<Spot> named_;
};

enum class Side { below, above, left, right };

/// One dimension from the datum, its figure outside one edge of the part. `at` lies along that edge, `start` across it:
/// where the line leaves what it measures.
struct Ordinate {
  double at = 0, start = 0;
  std::string text;
  bool boxed = false;
};

/// Figures beyond `edge` on one side of it, pushed apart between `low` and `high`; below and above they read upwards.
void add_ordinates(Paper& paper, Placer& placer, std::vector<Ordinate> ordinates, Side side, double edge, double low, double high);
/// Room the figures need outwards from the edge, and along it.
double ordinate_reach(const std::vector<Ordinate>& ordinates);
double ordinate_run(const std::vector<Ordinate>& ordinates);

/// A dimension between two points level with or above one another, drawn `off` mm below (across) or left (up) of them.
void add_width(Paper& paper, Placer& placer, double from, double to, double object, double line, Lettering figure);
void add_height(Paper& paper, Placer& placer, double from, double to, double object, double line, Lettering figure);

/// Rows of text under a title. `boxed` columns get a wide frame: dimensions that must be kept.
struct DrawnTable {
  std::string title;
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::size_t> boxed;
};

double table_width(const DrawnTable& table);
inline constexpr double row_height = 4.4;

/// As many rows from `first` on as the patch holds, from its top; head and title always with them.
/// @return rows drawn, 0 when not even one fits; `bottom` becomes the lower edge of what was drawn
std::size_t add_table(Paper& paper, const DrawnTable& table, std::size_t first, const Patch& patch, double& bottom);

/// Lines of small lettering from the top of the patch.
/// @return lines drawn
std::size_t add_lines(Paper& paper, const std::vector<std::string>& lines, std::size_t first, const Patch& patch);

}  // namespace cellstow::report
