#pragma once
/// The three ways of making the body of a box. Internal to fabrication.

#include "cellstow/fabrication/sheet_work.hpp"
#include "lid.hpp"
#include "openings.hpp"
#include "shape.hpp"

namespace cellstow::fabrication {

/// A floor plate and a wall along every side, tabs in notches; any outline.
void add_welded_panels(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work);

/// Floor and four walls from one sheet. @pre rectangle, wall and floor of one thickness
void add_pan(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work);

/// Floor and the two longer walls from one sheet, ends between them. @pre as add_pan()
void add_wrap(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work);

}  // namespace cellstow::fabrication
