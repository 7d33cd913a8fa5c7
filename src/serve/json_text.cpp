#include "serve/json_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

bool stands_for_itself(char c) { return c >= ' ' && c <= '~' && c != '"' && c != '\\'; }

void add_quoted(std::string& text, std::string_view value) {
  if (std::ranges::all_of(value, stands_for_itself)) {
    ((text += '"') += value) += '"';
    return;
  }
  text += nlohmann::json(value).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

}  // namespace

JsonText::JsonText(double value) : text_("null") {
  if (!std::isfinite(value)) return;
  std::array<char, 32> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
  text_.assign(digits.data(), end);
}

JsonText::JsonText(std::string_view value) { add_quoted(text_, value); }

JsonText JsonText::as_it_is(std::string text) {
  JsonText made;
  made.text_ = std::move(text);
  return made;
}

void JsonText::add(std::string& text, const JsonText& value) {
  if (text.size() > 1) text += ',';
  text += value.text_;
}

void JsonText::add(std::string& text, std::string_view key, const JsonText& value) {
  if (text.size() > 1) text += ',';
  add_quoted(text, key);
  (text += ':') += value.text_;
}

std::string JsonText::closed(std::string text, char bracket) {
  text += bracket;
  return text;
}

}  // namespace firstdraw::serve
