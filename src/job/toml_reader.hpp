// Reads one table of a TOML file, key by key, and reports what is wrong with each; a visitor for
// describe.hpp.
#pragma once

#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include <algorithm>
#include <map>

#include "job/context.hpp"
#include "job/fields.hpp"
#include "job/values.hpp"

namespace firstdraw::job {

using units::Kind;

class TomlReader {
 public:
  /// `path` is how messages call the table: "panel", "group". Its id is added once it is read.
  TomlReader(const toml::table& table, std::string_view file, std::string path, Context& context)
      : table_(table),
        file_(file),
        path_(std::move(path)),
        context_(context),
        problems_before_(context.problems.size()) {}

  void id(std::string_view key, std::string& value, Target target);
  void text(std::string_view key, std::string& value, const Need<std::string>& need);
  /// Text in quotes or a plain number, as text; it may be left out.
  void text_or_number(std::string_view key, std::string& value);
  void known(std::string_view key, std::string& value, const std::vector<std::string>& names,
             const Need<std::string>& need);
  void quantity(std::string_view key, double& value, Kind kind, const Range& range, const Need<double>& need);
  void optional_quantity(std::string_view key, std::optional<double>& value, Kind kind, const Range& range);
  void quantities(std::string_view key, std::vector<double>& values, Kind kind, const Range& range,
                  const Need<std::vector<double>>& need);
  void number(std::string_view key, double& value, const Range& range, const Need<double>& need);
  void integer(std::string_view key, int& value, const Range& range, const Need<int>& need);
  void flag(std::string_view key, bool& value, const Need<bool>& need);
  void price(std::string_view key, double& value, std::string_view base_unit, Kind kind,
             const Need<double>& need);
  void reference(std::string_view key, std::string& value, Target target, const Need<std::string>& need);
  void optional_reference(std::string_view key, std::optional<std::string>& value, Target target);
  /// A list that may be left out, which means `why_all`.
  void references(std::string_view key, std::vector<std::string>& values, Target target,
                  std::string_view why_all);
  /// A list that may not be left out.
  void members(std::string_view key, std::vector<std::string>& values, Target target);

  /// A list of `count` relative figures, zero or more and not all zero; it may be left out.
  void numbers(std::string_view key, std::vector<double>& values, std::size_t count);
  template <class T>
  void spelled(std::string_view key, T& value, const Spelling<T>& spelling,
               const Need<std::type_identity_t<T>>& need);
  template <class T>
  void optional_spelled(std::string_view key, std::optional<T>& value, const Spelling<T>& spelling);
  /// A list that may be left out, which is an assumption unless `why_none` is empty.
  template <class T>
  void spelled_list(std::string_view key, std::vector<T>& values, const Spelling<T>& spelling,
                    std::string_view why_none);

  template <class E, std::size_t n>
  void choice(std::string_view key, E& value, const std::array<Named<E>, n>& choices,
              const Need<std::type_identity_t<E>>& need);
  /// A list of at least `least` inline tables, each described by describe().
  template <class T>
  void rows(std::string_view key, std::vector<T>& values, std::size_t least);

  /// A list that the caller reads by itself; null when it is left out or, with a problem, no list.
  const toml::array* list(std::string_view key, const char* expected);

  /// Reports keys that no description asked for.
  void finish();

  /// Nothing was wrong so far: values may be compared with each other.
  bool clean() const { return context_.problems.size() == problems_before_; }
  Where where() const { return place(table_); }
  Where where(std::string_view key) const;
  std::string field(std::string_view key) const;
  void problem(std::string_view key, std::string message, std::string hint = {});
  void assume(std::string_view key, std::string value, std::string why);

