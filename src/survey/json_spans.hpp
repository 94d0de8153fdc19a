#pragma once
/// Where values stand in the text of a JSON file, so that one can be exchanged and every other byte stays.

#include <cstddef>
#include <map>
#include <string>
#include <string_view>

namespace cellstow::survey {

/// Bytes [from, to) of a value.
struct Span {
  std::size_t from = 0, to = 0;
};

/// Every value of the text by its JSON pointer.
/// @pre the text is JSON, and no key stands twice
std::map<std::string, Span> value_spans(std::string_view text);

}  // namespace cellstow::survey
