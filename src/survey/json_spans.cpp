#include "json_spans.hpp"

#include <nlohmann/json.hpp>

#include "problem_log.hpp"

namespace cellstow::survey {
namespace {

/// Walks text that is known to be JSON: nothing is checked.
class Walker {
 public:
  explicit Walker(std::string_view text) : text_(text) {}

  std::map<std::string, Span> run() {
    blanks();
    value("");
    return std::move(spans_);
  }

 private:
  void blanks() {
    at_ = text_.find_first_not_of(" \t\r\n", at_);
    if (at_ == std::string_view::npos) at_ = text_.size();
  }

  bool take(char c) {
    blanks();
    const bool there = at_ < text_.size() && text_[at_] == c;
    if (there) ++at_;
    return there;
  }

  std::string_view quoted() {
    const std::size_t from = at_++;
    while (at_ < text_.size() && text_[at_] != '"') at_ += text_[at_] == '\\' ? 2 : 1;
    ++at_;
    return text_.substr(from, at_ - from);
  }

  void members(const std::string& pointer) {
    ++at_;
    while (!take('}') && at_ < text_.size()) {
      blanks();
      const auto key = nlohmann::json::parse(quoted()).get<std::string>();
      take(':');
      blanks();
      value(below(pointer, key));
      take(',');
    }
  }

  void elements(const std::string& pointer) {
    ++at_;
    for (std::size_t i = 0; !take(']') && at_ < text_.size(); ++i) {
      blanks();
      value(below(pointer, i));
      take(',');
    }
  }

  void value(const std::string& pointer) {
    const std::size_t from = at_;
    switch (at_ < text_.size() ? text_[at_] : '\0') {
      case '{': members(pointer); break;
      case '[': elements(pointer); break;
      case '"': quoted(); break;
      default: at_ = std::min(text_.find_first_of(" \t\r\n,]}", at_), text_.size());
    }
    spans_[pointer] = {from, at_};
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::map<std::string, Span> spans_;
};

}  // namespace

std::map<std::string, Span> value_spans(std::string_view text) { return Walker(text).run(); }

}  // namespace cellstow::survey
