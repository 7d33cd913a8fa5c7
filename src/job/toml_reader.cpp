#include "job/toml_reader.hpp"

#include <fmt/format.h>

#include <cmath>

namespace firstdraw::job {

Where TomlReader::place(const toml::node& node) const {
  const auto& begin = node.source().begin;
  return {file_, static_cast<int>(begin.line), static_cast<int>(begin.column)};
}

Where TomlReader::where(std::string_view key) const {
  const auto* node = table_.get(key);
  return node ? place(*node) : where();
}

std::string TomlReader::field(std::string_view key) const {
  return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

void TomlReader::problem(std::string_view key, std::string message, std::string hint) {
  context_.problem(where(key), field(key), std::move(message), std::move(hint));
}

void TomlReader::assume(std::string_view key, std::string value, std::string why) {
  context_.assume(field(key), std::move(value), std::move(why));
}

const toml::node* TomlReader::take(std::string_view key) {
  asked_.emplace_back(key);
  return table_.get(key);
}

void TomlReader::missing(std::string_view key, const char* to_add) {
  missing_.emplace(key, context_.problems.size());
  context_.problem(where(), field(key), "is missing", fmt::format("add {}{}", key, to_add));
}

void TomlReader::wrong_type(std::string_view key, std::string_view expected) {
  problem(key, fmt::format("{} was expected", expected));
}

const std::string* TomlReader::take_text(std::string_view key) {
  const auto* node = take(key);
  if (!node) return nullptr;
  if (const auto* text = node->as_string()) return &text->get();
  wrong_type(key, "text in quotes");
  return nullptr;
}

const toml::array* TomlReader::take_array(std::string_view key, const char* expected) {
  const auto* node = take(key);
  if (!node) {
    missing(key, " = [ … ]");
    return nullptr;
  }
  if (const auto* array = node->as_array()) return array;
  wrong_type(key, expected);
  return nullptr;
}

const toml::array* TomlReader::list(std::string_view key, const char* expected) {
  if (table_.get(key)) return take_array(key, expected);
  take(key);
  return nullptr;
}

void TomlReader::text(std::string_view key, std::string& value, const Need<std::string>& need) {
  const auto* text = take_text(key);
  if (text && text->empty() && need.missing != Missing::blank) return problem(key, "must not be empty");
  if (text) {
    value = *text;
  } else if (!table_.get(key)) {
    left_out(key, value, need, [](const std::string& shown) { return shown; });
  }
}

void TomlReader::text_or_number(std::string_view key, std::string& value) {
  const auto* node = take(key);
  if (!node) return;
  if (const auto* text = node->as_string()) {
    value = text->get();
  } else if (node->is_number()) {
    value = exact_number(node->value_or(0.0));
  } else {
    return wrong_type(key, "a number, or text in quotes with a number and its unit,");
  }
  if (value.empty()) problem(key, "must not be empty");
}

void TomlReader::id(std::string_view key, std::string& value, Target target) {
  const auto* text = take_text(key);
  if (!text) {
    if (!table_.get(key))
      left_out(key, value, Need<std::string>{}, [](const std::string& shown) { return shown; });
    return;
  }
  if (auto wrong = wrong_id(*text)) return problem(key, *wrong);
  value = *text;
  path_ += "." + value;
  context_.add_id(target, value, where(key), field(key));
}

void TomlReader::known(std::string_view key, std::string& value, const std::vector<std::string>& names,
                       const Need<std::string>& need) {
  text(key, value, need);
  if (!table_.get(key) || value.empty() || std::ranges::find(names, value) != names.end()) return;
  const std::string hint = did_you_mean(value, names);
  problem(key, fmt::format("\"{}\" is not known; expected {}", value, one_of(names)), hint);
}

Read<double> TomlReader::quantity_of(const toml::node& node, Kind kind, const Range& range) const {
  if (const auto* text = node.as_string()) return read_quantity(text->get(), kind, std::nullopt, range);
  const auto number = node.value<double>();
  const bool is_number = node.is_number() && number;
  if (kind == Kind::fraction && is_number) {
    if (auto wrong = out_of_range(*number, range)) return std::unexpected(*wrong);
    return *number;
  }
  const auto unit = units::display_unit(kind, context_.system);
  if (is_number)
    return std::unexpected(fmt::format("has no unit: write it in quotes, such as \"{} {}\"", *number, unit));
  return std::unexpected(fmt::format("a quantity in quotes was expected, such as \"12 {}\"", unit));
}

void TomlReader::quantity(std::string_view key, double& value, Kind kind, const Range& range,
                          const Need<double>& need) {
  const auto* node = take(key);
  if (!node) {
    return left_out(key, value, need,
                    [&](double shown) { return units::show(shown, kind, context_.system); });
  }
  const auto read = quantity_of(*node, kind, range);
  if (!read) return problem(key, read.error());
  value = *read;
}

void TomlReader::optional_quantity(std::string_view key, std::optional<double>& value, Kind kind,
                                   const Range& range) {
  const auto* node = take(key);
  if (!node) return;
  const auto read = quantity_of(*node, kind, range);
  if (!read) return problem(key, read.error());
  value = *read;
}

void TomlReader::quantities(std::string_view key, std::vector<double>& values, Kind kind, const Range& range,
                            const Need<std::vector<double>>& need) {
  if (!table_.get(key)) {
    take(key);
    return left_out(key, values, need, [&](const std::vector<double>& shown) {
      std::vector<std::string> texts;
      for (const double value : shown) texts.push_back(units::show(value, kind, context_.system));
      return fmt::format("{}", fmt::join(texts, ", "));
    });
  }
  const auto* array = take_array(key, "a list in brackets");
  if (!array) return;
  for (const auto& node : *array) {
    const auto read = quantity_of(node, kind, range);
    if (read) {
      values.push_back(*read);
    } else {
      context_.problem(place(node), field(key), read.error());
    }
  }
  if (array->empty()) problem(key, "needs at least one value");
}

void TomlReader::number(std::string_view key, double& value, const Range& range, const Need<double>& need) {
  const auto* node = take(key);
  if (!node) return left_out(key, value, need, [](double shown) { return exact_number(shown); });
  if (!node->is_number()) return wrong_type(key, "a plain number without quotes");
  const double number = node->value_or(0.0);
  if (auto wrong = out_of_range(number, range)) return problem(key, *wrong);
  value = number;
}

void TomlReader::integer(std::string_view key, int& value, const Range& range, const Need<int>& need) {
  const auto* node = take(key);
  if (!node) return left_out(key, value, need, [](int shown) { return std::to_string(shown); });
  const auto* number = node->as_integer();
  if (!number) return wrong_type(key, "a whole number without quotes");
  if (auto wrong = out_of_range(static_cast<double>(number->get()), range)) return problem(key, *wrong);
  value = static_cast<int>(number->get());
}

void TomlReader::flag(std::string_view key, bool& value, const Need<bool>& need) {
  const auto* node = take(key);
  if (!node)
    return left_out(key, value, need, [](bool shown) { return std::string(shown ? "true" : "false"); });
  const auto* flag = node->as_boolean();
  if (!flag) return wrong_type(key, "true or false without quotes");
  value = flag->get();
}

void TomlReader::price(std::string_view key, double& value, std::string_view base_unit, Kind kind,
                       const Need<double>& need) {
  const auto* text = take_text(key);
  if (!text) {
    if (table_.get(key)) return;
    return left_out(key, value, need,
                    [&](double shown) { return fmt::format("{} per {}", shown, base_unit); });
  }
  const auto read = read_price(*text, base_unit, kind);
  if (!read) return problem(key, read.error());
  value = *read;
}

void TomlReader::refer(std::string_view key, const std::string& id, Target target, Where where) {
  const bool later = target == Target::run || target == Target::node;
  if (later) return context_.refer_later(target, id, where, field(key));
  if (!context_.knows(target, id)) context_.unknown(target, id, where, field(key));
}

void TomlReader::reference(std::string_view key, std::string& value, Target target,
                           const Need<std::string>& need) {
  text(key, value, need);
  if (table_.get(key) && !value.empty()) refer(key, value, target, where(key));
}

void TomlReader::optional_reference(std::string_view key, std::optional<std::string>& value, Target target) {
  const auto* text = take_text(key);
  if (!text) return;
  value = *text;
  refer(key, *text, target, where(key));
}

void TomlReader::references(std::string_view key, std::vector<std::string>& values, Target target,
                            std::string_view why_all) {
  if (!table_.get(key)) {
    take(key);
    return context_.assume(field(key), "all", std::string(why_all));
  }
  members(key, values, target);
}

void TomlReader::members(std::string_view key, std::vector<std::string>& values, Target target) {
  const auto* array = take_array(key, "a list in brackets");
  if (!array) return;
  for (const auto& node : *array) {
    const auto* text = node.as_string();
    if (text) {
      values.push_back(text->get());
      refer(key, text->get(), target, place(node));
    } else {
      context_.problem(place(node), field(key), "text in quotes was expected");
    }
  }
}

void TomlReader::numbers(std::string_view key, std::vector<double>& values, std::size_t count) {
  if (!table_.get(key)) {
    take(key);
    return;
  }
  const auto* array = take_array(key, "a list in brackets");
  if (!array) return;
  for (const auto& node : *array) {
    const auto number = node.is_number() ? node.value<double>() : std::nullopt;
    if (number && range::not_negative.holds(*number) && std::isfinite(*number)) {
      values.push_back(*number);
    } else {
      context_.problem(place(node), field(key), "plain numbers of zero or more were expected");
    }
  }
  if (array->size() != count)
    return problem(key, fmt::format("needs {} numbers, not {}", count, array->size()));
  if (std::ranges::count(values, 0.0) == std::ssize(values)) problem(key, "must not be zero throughout");
}

void TomlReader::finish() {
  std::vector<std::size_t> explained;  // a misspelt key that is needed is one slip, not two
  for (const auto& [key, node] : table_) {
    if (std::ranges::find(asked_, key.str()) != asked_.end()) continue;
    const auto& begin = key.source().begin;
    const Where at{file_, static_cast<int>(begin.line), static_cast<int>(begin.column)};
    const auto near = units::nearest(key.str(), asked_);
    context_.problem(
        at, field(key.str()), "is not a known key",
        near ? fmt::format("did you mean \"{}\"?", *near) : fmt::format("known: {}", one_of(asked_)));
    const auto meant = near ? missing_.find(*near) : missing_.end();
    if (meant != missing_.end()) explained.push_back(meant->second);
  }
  std::ranges::sort(explained, std::greater());
  explained.erase(std::ranges::unique(explained).begin(), explained.end());
  for (const auto index : explained) {
    context_.problems.erase(context_.problems.begin() + static_cast<std::ptrdiff_t>(index));
  }
}

}  // namespace firstdraw::job
