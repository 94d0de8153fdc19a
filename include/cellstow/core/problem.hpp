#pragma once
/// Bad input, told so that the reader can mend it.

#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace cellstow::core {

/// One fault of the input. Ids are listed in docs/errors.md and never reused:
/// E1xx syntax and fields, E2xx survey geometry, E3xx catalogue, E4xx usage and files.
struct Problem {
  std::string id;        ///< "E203"
  std::string file;      ///< as the user named it
  std::string pointer;   ///< JSON pointer (RFC 6901) into that file; may be empty
  std::string title;     ///< what is wrong, in a few words
  std::string found;     ///< what stands there
  std::string expected;  ///< what should
  std::string hint;      ///< how to mend it; may be empty
};

using Problems = std::vector<Problem>;

/// A value, or every fault that stood in its way.
template <class T>
using Result = tl::expected<T, Problems>;

/// One problem as printed:
///
///   car.json#/cavities/0/sections: error E203: outline crosses itself
///     found: ...
///     expected: ...
///     hint: ...
std::string to_text(const Problem& problem);

/// All problems, one after the other, in the order given.
std::string to_text(const Problems& problems);

}  // namespace cellstow::core
