#pragma once
/// Short ways to write lengths and points in the fixture.

#include "cellstow/core/frame.hpp"
#include "cellstow/survey/job.hpp"

namespace fixture {

inline cellstow::core::Length mm(double value) { return cellstow::core::Length::from_mm(value); }
inline cellstow::core::Point2 p2(double a, double b) { return {mm(a), mm(b)}; }
inline cellstow::core::Point3 p3(double x, double y, double z) { return {mm(x), mm(y), mm(z)}; }

/// The job of two_cavities().
cellstow::survey::Job job_of_two_cavities();

}  // namespace fixture
