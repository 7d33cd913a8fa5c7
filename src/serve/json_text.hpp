// JSON as text from the start, for answers of thousands of values: the library's tree of them takes ten times
// as long to build, to write and to take down again.
#pragma once

#include <concepts>
#include <cstddef>
#include <functional>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace firstdraw::serve {

/// One value; never changes. Braces around pairs of key and value make an object, as they do with the
/// library.
class JsonText {
 public:
  using Pair = std::pair<std::string_view, JsonText>;

  JsonText() : text_("null") {}
  JsonText(std::nullptr_t) : JsonText() {}
  template <std::same_as<bool> Bool>
  JsonText(Bool value) : text_(value ? "true" : "false") {}
  template <std::integral Number>
    requires(!std::same_as<Number, bool>)
  JsonText(Number value) : text_(std::to_string(value)) {}
  /// The shortest text that reads as this number; null for what is not finite.
  JsonText(double value);
  /// What is not UTF-8 is replaced, as text_of of answer.hpp does.
  JsonText(std::string_view value);
  JsonText(const std::string& value) : JsonText(std::string_view(value)) {}
  JsonText(const char* value) : JsonText(std::string_view(value)) {}
  JsonText(std::initializer_list<Pair> pairs) : JsonText(object(pairs)) {}

  /// `one` of each, in order.
  template <class One = std::identity>
  static JsonText list(auto&& items, const One& one = {}) {
    std::string text = "[";
    for (const auto& item : items) add(text, JsonText(one(item)));
    return as_it_is(closed(std::move(text), ']'));
  }
  /// Of pairs of key and value.
  static JsonText object(const auto& pairs) {
    std::string text = "{";
    for (const auto& [key, value] : pairs) add(text, key, JsonText(value));
    return as_it_is(closed(std::move(text), '}'));
  }
  /// Text that is JSON already.
  static JsonText as_it_is(std::string text);

  const std::string& text() const& { return text_; }
  std::string text() && { return std::move(text_); }

 private:
  static void add(std::string& text, const JsonText& value);
  static void add(std::string& text, std::string_view key, const JsonText& value);
  static std::string closed(std::string text, char bracket);

  std::string text_;
};

}  // namespace firstdraw::serve
