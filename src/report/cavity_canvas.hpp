#pragma once
/// One view of a cavity while it is being drawn. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/callout.hpp"
#include "report/gap_view.hpp"
#include "report/look.hpp"
#include "report/sheet.hpp"

namespace cellstow::report {

/// Longest fixing name, in bytes, that is written beside its mark in the side and end views.
inline constexpr std::size_t short_fixing_name = 6;

/// Sections take turns with five kinds of line.
Pen section_pen(std::size_t index);

/// The cuboid round a box, which has an outline.
packing::Cuboid around(const packing::BoxLayout& layout);

/// The box's shape in a view: its outline from above, else the rectangle it makes.
std::vector<Flat> seen_box(const packing::BoxLayout& layout, Look look);

/// Draws one view; members are filled in the order in which things are laid on the paper.
class CavityView {
 public:
  CavityView(const survey::Job& job, const survey::Cavity& cavity, const plan::CavityPlan& plan,
             Look look, double scale)
      : job_(job), cavity_(cavity), plan_(plan), look_(look), scale_(scale) {
    for (const survey::Section& section : cavity.sections.at) {
      sections_.push_back(seen(look, cavity.sections.across, section));
    }
  }

  Drawing draw();

 private:
  void name_things(const Sheet& sheet);
  void name_sections(const Sheet& sheet);
  void name_keep_outs(const Sheet& sheet);
  void name_contents(const Sheet& sheet);
  void name_turned(const Sheet& sheet);
  std::vector<Flat> both_ends(const packing::Cuboid& body, core::Heading heading, double inward) const;
  void name_fixings(const Sheet& sheet);
  void name_gaps(const Sheet& sheet);
  void draw_sections(const Sheet& sheet, bool square_on);
  void draw_bodies(const Sheet& sheet);
  void draw_keep_out(const Sheet& sheet, const survey::KeepOut& keep_out);
  void draw_box(const Sheet& sheet, const plan::BoxPlan& box);
  void draw_contents(const Sheet& sheet, const plan::BoxPlan& box);
  void draw_fixings(const Sheet& sheet, NearLabels& labels);
  void draw_dimensions(const Sheet& sheet, NearLabels& labels);
  void draw_side_dimensions(const Sheet& sheet, const plan::BoxPlan& box, NearLabels& labels);
  void outline(const Sheet& sheet, const std::vector<Flat>& points, bool closed, Pen pen, Fill fill);
  void call(const Sheet& sheet, const std::vector<Flat>& points, std::string text, bool bold = false,
            Pen pen = Pen::leader, Pen sample = Pen::none);
  bool is_in_front(const survey::KeepOut& keep_out) const;
  std::vector<Flat> visible_corners(const Sheet& sheet, const survey::KeepOut& keep_out) const;
  std::string fixing_text(const survey::Fixing& fixing) const;
  const restraint::FixingUseResult* use_of(const survey::Fixing& fixing) const;
  std::vector<Flat> seen_keep_out(const Sheet& sheet, const survey::KeepOut& keep_out) const;

  const survey::Job& job_;
  const survey::Cavity& cavity_;
  const plan::CavityPlan& plan_;
  Look look_;
  double scale_;
  std::vector<SeenSection> sections_;
  std::vector<SeenGap> gaps_;
  std::vector<Callout> callouts_;
  std::vector<Label> numbers_;
  Drawing drawing_;
};

}  // namespace cellstow::report
