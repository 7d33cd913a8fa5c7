// Reads the rows of a CSV file, cell by cell, and reports what is wrong with each; a visitor for
// describe.hpp. Columns are matched to keys once, from the header; a row then asks for its cells in the same
// order ("slots").
#pragma once

#include <algorithm>
#include <unordered_map>

#include "job/context.hpp"
#include "job/fields.hpp"
#include "job/key_lister.hpp"
#include "job/values.hpp"
#include "tables/csv.hpp"

namespace firstdraw::job {

using units::Kind;

/// "Air low" and "air-low" head the same column as "air_low".
std::string column_name(std::string_view text);

class CsvReader {
 public:
  /// `thing` is what a row describes ("run"); `keys` in the order in which the description asks.
  CsvReader(const tables::CsvText& csv, std::string_view file, std::string thing, std::vector<Key> keys,
            Context& context);

  /// Steps to the next row; false after the last.
  bool next();

  void id(std::string_view key, std::string& value, Target target);
  void node(std::string_view key, std::string& value);
  void text(std::string_view key, std::string& value, const Need<std::string>& need);
  void known(std::string_view key, std::string& value, const std::vector<std::string>& names,
             const Need<std::string>& need);
  void quantity(std::string_view key, double& value, Kind kind, const Range& range, const Need<double>& need);
  void optional_quantity(std::string_view key, std::optional<double>& value, Kind kind, const Range& range);
  void integer(std::string_view key, int& value, const Range& range, const Need<int>& need);
  void optional_integer(std::string_view key, std::optional<int>& value, const Range& range);
  void flag(std::string_view key, bool& value, const Need<bool>& need);
  void reference(std::string_view key, std::string& value, Target target, const Need<std::string>& need);
  void optional_reference(std::string_view key, std::optional<std::string>& value, Target target);
  void pipe(std::string_view prefix, physics::Pipe& pipe);
  void insulation(std::string_view key, std::string& id, const Need<std::string>& need);

  template <class E, std::size_t n>
  void choice(std::string_view key, E& value, const std::array<Named<E>, n>& choices,
              const Need<std::type_identity_t<E>>& need);

  /// Something wrong with the row as a whole or with one of its cells.
  void row_problem(std::string_view key, std::string message, std::string hint = {});
  int line() const;
  /// One assumption per column, saying for how many rows it was made.
  void finish();

 private:
  struct Slot {
    Key key;
    int column = -1;       // of the file; -1: the column is not there
    std::string unit;      // from the heading
    bool spoiled = false;  // its heading has been complained about
    int assumed_rows = 0;
    std::string assumed_value, why;
  };
  void match_header();
  void match_heading(int column, const tables::CsvCell& heading);
  void judge_width();
  /// The cells of a row of the wrong width stand under the wrong names: what they say is not reported.
  void forget_ragged_cells();
  Slot& slot();
  const tables::CsvCell* cell(const Slot& slot) const;  // null when there is none or it is blank
  Where where(const Slot& slot) const;
  Where where(std::string_view key) const;
  Where where_row() const;
  std::string field(std::string_view key) const;
  void problem(const Slot& slot, std::string message, std::string hint = {});
  std::optional<std::string_view> bare_unit(const Slot& slot) const;
  void refer(const Slot& slot, const std::string& id, Target target);
  const Read<physics::Pipe>& find_pipe(const std::string& material, const std::string& type,
                                       const std::string& size);
  template <class T, class Show>
  void left_out(Slot& slot, T& value, const Need<T>& need, Show show);

  const tables::CsvText& csv_;
  std::string_view file_;
  std::string thing_, row_id_;
  Context& context_;
  std::vector<Slot> slots_;
  std::size_t row_ = 0, next_slot_ = 0;
  std::optional<std::size_t> ragged_from_;  // problems found since then are not the user's
  bool started_ = false;
  std::unordered_map<std::string, Read<physics::Pipe>> pipes_;
  std::unordered_map<std::string, Read<std::string>> insulations_;
};

template <class T, class Show>
void CsvReader::left_out(Slot& slot, T& value, const Need<T>& need, Show show) {
  if (need.missing == Missing::error) {
    if (slot.column >= 0) problem(slot, "is missing");  // a missing column is reported once, with the header
    return;
  }
  value = need.value;
  if (need.missing != Missing::assumed) return;
  if (slot.assumed_rows++ == 0) {
    slot.assumed_value = show(need.value);
    slot.why = need.why;
  }
}

template <class E, std::size_t n>
void CsvReader::choice(std::string_view key, E& value, const std::array<Named<E>, n>& choices,
                       const Need<std::type_identity_t<E>>& need) {
  (void)key;
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) {
    return left_out(here, value, need, [&](E wanted) {
      return std::string(std::ranges::find(choices, wanted, &Named<E>::value)->name);
    });
  }
  const auto at = std::ranges::find(choices, text->text, &Named<E>::name);
  if (at != choices.end()) {
    value = at->value;
    return;
  }
  const auto names = names_of(choices);
  problem(here, "\"" + text->text + "\" is not known; expected " + one_of(names),
          did_you_mean(text->text, names));
}

}  // namespace firstdraw::job
