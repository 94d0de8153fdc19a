#pragma once
/// One job laid over another: the keys of the upper file over those of the lower, each value knowing where it stands.
///
/// JSON Merge Patch (RFC 7396) with these departures, each because a job is written by hand and read strictly:
///   lists of named things (and sections, by station) go entry by entry; {"name": ..., "left_out": true} takes one out;
///   null for a key that the lower file does not have is refused, not passed over;
///   ways of giving one thing replace each other (`rivals` in lay_over.cpp).

#include <vector>

#include "fields.hpp"

namespace cellstow::survey {

/// One file of a chain of jobs.
struct JobFile {
  Json tree;
  ProblemLog log;
};

/// A tree laid together from files, and where each of its values stands.
struct Laid {
  Json tree;
  Origins origins;
};

/// Lays file after file over the last one.
///
/// @param chain  the file that extends the others first; problems go into each file's own log
/// @pre   chain is not empty
/// @error E111, E207 an entry given twice; E252 null for what is not there; E253 left out what is not there;
///        E254 left out and yet given; E105 left_out that is not true
Laid lay_together(std::vector<JobFile>& chain);

}  // namespace cellstow::survey
