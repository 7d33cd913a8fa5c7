// job.toml, whose values, keys and sections can be changed while everything else in it stays, byte for byte:
// comments, order, blanks, spelling.
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include "desk/sheet.hpp"

namespace firstdraw::desk {

/// A key and the text of its value as TOML: "maintain", "\"115 °F\"".
struct TomlPair {
  std::string key, value;
};
/// From `begin` up to `end`, bytes of the text.
struct TextSpan {
  std::size_t begin = 0, end = 0;
};

class TomlSheet {
 public:
  /// A slip of syntax as toml++ words it, with its place.
  struct Error {
    std::string message;
    int line = 0, column = 0;
  };
  static std::expected<TomlSheet, Error> parse(std::string text);

  const std::string& text() const { return text_; }

  /// Sections of this name: at most one of those that are no list.
  std::size_t rows(const std::string& section) const;
  /// Null when there is no such key.
  const toml::node* value(const std::string& section, std::size_t row, const std::string& key) const;
  std::vector<std::string> keys(const std::string& section, std::size_t row) const;
  std::string raw(const toml::node& node) const;
  TextSpan span(const toml::node& node) const;

  /// Replaces the value or puts the key after the last of its section.
  void set(const std::string& section, std::size_t row, const TomlPair& pair);
  /// The key with its line; comments above it stay.
  void erase(const std::string& section, std::size_t row, const std::string& key);
  /// A new [[section]] before the row `at`; `at` rows(): after the last, or where such sections usually
  /// stand.
  void insert_row(const std::string& section, std::size_t at, const std::vector<TomlPair>& pairs);
  /// A new [section] where it usually stands.
  void add_section(const std::string& section, const std::vector<TomlPair>& pairs);
  /// With the comment lines directly above it.
  void erase_row(const std::string& section, std::size_t row);

  /// First and last line of a row.
  struct Lines {
    int first = 0, last = 0;
  };
  Lines lines(const std::string& section, std::size_t row) const;

 private:
  const toml::table* table(const std::string& section, std::size_t row) const;
  std::size_t offset(const toml::source_position& position) const;
  bool headed(const toml::table& table) const;
  /// End of the last value of a section, or of its heading.
  std::size_t last_end(const toml::table& table) const;
  /// A section's lines, its own comments included.
  TextSpan extent(const toml::table& table) const;
  std::size_t line_begin(std::size_t at) const;
  std::size_t line_end(std::size_t at) const;  // past its '\n'
  bool comment_line(std::size_t at) const;
  std::optional<std::size_t> usual_place(const std::string& section) const;
  void insert_block(std::size_t at, const std::string& heading, const std::vector<TomlPair>& pairs);
  void insert_pair(const toml::table& table, const std::string& section, const TomlPair& pair);
  void erase_inline(const toml::node& parent, const toml::table* of, std::size_t index);
  void splice(TextSpan span, const std::string& with);
  void reparse();

  std::string text_;
  std::string newline_ = "\n";
  std::vector<std::size_t> lines_;  // where each begins
  toml::table root_;
};

}  // namespace firstdraw::desk