 private:
  Where place(const toml::node& node) const;
  const toml::node* take(std::string_view key);
  const std::string* take_text(std::string_view key);
  const toml::array* take_array(std::string_view key, const char* expected);
  void missing(std::string_view key, const char* to_add);
  void wrong_type(std::string_view key, std::string_view expected);
  void refer(std::string_view key, const std::string& id, Target target, Where where);
  Read<double> quantity_of(const toml::node& node, Kind kind, const Range& range) const;
  template <class T, class Show>
  void left_out(std::string_view key, T& value, const Need<T>& need, Show show);

  const toml::table& table_;
  std::string_view file_;
  std::string path_;
  Context& context_;
  std::size_t problems_before_;
  std::vector<std::string> asked_;
  std::map<std::string, std::size_t, std::less<>>
      missing_;  // keys reported missing, and which problem says so
};

template <class T, class Show>
void TomlReader::left_out(std::string_view key, T& value, const Need<T>& need, Show show) {
  if (need.missing == Missing::error) return missing(key, " = …");
  value = need.value;
  if (need.missing == Missing::assumed) context_.assume(field(key), show(need.value), std::string(need.why));
}

template <class E, std::size_t n>
void TomlReader::choice(std::string_view key, E& value, const std::array<Named<E>, n>& choices,
                        const Need<std::type_identity_t<E>>& need) {
  const auto name_of = [&](E wanted) {
    const auto at = std::ranges::find(choices, wanted, &Named<E>::value);
    return at == choices.end() ? std::string() : std::string(at->name);
  };
  if (!table_.get(key)) {
    take(key);
    return left_out(key, value, need, name_of);
  }
  std::string name;
  known(key, name, names_of(choices), needed);
  const auto at = std::ranges::find(choices, name, &Named<E>::name);
  if (at != choices.end()) value = at->value;
}

template <class T>
void TomlReader::spelled(std::string_view key, T& value, const Spelling<T>& spelling,
                         const Need<std::type_identity_t<T>>& need) {
  const auto* text = take_text(key);
  if (!text) {
    if (table_.get(key)) return;  // what it is instead has been complained about
    return left_out(key, value, need, [&](const T& shown) { return spelling.write(shown, context_.system); });
  }
  const auto read = spelling.read(*text);
  if (!read) return problem(key, read.error());
  value = *read;
}

template <class T>
void TomlReader::optional_spelled(std::string_view key, std::optional<T>& value,
                                  const Spelling<T>& spelling) {
  const auto* text = take_text(key);
  if (!text) return;
  const auto read = spelling.read(*text);
  if (!read) return problem(key, read.error());
  value = *read;
}

template <class T>
void TomlReader::spelled_list(std::string_view key, std::vector<T>& values, const Spelling<T>& spelling,
                              std::string_view why_none) {
  if (!table_.get(key)) {
    take(key);
    if (!why_none.empty()) context_.assume(field(key), "none", std::string(why_none));
    return;
  }
  const auto* array = take_array(key, "a list in brackets");
  if (!array) return;
  for (const auto& node : *array) {
    const auto* text = node.as_string();
    const Read<T> read = text ? spelling.read(text->get()) : std::unexpected("text in quotes was expected");
    if (read) {
      values.push_back(*read);
    } else {
      context_.problem(place(node), field(key), read.error());
    }
  }
}

template <class T>
void TomlReader::rows(std::string_view key, std::vector<T>& values, std::size_t least) {
  if (!table_.get(key) && least == 0) {
    take(key);
    return;
  }
  const auto* array = take_array(key, "a list of rows in braces");
  if (!array) return;
  for (std::size_t i = 0; i < array->size(); ++i) {
    const auto* row = (*array)[i].as_table();
    const std::string path = field(key) + "[" + std::to_string(i + 1) + "]";
    if (!row) {
      context_.problem(place((*array)[i]), path, "a row in braces was expected");
      continue;
    }
    TomlReader reader(*row, file_, path, context_);
    describe(reader, values.emplace_back());
    reader.finish();
  }
  if (array->size() < least) problem(key, "needs at least " + std::to_string(least) + " rows");
}

}  // namespace firstdraw::job
