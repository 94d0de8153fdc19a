#pragma once
/// Part-mark prefixes; cavity_marks() itself is declared in build_box.hpp.
///
/// A mark is made of the capital initials of the words of the cavity's name ("tank well" -> TW), or
/// of the first two letters of a name of one word ("boot" -> BO). Only the letters A to Z count,
/// and words that start with anything else are passed over; a name without any gives BX. When the
/// letters are taken by a cavity earlier in the file, the least free number from 2 stands before
/// them: TW, 2TW, 3TW. A mark therefore never ends in a figure, and the figure of a cavity's second
/// box (TW2) is never mistaken for another cavity.

#include <string>

namespace cellstow::box {

/// The letters of a mark before clashes are looked at.
std::string mark_letters(const std::string& cavity_name);

/// "TW" for the first box of a cavity, "TW2" for the second.
std::string box_mark(const std::string& cavity_mark, int number);

}  // namespace cellstow::box
