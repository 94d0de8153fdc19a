#include "cellstow/box/marks.hpp"

#include <set>
#include <sstream>

#include "cellstow/box/build_box.hpp"

namespace cellstow::box {
namespace {

// Plain ASCII tests: the C library's would depend on the locale.
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char capital(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }

std::vector<std::string> words_of(std::string name) {
  for (char& c : name) {
    if (c == '-' || c == '_' || c == '/' || c == ',' || c == '(' || c == ')') c = ' ';
  }
  std::istringstream stream(name);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) {
    if (is_letter(word.front())) words.push_back(word);
  }
  return words;
}

}  // namespace

std::string mark_letters(const std::string& cavity_name) {
  const std::vector<std::string> words = words_of(cavity_name);
  std::string letters;
  if (words.size() == 1) {
    for (char c : words.front()) {
      if (is_letter(c) && letters.size() < 2) letters += capital(c);
    }
  } else {
    for (const std::string& word : words) letters += capital(word.front());
  }
  return letters.empty() ? "BX" : letters;
}

std::string box_mark(const std::string& cavity_mark, int number) {
  return number > 1 ? cavity_mark + std::to_string(number) : cavity_mark;
}

std::vector<std::string> cavity_marks(const std::vector<survey::Cavity>& cavities) {
  std::vector<std::string> marks;
  std::set<std::string> taken;
  for (const survey::Cavity& cavity : cavities) {
    const std::string letters = mark_letters(cavity.name);
    std::string mark = letters;
    for (int number = 2; !taken.insert(mark).second; ++number)
      mark = std::to_string(number) + letters;
    marks.push_back(mark);
  }
  return marks;
}

}  // namespace cellstow::box
