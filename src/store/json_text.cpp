#include "store/json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

namespace firstdraw::store {
namespace {

using nlohmann::json;
constexpr std::size_t deepest = 64;

/// UTF-16 units of well-formed UTF-8.
std::u16string utf16_of(std::string_view text) {
  std::u16string units;
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const int more = lead < 0x80 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
    std::uint32_t point = more == 0 ? lead : lead & (0x3FU >> static_cast<unsigned>(more));
    for (int k = 0; k < more; ++k) point = point << 6U | (static_cast<unsigned char>(text[++i]) & 0x3FU);
    ++i;
    if (point >= 0x10000) units += static_cast<char16_t>(0xD800 + ((point - 0x10000) >> 10U));
    units += static_cast<char16_t>(point >= 0x10000 ? 0xDC00 + ((point - 0x10000) & 0x3FFU) : point);
  }
  return units;
}

struct Member {
  std::u16string order;
  std::string key, value;
};

/// Writes what the parser reads, innermost first: a container is put in order when it closes.
class Canonical : public json::json_sax_t {
 public:
  bool null() override { return put("null"); }
  bool boolean(bool value) override { return put(value ? "true" : "false"); }
  bool number_integer(json::number_integer_t value) override { return put(fmt::format("{}", value)); }
  bool number_unsigned(json::number_unsigned_t value) override { return put(fmt::format("{}", value)); }
  bool number_float(json::number_float_t /*value*/, const std::string& written) override {
    return put(written);
  }
  bool string(std::string& value) override { return put(json_string(value)); }
  bool binary(json::binary_t& /*value*/) override { return complain("it holds binary data"); }
  bool start_object(std::size_t /*size*/) override { return open(true); }
  bool start_array(std::size_t /*size*/) override { return open(false); }
  bool key(std::string& name) override {
    open_.back().members.push_back({utf16_of(name), name, ""});
    return true;
  }
  bool end_object() override;
  bool end_array() override;
  bool parse_error(std::size_t position, const std::string& /*token*/,
                   const json::exception& error) override {
    const bool too_great = error.id == 406;
    return complain(too_great
                        ? fmt::format("it holds a number that is too great, before character {}", position)
                        : fmt::format("it is no JSON from character {} on", position));
  }

  std::string text, trouble;

 private:
  struct Level {
    bool is_object = false;
    std::vector<Member> members;
  };
  std::vector<Level> open_;

  bool complain(std::string what) {
    trouble = std::move(what);
    return false;
  }
  bool open(bool is_object) {
    if (open_.empty() && !is_object) return complain("it is no JSON object");
    if (open_.size() == deepest) return complain(fmt::format("it is nested deeper than {}", deepest));
    open_.push_back({is_object, {}});
    return true;
  }
  bool put(std::string value) {
    if (open_.empty()) return complain("it is no JSON object");
    Level& level = open_.back();
    if (!level.is_object) level.members.push_back({});
    level.members.back().value = std::move(value);
    return true;
  }
  bool close(std::string value) {
    open_.pop_back();
    if (!open_.empty()) return put(std::move(value));
    text = std::move(value);
    return true;
  }
};

bool Canonical::end_object() {
  std::vector<Member>& members = open_.back().members;
  std::ranges::sort(members, {}, &Member::order);
  const auto twice = std::ranges::adjacent_find(members, {}, &Member::order);
  if (twice != members.end()) return complain(fmt::format("it has the key \"{}\" twice", twice->key));
  std::string value = "{";
  for (const Member& member : members)
    value += fmt::format("{}{}:{}", value.size() > 1 ? "," : "", json_string(member.key), member.value);
  return close(value + "}");
}

bool Canonical::end_array() {
  std::string value = "[";
  for (const Member& member : open_.back().members) {
    if (value.size() > 1) value += ',';
    value += member.value;
  }
  return close(value + "]");
}

}  // namespace

std::expected<std::string, std::string> canonical_json(std::string_view text) {
  Canonical canonical;
  if (!json::sax_parse(text.begin(), text.end(), &canonical)) return std::unexpected(canonical.trouble);
  return std::move(canonical.text);
}

std::string json_string(std::string_view text) {
  return json(text).dump(-1, ' ', false, json::error_handler_t::replace);
}

bool is_utf8(std::string_view text) {
  try {
    static_cast<void>(json(text).dump());
    return true;
  } catch (const json::type_error&) {
    return false;
  }
}

}  // namespace firstdraw::store
