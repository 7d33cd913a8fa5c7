// Writing values as a job folder holds them; visitors for describe.hpp. Everything is written, defaults too,
// except what may be blank and is.
#pragma once

#include <algorithm>
#include <cmath>

#include "job/context.hpp"
#include "job/fields.hpp"
#include "job/values.hpp"

namespace firstdraw::job {

using units::Kind;

/// A TOML basic string, quoted and escaped.
std::string toml_text(std::string_view text);
/// Money for one base unit as text that reads back exactly: "4 per ft" where the system has a unit of its own
/// for it and that is exact, else "12.5 per m".
std::string price_text(double value, std::string_view base_unit, Kind kind, units::System system);

template <class T>
bool left_blank(const T& value, const Need<T>& need) {
  return need.missing == Missing::blank && value == need.value;
}
inline bool left_blank(double value, const Need<double>& need) {
  return need.missing == Missing::blank &&
         (value == need.value || (std::isnan(value) && std::isnan(need.value)));
}
template <class E, std::size_t n>
std::string name_of(E value, const std::array<Named<E>, n>& choices) {
  return std::string(std::ranges::find(choices, value, &Named<E>::value)->name);
}

/// Lines "key = value" of one table, or one inline table.
class TomlWriter {
 public:
  explicit TomlWriter(units::System system, bool inline_table = false)
      : system_(system), inline_(inline_table) {}
  std::string take() { return std::move(out_); }

  void id(std::string_view key, const std::string& value, Target) { put(key, toml_text(value)); }
  void text(std::string_view key, const std::string& value, const Need<std::string>& need) {
    if (!left_blank(value, need)) put(key, toml_text(value));
  }
  void text_or_number(std::string_view key, const std::string& value) { text(key, value, blank); }
  void known(std::string_view key, const std::string& value, const std::vector<std::string>&,
             const Need<std::string>& need) {
    text(key, value, need);
  }
  template <class E, std::size_t n>
  void choice(std::string_view key, const E& value, const std::array<Named<E>, n>& choices,
              const Need<std::type_identity_t<E>>&) {
    put(key, toml_text(name_of(value, choices)));
  }
  void quantity(std::string_view key, double value, Kind kind, const Range&, const Need<double>& need) {
    if (!left_blank(value, need)) put(key, exact(value, kind));
  }
  void optional_quantity(std::string_view key, const std::optional<double>& value, Kind kind, const Range&) {
    if (value) put(key, exact(*value, kind));
  }
  void quantities(std::string_view key, const std::vector<double>& values, Kind kind, const Range&,
                  const Need<std::vector<double>>&);
  void number(std::string_view key, double value, const Range&, const Need<double>& need);
  void integer(std::string_view key, int value, const Range&, const Need<int>& need) {
    if (!left_blank(value, need)) put(key, std::to_string(value));
  }
  void flag(std::string_view key, bool value, const Need<bool>&) { put(key, value ? "true" : "false"); }
  void price(std::string_view key, double value, std::string_view base_unit, Kind kind,
             const Need<double>& need) {
    if (!left_blank(value, need)) put(key, toml_text(price_text(value, base_unit, kind, system_)));
  }
  void reference(std::string_view key, const std::string& value, Target, const Need<std::string>& need) {
    text(key, value, need);
  }
  void optional_reference(std::string_view key, const std::optional<std::string>& value, Target) {
    if (value) put(key, toml_text(*value));
  }
  void references(std::string_view key, const std::vector<std::string>& values, Target, std::string_view);
  void members(std::string_view key, const std::vector<std::string>& values, Target target) {
    references(key, values, target, {});
  }
  /// A list that may be empty, which is not written.
  void numbers(std::string_view key, const std::vector<double>& values, std::size_t);
  template <class T>
  void spelled(std::string_view key, const T& value, const Spelling<T>& spelling,
               const Need<std::type_identity_t<T>>&) {
    put(key, toml_text(spelling.write(value, system_)));
  }
  template <class T>
  void optional_spelled(std::string_view key, const std::optional<T>& value, const Spelling<T>& spelling) {
    if (value) put(key, toml_text(spelling.write(*value, system_)));
  }
  template <class T>
  void spelled_list(std::string_view key, const std::vector<T>& values, const Spelling<T>& spelling,
                    std::string_view) {
    std::string list;
    for (const T& value : values)
      list += (list.empty() ? "" : ", ") + toml_text(spelling.write(value, system_));
    put(key, "[" + list + "]");
  }
  template <class T>
  void rows(std::string_view key, std::vector<T>& values, std::size_t) {
    std::string list = "[\n";
    for (T& value : values) {
      TomlWriter row(system_, true);
      describe(row, value);
      list += "  { " + row.take() + " },\n";
    }
    put(key, list + "]");
  }

 private:
  std::string exact(double value, Kind kind) const {
    return toml_text(units::exact_text(value, kind, system_));
  }
  void put(std::string_view key, const std::string& value);

  units::System system_;
  bool inline_;
  std::string out_;
};

/// Cells of one CSV row.
class CsvWriter {
 public:
  explicit CsvWriter(units::System system) : system_(system) {}
  std::vector<std::string> take() { return std::move(cells_); }

  void id(std::string_view, const std::string& value, Target) { cells_.push_back(value); }
  void node(std::string_view, const std::string& value) { cells_.push_back(value); }
  void text(std::string_view, const std::string& value, const Need<std::string>&) { cells_.push_back(value); }
  void known(std::string_view, const std::string& value, const std::vector<std::string>&,
             const Need<std::string>&) {
    cells_.push_back(value);
  }
  template <class E, std::size_t n>
  void choice(std::string_view, const E& value, const std::array<Named<E>, n>& choices,
              const Need<std::type_identity_t<E>>&) {
    cells_.push_back(name_of(value, choices));
  }
  void quantity(std::string_view, double value, Kind kind, const Range&, const Need<double>&) {
    cells_.push_back(units::exact_text(value, kind, system_));
  }
  void optional_quantity(std::string_view, const std::optional<double>& value, Kind kind, const Range&) {
    cells_.push_back(value ? units::exact_text(*value, kind, system_) : "");
  }
  void integer(std::string_view, int value, const Range&, const Need<int>&) {
    cells_.push_back(std::to_string(value));
  }
  void optional_integer(std::string_view, const std::optional<int>& value, const Range&) {
    cells_.push_back(value ? std::to_string(*value) : "");
  }
  void flag(std::string_view, bool value, const Need<bool>&) { cells_.emplace_back(value ? "yes" : "no"); }
  void reference(std::string_view, const std::string& value, Target, const Need<std::string>&) {
    cells_.push_back(value);
  }
  void optional_reference(std::string_view, const std::optional<std::string>& value, Target) {
    cells_.push_back(value.value_or(""));
  }
  void pipe(std::string_view, const physics::Pipe& pipe) {
    cells_.insert(cells_.end(), {pipe.material, pipe.type, pipe.size});
  }
  void insulation(std::string_view, const std::string& id, const Need<std::string>&) { cells_.push_back(id); }

 private:
  units::System system_;
  std::vector<std::string> cells_;
};

}  // namespace firstdraw::job
